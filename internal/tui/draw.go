package tui

import (
	"fmt"
	"math"
	"strings"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/unit"
	"example.org/underveil/internal/visit"
)

// draw draws the whole screen.
func (m *Model) draw() {
	switch {
	case m.tooSmall():
		m.drawTooSmall()
		return
	case m.doc == nil:
		m.start.draw(m)
	default:
		m.drawEditor()
	}
	for _, d := range m.dialogs {
		m.scr.Cursor = false
		m.scr.Fill(cells.Rect{Y: m.scr.H - 1, W: m.scr.W, H: 1}, figure.Plain, ' ') // its keys are others
		d.draw(m)
	}
}

func (m *Model) drawTooSmall() {
	lines := []string{
		fmt.Sprintf("This window is %d by %d.", m.scr.W, m.scr.H),
		fmt.Sprintf("Underveil needs %d by %d.", minWidth, minHeight),
		"Make it larger: nothing is lost.",
	}
	for i, t := range lines {
		m.scr.Text(0, i, m.scr.W, figure.Plain, t)
	}
}

func (m *Model) drawEditor() {
	l := m.layout()
	m.scroll(l)
	if p := m.planOpen(); p != nil {
		m.drawHeader(l.header, p.shown(m))
		p.drawMaps(m, l)
		m.drawStatus(l.status)
		return // what its keys do stands where those of the map would
	}
	if m.enlargedNow() {
		m.drawProjected(l)
		return
	}
	m.drawHeader(l.header, m.doc)
	if m.stepping() != nil {
		figure.Draw(m.scr, l.figure, m.view(l))
		m.drawStatus(l.status)
		return
	}
	if p := m.chairOpen(); p != nil {
		p.drawMap(m, l)
		m.drawStatus(l.status)
		return
	}
	if t := m.trainingOpen(); t != nil {
		t.drawMap(m, l)
		m.drawStatus(l.status)
		return
	}
	m.drawMaps(l)
	m.drawSide(l.side)
	m.drawStatus(l.status)
	m.drawKeys(l.keys)
}

// view is how the map is drawn now.
func (m *Model) view(l layout) figure.View {
	v := m.viewOf(m.doc, l, &m.shading)
	if n := len(m.dialogs); n > 0 {
		if p, ok := m.dialogs[n-1].(*zonePanel); ok && p.point(m) != nil {
			v.Focus = p.point(m)
		}
	}
	if m.doc.picked != nil {
		v.Picked = m.doc.isPicked
	}
	return v
}

// viewOf is how the map of a document is drawn, with its cursor.
func (m *Model) viewOf(d *document, l layout, shading **figure.Shading) figure.View {
	m.keepReading()
	v := figure.View{Sheet: d.sheet(), Ground: d.ground, Report: d.report, Glyphs: m.opts.Glyphs,
		Wide: l.wide, Letters: m.letters, Top: m.top, Shift: m.shift, Focus: &d.cursor}
	v.Shading = shadingOf(d, m.reading, shading)
	if marks := d.practice.marksOn(m); marks != nil {
		v.Marks = marks
	}
	return v
}

// drawHeader names the sheet and keeps the totals and the count of findings in sight.
func (m *Model) drawHeader(r cells.Rect, d *document) {
	s := d.sheet()
	grams := fmt.Sprintf("%.1f g", d.totals.Grams)
	if d.own > 0 && r.W >= 100 {
		grams += fmt.Sprintf(" to %.0f g own", d.own)
	}
	right := m.pieces(
		piece{figure.Plain, printable.Count(d.totals.Strands, "strand")},
		piece{figure.Plain, grams},
	)
	right = append(right, piece{figure.Plain, "   "})
	if d.hiding() {
		right = append(right, piece{figure.Dim, "the rules are silent"})
	} else {
		right = append(right, m.verdict(d.report, r.W >= 110)...)
	}
	width := 0
	for _, p := range right {
		width += cells.Width(p.text)
	}
	title := s.Title
	if d.practice != nil {
		title = "exercise" + m.opts.Glyphs.Dash + d.practice.x.Title
	} else if s.Client != "" {
		title += m.opts.Glyphs.Dash + "client " + s.Client
	}
	m.drawTitle(cells.Rect{X: r.X + 1, Y: r.Y, W: r.W - width - 4, H: 1}, title)
	m.write(r.X+r.W-width-1, r.Y, width, right)
}

// piece is some text in one ink.
type piece struct {
	ink  cells.Ink
	text string
}

// pieces puts the dash between pieces.
func (m *Model) pieces(ps ...piece) []piece {
	var out []piece
	for i, p := range ps {
		if i > 0 {
			out = append(out, piece{figure.Dim, m.opts.Glyphs.Dash})
		}
		out = append(out, p)
	}
	return out
}

// write writes pieces one after another in at most width cells, with lengths in the unit in force.
func (m *Model) write(x, y, width int, ps []piece) int {
	used := 0
	for _, p := range ps {
		used += m.scr.Text(x+used, y, width-used, p.ink, m.inUnit(p.text))
	}
	return used
}

// verdict is the count of findings, each with its mark; the lesser kinds only when
// there is room or nothing graver.
func (m *Model) verdict(r *rule.Report, roomy bool) []piece {
	g := m.opts.Glyphs
	var ps []piece
	add := func(n int, ink cells.Ink, mark, word string) {
		if n > 0 {
			if len(ps) > 0 {
				ps = append(ps, piece{figure.Plain, "  "})
			}
			ps = append(ps, piece{ink, mark + rule.Counted(n, word)})
		}
	}
	add(r.Stops, figure.StopInk, string(g.Stop)+" ", "stop")
	add(r.Cautions, figure.CautionInk, string(g.Caution)+" ", "caution")
	if roomy || len(ps) == 0 {
		add(r.Notes, figure.NoteInk, "", "note")
		add(r.Accepted, figure.Dim, "", "accepted")
	}
	if len(ps) == 0 {
		ps = append(ps, piece{figure.GoodInk, "nothing found"})
	}
	return ps
}

// drawStatus says where the cursor is, how far the zones are, and what is there. Everything has
// its column, so that little moves, and little is written, when the cursor does.
func (m *Model) drawStatus(r cells.Rect) {
	d := m.doc
	on := d.slot()
	x := r.X + 1
	column := func(width int, ink cells.Ink, text string) {
		used := m.scr.Text(x, r.Y, r.X+r.W-1-x, ink, text)
		x += max(width, used+2)
	}
	column(12, figure.Strong, d.cursor.At.String())
	column(15, figure.Plain, strings.Replace(rule.SlotName(d.cursor.At, d.cursor.Slot), "0, the", "0", 1))
	if text, ok := m.readingHere(); ok {
		column(46, figure.Plain, text)
	} else if !on.OnScalp {
		column(38, figure.Dim, m.inUnit(fmt.Sprintf("no hair, %.0f mm outside the hairline", float64(on.Edge()))))
	} else {
		zone, room := d.zones.Nearest(on)
		way := "to"
		if room < 0 {
			way = "inside"
		}
		column(31, figure.Plain, fmt.Sprintf("%8s %s the %s zone", m.inUnit(fmt.Sprintf("%.1f mm", math.Abs(float64(room)))), way, zone))
		if r.W >= 100 {
			column(17, figure.Plain, fmt.Sprintf("hairline %6s", unit.Figure(on.Edge(), m.opts.Units)))
		}
	}
	if b := d.row().Bond(d.cursor.Slot); b.Placed() {
		name := string(b.Shade)
		if shade, ok := d.sheet().Shade(b.Shade); ok {
			name = shade.Name
		}
		column(0, figure.Shade(figure.ShadeIndex(d.sheet(), b.Shade)), b.String()+" "+name)
	}
	if d.picked != nil {
		column(0, figure.Strong, "selected")
	}
}

// drawKeys is the bottom line: what was just done, or else the keys most used.
func (m *Model) drawKeys(r cells.Rect) {
	if m.told != "" {
		ink := figure.GoodInk
		if m.grave {
			ink = figure.StopInk
		}
		m.scr.Text(r.X+1, r.Y, r.W-2, ink, m.inUnit(m.told))
		return
	}
	var ps []piece
	if n, open := visit.Open(m.doc.sheet()); open {
		ps = append(ps, piece{figure.Key, m.keyOf("fit")}, piece{figure.CautionInk, " the " + string(m.doc.sheet().Visits[n].Kind) + " goes on  "})
	}
	if p := m.doc.practice; p != nil {
		ps = append(ps, p.keys(m)...)
	}
	for _, c := range m.keymap.commands {
		if c.short != "" && len(c.bind.Keys()) > 0 && m.doc.practice.offers(m, c) {
			ps = append(ps, piece{figure.Key, m.keyOf(c.id)}, piece{figure.Dim, " " + c.short + "  "})
		}
	}
	m.write(r.X+1, r.Y, r.W-2, ps)
}

// box draws a frame with a title in the middle of the screen, blank inside, and returns its inside.
func (m *Model) box(w, h int, title string) cells.Rect {
	w, h = min(w, m.scr.W), min(h, m.scr.H)
	if m.scr.W-w < 20 { // slivers of the map beside a dialog only confuse
		m.scr.Fill(cells.Rect{Y: (m.scr.H - h) / 2, W: m.scr.W, H: h}, figure.Plain, ' ')
	}
	return m.frame(cells.Rect{X: (m.scr.W - w) / 2, Y: (m.scr.H - h) / 2, W: w, H: h}, title)
}

// boxBeside draws a frame beside the map, so that the map stays in sight, where there
// is room for one w wide; its text can be that wide less 4, or else as the second
// result says.
func (m *Model) boxBeside(w int, title string, height func(textWidth int) int) (in cells.Rect, textWidth int) {
	const least = 46
	if side := m.layout().side; side.W >= least {
		m.scr.Fill(cells.Rect{X: side.X - 1, Y: side.Y, W: side.W + 1, H: side.H}, figure.Plain, ' ')
		w = min(w, side.W)
		return m.frame(cells.Rect{X: side.X - 1, Y: side.Y, W: w, H: min(height(w-4), side.H)}, title), w - 4
	}
	return m.box(w, height(w-4), title), w - 4
}

// frame draws a frame, blank inside.
func (m *Model) frame(r cells.Rect, title string) cells.Rect {
	g := m.opts.Glyphs
	m.scr.Fill(r, figure.Plain, ' ')
	for x := r.X; x < r.X+r.W; x++ {
		m.scr.Put(x, r.Y, figure.Frame, g.Across)
		m.scr.Put(x, r.Y+r.H-1, figure.Frame, g.Across)
	}
	for y := r.Y; y < r.Y+r.H; y++ {
		m.scr.Put(r.X, y, figure.Frame, g.Down)
		m.scr.Put(r.X+r.W-1, y, figure.Frame, g.Down)
	}
	for i, at := range [4][2]int{{r.X, r.Y}, {r.X + r.W - 1, r.Y}, {r.X, r.Y + r.H - 1}, {r.X + r.W - 1, r.Y + r.H - 1}} {
		m.scr.Put(at[0], at[1], figure.Frame, g.Corners[i])
	}
	m.scr.Text(r.X+2, r.Y, r.W-4, figure.Title, " "+m.inUnit(title)+" ")
	return r.Inset(2, 1)
}

// wordsOf are what a text may be broken between: its words, a figure with the unit of length after it being one.
func wordsOf(text string) []string {
	words := strings.Fields(text)
	whole := words[:0]
	for _, w := range words {
		last := len(whole) - 1
		switch strings.TrimRight(w, ",;:.)") {
		case "mm", "cm", "in":
			if n := len(whole); n > 0 && whole[last] != "" && strings.ContainsRune("0123456789", rune(whole[last][len(whole[last])-1])) {
				whole[last] += " " + w
				continue
			}
		}
		whole = append(whole, w)
	}
	return whole
}

// wrap breaks a text into lines of at most width cells.
func wrap(text string, width int) []string {
	if width < 1 {
		return nil
	}
	var lines []string
	line := ""
	for _, word := range wordsOf(text) {
		switch {
		case line == "":
			line = word
		case cells.Width(line)+1+cells.Width(word) <= width:
			line += " " + word
		default:
			lines = append(lines, line)
			line = word
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// paragraph writes a text, with lengths in the unit in force, over as many lines as it takes, down to the bottom of
// the rectangle, and returns the row below it.
func (m *Model) paragraph(r cells.Rect, y int, ink cells.Ink, text string) int {
	for _, line := range m.wrapIn(text, r.W) {
		if y >= r.Y+r.H {
			break
		}
		m.scr.Text(r.X, y, r.W, ink, line)
		y++
	}
	return y
}

// lookWord is what a row is for, said even when nothing is wished for.
func lookWord(s *sheet.Sheet, r sheet.Row) string {
	if l := s.LookOf(r); l != "" {
		return string(l)
	}
	return "no look set"
}
