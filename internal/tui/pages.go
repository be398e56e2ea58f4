package tui

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
)

// keyPage lists the keys, from the table of commands.
type keyPage struct {
	lines []keyLine
	top   int
}

// keyLine is a line of two columns; a line without keys is a heading.
type keyLine struct{ keys, does string }

func newKeyPage() *keyPage {
	p := &keyPage{}
	group := ""
	for _, k := range Keys() {
		if k.Group != group {
			if group != "" {
				p.lines = append(p.lines, keyLine{})
			}
			group = k.Group
			p.lines = append(p.lines, keyLine{"", group})
		}
		p.lines = append(p.lines, keyLine{k.Keys, k.Does})
	}
	p.lines = append(p.lines, keyLine{}, keyLine{"", "Before any heat or solvent"})
	for _, t := range []string{
		safety,
		"Pain while fitting means stop and loosen. A limit on this sheet is a working rule, not a medical one.",
		"Keep hot tools and solvent off the scalp; more remover, never force.",
	} {
		for _, line := range wrap(t, 66) {
			p.lines = append(p.lines, keyLine{" ", line})
		}
	}
	return p
}

func (p *keyPage) key(m *Model, msg tea.KeyMsg) tea.Cmd {
	switch msg.String() {
	case "up":
		p.top--
	case "down":
		p.top++
	case "pgup":
		p.top -= 15
	case "pgdown", " ":
		p.top += 15
	default:
		m.pop()
	}
	return nil
}

// InWords writes arrows as words, for terminals that may have none.
func InWords(keys string) string {
	return strings.NewReplacer("←", "left", "→", "right", "↑", "up", "↓", "down").Replace(keys)
}

func (p *keyPage) draw(m *Model) {
	in := m.box(78, min(len(p.lines)+4, m.scr.H), "keys")
	rows := in.H - 2
	p.top = max(0, min(p.top, len(p.lines)-rows))
	for i := 0; i < rows && p.top+i < len(p.lines); i++ {
		l, y := p.lines[p.top+i], in.Y+i
		if l.keys == "" {
			m.scr.Text(in.X, y, in.W, figure.Title, l.does)
			continue
		}
		keys := l.keys
		if m.opts.Glyphs == figure.ASCII {
			keys = InWords(keys)
		}
		m.scr.Text(in.X+1, y, 14, figure.Key, keys)
		x := in.X + 16
		if l.keys == " " {
			x = in.X + 1
		}
		m.scr.Text(x, y, in.X+in.W-x, figure.Plain, l.does)
	}
	foot := "any key closes"
	if rows < len(p.lines) {
		foot = "up and down scroll, any other key closes"
	}
	m.scr.Text(in.X, in.Y+in.H-1, in.W, figure.Dim, foot)
}

// question asks before something is lost: each answer is a key.
type question struct {
	title   string
	text    string
	answers []answer
}

type answer struct {
	key, says string
	do        func(*Model) tea.Cmd
}

func (q *question) key(m *Model, msg tea.KeyMsg) tea.Cmd {
	for _, a := range q.answers {
		if a.key == msg.String() {
			m.pop()
			return a.do(m)
		}
	}
	if k := msg.String(); k == "esc" || k == "ctrl+c" {
		m.pop()
	}
	return nil
}

func (q *question) draw(m *Model) {
	const width = 62
	lines := wrap(q.text, width-4)
	in := m.box(width, len(lines)+len(q.answers)+5, q.title)
	y := m.paragraph(in, in.Y, figure.Plain, q.text) + 1
	for _, a := range append(q.answers, answer{key: "Esc", says: "go back"}) {
		m.write(in.X, y, in.W, []piece{{figure.Key, a.key + "  "}, {figure.Plain, a.says}})
		y++
	}
}

// list chooses one of several.
type list struct {
	items []item
	at    int
	top   int
}

// item is a line of a list: what it is, a word more, and what choosing it does.
type item struct {
	name, about string
	head        bool // a heading, not to be chosen
	do          func(*Model) tea.Cmd
}

// step goes to the next item that can be chosen.
func (l *list) step(by int) {
	for i := l.at + by; i >= 0 && i < len(l.items); i += by {
		if !l.items[i].head {
			l.at = i
			return
		}
	}
}

// first goes to the first item that can be chosen.
func (l *list) first() {
	l.at = -1
	l.step(1)
	l.at = max(0, l.at)
}

func (l *list) drawIn(m *Model, r cells.Rect) {
	l.top = min(max(l.top, l.at-r.H+1), l.at)
	for i := 0; i < r.H && l.top+i < len(l.items); i++ {
		it, y := l.items[l.top+i], r.Y+i
		switch {
		case it.head:
			m.scr.Text(r.X, y, r.W, figure.Dim, it.name)
			continue
		case l.top+i == l.at:
			m.scr.Put(r.X, y, figure.Strong, m.opts.Glyphs.Here)
			m.scr.Fill(cells.Rect{X: r.X + 1, Y: y, W: 1, H: 1}, figure.Plain, ' ')
			used := m.scr.Text(r.X+2, y, r.W-2, figure.FieldOn, it.name)
			m.scr.Text(r.X+2+used+2, y, r.W-used-4, figure.Dim, it.about)
		default:
			used := m.scr.Text(r.X+2, y, r.W-2, figure.Plain, it.name)
			m.scr.Text(r.X+2+used+2, y, r.W-used-4, figure.Dim, it.about)
		}
	}
	if l.top > 0 {
		m.scr.Put(r.X+r.W-1, r.Y, figure.Key, m.opts.Glyphs.More[0])
	}
	if l.top+r.H < len(l.items) && r.H > 0 {
		m.scr.Put(r.X+r.W-1, r.Y+r.H-1, figure.Key, m.opts.Glyphs.More[1])
	}
}
