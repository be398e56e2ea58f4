package rule

import (
	"math"

	"example.org/underveil/internal/sheet"
)

var balance = &Rule{
	ID: "balance", Since: "0.1", Severity: Caution,
	Title: "more hair on one side than on the other",
	Doc: "Left and right are compared by the grams on either side; what lies in the middle counts for neither. An uneven head looks uneven, and the heavier side pulls more. A side parting is a " +
		"reason for some difference, and a good one to accept this with.",
	Limits: []sheet.LimitName{sheet.LimitBalance},
	Check: func(p *Pass) {
		const few = 10 // bonds; with fewer the work has only begun
		if len(p.Bonds) < few {
			return
		}
		most, source := p.Sheet.Limit(sheet.LimitBalance)
		left, right := p.sides()
		total := left + right
		if total == 0 {
			return
		}
		if off := 100 * math.Abs(left-right) / total; off > most+slack {
			side := "more on the left"
			if right > left {
				side = "more on the right"
			}
			p.found = append(p.found, Finding{Concern: sheet.Concern{Rule: p.rule.ID}, Severity: Caution,
				Value: off, Limit: most, Unit: "%", AtMost: true, Source: source, What: side})
		}
	},
	Fixes: evenOut,
}

// side is -1 for a bond on the client's left, 1 on the right, 0 in the middle.
func (b *BondOn) side() int {
	at := b.Slot
	if b.Place.Along {
		at = int(math.Copysign(math.Ceil(math.Abs(float64(b.Place.At))), float64(b.Place.At)))
	}
	switch {
	case at < 0:
		return -1
	case at > 0:
		return 1
	}
	return 0
}

// grams is what a bond weighs.
func (p *Pass) grams(b *BondOn) float64 {
	shade, _ := p.Sheet.Shade(b.Shade)
	return shade.GramsOf(b.Bond)
}

// sides are the grams on the client's left and right.
func (p *Pass) sides() (left, right float64) {
	for i := range p.Bonds {
		switch b := &p.Bonds[i]; b.side() {
		case -1:
			left += p.grams(b)
		case 1:
			right += p.grams(b)
		}
	}
	return left, right
}

// evenOut offers to lift, on the heavier side, bonds that have no partner on the other, outermost
// first, until the sides are within the limit.
func evenOut(p *Pass, f Finding) []Fix {
	left, right := p.sides()
	heavy := 1
	if left > right {
		heavy, left, right = -1, right, left // right is now the heavier
	}
	type gone struct {
		at   sheet.Place
		slot int
	}
	var drop []gone
	for i := range p.Rows {
		row := &p.Rows[i]
		for k := range row.Bonds {
			b := &row.Bonds[k]
			if heavy > 0 {
				b = &row.Bonds[len(row.Bonds)-1-k]
			}
			if 100*(right-left)/(right+left) <= f.Limit {
				break
			}
			if b.side() == heavy && !p.hasPartner(b) {
				drop = append(drop, gone{b.Place, b.Slot})
				right -= p.grams(b)
			}
		}
	}
	if len(drop) == 0 {
		return nil
	}
	label := "lift the one without a partner"
	if len(drop) > 1 {
		label = "lift those without a partner on the other side"
	}
	return []Fix{{Label: label, Do: func(s *sheet.Sheet) *sheet.Sheet {
		for _, g := range drop {
			s = s.WithBond(g.at, g.slot, sheet.Bond{})
		}
		return s
	}}}
}

func (p *Pass) hasPartner(b *BondOn) bool {
	if b.Place.Along {
		return p.Sheet.Bond(sheet.Place{Along: true, At: -b.Place.At}, b.Slot).Placed()
	}
	return p.Sheet.Bond(b.Place, -b.Slot).Placed()
}
