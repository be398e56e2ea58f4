package tui

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
)

// linesPage is a page of text over the map, to be scrolled where it is longer than the screen. Any key that does not scroll
// closes it.
type linesPage struct {
	title     string
	width     int // of the text, in columns
	lines     []pageLine
	feet      [2]string // the last line where all has room, and where it has not
	top, rows int
}

// pageLine is a line of a page; a heading stands out.
type pageLine struct {
	head bool
	text string
	ink  cells.Ink // of a line that is no heading; Plain where nothing is said
	mark cells.Ink // of its first sign alone, where that is a mark
}

// What a page says at its foot that has no keys of its own.
const (
	anyKeyCloses    = "any key closes"
	scrollsOrCloses = "up, down scroll; any other key closes"
)

func (p *linesPage) key(m *Model, msg tea.KeyMsg) tea.Cmd {
	if !scrolls(msg, &p.top, p.rows, len(p.lines)) {
		m.pop()
	}
	return nil
}

// scrolls moves the top of a page by the keys that do so, and reports whether this was one of them.
func scrolls(msg tea.KeyMsg, top *int, rows, lines int) bool {
	switch msg.String() {
	case "up":
		*top--
	case "down":
		*top++
	case "pgup":
		*top -= rows
	case "pgdown", " ":
		*top += rows
	case "home":
		*top = 0
	case "end":
		*top = lines
	default:
		return false
	}
	return true
}

func (p *linesPage) draw(m *Model) {
	in := m.box(p.width+4, len(p.lines)+4, p.title)
	p.rows = in.H - 2
	p.top = max(0, min(p.top, len(p.lines)-p.rows))
	for i := 0; i < p.rows && p.top+i < len(p.lines); i++ {
		l := p.lines[p.top+i]
		if l.head {
			l.ink = figure.Title
		}
		m.scr.Text(in.X, in.Y+i, in.W, l.ink, l.text)
		if l.mark != figure.Plain {
			m.scr.Tint(in.X, in.Y+i, l.mark)
		}
	}
	foot := p.feet[0]
	if p.rows < len(p.lines) {
		foot = p.feet[1]
	}
	m.scr.Text(in.X, in.Y+in.H-1, in.W, figure.Dim, foot)
}
