package card

import (
	"math"

	"example.org/underveil/internal/card/page"
	"example.org/underveil/internal/rule"
)

// mapWithCorners draws the map on a page, and in its corners what has room there. It returns what has none, and whether what was
// accepted has.
func (c *Card) mapWithCorners(p *sheetOfPaper, u *unrolled, scale float64) (ch *chart, left []block, accepted bool) {
	width := p.Width - 2*margin
	const above, below = 4.5, 4.5 // for the names of fringe and nape
	middle := margin + (width-axisRoom)/2 - scale*(u.least.right+u.most.right)/2
	top := p.y + above
	low := min(0, u.least.height)
	ch = &chart{Card: c, u: u, g: newGround(u, rule.ZonesOf(c.sheet)), scale: scale,
		x: middle, y: top + scale*u.most.height, top: p.y, right: margin + width - axisRoom, bottom: top + scale*(u.most.height-low) + below}
	ch.draw()
	ch.axis(margin + width - axisRoom + 1.5)
	end := ch.bottom
	p.Add(ch.marks...)

	round := ch.atSpot(spot{0, float64(u.round.ID.At)}).Y
	half := (width - columnGap) / 2
	var over []corner
	for _, co := range []corner{
		{c.layOutBlocks, p.y, round - 7, true, false},
		{c.totalsBlocks, p.y, round - 7, false, false},
		{c.legendBlocks, round, end, true, true},
		{c.asideBlocks, round, end, false, true},
	} {
		if b := co.block(half); b.height > 0 && !ch.putIn(p.Page, co) {
			over = append(over, co)
		}
	}
	accepted = len(c.accepted) == 0 || ch.putIn(p.Page, corner{c.acceptedBlocks, p.y, round - 7, false, true}) ||
		ch.putIn(p.Page, corner{c.acceptedBlocks, round, end, false, true})
	p.y = end + afterMap
	return ch, c.overflow(over, width), accepted
}

// overflow are the blocks that had no room in their corners: in two columns, or where these would be very long over the whole
// width.
func (c *Card) overflow(over []corner, width float64) []block {
	const long = 120
	if over == nil {
		return nil
	}
	var halves, wholes []block
	for _, co := range over {
		halves = append(halves, co.block((width-columnGap)/2))
		wholes = append(append(wholes, co.blocks(width)...), space(2.5))
	}
	if columns := twoColumns(halves, width); columns.height <= long {
		return []block{columns, space(2)}
	}
	return wholes
}

// corner are blocks that may stand in a corner of the map, one below the other.
type corner struct {
	blocks        func(width float64) []block
	top, bottom   float64
	left, atLower bool // at which side, and whether it stands at the lower end
}

func (co corner) block(width float64) block { return stacked(co.blocks(width)...) }

// putIn puts what belongs in a corner there, if it has room.
func (c *chart) putIn(p *page.Page, co corner) bool {
	const least, gap = 28, 3.5
	top, bottom := co.top, co.bottom
	for range 4 {
		w := c.roomBeside(p, top, bottom, co.left) - gap
		if w < least {
			// Only as much of the corner as is wide enough.
			for w < least && bottom-top > 8 {
				if co.atLower {
					top++
				} else {
					bottom--
				}
				w = c.roomBeside(p, top, bottom, co.left) - gap
			}
			if w < least {
				return false
			}
		}
		b := co.block(w)
		if b.height == 0 {
			return true
		}
		if b.height > bottom-top {
			return false
		}
		y := top
		if co.atLower {
			y = bottom - b.height
		}
		for _, other := range c.corners {
			if other.meets(box{x1: margin, x2: p.Width, y1: y - 3, y2: y + b.height}) && (other.x1 < p.Width/2) == co.left {
				return false
			}
		}
		if wider := c.roomBeside(p, y, y+b.height, co.left) - gap; wider > w+2 && b.height < bottom-top-bodyLine/2 {
			top, bottom = y, y+b.height+0.01
			continue
		}
		x := margin
		if !co.left {
			x = p.Width - margin - axisRoom - w
		}
		b.draw(p, x, y)
		c.corners = append(c.corners, box{x, y, x + w, y + b.height})
		return true
	}
	return false
}

// roomBeside is how much of a page is free beside the map, between two heights of the page.
func (c *chart) roomBeside(p *page.Page, top, bottom float64, left bool) float64 {
	edge := math.Inf(1)
	see := func(x1, x2, y1, y2 float64) {
		if y2 < top-1 || y1 > bottom+1 {
			return
		}
		if left {
			edge = min(edge, x1-margin)
		} else {
			edge = min(edge, p.Width-margin-axisRoom-x2)
		}
	}
	for _, polygon := range [][]spot{c.u.back[:len(c.u.back)-4], c.u.top} {
		for i := range polygon {
			a, b := c.atSpot(polygon[i]), c.atSpot(polygon[(i+1)%len(polygon)])
			if a.Y == b.Y && &polygon[0] == &c.u.back[0] && polygon[i].height >= float64(c.u.round.ID.At)-1e-6 {
				continue
			}
			see(min(a.X, b.X), max(a.X, b.X), min(a.Y, b.Y), max(a.Y, b.Y))
		}
	}
	for _, b := range c.taken {
		see(b.x1, b.x2, b.y1, b.y2)
	}
	return min(edge, (p.Width-2*margin-axisRoom)/2)
}
