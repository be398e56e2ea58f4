package tui

import (
	"fmt"
	"math"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// zonePanel moves limits and hairline points while the map follows. It lies over the side,
// not over the map.
type zonePanel struct {
	items []zoneItem
	at    int
	top   int
}

// zoneItem is one thing to move: a limit, or a hairline point one way.
type zoneItem struct {
	limit sheet.LimitName
	point scalp.Landmark
	up    bool // the point's height rather than its place along the line
}

func newZonePanel(m *Model) *zonePanel {
	p := &zonePanel{}
	for _, l := range sheet.Limits {
		p.items = append(p.items, zoneItem{limit: l.Name})
	}
	for _, l := range scalp.Landmarks() {
		p.items = append(p.items, zoneItem{point: l}, zoneItem{point: l, up: true})
	}
	return p
}

func (p *zonePanel) key(m *Model, msg tea.KeyMsg) tea.Cmd {
	m.told = ""
	switch msg.String() {
	case "esc", "z", "enter", "q", "ctrl+c":
		m.pop()
	case "home":
		p.at = 0
	case "end":
		p.at = len(p.items) - 1
	case "up":
		p.at = max(0, p.at-1)
	case "down":
		p.at = min(len(p.items)-1, p.at+1)
	case "pgup":
		p.at = max(0, p.at-10)
	case "pgdown":
		p.at = min(len(p.items)-1, p.at+10)
	case "left":
		p.change(m, -1)
	case "right":
		p.change(m, 1)
	case "shift+left":
		p.change(m, -5)
	case "shift+right":
		p.change(m, 5)
	case "delete", "backspace":
		p.reset(m)
	case "s":
		m.doc.both = !m.doc.both
	case "u":
		m.tell(m.doc.undo())
	case "U", "ctrl+r":
		m.tell(m.doc.redo())
	default:
		if k := msg.String(); len(k) == 1 && strings.Contains("0123456789-", k) {
			fm := p.typed(m)
			m.push(fm)
			return fm.key(m, msg)
		}
	}
	return nil
}

// value is what the item is now; its range comes with it.
func (it zoneItem) value(s *sheet.Sheet) (v, low, high float64) {
	most := float64(scalp.MaxShift)
	switch {
	case it.limit != "":
		info, _ := it.limit.Info()
		v, _ = s.Limit(it.limit)
		return v, info.Low, info.High
	case it.up:
		return float64(s.Moved[it.point].Up), -most, most
	}
	return float64(s.Moved[it.point].Right), -most, most
}

// typed is a form for the item's value.
func (p *zonePanel) typed(m *Model) *form {
	it := p.items[p.at]
	name, _ := it.label(m.doc.sheet())
	v, low, high := it.value(m.doc.sheet())
	return &form{title: it.explained(m.doc.sheet()), fields: []*field{numberField(strings.TrimSpace(name), v, "")},
		take: func(m *Model, fm *form) (tea.Cmd, error) {
			to, err := fm.fields[0].number(low, high)
			if err == nil {
				p.set(m, to)
			}
			return nil, err
		}}
}

// change moves the item by some millimetres (or per cent).
func (p *zonePanel) change(m *Model, by float64) {
	v, low, high := p.items[p.at].value(m.doc.sheet())
	if v+by < low || v+by > high {
		m.tell(fmt.Sprintf("from %g to %g, and no further", low, high))
	}
	p.set(m, math.Min(math.Max(v+by, low), high))
}

// set gives the item a value.
func (p *zonePanel) set(m *Model, to float64) {
	it, s := p.items[p.at], m.doc.sheet()
	if v, _, _ := it.value(s); v == to {
		return
	}
	if it.limit != "" {
		p.do(m, it, "set the limit "+it.limit.Words(), s.WithLimit(it.limit, to))
		return
	}
	shift := s.Moved[it.point]
	if it.up {
		shift.Up = scalp.MM(to)
	} else {
		shift.Right = scalp.MM(to)
	}
	p.do(m, it, "move the "+it.point.String(), p.both(m, s.WithLandmark(it.point, shift), it.point, shift))
}

// both moves the point on the other side too, where both sides are done at once.
func (p *zonePanel) both(m *Model, s *sheet.Sheet, l scalp.Landmark, shift scalp.Shift) *sheet.Sheet {
	if !m.doc.both || l.Side == scalp.Middle {
		return s
	}
	l.Side = -l.Side
	return s.WithLandmark(l, shift.Mirrored())
}

func (p *zonePanel) reset(m *Model) {
	it, s := p.items[p.at], m.doc.sheet()
	if !it.isSet(s) {
		return
	}
	if it.limit != "" {
		p.do(m, it, "put back the limit "+it.limit.Words(), s.WithoutLimit(it.limit))
		return
	}
	p.set(m, 0)
}

// isSet reports whether the item is no longer as an ordinary sheet has it.
func (it zoneItem) isSet(s *sheet.Sheet) bool {
	if it.limit != "" {
		_, set := s.Limits[it.limit]
		return set
	}
	v, _, _ := it.value(s)
	return v != 0
}

// do makes the change; going on with the same item is the same step.
func (p *zonePanel) do(m *Model, it zoneItem, label string, s *sheet.Sheet) {
	if err := m.doc.goOn(fmt.Sprint(it), label, s); err != nil {
		m.warn(err.Error())
	}
}

func (p *zonePanel) draw(m *Model) {
	l := m.layout()
	r := l.side
	m.scr.Fill(cells.Rect{X: r.X - 1, Y: r.Y, W: r.W + 1, H: r.H}, figure.Plain, ' ')
	const listWidth, leastBeside = 32, 24
	if beside := r.W - listWidth - 3; beside >= leastBeside { // what the rules say to it, live
		m.sideFindings(&column{m, cells.Rect{X: r.X + listWidth + 3, Y: r.Y, W: beside, H: r.H}, r.Y})
	}
	r.W = min(r.W, listWidth)
	m.scr.Text(r.X, r.Y, r.W, figure.Title, "zones and hairline")
	help := []string{"left right: by 1", "with shift: by 5", "or type it; Del: reset", "Esc done"}
	rows := r.H - 3 - len(help)
	p.top = min(max(p.top, p.at-rows+1), p.at)
	for i := 0; i < rows && p.top+i < len(p.items); i++ {
		p.drawItem(m, cells.Rect{X: r.X, Y: r.Y + 2 + i, W: r.W, H: 1}, p.items[p.top+i], p.top+i == p.at)
	}
	for i, t := range help {
		m.scr.Text(r.X, r.Y+r.H-len(help)+i, r.W, figure.Dim, t)
	}
	if m.told == "" {
		m.scr.Fill(l.keys, figure.Plain, ' ')
		m.scr.Text(l.keys.X+1, l.keys.Y, l.keys.W-2, figure.Label, p.items[p.at].explained(m.doc.sheet()))
	}
}

// explained says what an item is and where its value comes from.
func (it zoneItem) explained(s *sheet.Sheet) string {
	if it.limit == "" {
		way := "left and right along its line"
		if it.up {
			way = "up and down"
		}
		return fmt.Sprintf("hairline, %s: mm %s from where it ordinarily is", it.point, way)
	}
	info, _ := it.limit.Info()
	v, source := s.Limit(it.limit)
	if source == sheet.Practice {
		source = "practice"
	}
	text := fmt.Sprintf("%g %s %s (%s)", v, info.Unit, info.Title, source)
	if it.idle(s) {
		text += "; not in use for this client"
	}
	return text
}

// idle reports whether a limit holds for other clients only: one of the two for the nape always is.
func (it zoneItem) idle(s *sheet.Sheet) bool {
	return (it.limit == sheet.LimitNape || it.limit == sheet.LimitNapeUp) && it.limit != s.Nape()
}

// label is the item's name and value as they stand in the list.
func (it zoneItem) label(s *sheet.Sheet) (name, value string) {
	v, _, _ := it.value(s)
	switch {
	case it.limit != "":
		info, _ := it.limit.Info()
		return it.limit.Words(), fmt.Sprintf("%g %s", v, info.Unit)
	case it.up:
		return "  higher", fmt.Sprintf("%+g", v)
	}
	return it.point.String(), fmt.Sprintf("%+g", v)
}

func (p *zonePanel) drawItem(m *Model, r cells.Rect, it zoneItem, here bool) {
	s := m.doc.sheet()
	name, value := it.label(s)
	ink := figure.Label
	switch {
	case it.idle(s):
		ink = figure.Scalp
	case it.isSet(s):
		ink = figure.NoteInk
	}
	if here {
		ink = figure.FieldOn
		m.scr.Put(r.X, r.Y, figure.Strong, m.opts.Glyphs.Here)
	}
	w := cells.Width(value)
	m.scr.Text(r.X+1, r.Y, r.W-w-2, ink, name)
	m.scr.Text(r.X+r.W-w, r.Y, w, ink, value)
}

// point is the slot of the map nearest to the hairline point being moved, or nil while a
// limit is.
func (p *zonePanel) point(m *Model) *figure.Spot {
	it := p.items[p.at]
	if it.limit != "" {
		return nil
	}
	at := m.doc.table.Zones.Hairline.Landmark(it.point)
	best, least := figure.Spot{}, math.Inf(1)
	for _, line := range m.doc.table.Lines {
		slot := nearestTo(line, at)
		if d := apart(line.At(slot).Point, at); d < least {
			best, least = figure.Spot{At: line.Place(), Slot: slot}, d
		}
	}
	return &best
}
