package rule

import (
	"fmt"
	"math"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

var rowGap = &Rule{
	ID: "row-gap", Since: "0.1", Severity: Caution,
	Title: "two rows too near each other",
	Doc: "Between two rows there has to be enough hair left to lie over the lower bonds, and room for the tool and the strip. Partings " +
		"that are parallel at the back of the head can run together at the side, so the gap is measured on the scalp all along. " +
		"Where the level rows meet the rows over the top, only bonds that really come near each other count, and bond-gap reports them.",
	Limits: []sheet.LimitName{sheet.LimitRowGap},
	Check: func(p *Pass) {
		least, source := p.Sheet.Limit(sheet.LimitRowGap)
		for i := range p.Rows {
			later, step := &p.Rows[i], -1
			if later.Along && later.At < 0 {
				step = 1
			}
			for k := i + step; k >= 0 && k < len(p.Rows); k += step {
				earlier := &p.Rows[k]
				if earlier.Line == nil {
					continue // off-scalp speaks of it
				}
				// Lines are never farther apart than their heights, nor much nearer.
				if !sameKind(earlier, later) || !laidBefore(earlier.Place, later.Place) ||
					math.Abs(float64(later.At-earlier.At)) > 2*least {
					break
				}
				if gap := p.leastGap(later, earlier); short(gap, least) {
					p.found = append(p.found, Finding{
						Concern: p.onRow(later.Place), Severity: Caution,
						Value: gap, Limit: least, Unit: "mm", Source: source,
						What: fmt.Sprintf("from the row at %s", earlier.Place),
						Near: []sheet.Concern{p.onRow(earlier.Place)},
					})
					break // the nearest row is cause enough
				}
			}
		}
	},
	Fixes: func(p *Pass, f Finding) []Fix {
		var fixes []Fix
		for _, at := range p.smallerFirst(f) {
			for _, d := range []int{1, -1, 2, -2} {
				if fix, ok := p.moveRow(at, d); ok {
					fixes = append(fixes, fix)
				}
			}
		}
		return append(fixes, Fix{Label: "clear the row", Large: true, Do: func(s *sheet.Sheet) *sheet.Sheet { return s.WithRow(sheet.Row{Place: f.Row}) }})
	},
}

// smallerFirst are the two rows of a finding, the one with fewer bonds first: it is the one
// that got in the way.
func (p *Pass) smallerFirst(f Finding) []sheet.Place {
	one, other := f.Row, f.Near[0].Row
	a, _ := p.Sheet.Row(one)
	b, _ := p.Sheet.Row(other)
	if 2*b.Count() < a.Count() {
		return []sheet.Place{other, one}
	}
	return []sheet.Place{one, other}
}

// laidBefore reports whether one row is laid before another of its kind: from the nape up, and
// on both sides from the middle out. The one that is laid later is the one to move.
func laidBefore(a, b sheet.Place) bool {
	if d := math.Abs(float64(a.At)) - math.Abs(float64(b.At)); a.Along && d != 0 {
		return d < 0
	}
	return a.At < b.At
}

func sameKind(a, b *RowOn) bool {
	return a.Line != nil && b.Line != nil && a.Line.ID.Kind == b.Line.ID.Kind
}

// leastGap is the least distance from a bond of one row to the parting of the
// other, where that has been parted.
func (p *Pass) leastGap(from, to *RowOn) float64 {
	least := math.Inf(1)
	if to.Row.Empty() {
		return least
	}
	gaps := p.Table.Gaps(from.Line, to.Line)
	for i := range from.Bonds {
		b := &from.Bonds[i]
		if b.On != nil && abreast(b, to) {
			least = math.Min(least, float64(gaps[b.Slot-from.Line.First]))
		}
	}
	return least
}

// abreast reports whether a bond lies beside the stretch of a row that has bonds.
func abreast(b *BondOn, row *RowOn) bool {
	at := float64(b.Slot)
	if row.Line.ID.Kind == scalp.Level {
		foot, ok := slots.Below(b.On, row.Line)
		if !ok {
			return false
		}
		at = foot
	}
	return at > float64(row.First())-1 && at < float64(row.Last())+1
}

// moveRow moves a whole row by some lines of the map, if its new place is empty.
func (p *Pass) moveRow(from sheet.Place, lines int) (Fix, bool) {
	to, err := p.Table.Over(from, lines)
	if err != nil {
		return Fix{}, false
	}
	if _, taken := p.Sheet.Row(to); taken {
		return Fix{}, false
	}
	return Fix{Label: "move the row, " + from.String() + ", to " + to.String(), Do: func(s *sheet.Sheet) *sheet.Sheet {
		row, _ := s.Row(from)
		s = s.WithRow(sheet.Row{Place: from})
		row.Place = to
		return s.WithRow(row)
	}}, true
}
