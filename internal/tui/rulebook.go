package tui

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/rulebook"
)

// rulePage is the page of a rule, to be scrolled.
type rulePage struct {
	title     string
	drawn     *cells.Screen
	top, rows int
}

// showRule opens the page of a rule, with the limits in force on the sheet.
func (m *Model) showRule(r *rule.Rule) {
	page, err := rulebook.Of(r, m.doc.sheet())
	if err != nil { // it comes with the program
		m.warn(err.Error())
		return
	}
	page.Units = m.opts.Units
	m.push(&rulePage{title: "the rule " + r.ID, drawn: page.Screen(rulebook.Width, m.opts.Glyphs)})
}

func (p *rulePage) key(m *Model, msg tea.KeyMsg) tea.Cmd {
	if !scrolls(msg, &p.top, p.rows, p.drawn.H) {
		m.pop()
	}
	return nil
}

func (p *rulePage) draw(m *Model) {
	high := min(p.drawn.H+4, m.scr.H)
	m.scr.Fill(cells.Rect{Y: (m.scr.H - high) / 2, W: m.scr.W, H: high}, figure.Plain, ' ') // the explanation would look out on one side
	in := m.box(rulebook.Width+4, high, p.title)
	p.rows = in.H - 2
	p.top = max(0, min(p.top, p.drawn.H-p.rows))
	for y := 0; y < p.rows && p.top+y < p.drawn.H; y++ {
		for x := range min(in.W, p.drawn.W) {
			if c := p.drawn.At(x, p.top+y); c.Rune != ' ' {
				m.scr.Put(in.X+x, in.Y+y, c.Ink, c.Rune)
			}
		}
	}
	foot := anyKeyCloses
	if p.rows < p.drawn.H {
		foot = scrollsOrCloses
	}
	m.scr.Text(in.X, in.Y+in.H-1, in.W, figure.Dim, foot)
}
