package tui

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/bust"
	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
)

// The least room in which the head is drawn beside the map, and what it leaves to the rest of the side.
const (
	headWidth  = 30
	headHeight = 14
	sideHeight = 20
)

// headFits reports whether the head has room at the top of the side.
func headFits(side cells.Rect) bool { return side.W >= headWidth && side.H >= headHeight+sideHeight }

// splitSide gives the head the top of the side: as much as it can be drawn large in.
func splitSide(side cells.Rect) (head, rest cells.Rect) {
	const tall = 0.62 // of a head: cells of height for each of width
	h := min(int(float64(side.W)*tall)+1, side.H-sideHeight)
	head = cells.Rect{X: side.X, Y: side.Y, W: side.W, H: h}
	return head, cells.Rect{X: side.X, Y: side.Y + h + 1, W: side.W, H: side.H - h - 1}
}

// switchHead shows the head beside the map, or where that has no room on a page of its own.
func (m *Model) switchHead() {
	if m.headOn && headFits(m.layout().side) {
		m.headOn = false
		return
	}
	m.headOn = true
	if !headFits(m.layout().side) {
		m.push(&headPage{})
	}
}

// turnHead looks at the head from further round, by steps of some degrees.
func (m *Model) turnHead(turn, lift float64) {
	const step = 15
	m.from = m.from.Turned(turn*step, lift*step)
	if !m.headOn {
		m.switchHead()
	}
}

// drawHead draws the head in a rectangle, with a line that says from where it is seen.
func (m *Model) drawHead(r cells.Rect) {
	d := m.doc
	ascii := m.opts.Glyphs == figure.ASCII
	h, hairline := d.table.Head, d.table.Zones.Hairline
	area := cells.Rect{X: r.X, Y: r.Y + 1, W: r.W, H: r.H - 1}
	if !m.relief.Fits(h, hairline, m.from, area.W, area.H, ascii) {
		m.relief = bust.NewRelief(h, hairline, m.from, area.W, area.H, ascii)
	}
	bust.Draw(m.scr, area, m.relief, figure.Scene(m.view(m.layout())))
	m.write(r.X, r.Y, r.W, []piece{{figure.Title, "the head"}, {figure.Dim, " " + m.from.String()}})
}

// headPage is the head on a page of its own.
type headPage struct{}

func (*headPage) key(m *Model, msg tea.KeyMsg) tea.Cmd {
	switch msg.String() {
	case "left", ",":
		m.turnHead(-1, 0)
	case "right", ".":
		m.turnHead(1, 0)
	case "up", "<":
		m.turnHead(0, 1)
	case "down", ">":
		m.turnHead(0, -1)
	case "w":
		m.nextReading(1)
	case "W":
		m.nextReading(-1)
	case "T":
		m.nextTime()
	default:
		m.headOn = false
		m.pop()
	}
	return nil
}

func (*headPage) draw(m *Model) {
	m.scr.Fill(cells.Rect{W: m.scr.W, H: m.scr.H}, figure.Plain, ' ')
	m.drawHead(cells.Rect{X: 1, Y: 0, W: m.scr.W - 2, H: m.scr.H - 1})
	foot := []piece{{figure.Key, "arrows"}, {figure.Dim, " turn  "}, {figure.Key, "w"}, {figure.Dim, " " + m.readingName() + "  "}, {figure.Dim, "any other key closes"}}
	m.write(1, m.scr.H-1, m.scr.W-2, foot)
}
