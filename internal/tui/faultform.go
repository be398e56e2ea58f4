package tui

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
)

// accuse names what is wrong with the bond at the cursor; what was named already it takes back.
func (m *Model) accuse() {
	d := m.doc
	d.cursor = d.bondSeen()
	at := d.cursor
	switch rule := d.sheet().Tried.MarkedAt(at); {
	case !d.row().Bond(at.Slot).Placed():
		m.tell("there is no bond here to name anything of")
	case rule != "":
		m.tell(d.tell("take back: "+rule+", "+at.String(), d.sheet().WithMark(at, ""), "no longer named: "+rule))
	default:
		m.push(newRulePicker())
	}
}

// bondSeen is the cursor; or, where its row has no bond there, the bond of a row front to back that is drawn in its place.
func (d *document) bondSeen() figure.Spot {
	if d.row().Bond(d.cursor.Slot).Placed() {
		return d.cursor
	}
	here := d.spot()
	for _, r := range d.sheet().Rows {
		for slot := range r.All() {
			if spot, ok := figure.SpotOf(d.table, r.Place, slot); ok && spot == here {
				return figure.Spot{At: r.Place, Slot: slot}
			}
		}
	}
	return d.cursor
}

func needsFaults(m *Model) string {
	if p := m.doc.practice; p == nil || p.x.Task != lesson.Find {
		return m.keyOf("name-fault") + " is for exercises with faults to find"
	}
	return ""
}

// rulePicker chooses the rule that a bond breaks. Typing the first letters goes to it.
type rulePicker struct {
	list
	typed string
}

func newRulePicker() *rulePicker {
	p := &rulePicker{}
	for _, r := range rule.All {
		if r.Severity == rule.Note {
			continue
		}
		p.items = append(p.items, item{name: fmt.Sprintf("%-12s", r.ID), about: r.Title, do: func(m *Model) tea.Cmd {
			at := m.doc.cursor
			m.pop()
			m.tell(m.doc.tell("name "+r.ID+", "+at.String(), m.doc.sheet().WithMark(at, r.ID), r.ID+" named; "+m.keyOf("name-fault")+" takes it back"))
			return nil
		}})
	}
	p.first()
	return p
}

func (p *rulePicker) key(m *Model, msg tea.KeyMsg) tea.Cmd {
	switch msg.String() {
	case "up":
		p.step(-1)
	case "down":
		p.step(1)
	case "home":
		p.first()
	case "end":
		p.at = len(p.items) - 1
	case "enter", " ":
		return p.items[p.at].do(m)
	case "esc", "ctrl+c":
		m.pop()
	case "backspace":
		p.typed = ""
	default:
		p.find(msg)
	}
	return nil
}

// find goes to the first rule that begins with what was typed.
func (p *rulePicker) find(msg tea.KeyMsg) {
	if msg.Type != tea.KeyRunes {
		return
	}
	for _, typed := range []string{p.typed + string(msg.Runes), string(msg.Runes)} {
		for i, it := range p.items {
			if len(it.name) >= len(typed) && it.name[:len(typed)] == typed {
				p.at, p.typed = i, typed
				return
			}
		}
	}
}

func (p *rulePicker) draw(m *Model) {
	in, _ := m.boxBeside(70, "which rule does it break", func(int) int { return len(p.items) + 4 })
	p.drawIn(m, cells.Rect{X: in.X, Y: in.Y, W: in.W, H: in.H - 2})
	m.scr.Text(in.X, in.Y+in.H-1, in.W, figure.Dim, "letters go to it; Enter names it; Esc")
}

// marks are how the bonds of a fault sheet stand on the map: marked, and after the mark found, missed or accused wrongly.
func (p *practice) marksOn(m *Model) func(sheet.Spot) (cells.Ink, rune, bool) {
	if p == nil || p.x.Task != lesson.Find {
		return nil
	}
	g, s := m.opts.Glyphs, m.doc.sheet()
	judged := map[sheet.Spot]lesson.Point{}
	if p.last != nil && p.lastOf == s {
		for _, point := range p.told(p.last.Points) {
			for _, at := range point.Spots {
				judged[at] = point
			}
		}
	}
	return func(at sheet.Spot) (cells.Ink, rune, bool) {
		point, is := judged[at]
		switch {
		case is && point.Off:
			return figure.CautionInk, g.Gone, true
		case is && point.Met:
			return figure.GoodInk, g.Good, true
		case is:
			return figure.StopInk, g.Stop, true
		case s.Tried.MarkedAt(at) != "":
			return figure.CautionInk, g.Doubt, true
		}
		return 0, 0, false
	}
}
