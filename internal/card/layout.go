package card

import (
	"fmt"

	"example.org/underveil/internal/card/letter"
	"example.org/underveil/internal/card/page"
)

// sheetOfPaper is a page that is being filled from the top.
type sheetOfPaper struct {
	*page.Page
	y float64
}

func (s *sheetOfPaper) room() float64 { return s.Height - margin - s.y }

// pages lays the card out.
func (c *Card) pages(paper page.Size) []*page.Page {
	station := c.station(paper)
	list := append(station[:len(station):len(station)], c.clientPages(paper)...)
	for i, p := range list {
		what := "for the station"
		if i >= len(station) {
			what = "for the client"
		}
		p.Title = fmt.Sprintf("%s: card %d of %d, %s", c.name(), i+1, len(list), what)
		text := c.setter.Set(fmt.Sprintf("card %d of %d", i+1, len(list)), letter.Regular)
		p.Add(&page.Text{Line: text, At: page.Point{X: p.Width - margin - text.Width*bodySize, Y: margin + bodySize*capital}, Size: bodySize})
	}
	return list
}

// The map is drawn as wide as the page, or somewhat smaller, but not below a width in mm, where everything then has room on one
// page.
const (
	narrowest = 120
	shrink    = 0.015
)

// station are the pages for the station: the map first, then the table, then the steps and all else.
func (c *Card) station(paper page.Size) []*page.Page {
	width := paper.Width - 2*margin
	u := unroll(c.table, c.pieces)
	widest, hair := width-axisRoom-2*numberRoom, u.most.right-u.least.right
	table := 0.0
	for _, b := range c.tableBlocks(width) {
		table += b.height
	}
	var best plan // the largest with which all has room on one page, or else the table has, or else the largest
	tableHasRoom := false
	for wide := widest; wide >= min(narrowest, widest); wide -= shrink * widest {
		p := c.plan(paper, u, wide/hair)
		need := table + afterTable
		if has := table <= p.page.room(); best.page == nil || has && !tableHasRoom {
			best, tableHasRoom = p, has
		}
		for _, b := range p.rest {
			need += b.height
		}
		if need <= p.page.room() {
			best = p
			break
		}
	}
	best.chart.ground()
	best.page.Marks = append(best.chart.under, best.page.Marks...)
	return c.flow(paper, best)
}

const (
	axisRoom   = 8.0 // for the heights at the right
	numberRoom = 7.5 // for the numbers of the pieces, on either side
	afterMap   = 2.0
	afterTable = 3.0
	columnGap  = 8.0
)

// plan is one way of laying out the first page.
type plan struct {
	page  *sheetOfPaper // with head and map
	chart *chart        // the map; what lies under its marks is not drawn yet
	rest  []block       // what comes after the table
}

// plan tries one scale of the map.
func (c *Card) plan(paper page.Size, u *unrolled, scale float64) plan {
	width := paper.Width - 2*margin
	p := &sheetOfPaper{&page.Page{Size: paper}, margin}
	head := c.head(width)
	head.draw(p.Page, margin, p.y)
	p.y += head.height + 1.5
	ch, corners, accepted := c.mapWithCorners(p, u, scale)
	return plan{page: p, chart: ch, rest: c.rest(width, corners, !accepted)}
}

// flow puts the table and all else after what the first page has, on as many pages as it takes.
func (c *Card) flow(paper page.Size, first plan) []*page.Page {
	width := paper.Width - 2*margin
	p, list := first.page, []*page.Page{first.page.Page}
	next := func() {
		p = &sheetOfPaper{&page.Page{Size: paper}, margin}
		head := c.shortHead(width)
		head.draw(p.Page, margin, p.y)
		p.y += head.height + 3
		list = append(list, p.Page)
	}
	put := func(b block) {
		b.draw(p.Page, margin, p.y)
		p.y += b.height
	}
	if blocks := c.tableBlocks(width); len(blocks) > 0 {
		top, after := blocks[0], blocks[1+len(c.lines):]
		for i := 0; i < len(c.lines); {
			fit := c.rowsThatFit(i, width, p.room()-top.height)
			if fit < min(fewestRows, len(c.lines)-i) {
				next()
				fit = max(1, c.rowsThatFit(i, width, p.room()-top.height))
			}
			put(top)
			for k := i; k < i+fit; k++ {
				put(c.tableRow(k, width, k == i || c.lines[k].panel != c.lines[k-1].panel))
			}
			i += fit
		}
		if after[0].height+after[1].height > p.room() {
			next()
		}
		put(after[0])
		put(after[1])
		p.y += afterTable
	}
	for i, b := range first.rest {
		need := b.height
		for k := i; first.rest[k].keep && k+1 < len(first.rest); k++ {
			need += first.rest[k+1].height
		}
		if need > p.room() && p.y > 2*margin {
			next()
		}
		put(b)
	}
	return list
}

// fewestRows is how many rows stand below the head of the table at the foot of a page, at least.
const fewestRows = 3
