package card

import (
	"strconv"

	"example.org/underveil/internal/card/letter"
	"example.org/underveil/internal/card/page"
)

// column is one column of the table.
type column struct {
	head  string
	width float64 // in mm; 0 where it takes of what the others leave
	right bool    // figures, set to the right
	text  func(i int, l line) string
	bold  bool
}

// columns are the columns of the table of pieces.
var columns = []column{
	{head: "", width: 9, text: func(i int, _ line) string { return strconv.Itoa(i + 1) }, bold: true},
	{head: "panel", width: 18, text: func(_ int, l line) string { return l.panel }},
	{head: "height", width: 23, text: func(_ int, l line) string { return l.place }},
	{head: "strip", width: 12, right: true, text: func(_ int, l line) string { return l.strip }, bold: true},
	{head: "holes", width: 11.5, right: true, text: func(_ int, l line) string { return l.holes }},
	{head: "first hole", width: 20, text: func(_ int, l line) string { return l.first }, bold: true},
	{head: "pattern", width: 0, text: func(_ int, l line) string { return l.pattern }},
	{head: "strands", width: 13, right: true, text: func(_ int, l line) string { return l.strands }, bold: true},
	{head: "of which", width: 0, text: func(_ int, l line) string { return l.kinds }},
	{head: "initials", width: 14, text: func(int, line) string { return "" }},
}

const (
	cellPad  = 1.6 // between the text of two columns
	rowPad   = 0.7
	rowLeast = 5.5
	boxTall  = 4.3
)

// The columns that share what the others leave, by what stands in them.
const (
	holesColumn   = 4
	patternColumn = 6
	kindsColumn   = 8
	leastShared   = 24.0
)

// widths are the widths of the columns on a page.
func (c *Card) widths(whole float64) []float64 {
	if c.columnWidths != nil { // a card has one paper
		return c.columnWidths
	}
	list := make([]float64, len(columns))
	rest := whole
	for i, col := range columns {
		list[i] = col.width
		if i == holesColumn { // of a strip in parts there are several figures
			for k, l := range c.lines {
				list[i] = max(list[i], c.widest(body, plain(col.text(k, l)))+2*cellPad+0.3)
			}
		}
		rest -= list[i]
	}
	want := func(k int) float64 {
		most := leastShared
		for i, l := range c.lines {
			most = max(most, c.widest(body, plain(columns[k].text(i, l)))+cellPad+0.5)
		}
		return most
	}
	pattern, kinds := want(patternColumn), want(kindsColumn)
	if pattern+kinds > rest { // both give way, the longer one first
		pattern = max(min(pattern, rest/2), rest-kinds)
	} else {
		pattern += (rest - pattern - kinds) / 2
	}
	list[patternColumn], list[kindsColumn] = pattern, rest-pattern
	c.columnWidths = list
	return list
}

// tableHead is the head of the table.
func (c *Card) tableHead(whole float64) block {
	var cells []block
	tall := 0.0
	for i, w := range c.widths(whole) {
		b := c.cell(columns[i], w, small, columns[i].head, letter.Regular)
		cells = append(cells, b)
		tall = max(tall, b.height)
	}
	return block{height: tall + 1.4, keep: true, draw: func(p *page.Page, x, y float64) {
		stroke(p, x, y+tall+1, whole, 0.45)
		for i, w := range c.widths(whole) {
			cells[i].draw(p, x, y+tall-cells[i].height)
			x += w
		}
	}}
}

// cell sets the text of one cell.
func (c *Card) cell(col column, width float64, st style, text string, w letter.Weight) block {
	if text == "" {
		return space(0)
	}
	room := width - cellPad
	b := c.para(room, st, letter.Span{Text: text, Weight: w})
	if !col.right {
		return b
	}
	used := min(room, c.widest(st, letter.Span{Text: text, Weight: w}))
	return block{height: b.height, draw: func(p *page.Page, x, y float64) { b.draw(p, x+room-cellPad-used, y) }}
}

// tableRow is a row of the table, with a rule above it: a heavy one where a panel begins.
func (c *Card) tableRow(i int, whole float64, begins bool) block {
	l := c.lines[i]
	var cells []block
	tall := rowLeast
	for k, w := range c.widths(whole) {
		weight, st := letter.Regular, body
		if columns[k].bold {
			weight = letter.Bold
		}
		text := columns[k].text(i, l)
		switch {
		case k == 0:
			st = style{size: 11.5 * mmPerPoint, line: bodyLine}
		case k == 1 && !begins:
			text = ""
		}
		b := c.cell(columns[k], w, st, text, weight)
		cells = append(cells, b)
		tall = max(tall, b.height+2*rowPad)
	}
	return block{height: tall, draw: func(p *page.Page, x, y float64) {
		if begins {
			stroke(p, x, y, whole, 0.3)
		} else {
			stroke(p, x+columns[0].width+columns[1].width, y, whole-columns[0].width-columns[1].width, 0.12)
		}
		ws := c.widths(whole)
		for k, w := range ws {
			top := y + rowPad
			if cells[k].height < bodyLine*1.5 {
				top = y + (rowLeast-bodyLine)/2
			}
			cells[k].draw(p, x, top)
			if k == len(ws)-1 {
				frame := &page.Path{Stroke: 0.2}
				p.Add(frame.Rect(x+1, y+(rowLeast-boxTall)/2, w-1, boxTall))
			}
			x += w
		}
	}}
}

// stroke draws a line across.
func stroke(p *page.Page, x, y, width, thick float64) {
	path := &page.Path{Stroke: thick}
	p.Add(path.Line(x, y, x+width, y))
}

// rowsThatFit is how many rows of the table from the i-th on have room in a height.
func (c *Card) rowsThatFit(i int, width, height float64) int {
	n := 0
	for k := i; k < len(c.lines); k++ {
		if height -= c.tableRow(k, width, k == i || c.lines[k].panel != c.lines[k-1].panel).height; height < 0 {
			break
		}
		n++
	}
	return n
}

// tableBlocks are the head of the table, its rows, and the line below it.
func (c *Card) tableBlocks(width float64) []block {
	if len(c.lines) == 0 {
		return nil
	}
	list := []block{c.tableHead(width)}
	for i := range c.lines {
		list = append(list, c.tableRow(i, width, i == 0 || c.lines[i].panel != c.lines[i-1].panel))
	}
	end := block{height: 1.2, draw: func(p *page.Page, x, y float64) { stroke(p, x, y, width, 0.45) }}
	return append(list, end, c.para(width, small, plain(c.note())))
}
