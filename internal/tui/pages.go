package tui

import (
	"slices"
	"strings"
	"time"

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
type keyLine struct {
	keys, does string
	far        bool // it begins at the left all the same
}

// keysWidth is how many columns the keys have.
const keysWidth = 14

func newKeyPage(m *Model) *keyPage {
	p := &keyPage{}
	group := ""
	for _, k := range m.keymap.help() {
		if k.Group != group {
			if group != "" {
				p.lines = append(p.lines, keyLine{})
			}
			group = k.Group
			p.lines = append(p.lines, keyLine{does: group})
		}
		keys := k.Keys
		if m.opts.Glyphs == figure.ASCII {
			keys = InWords(keys)
		}
		if cells.Width(keys) > keysWidth { // more than one, or a long one: what they do goes below
			p.lines = append(p.lines, keyLine{keys: keys})
			keys = " "
		}
		p.lines = append(p.lines, keyLine{keys: keys, does: k.Does})
	}
	p.lines = append(p.lines, keyLine{}, keyLine{does: "Before any heat or solvent"})
	for _, t := range []string{
		safety,
		"Pain while fitting means stop and loosen. A limit on this sheet is a working rule, not a medical one.",
		"Keep hot tools and solvent off the scalp; more remover, never force.",
	} {
		for _, line := range wrap(t, 66) {
			p.lines = append(p.lines, keyLine{does: line, far: true})
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
		switch x := in.X + keysWidth + 2; {
		case l.far:
			m.scr.Text(in.X+1, y, in.W-1, figure.Plain, l.does)
		case l.keys == "":
			m.scr.Text(in.X, y, in.W, figure.Title, l.does)
		case l.does == "":
			m.scr.Text(in.X+1, y, in.W-1, figure.Key, l.keys)
		default:
			m.scr.Text(in.X+1, y, keysWidth, figure.Key, l.keys)
			m.scr.Text(x, y, in.X+in.W-x, figure.Plain, l.does)
		}
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
	if q == m.unasked && msg.Type == tea.KeyRunes && time.Since(m.unaskedAt) < m.opts.Grace {
		return nil // what is typed as it comes up is meant for something else
	}
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

// ask asks something that no key has led to: a file has changed, or a save has come back.
func (m *Model) ask(q *question) {
	m.unasked, m.unaskedAt = q, time.Now()
	m.push(q)
}

func (q *question) draw(m *Model) {
	const width, indent = 66, 3
	answers := append(slices.Clip(q.answers), answer{key: "Esc", says: "go back"})
	height := len(wrap(q.text, width-4)) + 2 // with the frame
	said := make([][]string, len(answers))
	for i, a := range answers {
		said[i] = wrap(a.says, width-4-max(indent, len(a.key)+2))
		height += len(said[i])
	}
	in := m.box(width, height+1, q.title)
	y := m.paragraph(in, in.Y, figure.Plain, q.text) + 1
	for i, a := range answers {
		at := max(indent, len(a.key)+2)
		m.write(in.X, y, in.W, []piece{{figure.Key, a.key}})
		for _, line := range said[i] {
			m.scr.Text(in.X+at, y, in.W-at, figure.Plain, line)
			y++
		}
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
