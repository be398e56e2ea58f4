package tui

import (
	"fmt"
	"strings"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
)

// sideFindings lists the findings in their order, those alike on one line, with all that the one in
// view says. Where not all have room the list is moved up to it.
func (m *Model) sideFindings(c *column) {
	found := m.doc.report.Findings
	clear(m.findingAt)
	empty := m.doc.sheet().Bonds() == 0
	if empty {
		ps := []piece{{figure.Plain, "nothing placed yet"}}
		if m.doc.practice == nil {
			ps = append(ps, piece{figure.Dim, "  "}, piece{figure.Key, m.keyOf("plan")}, piece{figure.Dim, " plans"})
		}
		c.line(ps...)
	}
	if m.doc.hiding() {
		m.sideHidden(c)
		return
	}
	if len(found) == 0 {
		if !empty {
			c.head("findings")
			c.line(piece{figure.GoodInk, " none"})
		}
		return
	}
	shown := m.doc.inView()
	c.head(fmt.Sprintf("findings  %d of %d", shown+1, len(found)))
	before := grouped(found[:shown])
	room := c.r.Y + c.r.H - c.y
	for _, g := range before[min(len(before), max(0, len(before)+m.linesOf(c, found[shown])-room)):] {
		m.sideGroup(c, g, found[g.first])
	}
	m.sideFinding(c, shown, found[shown])
	for _, g := range grouped(found[shown+1:]) {
		g.first += shown + 1
		m.sideGroup(c, g, found[g.first])
	}
	for range m.doc.report.Stale {
		c.line(piece{figure.Dim, " an acceptance has no finding any more"})
	}
}

// sideHidden stands where findings would while an exercise hides them.
func (m *Model) sideHidden(c *column) {
	c.head("findings")
	if m.doc.practice.x.Findings == lesson.Asked {
		c.line(piece{figure.Key, " " + m.keyOf("ask-rules")}, piece{figure.Dim, " asks the rules"})
		return
	}
	c.para(1, figure.Dim, "come with the mark")
}

// group is some findings one after another that are the same but for the slot.
type group struct{ first, n int }

// grouped puts findings into groups.
func grouped(found []rule.Finding) []group {
	var groups []group
	for i, f := range found {
		if i > 0 {
			g := found[i-1]
			if g.Rule == f.Rule && g.Row == f.Row && g.On == f.On && g.About == f.About && g.Severity == f.Severity && (g.Accepted == nil) == (f.Accepted == nil) {
				groups[len(groups)-1].n++
				continue
			}
		}
		groups = append(groups, group{i, 1})
	}
	return groups
}

// linesOf is how many lines a finding takes with all it says.
func (m *Model) linesOf(c *column, f rule.Finding) int {
	w := c.r.W - 3
	n := 1 + len(m.wrapIn(f.Message(), w)) + len(m.wrapIn(m.seenAs(f), w))
	if f.On != sheet.OnSheet {
		n += len(m.wrapIn(f.Where(), w))
	}
	if f.Accepted != nil {
		n += len(m.wrapIn("accepted: "+f.Accepted.Reason, w))
	}
	return n
}

// sideFinding is the finding in view with all it says.
func (m *Model) sideFinding(c *column, index int, f rule.Finding) {
	ink, mark := m.severityMark(f)
	m.findingAt[c.y] = index
	c.line(piece{figure.Strong, string(m.opts.Glyphs.Here)}, piece{ink, mark + " " + f.Rule})
	if f.On != sheet.OnSheet {
		c.para(3, figure.Plain, f.Where())
	}
	c.para(3, figure.Label, f.Message())
	if seen := m.seenAs(f); seen != "" {
		c.para(3, figure.Dim, seen)
	}
	if f.Accepted != nil {
		c.para(3, figure.Dim, "accepted: "+f.Accepted.Reason)
	}
}

// seenAs names the reading of the map that shows what a finding is about, where it is not the zones and not
// on already.
func (m *Model) seenAs(f rule.Finding) string {
	if f.Reading.Kind == rule.ByZone || f.Reading == m.reading {
		return ""
	}
	return "seen in the reading " + wordsFor(f.Reading, m.doc) + when(f.Reading)
}

// sideGroup is a line for a group of findings, of which f is the first.
func (m *Model) sideGroup(c *column, g group, f rule.Finding) {
	ink, mark := m.severityMark(f)
	where := ""
	switch {
	case f.On == sheet.OnSlot && g.n > 1:
		where = fmt.Sprintf("%s, %d bonds", f.Row, g.n)
	case f.On != sheet.OnSheet:
		where = f.Where()
	}
	if c.r.W < narrowSide { // the mark tells how grave it is, and a number alone is a height
		mark = string([]rune(mark)[:1])
		where = shortPlace.Replace(where)
	}
	if !c.full() {
		m.findingAt[c.y] = g.first
	}
	c.line(piece{ink, " " + mark + " " + f.Rule}, piece{figure.Plain, "  " + where})
}

var shortPlace = strings.NewReplacer("height ", "", "front to back, ", "top ", "slot ", "", "0, the centre", "centre", " bonds", "x")

// severityMark is how grave a finding is, as a mark and a word, and its ink.
func (m *Model) severityMark(f rule.Finding) (cells.Ink, string) {
	g := m.opts.Glyphs
	switch {
	case f.Accepted != nil:
		return figure.Dim, "  accepted " + f.Severity.String()
	case f.Severity == rule.Stop:
		return figure.StopInk, string(g.Stop) + " stop"
	case f.Severity == rule.Caution:
		return figure.CautionInk, string(g.Caution) + " caution"
	}
	return figure.NoteInk, "  note"
}
