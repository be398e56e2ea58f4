package tui

import (
	"fmt"
	"strings"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
)

// The large layout is for a room that watches a projector: the map has all the width, and under it, in a band, stands one thing at
// a time in plain words. There is no side. What needs one, the panel at the chair for instance, brings the ordinary layout back for as long.

// switchLarge goes to the large layout, or back.
func (m *Model) switchLarge() {
	m.enlarge(!m.enlarged)
	if m.enlarged {
		m.beside = nothingBeside
		m.tell("the large layout, for a projector; " + m.keyOf("projector") + " goes back")
	} else {
		m.tell("the ordinary layout")
	}
}

// enlarge turns the large layout on or off, and with it the inks for a projector.
func (m *Model) enlarge(on bool) {
	m.enlarged, m.shift = on, -1
	palette := m.opts.Palette
	if on && m.opts.Contrast != nil {
		palette = *m.opts.Contrast
	}
	m.out = cells.NewWriter(m.to, palette)
}

// enlargedNow reports whether the screen is laid out large: not while something needs the side, or a second map.
func (m *Model) enlargedNow() bool {
	return m.enlarged && m.beside == nothingBeside && m.planOpen() == nil && !m.panelOpen()
}

// mostCaption is how many lines of a caption the band has room for.
const mostCaption = 5

// findingLines is how many lines the band has for a finding: what is wrong, and where and by how much. On a narrow screen either may
// take two.
func findingLines(w int) int {
	if w < 100 {
		return 4
	}
	return 3
}

// projected is the large layout of a screen of w by h cells: the map in the middle, and over the keys a band with so many lines of
// caption and a finding.
func projected(w, h int, table mapSize, caption int, wantNarrow bool) layout {
	roomy := h >= roomyHeight
	band := 1 + caption + findingLines(w) // with the line over it
	if caption > 0 {
		band++
	}
	if roomy {
		band += 2
	}
	l := layout{
		header: cells.Rect{X: 0, Y: 0, W: w, H: 1},
		keys:   cells.Rect{X: 0, Y: h - 1, W: w, H: 1},
		band:   cells.Rect{X: 1, Y: h - 1 - band, W: w - 2, H: band},
	}
	width := table.one
	if !wantNarrow && table.two <= w {
		l.wide, width = true, table.two
	}
	top := 1
	if roomy {
		top = 2
	}
	x := max(0, (w-width)/2)
	l.figure = cells.Rect{X: x, Y: top, W: w - x, H: l.band.Y - top}
	return l
}

// mapSize is how wide the map is with one and with two cells a slot.
type mapSize struct{ one, two int }

// projectedLayout is the large layout now. In a demonstration it is the same for all its steps, so that the map stays where it is.
func (m *Model) projectedLayout() layout {
	one, _ := figure.Size(m.doc.table, false)
	two, _ := figure.Size(m.doc.table, true)
	caption := 0
	if p := m.stepping(); p != nil {
		caption = p.captionLines(m, m.scr.W-2)
	}
	return projected(m.scr.W, m.scr.H, mapSize{one, two}, caption, m.narrow)
}

// captionLines is how many lines the longest caption takes.
func (p *demonstration) captionLines(m *Model, width int) int {
	lines := len(m.captionOf(p.script.Say, width))
	for _, s := range p.script.Steps {
		lines = max(lines, len(m.captionOf(s.Say, width)))
	}
	return min(max(lines, 1), mostCaption)
}

// captionOf is a caption as lines.
func (m *Model) captionOf(text string, width int) []string {
	var lines []string
	for _, part := range strings.Split(text, "\n") {
		lines = append(lines, m.wrapIn(part, width)...)
	}
	return lines
}

// drawProjected draws the editor large.
func (m *Model) drawProjected(l layout) {
	m.drawProjectedHeader(l.header)
	figure.Draw(m.scr, l.figure, m.view(l))
	clear(m.findingAt)
	if m.stepping() != nil {
		return // which draws the band itself
	}
	reading := ""
	if m.shading != nil {
		reading = m.readingName()
	}
	r := m.drawBandHead(l.band, reading)
	m.drawOneFinding(r)
	m.drawProjectedKeys(l.keys)
}

// drawProjectedHeader is what the sheet is called, and how many findings there are.
func (m *Model) drawProjectedHeader(r cells.Rect) {
	right := m.verdict(m.doc.report, false)
	if m.doc.hiding() {
		right = []piece{{figure.Dim, findingsHidden}}
	}
	width := 0
	for _, p := range right {
		width += cells.Width(p.text)
	}
	m.write(r.X+r.W-width-1, r.Y, width, right)
	title := m.doc.sheet().Title
	if m.doc.practice != nil {
		title = "exercise" + m.opts.Glyphs.Dash + m.doc.practice.x.Title
	}
	m.drawTitle(cells.Rect{X: r.X + 1, Y: r.Y, W: r.W - width - 4, H: 1}, title)
}

// findingsHidden stands where an exercise hides what the rules find.
const findingsHidden = "findings hidden"

// drawTitle writes what is open: a sheet by its title, or what goes on in its place; and whether that is not saved, or being recorded.
func (m *Model) drawTitle(r cells.Rect, title string) {
	marks := m.marks()
	width := 0
	for _, p := range marks {
		width += cells.Width(p.text)
	}
	switch {
	case m.stepping() != nil:
		title = m.demo.script.Title
	case m.trying():
		title = fmt.Sprintf("trying, at step %d%sD returns", m.demo.at, m.opts.Glyphs.Dash)
	}
	used := m.scr.Text(r.X, r.Y, r.W-width, figure.Title, title)
	m.write(r.X+used, r.Y, width, marks)
}

// marks are what stands after the title.
func (m *Model) marks() []piece {
	var ps []piece
	mark := func(ink cells.Ink, text string) {
		ps = append(ps, piece{figure.Dim, m.opts.Glyphs.Dash}, piece{ink, text})
	}
	switch d := m.doc; { // what is wrong stays in sight, and not for a key alone
	case d.practice != nil && (d.practice.broken || d.practice.failed):
		mark(figure.CautionInk, "not kept")
	case m.unkept && d.changed():
		mark(figure.CautionInk, "not saved, nor kept for after a crash")
	case d.gone != nil:
		mark(figure.CautionInk, "its file is gone")
	case d.changed():
		mark(figure.Dim, "not saved")
	}
	if m.doc.held.elsewhere() && m.doc.practice == nil {
		mark(figure.CautionInk, "open elsewhere")
	}
	if m.rec != nil && m.rec.doc == m.doc {
		ps = append(ps, piece{figure.Dim, m.opts.Glyphs.Dash}, piece{figure.CautionInk, m.rec.mark()})
	}
	return ps
}

// drawProjectedKeys is the bottom line: what was just told, or else the few keys that a room has to see.
func (m *Model) drawProjectedKeys(r cells.Rect) {
	if m.told != "" || m.doc.practice != nil {
		m.drawKeys(r)
		return
	}
	keys := []string{m.keyOf("place"), "place", m.keyOf("next-finding"), "next finding", m.keyOf("fix"), "fix", m.keyOf("undo"), "undo",
		m.keyOf("projector"), "ordinary layout", "?", "keys"}
	if m.trying() {
		keys = append([]string{m.keyOf("record"), "back to the step"}, keys[:8]...)
	}
	m.write(r.X+1, r.Y, r.W-2, keysOf(keys))
}

// keysOf are keys and what they do, in pairs, for the bottom line.
func keysOf(keys []string) []piece {
	var ps []piece
	for i := 0; i < len(keys); i += 2 {
		ps = append(ps, piece{figure.Key, keys[i]}, piece{figure.Dim, " " + keys[i+1] + "  "})
	}
	return ps
}

// drawBandHead is the line between the map and the band, with what is said on the left, and on the right where the cursor is, or what
// the marks mean that the map is shaded by. It returns what is left of the band.
func (m *Model) drawBandHead(r cells.Rect, left string) cells.Rect {
	for x := range m.scr.W {
		m.scr.Put(x, r.Y, figure.Frame, m.opts.Glyphs.Across)
	}
	if left != "" {
		m.scr.Text(r.X+1, r.Y, r.W-2, figure.Title, " "+left+" ")
	}
	at := m.doc.cursor
	right := []piece{{figure.Strong, rule.Where(sheet.Concern{Row: at.At, On: sheet.OnSlot, Slot: at.Slot})}}
	if m.shading != nil {
		right = m.legend(m.shading)
		if name := m.readingName(); r.W >= 110 {
			right = append([]piece{{figure.Title, name + " "}}, right...)
		} else if left == "" || cells.Width(left+name) < 24 {
			left += " " + name
		}
	}
	right = append(right, piece{figure.Plain, " "})
	width := 1
	for _, p := range right {
		width += cells.Width(p.text)
	}
	m.write(r.X+r.W-1-width, r.Y, width, append([]piece{{figure.Plain, " "}}, right...))
	skip := 1
	if m.scr.H >= roomyHeight {
		skip = 2
	}
	return cells.Rect{X: r.X, Y: r.Y + skip, W: r.W, H: r.H - skip}
}

// drawOneFinding writes the finding in view: what is wrong, where, by how much.
func (m *Model) drawOneFinding(r cells.Rect) {
	found := m.doc.report.Findings
	switch {
	case len(found) > 0:
		shown := m.doc.inView()
		f := found[shown]
		ink, mark := m.severityMark(f)
		m.drawFinding(r, []piece{{ink, strings.TrimLeft(mark, " ")}}, f, f.Where(), shown, len(found))
	case m.doc.hiding():
		m.scr.Text(r.X, r.Y, r.W, figure.Strong, findingsHidden)
	case m.doc.sheet().Bonds() == 0:
		m.scr.Text(r.X, r.Y, r.W, figure.Strong, "nothing placed yet")
	default:
		m.scr.Text(r.X, r.Y, r.W, figure.GoodInk, "the rules find nothing")
	}
}

// drawFinding writes a finding over the lines that the band has for it: its mark and what is wrong, and then where and by how much.
func (m *Model) drawFinding(r cells.Rect, lead []piece, f rule.Finding, where string, i, n int) {
	count := ""
	if n > 1 {
		count = fmt.Sprintf("%d of %d", i+1, n)
	}
	used := m.write(r.X, r.Y, r.W, lead) + 2
	m.scr.Text(r.X+r.W-cells.Width(count), r.Y, cells.Width(count), figure.Label, count)
	title := f.Rule
	if known, ok := rule.ByID(f.Rule); ok {
		title = known.Title
	}
	all := cells.Rect{X: r.X, Y: r.Y, W: r.W, H: findingLines(m.scr.W)}
	y := m.paragraph(cells.Rect{X: r.X + used, Y: r.Y, W: r.W - used - cells.Width(count) - 2, H: all.H}, r.Y, figure.Strong, title)
	m.paragraph(all, y, figure.Label, where+": "+f.Message())
}

// drawBand writes the step under the map: what to look at, and one of the findings that came or went.
func (p *demonstration) drawBand(m *Model, band cells.Rect) {
	r := m.drawBandHead(band, p.stepName())
	caption := m.captionOf(p.say(), r.W)
	lines := p.captionLines(m, r.W)
	for i, line := range caption[:min(len(caption), lines)] {
		if i == lines-1 && len(caption) > lines { // the ordinary layout has it whole
			line += " " + string(m.opts.Glyphs.Dots)
		}
		m.scr.Text(r.X, r.Y+i, r.W, figure.Strong, line)
	}
	r.Y += lines + 1
	n, ok := p.inView()
	switch {
	case ok:
		lead := m.turned(n)
		m.drawFinding(r, lead[:len(lead)-1], n.Finding, n.Where(), p.shown, len(p.news))
	case p.at == 0:
		m.paragraph(cells.Rect{X: r.X, Y: r.Y, W: r.W, H: findingLines(m.scr.W)}, r.Y, figure.Label, p.script.About)
	default:
		m.scr.Text(r.X, r.Y, r.W, figure.Label, "no finding comes or goes")
	}
}
