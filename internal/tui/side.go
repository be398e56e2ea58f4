package tui

import (
	"fmt"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/tally"
	"example.org/underveil/internal/unit"
)

// panelPage is what the lower part of the side shows.
type panelPage int

const (
	pageFindings panelPage = iota
	pageRows
	pageStrands
	pageBrief // of an exercise
	panelPages
)

// nextPage goes on through what the side can show.
func (m *Model) nextPage() {
	m.page = (m.page + 1) % panelPages
	if m.page == pageBrief && m.doc.practice == nil {
		m.page = pageFindings
	}
}

// narrowSide is the width of the side below which it says less.
const narrowSide = 36

// column is a cursor down a rectangle.
type column struct {
	m *Model
	r cells.Rect
	y int
}

func (c *column) full() bool { return c.y >= c.r.Y+c.r.H }

// line writes one line, with lengths in the unit in force, and goes to the next.
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
	for _, t := range c.m.wrapIn(text, c.r.W-indent) {
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
	clear(m.findingAt)
	if r.W == 0 {
		return
	}
	if m.headOn && headFits(r) {
		var head cells.Rect
		head, r = splitSide(r)
		m.drawHead(head)
	}
	c := &column{m, r, r.Y}
	brief := m.page == pageBrief && m.doc.practice != nil
	if brief {
		m.sideBrief(c)
		c.gap()
		if r.W < 40 || r.H < 30 {
			return
		}
	}
	m.sideReading(c)
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
	default: // and below a brief
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
			bonds, strip := " "+printable.Count(o.Bonds(), "bond"), ""
			if c.r.W >= narrowSide {
				bonds, strip = fmt.Sprintf("%s, %.1f g", bonds, o.Grams), "strip "
			}
			c.line(piece{figure.Plain, bonds}, piece{figure.Plain, m.opts.Glyphs.Dash + lookWord(d.sheet(), d.row())})
			c.line(piece{figure.Plain, fmt.Sprintf(" %s%.0f mm, %s", strip, float64(o.Strip.Length), printable.Count(o.Strip.Holes, "hole"))})
		}
	}
	if c.y == below-2 {
		c.line(piece{figure.Dim, " none"})
	}
	c.y = below
}

func (m *Model) sideStrands(c *column) {
	t := m.doc.totals
	if len(t.Shades) == 0 {
		c.head("strands")
		c.line(piece{figure.Plain, " none yet"})
		return
	}
	c.head(fmt.Sprintf("strands  %d, %s", t.Strands, printable.Count(t.Packs, "pack")))
	for _, o := range t.Shades {
		ink := figure.Shade(figure.ShadeIndex(m.doc.sheet(), o.Key))
		name := []piece{{ink, " " + string(o.Key)}, {figure.Strong, " " + o.Name}}
		if c.r.W < narrowSide {
			c.line(name...)
			c.line(piece{figure.Plain, fmt.Sprintf("   %s, %s", printable.Count(o.Strands(), "strand"), printable.Count(o.ToBuy(), "pack"))})
			continue
		}
		c.line(append(name, piece{figure.Plain, fmt.Sprintf(" %.0f mm", float64(o.Shade.Length))})...)
		c.line(piece{figure.Plain, fmt.Sprintf("   %s, %.1f g", printable.Count(o.Strands(), "strand"), o.Grams)})
		if o.Split+o.Trimmed > 0 {
			c.line(piece{figure.Dim, fmt.Sprintf("   %d whole, %d split, %d trimmed", o.Whole, o.Split, o.Trimmed)})
			if o.Spare {
				c.line(piece{figure.Dim, "   half a strand is left over"})
			}
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
			strip := fmt.Sprintf("%6s", unit.Figure(o.Strip.Length, m.opts.Units))
			c.line(piece{ink, fmt.Sprintf(" %-*s %4d  strip %s", 32-len(strip), o.Place, o.Bonds(), strip)})
		} else {
			c.line(piece{ink, fmt.Sprintf(" %-*s %3d", c.r.W-5, shortPlace.Replace(o.Place.String()), o.Bonds())})
		}
	}
}
