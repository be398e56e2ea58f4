package tui

import (
	"fmt"
	"strings"

	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/printable"
)

// sideBrief writes the brief of the exercise and what counts into the side. Where findings are live, so is what is met.
func (m *Model) sideBrief(c *column) {
	p := m.doc.practice
	c.r.W-- // so that no line of so much text touches the edge
	var brief []string
	for _, part := range strings.Split(p.x.Brief, "\n") {
		brief = append(brief, m.wrapIn(part, c.r.W)...)
	}
	counts := 0
	for _, line := range p.x.Counts() {
		counts += len(m.wrapIn(line, c.r.W-2))
	}
	if room := max(4, c.r.H-counts-4); len(brief) > room {
		brief = append(brief[:room-1:room-1], string(m.opts.Glyphs.Dots)+" "+m.keyOf("exercise")+" has the rest")
	}
	for _, l := range brief {
		c.line(piece{figure.Label, l})
	}
	c.loose()
	c.head("what counts")
	switch {
	case p.x.Task == lesson.Find:
		c.para(1, figure.Plain, fmt.Sprintf("%s to find, %d named", printable.Count(len(p.x.Faults), "fault"), len(m.doc.sheet().Tried.Marked)))
	case p.x.Findings == lesson.Live || p.shown == m.doc.sheet():
		m.sidePoints(c)
	default:
		for _, line := range p.x.Counts() {
			c.para(1, figure.Plain, line)
		}
	}
	c.gap()
	c.line(piece{figure.Key, m.keyOf("exercise")}, piece{figure.Dim, " hints, mark, answer"})
}

// sidePoints are the points of a mark as the work stands, each with its sign.
func (m *Model) sidePoints(c *column) {
	p := m.doc.practice
	mark, err := p.markOf(m.doc)
	if err != nil {
		c.para(1, figure.StopInk, err.Error())
		return
	}
	for _, point := range mark.Points {
		sign, ink := m.opts.Glyphs.Good, figure.GoodInk
		if !point.Met || point.Off {
			sign, ink = m.opts.Glyphs.Gone, figure.CautionInk
		}
		lines := m.wrapIn(point.What, c.r.W-2)
		for i, l := range lines {
			if i == 0 {
				c.line(piece{ink, string(sign) + " "}, piece{figure.Plain, l})
			} else {
				c.line(piece{figure.Plain, "  " + l})
			}
		}
		if point.About == nil && !point.Met && m.doc.sheet().Bonds() > 0 {
			c.line(piece{figure.Dim, "  now " + point.Why})
		}
	}
}

// markOf is the mark of the work where findings are shown, worked out once for each sheet from what the document has found on it.
func (p *practice) markOf(d *document) (lesson.Mark, error) {
	if s := d.sheet(); p.sideOf != s {
		p.judge.Know(s, d.report, d.table)
		p.sideMark, p.sideErr = p.judge.Points(lesson.AttemptOf(p.x, s))
		p.sideOf = s
	}
	return p.sideMark, p.sideErr
}
