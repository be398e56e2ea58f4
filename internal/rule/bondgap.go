package rule

import (
	"math"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

var bondGap = &Rule{
	ID: "bond-gap", Since: "0.1", Severity: Stop,
	Title: "two bonds too near each other",
	Doc: "Bonds that touch melt into one: they cannot be taken out one by one, they catch shed hair between them and mat. The tool " +
		"needs room round each. Bonds of one row are compared with their neighbours, and bonds of rows that meet at the round of " +
		"the head or cross on the top with each other.",
	Limits: []sheet.LimitName{sheet.LimitBondGap},
	Check: func(p *Pass) {
		least, source := p.Sheet.Limit(sheet.LimitBondGap)
		type neighbour struct {
			bond *BondOn
			d    float64
		}
		nearest := map[*BondOn]neighbour{} // of the bonds to report
		compare := func(a, b *BondOn) {
			d := float64(p.Table.Head.Distance(a.On.Point, b.On.Point))
			if near, ok := nearest[b]; short(d, least) && (!ok || d < near.d) {
				nearest[b] = neighbour{a, d}
			}
		}
		for _, r := range p.Rows {
			for i := 1; i < len(r.Bonds); i++ {
				a, b := outermostLast(&r.Bonds[i-1], &r.Bonds[i])
				if a.On != nil && b.On != nil && a.On.Point.Minus(b.On.Point).Length() <= least { // no path over the scalp is shorter
					compare(a, b)
				}
			}
		}
		p.meetings(least, compare)
		for i := range p.Bonds {
			b := &p.Bonds[i]
			if near, ok := nearest[b]; ok {
				p.reportBond(b, Finding{Value: near.d, Limit: least, Unit: "mm", Source: source,
					What: "from the next bond", Near: []sheet.Concern{p.concern(near.bond)}})
			}
		}
	},
	Fixes: liftOrMove,
}

// outermostLast puts two neighbours of a row in the order in which they were laid, from the centre
// out: the second is the one to move, on the left as on the right.
func outermostLast(a, b *BondOn) (inner, outer *BondOn) {
	if abs(a.Slot) > abs(b.Slot) {
		return b, a
	}
	return a, b
}

// meetings yields the pairs of bonds from rows of different kinds whose chord is
// shorter than reach, the one from the later row second. Bonds are sorted into squares as wide as the reach, seen from above, so that the
// work grows with the bonds and not with their pairs.
func (p *Pass) meetings(reach float64, yield func(a, b *BondOn)) {
	if !p.mixed() || reach <= 0 {
		return
	}
	type square struct{ x, y int }
	at := func(v scalp.Vec) square { return square{int(math.Floor(v.X / reach)), int(math.Floor(v.Y / reach))} }
	near := func(a, b *BondOn) bool {
		dx, dy, dz := a.On.Point.X-b.On.Point.X, a.On.Point.Y-b.On.Point.Y, a.On.Point.Z-b.On.Point.Z
		return dx*dx+dy*dy+dz*dz < reach*reach
	}
	squares := make(map[square][]*BondOn, len(p.Bonds))
	for i := range p.Bonds {
		b := &p.Bonds[i]
		if b.On == nil || !p.nearSeam(b, reach) {
			continue
		}
		c := at(b.On.Point)
		for x := c.x - 1; x <= c.x+1; x++ {
			for y := c.y - 1; y <= c.y+1; y++ {
				for _, a := range squares[square{x, y}] {
					if a.Line.ID.Kind != b.Line.ID.Kind && near(a, b) {
						yield(a, b)
					}
				}
			}
		}
		squares[c] = append(squares[c], b)
	}
}

// mixed reports whether rows of more than one kind are there to meet.
func (p *Pass) mixed() bool {
	kinds := map[scalp.LineKind]bool{}
	for _, r := range p.Rows {
		if r.Line != nil {
			kinds[r.Line.ID.Kind] = true
		}
	}
	return len(kinds) > 1
}

// nearSeam reports whether a bond can meet one of a row of another kind: a level
// row's only when it lies just below the round of the head.
func (p *Pass) nearSeam(b *BondOn, reach float64) bool {
	return b.Line.ID.Kind != scalp.Level || float64(p.Table.Head.RoundHeight()-b.Line.ID.At) < 2*reach
}
