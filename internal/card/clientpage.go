package card

import (
	"example.org/underveil/internal/card/letter"
	"example.org/underveil/internal/card/page"
)

// The client's page is read at home, by whoever: larger type, and room.
var (
	homeBody  = style{size: 10.5 * mmPerPoint, line: 4.9}
	homeSmall = style{size: 7.5 * mmPerPoint, line: 3.4}
)

// clientPages are the pages for the client: one, unless the list of shades or the contact is very long.
func (c *Card) clientPages(paper page.Size) []*page.Page {
	width := paper.Width - 2*margin
	p := &sheetOfPaper{&page.Page{Size: paper}, margin}
	list := []*page.Page{p.Page}
	for _, b := range c.homeBlocks(width) {
		if b.height > p.room() {
			p = &sheetOfPaper{&page.Page{Size: paper}, margin}
			list = append(list, p.Page)
			head := headOfPage(c.para(width-pageNumberRoom, style{size: headingSize, line: 5}, bold(homeTitle)), width)
			head.draw(p.Page, margin, p.y)
			p.y += head.height + 3
		}
		b.draw(p.Page, margin, p.y)
		p.y += b.height
	}
	return list
}

const homeTitle = "Your strands, and how to look after them"

func (c *Card) homeBlocks(width float64) []block {
	h := c.home
	const indent = 6.0
	list := []block{
		c.para(width-pageNumberRoom, style{size: titleSize, line: 7.4}, bold(homeTitle)),
		space(1.5), {height: 0.5, draw: func(p *page.Page, x, y float64) { stroke(p, x, y, width, 0.6) }}, space(3),
	}
	for i, text := range h.worn {
		span := plain(text)
		if i == 0 {
			span = bold(text)
		}
		list = append(list, c.para(width, homeBody, span))
	}
	list = append(list, c.section(width, "When to come back")...)
	for _, d := range h.dates {
		list = append(list, c.pair(width, 64, d.when, d.what))
	}
	list = append(list, c.section(width, "Every day")...)
	for _, text := range h.daily {
		list = append(list, stacked(beside(c.para(indent, homeBody, bold("–")), indent-1.5, c.para(width-indent, homeBody, plain(text))), space(0.3)))
	}
	list = append(list, c.section(width, "What to watch for")...)
	for _, it := range h.watch {
		list = append(list, c.pair(width, 72, it.Do, it.Caution))
	}
	list = append(list, space(1.2), c.para(width, homeBody, plain(h.normal)))
	list = append(list, c.section(width, "Whom to call")...)
	list = append(list, c.contactBlock(width))
	list = append(list, space(3), c.para(width, homeSmall, plain(sourceNote(h.sources))))
	return list
}

// section is the heading of a part of the page.
func (c *Card) section(width float64, text string) []block {
	return []block{space(3.6), c.para(width, style{size: 12.5 * mmPerPoint, line: 6}, bold(text)), space(0.8)}
}

// pair is what it is about, in bold, and beside it what is said of it.
func (c *Card) pair(width, indent float64, what, said string) block {
	return stacked(beside(c.para(indent-4, homeBody, bold(what)), indent, c.para(width-indent, homeBody, plain(said))), space(1))
}

// contactBlock is whom to call, or lines to write it on.
func (c *Card) contactBlock(width float64) block {
	var blocks []block
	if c.home.studio != "" {
		blocks = append(blocks, c.para(width, homeBody, bold(c.home.studio)))
	}
	if c.home.contact != "" {
		return stacked(append(blocks, c.para(width, style{size: 13 * mmPerPoint, line: 6.2}, letter.Span{Text: c.home.contact, Weight: letter.Bold}))...)
	}
	line := block{height: 9, draw: func(p *page.Page, x, y float64) { stroke(p, x, y+8, 110, 0.2) }}
	return stacked(append(blocks, line)...)
}

func sourceNote(sources []string) string {
	text := "What is said here is common practice and has no published source, but for these. "
	for i, s := range sources {
		if i > 0 {
			text += "; "
		}
		text += s
	}
	return text + ". None of it is medical advice: what worries you is for a doctor."
}
