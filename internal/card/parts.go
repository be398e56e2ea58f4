package card

import (
	"fmt"

	"example.org/underveil/internal/card/page"
	"example.org/underveil/internal/sheet"
)

// head is the head of the first page: the title, what nobody accepted, and below them client, date and who.
func (c *Card) head(width float64) block {
	titled := style{size: titleSize, line: 7.4}
	title := c.para(width-pageNumberRoom, titled, bold(c.title))
	blocks := []block{title, space(0.8), c.fields(width)}
	if c.open != "" {
		flag, wide := c.flag(c.open)
		if at := width - pageNumberRoom - wide; c.widest(titled, bold(c.title)) < at-5 {
			blocks[0] = beside(title, at, stacked(space(0.7), flag))
		} else {
			blocks = append(blocks, space(0.8), flag)
		}
	}
	for _, text := range c.lacks {
		blocks = append(blocks, c.para(width, body, bold(text)))
	}
	blocks = append(blocks, space(1.2), block{height: 0.5, draw: func(p *page.Page, x, y float64) { stroke(p, x, y, width, 0.6) }})
	return stacked(blocks...)
}

// pageNumberRoom is how much of the head is for "card 1 of 2".
const pageNumberRoom = 26.0

// fields are client, date and who, each a label and what is said or a line to write it on.
func (c *Card) fields(width float64) block {
	const gap, toWrite = 7, 36
	value := style{size: 12 * mmPerPoint, line: 5.8}
	labels := style{size: bodySize, line: value.line}
	var rows []block
	var row []block
	x := 0.0
	for _, f := range []struct{ label, text string }{{"client", c.client}, {"date", c.date}, {"by", c.by}} {
		indent := c.widest(labels, plain(f.label)) + 2
		room := float64(toWrite)
		text := block{height: value.line, draw: func(p *page.Page, x, y float64) { stroke(p, x, y+value.line-1, toWrite, 0.2) }}
		if f.text != "" {
			room = min(c.widest(value, bold(f.text))+0.5, width-indent)
			text = c.para(room, value, bold(f.text))
		}
		if x > 0 && x+indent+room > width {
			rows, row, x = append(rows, overlaid(row...)), nil, 0
		}
		row = append(row, indented(x, beside(c.para(indent, labels, plain(f.label)), indent, text)))
		x += indent + room + gap
	}
	return stacked(append(rows, overlaid(row...))...)
}

// flag is a line that must not be overlooked: white on black.
func (c *Card) flag(text string) (b block, width float64) {
	st := style{size: 10.5 * mmPerPoint, line: 6, ink: 1}
	const rim = 2.5
	w := c.widest(st, bold(text))
	words := c.para(w+1, st, bold(text))
	return block{height: st.line, draw: func(p *page.Page, x, y float64) {
		ground := &page.Path{Filled: true}
		p.Add(ground.Rect(x, y, w+2*rim, st.line))
		words.draw(p, x+rim, y)
	}}, w + 2*rim
}

// shortHead is the head of a page that goes on from the one before.
func (c *Card) shortHead(width float64) block {
	name := c.para(width-pageNumberRoom, style{size: headingSize, line: 5}, bold(c.name()))
	return headOfPage(name, width)
}

// headOfPage is what a page begins with, with the line below it.
func headOfPage(name block, width float64) block {
	return stacked(name, space(0.8), block{height: 0.5, draw: func(p *page.Page, x, y float64) { stroke(p, x, y, width, 0.6) }})
}

// layOutBlocks are what lies ready before the first parting.
func (c *Card) layOutBlocks(width float64) []block {
	blocks := []block{c.heading(width, "Lay out first")}
	for _, text := range c.layOut {
		blocks = append(blocks, stacked(c.bullet(width, text), space(0.5)))
	}
	return blocks
}

// bullet is a paragraph with a box to tick before it.
func (c *Card) bullet(width float64, text string) block {
	const indent = 4.2
	box := block{draw: func(p *page.Page, x, y float64) {
		path := &page.Path{Stroke: 0.2}
		p.Add(path.Rect(x, y+0.75, 2.6, 2.6))
	}}
	return beside(box, indent, c.para(width-indent, body, plain(text)))
}

// totalsBlocks are the counts.
func (c *Card) totalsBlocks(width float64) []block {
	blocks := []block{c.heading(width, "In all")}
	for _, t := range c.totals {
		blocks = append(blocks, c.para(width, body, bold(t.figure), plain(" "+t.of)))
	}
	return blocks
}

// legendBlocks explain the marks that are on the map.
func (c *Card) legendBlocks(width float64) []block {
	var blocks []block
	row := func(mark []page.Mark, text string) {
		const indent, r = 5, 1.35
		b := c.para(width-indent, body, plain(text))
		blocks = append(blocks, block{height: b.height, draw: func(p *page.Page, x, y float64) {
			for _, m := range mark {
				p.Add(shifted(m, x+r+0.4, y+bodyLine/2))
			}
			b.draw(p, x+indent, y)
		}})
	}
	for _, k := range c.kindsPlaced() {
		row(bondMark(0, 0, 1.35, k), kindName(k.Split, k.Trimmed))
	}
	if len(openStops(c.rep)) > 0 {
		row(append(bondMark(0, 0, 1.35, sheet.Bond{}), stopMark(0, 0, 1.75)...), "stop, not accepted")
	}
	hatch := &page.Path{Stroke: hatchLine}
	for i := -1.0; i <= 1; i++ {
		hatch.Line(-1.6+i, 1.3, 1.2+i, -1.3)
	}
	row([]page.Mark{hatch}, "keep free")
	return blocks
}

// kindsPlaced are the kinds of bonds that the sheet has, whole, split, trimmed or both, whatever their shade.
func (c *Card) kindsPlaced() []sheet.Bond {
	seen := map[sheet.Bond]bool{}
	for _, p := range c.pieces {
		for _, b := range p.Bonds {
			seen[sheet.Bond{Split: b.Split, Trimmed: b.Trimmed}] = true
		}
	}
	var list []sheet.Bond
	for _, k := range kinds {
		if seen[k] {
			list = append(list, k)
		}
	}
	return list
}

// kinds are the kinds of bonds, in the order in which they are told.
var kinds = []sheet.Bond{{}, {Split: true}, {Trimmed: true}, {Split: true, Trimmed: true}}

// shifted is a mark moved.
func shifted(m page.Mark, dx, dy float64) page.Mark {
	p, ok := m.(*page.Path)
	if !ok {
		return m
	}
	q := *p
	q.Steps = nil
	for _, st := range p.Steps {
		for i := range st.P {
			st.P[i] = page.Point{X: st.P[i].X + dx, Y: st.P[i].Y + dy}
		}
		q.Steps = append(q.Steps, st)
	}
	return &q
}

// asideBlocks say what is unusual about the rows.
func (c *Card) asideBlocks(width float64) []block {
	var blocks []block
	if c.aside != "" {
		blocks = append(blocks, c.para(width, body, bold(c.aside)))
	}
	for _, text := range c.leftOut {
		blocks = append(blocks, c.para(width, body, bold(text)))
	}
	return blocks
}

// acceptedBlocks are the findings that somebody accepted.
func (c *Card) acceptedBlocks(width float64) []block {
	if len(c.accepted) == 0 {
		return nil
	}
	list := []block{c.heading(width, "Accepted findings")}
	for _, text := range c.accepted {
		list = append(list, stacked(c.para(width, body, plain(text)), space(0.6)))
	}
	return list
}

// rest is what comes after the table: what had no room in the corners of the map, the steps with their cautions beside them, and
// what was accepted. The steps stay together.
func (c *Card) rest(width float64, corners []block, accepted bool) []block {
	var list []block
	if len(c.lines) == 0 {
		list = append(list, c.para(width, body, bold("No bond is placed on the sheet yet.")), space(2))
	}
	list = append(list, corners...)
	steps := []block{c.heading(width, "Step by step")}
	for i, st := range c.steps {
		steps = append(steps, c.stepBlock(width, i+1, st))
	}
	list = append(list, stacked(steps...))
	if accepted {
		list = append(append(list, space(1.5)), c.acceptedBlocks(width)...)
	}
	return list
}

// stepBlock is a step, and beside it its cautions behind a bar.
func (c *Card) stepBlock(width float64, n int, st step) block {
	const indent, bar, apart = 5.0, 2.2, 0.45
	doing := 0.42 * width
	do := beside(c.para(indent, body, bold(fmt.Sprint(n))), indent, c.para(doing-indent-3, body, plain(st.do)))
	var cautions []block
	for _, text := range st.cautions {
		cautions = append(cautions, c.para(width-doing-bar, body, bold(text)))
	}
	all := stacked(cautions...)
	barred := block{height: all.height, draw: func(p *page.Page, x, y float64) {
		if all.height > 0 {
			path := &page.Path{Filled: true}
			p.Add(path.Rect(x, y+0.35, 0.7, all.height-0.7))
		}
		all.draw(p, x+bar, y)
	}}
	return stacked(beside(do, doing, barred), space(apart))
}
