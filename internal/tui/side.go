package tui

import (
	"fmt"
	"strings"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/tally"
)

// panelPage is what the lower part of the side shows.
type panelPage int

const (
	pageFindings panelPage = iota
	pageRows
	pageStrands
	panelPages
)

// column is a cursor down a rectangle.
type column struct {
	m *Model
	r cells.Rect
	y int
}

func (c *column) full() bool { return c.y >= c.r.Y+c.r.H }

// line writes one line and goes to the next.
func (c *column) line(ps ...piece) {
	if !c.full() {
		c.m.write(c.r.X, c.y, c.r.W, ps)
	}
	c.y++
}

func (c *column) gap() { c.y++ }

// head writes the name of a section.
func (c *column) head(text string) { c.line(piece{figure.Dim, text}) }

// para writes text over several lines, indented.
func (c *column) para(indent int, ink cells.Ink, text string) {
	for _, t := range wrap(text, c.r.W-indent) {
		if c.full() {
			return
		}
		c.m.scr.Text(c.r.X+indent, c.y, c.r.W-indent, ink, t)
		c.y++
	}
}

// drawSide draws what is beside the map: in hand and the row always, and below them findings,
// rows or strands; all at once where there is room.
func (m *Model) drawSide(r cells.Rect) {
	c := &column{m, r, r.Y}
	m.sideHand(c)
	c.gap()
	m.sideRow(c)
	c.gap()
	if roomy := r.W >= 40 && r.H >= 30; roomy && m.page == pageFindings {
		m.sideStrands(c)
		c.gap()
	}
	switch m.page {
	case pageRows:
		m.sideRows(c)
	case pageStrands:
		m.sideStrands(c)
	default:
		m.sideFindings(c)
	}
}

func (m *Model) sideHand(c *column) {
	d := m.doc
	c.head("in hand")
	c.line(piece{figure.Strong, " " + d.hand.Pattern.String()})
	sample := sheet.Bond{Shade: d.hand.Shades[0], Split: d.hand.Split, Trimmed: d.hand.Trimmed}
	c.line(piece{figure.Plain, " "}, piece{figure.Shade(figure.ShadeIndex(d.sheet(), sample.Shade)), string(m.opts.Glyphs.Bond(sample))},
		piece{figure.Plain, " " + sample.String() + m.opts.Glyphs.Dash + m.shadesInHand()})
	extra := ""
	if d.offset {
		extra = "offset rows"
	}
	if d.both {
		if extra != "" {
			extra += m.opts.Glyphs.Dash
		}
		extra += "both sides"
	}
	if extra != "" {
		c.line(piece{figure.NoteInk, " " + extra})
	}
}

// shadesInHand names the shade in hand, or spells a repeat of several.
func (m *Model) shadesInHand() string {
	shades := m.doc.hand.Shades
	if len(shades) > 1 {
		return "shades " + shades
	}
	if s, ok := m.doc.sheet().Shade(shades[0]); ok {
		return s.Name
	}
	return shades
}

// sideRow is the row at the cursor, always in as many lines, so that nothing below jumps when
// the cursor moves.
func (m *Model) sideRow(c *column) {
	d := m.doc
	below := c.y + 3
	c.head("row")
	for _, o := range d.totals.Rows {
		if o.Place == d.cursor.At {
			c.line(piece{figure.Plain, fmt.Sprintf(" %s, %.1f g", plural(o.Bonds(), "bond"), o.Grams)},
				piece{figure.Plain, m.opts.Glyphs.Dash + lookWord(d.sheet(), d.row())})
			c.line(piece{figure.Plain, fmt.Sprintf(" strip %.0f mm, %s", float64(o.Strip.Length), plural(o.Strip.Holes, "hole"))})
		}
	}
	if c.y == below-2 {
		c.line(piece{figure.Dim, " none"})
	}
	c.y = below
}

func (m *Model) sideStrands(c *column) {
	t := m.doc.totals
	c.head("strands")
	if len(t.Shades) == 0 {
		c.line(piece{figure.Plain, " none yet"})
	}
	for _, o := range t.Shades {
		ink := figure.Shade(figure.ShadeIndex(m.doc.sheet(), o.Key))
		c.line(piece{ink, " " + string(o.Key)}, piece{figure.Strong, " " + o.Name},
			piece{figure.Plain, fmt.Sprintf(" %.0f mm", float64(o.Shade.Length))})
		c.line(piece{figure.Plain, fmt.Sprintf("   %s, %.1f g", plural(o.Strands(), "strand"), o.Grams)})
		if c.r.W >= 36 && o.Split+o.Trimmed > 0 {
			c.line(piece{figure.Dim, fmt.Sprintf("   %d whole, %d split, %d trimmed", o.Whole, o.Split, o.Trimmed)})
		}
		c.line(piece{figure.Dim, "   " + tally.Packs(o)})
	}
}

func (m *Model) sideRows(c *column) {
	c.head("rows, from the top")
	rows := m.doc.totals.Rows
	if len(rows) == 0 {
		c.line(piece{figure.Plain, " none yet"})
	}
	for i := len(rows) - 1; i >= 0; i-- {
		o := rows[i]
		ink := figure.Plain
		if o.Place == m.doc.cursor.At {
			ink = figure.Strong
		}
		if c.r.W >= 40 {
			c.line(piece{ink, fmt.Sprintf(" %-26s %4d  strip %3.0f mm", o.Place, o.Bonds(), float64(o.Strip.Length))})
		} else {
			c.line(piece{ink, fmt.Sprintf(" %-15s %4d", o.Place, o.Bonds())})
		}
	}
}

func (m *Model) sideFindings(c *column) {
	d := m.doc
	found := d.report.Findings
	if len(found) == 0 {
		c.head("findings")
		if d.sheet().Bonds() == 0 {
			c.line(piece{figure.Plain, " nothing placed yet"})
		} else {
			c.line(piece{figure.GoodInk, " none"})
		}
		return
	}
	shown := d.inView()
	c.line(piece{figure.Dim, "findings"}, piece{figure.Dim, fmt.Sprintf("  %d of %d", shown+1, len(found))})
	m.sideFinding(c, found[shown])
	for i := shown + 1; i < len(found) && !c.full(); {
		i += m.sideGroup(c, found[i:])
	}
	for i := 0; i < shown && !c.full(); {
		i += m.sideGroup(c, found[i:shown])
	}
	for range d.report.Stale {
		c.line(piece{figure.Dim, " an acceptance has no finding any more"})
	}
}

// sideFinding is the finding in view with all it says.
func (m *Model) sideFinding(c *column, f rule.Finding) {
	ink, mark := m.severityMark(f)
	c.line(piece{figure.Strong, string(m.opts.Glyphs.Here)}, piece{ink, mark + " " + f.Rule})
	if f.On != sheet.OnSheet {
		c.para(3, figure.Plain, f.Where())
	}
	c.para(3, figure.Label, f.Message())
	if f.Accepted != nil {
		c.para(3, figure.Dim, "accepted: "+f.Accepted.Reason)
	}
}

// sideGroup is a line for the first finding of a list and for those after it that are the same
// but for the slot. It returns how many they are.
func (m *Model) sideGroup(c *column, found []rule.Finding) int {
	f, n := found[0], 1
	same := func(g rule.Finding) bool {
		return g.Rule == f.Rule && g.Row == f.Row && g.On == f.On && g.Severity == f.Severity && (g.Accepted == nil) == (f.Accepted == nil)
	}
	for n < len(found) && same(found[n]) {
		n++
	}
	ink, mark := m.severityMark(f)
	where := ""
	switch {
	case f.On == sheet.OnSlot && n > 1:
		where = fmt.Sprintf("%s, %d bonds", f.Row, n)
	case f.On != sheet.OnSheet:
		where = f.Where()
	}
	if c.r.W < 40 { // the mark tells how grave it is, and a number alone is a height
		mark = string([]rune(mark)[:1])
		where = strings.NewReplacer("height ", "", "front to back, ", "top ", "slot ", "", "0, the centre", "centre").Replace(where)
	}
	c.line(piece{ink, " " + mark + " " + f.Rule}, piece{figure.Plain, "  " + where})
	return n
}

func (m *Model) severityMark(f rule.Finding) (cells.Ink, string) {
	g := m.opts.Glyphs
	switch {
	case f.Accepted != nil:
		return figure.Dim, "  accepted"
	case f.Severity == rule.Stop:
		return figure.StopInk, string(g.Stop) + " stop"
	case f.Severity == rule.Caution:
		return figure.CautionInk, string(g.Caution) + " caution"
	}
	return figure.NoteInk, "  note"
}
