package card

import (
	"example.org/underveil/internal/card/letter"
	"example.org/underveil/internal/card/page"
)

// Sizes of type and the distance of lines, in mm. Body type is 9.25 points, what a station reads from at arm's length.
const (
	bodySize    = 9.25 * mmPerPoint
	bodyLine    = 4.15
	smallSize   = 8 * mmPerPoint
	smallLine   = 3.6
	headingSize = 10.5 * mmPerPoint
	titleSize   = 17 * mmPerPoint
)

// margin is what stays white round a page: no printer needs more.
const margin = 10.0

// block is something that is set and knows its height, to be put down anywhere.
type block struct {
	height float64
	draw   func(p *page.Page, x, y float64) // y is its top
	keep   bool                             // it stays with what comes after it
}

// style is how a paragraph is set.
type style struct {
	size, line, ink float64
}

var (
	body  = style{size: bodySize, line: bodyLine}
	small = style{size: smallSize, line: smallLine}
)

func plain(text string) letter.Span { return letter.Span{Text: text} }
func bold(text string) letter.Span  { return letter.Span{Text: text, Weight: letter.Bold} }

// para sets a paragraph for a width.
func (c *Card) para(width float64, st style, spans ...letter.Span) block {
	var parts []letter.Span
	for _, s := range spans {
		for _, text := range parted(s.Text) {
			parts = append(parts, letter.Span{Text: text, Weight: s.Weight})
		}
	}
	rows := c.setter.Wrap(width/st.size, parts...)
	return block{height: float64(len(rows)) * st.line, draw: func(p *page.Page, x, y float64) {
		for i, row := range rows {
			base := y + float64(i)*st.line + (st.line-st.size*(capital+hanging))/2 + st.size*capital
			for _, piece := range row {
				p.Add(&page.Text{Line: piece.Line, At: page.Point{X: x + st.size*piece.X, Y: base}, Size: st.size, Ink: st.ink})
			}
		}
	}}
}

// widest is how wide the widest row of a text would be on one line.
func (c *Card) widest(st style, spans ...letter.Span) float64 {
	w := 0.0
	for _, s := range spans {
		for _, text := range parted(s.Text) {
			w += c.setter.Set(text, s.Weight).Width
		}
	}
	return w * st.size
}

// heading is a heading for a width, with the room that it keeps from what it heads.
func (c *Card) heading(width float64, text string) block {
	b := c.para(width, style{size: headingSize, line: 5}, bold(text))
	b.keep = true
	return b
}

// indented is a block moved to the right.
func indented(by float64, b block) block {
	return block{height: b.height, draw: func(p *page.Page, x, y float64) { b.draw(p, x+by, y) }}
}

// overlaid is some blocks from the same place.
func overlaid(blocks ...block) block {
	o := block{draw: func(p *page.Page, x, y float64) {
		for _, b := range blocks {
			b.draw(p, x, y)
		}
	}}
	for _, b := range blocks {
		o.height = max(o.height, b.height)
	}
	return o
}

// beside is a block with another at its left, both from the same height.
func beside(left block, indent float64, right block) block {
	return overlaid(left, indented(indent, right))
}

// stacked is some blocks one below the other.
func stacked(blocks ...block) block {
	s := block{}
	for _, b := range blocks {
		s.height += b.height
	}
	s.draw = func(p *page.Page, x, y float64) {
		for _, b := range blocks {
			b.draw(p, x, y)
			y += b.height
		}
	}
	return s
}

// space is nothing.
func space(height float64) block {
	return block{height: height, draw: func(*page.Page, float64, float64) {}}
}

// twoColumns sets blocks side by side in two columns, the first of them on the left, so that both are about as high.
func twoColumns(blocks []block, width float64) block {
	const apart = 2.5
	var columns [2][]block
	var tall [2]float64
	for _, b := range blocks {
		to := 0
		if tall[1] < tall[0] {
			to = 1
		}
		columns[to] = append(columns[to], b, space(apart))
		tall[to] += b.height + apart
	}
	return beside(stacked(columns[0]...), (width+columnGap)/2, stacked(columns[1]...))
}
