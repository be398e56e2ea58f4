package tui

import (
	"fmt"
	"strings"

	"example.org/underveil/internal/retention"
	"example.org/underveil/internal/visit"
)

// visitsVoice reads the visits, where the client stands, and how many bonds were kept.
func (p *plain) visitsVoice() voice {
	m := p.m
	s := m.doc.sheet()
	v := voice{page: true, replies: []reply{{"fit", "f", ""}, {"inspect", "i", ""}, {"drop", "d", "the last visit"}, goBack}}
	for _, part := range visit.Story(s, m.opts.Today()) {
		for i, l := range part.Lines {
			l = columnsSaid(l)
			if i == 0 {
				l = part.Head + ": " + l
			}
			v.asks = append(v.asks, l)
		}
	}
	if len(s.Visits) == 0 {
		return v
	}
	r := retention.Of(s, m.doc.table)
	if r.All.Known == 0 {
		return v
	}
	low, high := r.All.Interval()
	v.asks = append(v.asks, fmt.Sprintf("kept: %d of %d bonds, %.0f %%, 95 times of 100 from %.0f to %.0f %%", r.All.Kept, r.All.Known, 100*r.All.Share(), 100*low, 100*high))
	for _, c := range r.Cycles {
		v.asks = append(v.asks, fmt.Sprintf("%s of %s: %d kept of %d, %d lost, %d slipped", c.Kind, c.Date, c.Kept, c.Known, c.Lost(), c.Slipped))
	}
	for _, g := range r.Groupings {
		var words []string
		for _, c := range g.Groups {
			text := fmt.Sprintf("%s %d of %d", c.Name, c.Kept, c.Known)
			if c.Odd {
				text += ", which stands out"
			}
			words = append(words, text)
		}
		v.asks = append(v.asks, g.Name+": "+strings.Join(words, "; "))
	}
	return v
}
