package tui

import (
	"fmt"
	"strings"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/printable"
)

// stepName says how far the demonstration has come: "step 3 of 7".
func (p *demonstration) stepName() string {
	if p.at == 0 {
		return "start of " + printable.Count(p.last(), "step")
	}
	return fmt.Sprintf("step %d of %d", p.at, p.last())
}

func (p *demonstration) draw(m *Model) {
	l := m.layout()
	if m.enlargedNow() {
		p.drawBand(m, l.band)
	} else {
		p.drawSide(m, l.side)
	}
	m.drawStepKeys(l.keys)
}

// drawSide writes what to look at, and what came and went, beside the map.
func (p *demonstration) drawSide(m *Model, r cells.Rect) {
	c := &column{m, r, r.Y}
	c.line(piece{figure.Title, p.stepName()})
	c.gap()
	if r.W >= narrowSide { // else it would take the room of what is said; the line under the map has the figure
		m.sideReading(c)
	}
	for _, part := range strings.Split(p.say(), "\n") {
		c.para(0, figure.Strong, part)
	}
	c.gap()
	if p.at == 0 {
		for _, part := range strings.Split(p.script.About, "\n") {
			c.para(0, figure.Label, part)
		}
		return
	}
	if len(p.news) == 0 {
		c.line(piece{figure.Dim, "no finding comes or goes"})
		return
	}
	for i := p.firstWithRoom(c); i < len(p.news) && !c.full(); i++ {
		p.drawNews(c, i)
	}
}

// firstWithRoom is the first of the news that is written, so that the one in view has room with all it says.
func (p *demonstration) firstWithRoom(c *column) int {
	room, first := c.r.Y+c.r.H-c.y-p.linesOf(c, p.shown), p.shown
	for first > 0 && p.linesOf(c, first-1) <= room {
		first--
		room -= p.linesOf(c, first)
	}
	return first
}

// linesOf is how many lines one of the news takes.
func (p *demonstration) linesOf(c *column, i int) int {
	lines := 1 + len(c.m.wrapIn(p.news[i].Where(), c.r.W-3))
	if i == p.shown {
		lines += len(c.m.wrapIn(p.news[i].Message(), c.r.W-3))
	}
	return lines
}

// drawNews writes one of the news: its turn, its rule and place, and where it is in view what it says.
func (p *demonstration) drawNews(c *column, i int) {
	m, n := c.m, p.news[i]
	here := " "
	if i == p.shown {
		here = string(m.opts.Glyphs.Here)
	}
	c.line(append([]piece{{figure.Strong, here}}, m.turned(n)...)...)
	c.para(3, figure.Plain, n.Where())
	if i == p.shown {
		c.para(3, figure.Label, n.Message())
	}
}

// turned is what came or went, with how grave it is: "+ ╳ stop nape", "gone: ╳ stop nape".
func (m *Model) turned(n lesson.News) []piece {
	ink, mark := m.severityMark(n.Finding)
	turn := figure.Strong
	if n.Turn == lesson.Went {
		turn = figure.GoodInk
	}
	return []piece{{turn, n.Turn.Word()}, {figure.Plain, " "}, {ink, strings.TrimLeft(mark, " ")}, {figure.Strong, " " + n.Rule}}
}

// drawStepKeys is the bottom line: what was just told, or else the keys.
func (m *Model) drawStepKeys(r cells.Rect) {
	if m.told != "" {
		m.drawKeys(r)
		return
	}
	back := "←"
	if m.opts.Glyphs == figure.ASCII {
		back = InWords(back)
	}
	m.write(r.X+1, r.Y, r.W-2, keysOf([]string{"space", "on", back, "back", "e", "try something", "n", "next finding", m.keyOf("projector"), "large", "?", "keys", "q", "end"}))
}

// newStepKeys lists the keys of a demonstration.
func newStepKeys(m *Model) *linesPage {
	p := &linesPage{title: "going through a demonstration", width: 74, feet: [2]string{anyKeyCloses, scrollsOrCloses}}
	for _, k := range [][2]string{
		{"space, right, PgDn, Enter", "the next step"},
		{"left, PgUp, b", "the step before"},
		{"Home, End", "the start, the last step"},
		{"n, down; N, up", "the next finding that came or went, or back"},
		{"w", "shade the map by what it is about, or not"},
		{"e, Esc", "leave the step to try something; " + m.keyOf("record") + " returns"},
		{m.keyOf("projector"), "the large layout, for a projector"},
		{"H", "the head itself"},
		{m.keyOf("weeks") + ", " + m.keyOf("columns") + ", " + m.keyOf("letters"), "a later reading; one or two columns; letters"},
		{"q", "end it"},
	} {
		p.lines = append(p.lines, pageLine{text: fmt.Sprintf("%-27s%s", k[0], k[1])})
	}
	return p
}
