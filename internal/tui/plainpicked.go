package tui

import (
	"example.org/underveil/internal/printable"
)

// sayState says what is otherwise in hand, or selected.
func (p *plain) sayState() {
	d, was := p.m.doc, p.was
	if d == nil || d != was.doc {
		return
	}
	if (d.hand != was.hand || d.offset != was.offset || d.both != was.both) && !p.spoke {
		p.say(p.handLine())
	}
	if d.moving == nil && !was.moving && !samePick(d.picked, was.picked) {
		p.saySelected()
	}
}

func samePick(a, b *selection) bool { return a == b && a == nil || a != nil && b != nil && *a == *b }

// saySelected says how much is selected.
func (p *plain) saySelected() {
	d := p.m.doc
	if d.picked == nil {
		if !p.spoke && d.cursor == p.was.cursor {
			p.say("nothing selected")
		}
		return
	}
	n := 0
	for _, l := range d.table.Lines {
		for k := l.First; k <= l.Last(); k++ {
			if d.isPicked(l.Place(), k) {
				n++
			}
		}
	}
	_, bonds := d.without(d.sheet())
	p.placed = true
	p.say("selected: " + printable.Count(n, "slot") + ", " + printable.Count(bonds, "bond"))
}
