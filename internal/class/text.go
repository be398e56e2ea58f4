package class

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/listing"
	"example.org/underveil/internal/unit"
)

// mostMissed is how many points are listed as missed most often.
const mostMissed = 12

// Text is the class as lines of plain text, safe to show, for a page of width columns, at least 60: a row for each hand-in with what
// is to be known about it below, then totals, what was missed most often, and which hand-ins are the same.
func (c *Class) Text(width int) string {
	p := &listing.Page{Width: max(width, 60)}
	head := fmt.Sprintf("%s (%s)", c.Title, c.ID)
	if c.LimitsOf != "" {
		head += ", by the limits of " + c.LimitsOf
	}
	p.Paragraph(head)
	if c.Unsolved != "" {
		p.Paragraph("By these limits the exercise's own answer does not pass (" + unit.In(c.Unsolved, c.Units) + "): they are no fair measure for it. underveil exercise check says why.")
	}
	p.WriteByte('\n')
	if len(c.HandIns) == 0 {
		p.Paragraph("Nothing was handed in: there is no file in the folder that ends in " + ending + ".")
		return p.String()
	}
	rows := []listing.Row{{Cells: []string{"hand-in", "mark", "", "hints"}}}
	for _, h := range c.HandIns {
		rows = append(rows, h.row(c.Task, c.Units))
	}
	p.Table(rows, nil)
	p.WriteByte('\n')
	p.Paragraph(c.totals())
	if len(c.Missed) > 0 {
		p.WriteByte('\n')
		c.missedTable(p)
	}
	if twice := c.Twice(); len(twice) > 0 {
		p.WriteString("\nhanded in more than once\n")
		for _, s := range twice {
			p.Wrapped("  ", "    ", s.Like+": "+strings.Join(s.Files, ", "))
		}
	}
	if len(c.Same) > 0 {
		p.WriteString("\nthe same content, which honest work may have too\n")
		for _, s := range c.Same {
			p.Wrapped("  ", "    ", s.text())
		}
	}
	return p.String()
}

// row is one hand-in in the table.
func (h HandIn) row(task lesson.Task, u unit.Unit) listing.Row {
	name, mark, hints := h.File, "", ""
	if h.Learner != "" {
		name += ", " + h.Learner
	}
	if h.Marked() {
		mark = fmt.Sprintf("%d of %d", h.Met, h.Of)
		if !h.Plain {
			hints = strconv.Itoa(h.Hints)
		}
	}
	seen := ""
	if h.Seen {
		seen = "the answer was looked at"
	}
	r := listing.Row{Cells: []string{name, mark, string(h.State), hints}}
	signed := ""
	switch {
	case task != lesson.Fit || !h.Marked():
	case h.Assessor != "":
		signed = "signed by " + h.Assessor
	default:
		signed = "not signed"
	}
	for _, note := range []string{h.Why, unit.In(h.First.missed(), u), h.Like, seen, signed, h.Unsealed} {
		if note != "" {
			r.Notes = append(r.Notes, note)
		}
	}
	return r
}

// missed is a point that was missed, in words; empty for none.
func (p Point) missed() string {
	text := "missed: " + p.What
	switch {
	case p == Point{}:
		return ""
	case p.Off:
		text = "taken off: " + p.What
	case p.Why == "missed":
		return text
	}
	return text + " (" + p.Why + ")"
}

// totals are how many there are of each, and the mean mark.
func (c *Class) totals() string {
	passed := fmt.Sprintf("%d passed", c.Count(Passed))
	if n := c.BadSeals(); n > 0 {
		passed += fmt.Sprintf(" (%d changed after signing)", n)
	}
	parts := []string{passed, fmt.Sprintf("%d not yet", c.Count(NotYet))}
	if n := c.Count(NotRead); n > 0 {
		parts = append(parts, fmt.Sprintf("%d could not be read", n))
	}
	if n := c.Count(Elsewhere); n > 0 {
		parts = append(parts, fmt.Sprintf("%d for another exercise", n))
	}
	text := fmt.Sprintf("%d handed in: %s", len(c.HandIns), strings.Join(parts, ", "))
	if c.Others > 0 {
		text += fmt.Sprintf("; not looked at: %d", c.Others)
	}
	if c.Marked() > 0 {
		text += fmt.Sprintf("; mean mark %.0f %%", c.Mean())
	}
	return text
}

// missedTable lists what was missed most often: what to teach again.
func (c *Class) missedTable(p *listing.Page) {
	rows := []listing.Row{{Cells: []string{"missed most often", ""}}}
	for _, m := range c.Missed[:min(len(c.Missed), mostMissed)] {
		rows = append(rows, listing.Row{Cells: []string{unit.In(m.String(), c.Units), fmt.Sprintf("by %d of %d", m.By, c.Marked())}})
	}
	p.Table(rows, nil)
	if more := len(c.Missed) - mostMissed; more > 0 {
		p.Wrapped("  ", "  ", fmt.Sprintf("and %d more, no more often", more))
	}
}

// String is what was missed, in words.
func (m Missed) String() string {
	if m.Wrongly {
		return m.What + ": named, and nothing is wrong there"
	}
	return m.What
}

// text is a group in words. Those that are like the start or the answer say so in their rows.
func (s Same) text() string {
	if s.Like != "" {
		return fmt.Sprintf("%s: %d of them", s.Like, len(s.Files))
	}
	return strings.Join(s.Files, ", ")
}

// CSV writes the hand-ins as RFC 4180 has it, for a spreadsheet: a row of column names, then one row for each. The share is in %,
// dates are ISO 8601; what a row has nothing to say to is empty. No cell can be taken for a formula. The error is that of w.
func (c *Class) CSV(w io.Writer) error {
	out := listing.NewCells(w)
	out.Row("file", "learner", "date", "state", "met", "of", "share", "hints", "answer_seen", "first_missed", "found", "like", "assessor", "seal", "reason")
	for _, h := range c.HandIns {
		row := []string{h.File, h.Learner, h.Date, string(h.State), "", "", "", "", "", h.First.What, h.First.Why, h.Like, h.Assessor, h.Unsealed, h.Why}
		if h.Marked() {
			copy(row[4:], []string{strconv.Itoa(h.Met), strconv.Itoa(h.Of), strconv.FormatFloat(h.Share, 'f', 1, 64)})
			if !h.Plain {
				row[7] = strconv.Itoa(h.Hints)
			}
			if h.Seen {
				row[8] = "yes"
			}
		}
		out.Row(row...)
	}
	return out.Done()
}
