package tui

import (
	"fmt"
	"strings"

	"example.org/underveil/internal/printable"
)

// planVoice offers a plan, row by row.
func (p *plain) planVoice(d *planPanel) voice {
	v := voice{replies: []reply{{"take", "enter", "the rows that are marked"}, {"mark", " ", "this row, or not; a number that row"}, {"all", "", "marks every row"}, {"none", "", "unmarks them"}, {"up", "up", ""}, {"down", "down", ""},
		{"why", "?", "what would help"}, goBack}}
	if d.made.Refused {
		v.asks = []string{"nothing worth fitting. " + d.made.Binding.Rule + ": " + d.made.Binding.What}
	} else {
		text := "a plan: " + bondsOf(d.made.Sheet.Bonds())
		for _, l := range d.made.Looks {
			text += fmt.Sprintf(", %s %.0f %% met", l.Look, 100*l.Share())
		}
		if d.preview != nil {
			text += "; " + verdictLine(d.preview.report)
		}
		v.asks = append(v.asks, text)
		if d.made.Binding.Rule != "" {
			v.asks = append(v.asks, "held by "+d.made.Binding.Rule+": "+d.made.Binding.What)
		}
	}
	if d.asked && len(d.remedies) == 0 {
		v.asks = append(v.asks, "nothing that was tried would help much")
	}
	for _, r := range d.remedies {
		v.asks = append(v.asks, fmt.Sprintf("%s: %.0f %% of it would be met", r.What, 100*r.Met))
	}
	row := func(i int) string {
		r := d.rows[i]
		text := fmt.Sprintf("%d, %s: ", len(d.rows)-i, r.at)
		switch {
		case r.now.Equal(r.then):
			text += "as it is"
		case r.then.Empty():
			text += "cleared"
		default:
			text += fmt.Sprintf("%s, %s, for %s", printable.Count(r.then.Count(), "bond"), stepWord(r.then), lookWord(d.made.Sheet, r.then))
		}
		if !r.now.Empty() && !r.now.Equal(r.then) {
			text += fmt.Sprintf(", now %d", r.now.Count())
		}
		if !r.take {
			text += ", not marked"
		}
		return text
	}
	for i := len(d.rows) - 1; i >= 0; i-- { // fitting goes from the bottom up
		v.asks = append(v.asks, row(i))
	}
	v.number = func(n int) bool { // marks a row, or not
		if n < 1 || n > len(d.rows) {
			return false
		}
		d.at = len(d.rows) - n
		d.follow(p.m)
		p.press("space")
		return true
	}
	if d.made.Refused {
		v.replies = v.replies[6:]
	} else if len(d.rows) > 0 && p.was.doc == p.m.doc && p.was.front == dialog(d) && !d.asked {
		v.changed = []string{row(d.at)}
		if now := p.markedOf(d); now != p.marked {
			v.changed[0] += ". " + now
		}
		if p.spoke {
			v.changed = []string{}
		}
	}
	p.marked = p.markedOf(d)
	v.text = func(text string) bool {
		every := strings.EqualFold(text, "all")
		if d.made.Refused || !every && !strings.EqualFold(text, "none") {
			return false
		}
		for i := range d.rows {
			d.rows[i].take = every
		}
		d.refresh(p.m)
		p.say(p.markedOf(d))
		return true
	}
	v.asks = append(v.asks, "say "+repliesLine(v.replies))
	return v
}

// markedOf says how much of a plan is marked to be taken, and what the sheet would come to.
func (p *plain) markedOf(d *planPanel) string {
	n := 0
	for _, r := range d.rows {
		if r.take {
			n++
		}
	}
	text := fmt.Sprintf("%d of %s marked", n, printable.Count(len(d.rows), "row"))
	if d.preview != nil {
		text += ", " + printable.Count(d.preview.totals.Strands, "strand")
	}
	return text
}
