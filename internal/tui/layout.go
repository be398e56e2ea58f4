package tui

import (
	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/slots"
)

// The smallest terminal that the editor works in.
const (
	minWidth  = 80
	minHeight = 24

	roomyHeight = 32 // from here on there is room for blank lines
)

// Least is the smallest terminal that the editor works in, in columns and lines.
func Least() (w, h int) { return minWidth, minHeight }

// layout is where everything goes on a screen.
type layout struct {
	header cells.Rect
	figure cells.Rect // the map
	second cells.Rect // another map beside it, where one is asked for
	side   cells.Rect // in hand, the row, totals, findings
	status cells.Rect // where the cursor is
	keys   cells.Rect // the keys, or what was just done
	band   cells.Rect // in the large layout: what is said under the map
	wide   bool       // two cells a slot
}

// arrange lays out a screen of w by h cells for a head. It depends on nothing else, so that it can
// be drawn in a test.
func arrange(w, h int, t *slots.Table, wantWide, wantNarrow bool) layout {
	const (
		leastSide = 16
		wideSide  = 22
		goodSide  = 44
		space     = 2 // between map and side
	)
	l := layout{
		header: cells.Rect{X: 0, Y: 0, W: w, H: 1},
		status: cells.Rect{X: 0, Y: h - 2, W: w, H: 1},
		keys:   cells.Rect{X: 0, Y: h - 1, W: w, H: 1},
	}
	one, _ := figure.Size(t, false)
	two, _ := figure.Size(t, true)
	switch {
	case wantNarrow:
	case wantWide:
		l.wide = two+space+wideSide <= w
	default:
		l.wide = two+space+goodSide <= w
	}
	mapWidth := one
	if l.wide {
		mapWidth = two
	}
	mapWidth = min(mapWidth, w-space-leastSide) // a wider one is moved sideways with the cursor
	body := h - 3                               // without header, status and keys
	l.figure = cells.Rect{X: 0, Y: 1, W: min(mapWidth, w), H: body}
	x := mapWidth + space
	l.side = cells.Rect{X: x, Y: 1, W: max(0, w-x), H: body}
	if h >= roomyHeight {
		l.side.Y, l.side.H = l.side.Y+1, l.side.H-1
	}
	return l
}

func (m *Model) layout() layout {
	if m.enlargedNow() {
		return m.projectedLayout()
	}
	l := arrange(m.scr.W, m.scr.H, m.doc.table, m.wide, m.narrow)
	if p := m.planOpen(); p != nil {
		return p.layout(m, l)
	}
	if m.beside == nothingBeside || m.panelOpen() {
		return l
	}
	first, _ := figure.Size(m.doc.table, false)
	second, _ := figure.Size(m.besideDoc().table, false)
	return l.withSecond(m.scr.W, first, second)
}

// panelOpen reports whether something lies over the side, which then has to be there.
func (m *Model) panelOpen() bool {
	if len(m.dialogs) == 0 {
		return false
	}
	switch m.dialogs[0].(type) {
	case *zonePanel, *chair, *training:
		return true
	}
	return false
}

// planOpen is the panel that offers a plan, or nil.
func (m *Model) planOpen() *planPanel {
	if len(m.dialogs) == 0 {
		return nil
	}
	p, _ := m.dialogs[0].(*planPanel)
	return p
}

func (m *Model) tooSmall() bool {
	return m.scr != nil && (m.scr.W < minWidth || m.scr.H < minHeight)
}

// changeWidth switches between one and two cells a slot.
func (m *Model) changeWidth() {
	if m.layout().wide {
		m.wide, m.narrow = false, true
		return
	}
	m.wide, m.narrow = true, false
	if !m.layout().wide {
		m.tell("the window is too narrow for two columns a slot")
	}
}

// scroll keeps the cursor in view, with a little to spare on every side, and shows as
// much of the map as there is room for.
func (m *Model) scroll(l layout) {
	m.scrollLines(l.figure)
	m.scrollSlots(l)
}

// scrollSlots moves a map that is wider than its area sideways.
func (m *Model) scrollSlots(l layout) {
	const spare = 2
	width, _ := figure.Size(m.doc.table, l.wide)
	over := width - l.figure.W
	if over <= 0 {
		m.shift = 0
		return
	}
	if m.shift < 0 { // just opened: the middle
		m.shift = over / 2
	}
	step := 1
	if l.wide {
		step = 2
	}
	at := (figure.HalfWidth(m.doc.table) + m.doc.spot().Slot) * step // from the map's left end
	m.shift = min(m.shift, at-spare)
	m.shift = max(m.shift, at+spare+1+figure.Gutter-l.figure.W)
	m.shift = min(max(m.shift, 0), over)
}

func (m *Model) scrollLines(area cells.Rect) {
	lines := len(m.doc.table.Lines)
	if area.H >= lines {
		m.top = lines - 1 + (area.H-lines)/2
		return
	}
	const spare = 2
	at := m.doc.spot().Line
	m.top = min(m.top, at-spare+area.H-1)
	m.top = max(m.top, at+spare)
	m.top = min(max(m.top, area.H-1), lines-1)
}
