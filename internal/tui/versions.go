package tui

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/sheet"
)

// versionsPage chooses a state of the sheet from before: one that was saved over, or one that was left unfinished.
type versionsPage struct {
	list
	versions []Version // of the first items
}

// versionsMsg is what versions there are of the sheet that is open.
type versionsMsg struct {
	doc *document
	all []Version
}

// showVersions looks for the versions of the sheet, as a command.
func (m *Model) showVersions() tea.Cmd {
	d, before := m.doc, m.opts.Files.Before
	return func() tea.Msg { return versionsMsg{d, before(d.path)} }
}

// mayHaveVersions says why there are none.
func mayHaveVersions(m *Model) string {
	switch d := m.doc; {
	case d.practice != nil:
		return "of an exercise every step is kept: " + m.keyOf("exercise") + ", t goes back to any of them"
	case m.opts.Files.Before == nil || d.path == "":
		return "this sheet has not been saved over yet"
	}
	return ""
}

// showTheVersions shows them, once they are found.
func (m *Model) showTheVersions(msg versionsMsg) {
	if msg.doc != m.doc || len(m.dialogs) > 0 || m.doc.moving != nil {
		return
	}
	if len(msg.all) == 0 {
		m.tell("this sheet has not been saved over yet on this machine")
		return
	}
	p := &versionsPage{versions: msg.all}
	here := sheet.Brief(m.doc.sheet())
	for _, v := range msg.all {
		it := item{name: "saved " + m.when(v.At)}
		switch {
		case v.Err != nil:
			it.about = "can't be read"
		case sheet.Brief(v.Sheet) == here:
			it.about = here + ", as now"
		default:
			it.about = sheet.Brief(v.Sheet)
		}
		p.items = append(p.items, it)
	}
	p.first()
	m.push(p)
}

func (p *versionsPage) key(m *Model, msg tea.KeyMsg) tea.Cmd {
	switch msg.String() {
	case "esc", "ctrl+c", "q":
		m.pop()
	case "up":
		p.step(-1)
	case "down", "tab":
		p.step(1)
	case "enter", " ":
		if v, ok := p.chosen(m); ok {
			p.bringBack(m, v)
		}
	case "b":
		if v, ok := p.chosen(m); ok {
			m.pop()
			m.besideNow(v.Sheet.With(func(c *sheet.Sheet) { c.Title = "saved " + m.when(v.At) }), m.doc.path)
		}
	}
	return nil
}

// chosen is the version at hand; one that can't be read says why.
func (p *versionsPage) chosen(m *Model) (Version, bool) {
	v := p.versions[p.at]
	if v.Err != nil {
		m.push(newTrouble("this version can't be read", v.Err.Error()))
	}
	return v, v.Err == nil
}

// bringBack puts a version on the sheet, as one step.
func (p *versionsPage) bringBack(m *Model, v Version) {
	m.pop()
	if err := m.doc.do("bring back what was saved "+m.when(v.At), m.house(v.Sheet)); err != nil {
		m.push(newTrouble("this can't be brought back", err.Error()))
		return
	}
	m.tell("as it was saved " + m.when(v.At) + "; " + m.keyOf("undo") + " goes back")
}

func (p *versionsPage) draw(m *Model) {
	in := m.box(62, min(len(p.items)+4, m.scr.H-2), "saved before")
	p.drawIn(m, cells.Rect{X: in.X, Y: in.Y, W: in.W, H: in.H - 2})
	m.scr.Text(in.X, in.Y+in.H-1, in.W, figure.Dim, "Enter brings it back, b lays it beside, Esc leaves")
}
