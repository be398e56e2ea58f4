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
	Check: func(p *Pass) {
		least, source := p.Sheet.Limit(sheet.LimitRowGap)
		for i := range p.Rows {
			lower := &p.Rows[i]
			for k := i + 1; k < len(p.Rows); k++ {
				upper := &p.Rows[k]
				// Lines are never farther apart than their heights, nor much nearer.
				if !sameKind(lower, upper) || float64(upper.At-lower.At) > 2*least {
					break
				}
				if gap := p.leastGap(upper, lower); short(gap, least) {
					p.found = append(p.found, Finding{
						Concern: p.onRow(upper.Place), Severity: Caution,
						Value: gap, Limit: least, Unit: "mm", Source: source,
						What: fmt.Sprintf("from the row at %s", lower.Place),
						Near: []sheet.Concern{p.onRow(lower.Place)},
					})
					break // the nearest row below is cause enough
				}
			}
		}
	},
	Fixes: func(p *Pass, f Finding) []Fix {
		var fixes []Fix
		for _, d := range []int{1, -1, 2, -2, 3} {
			if fix, ok := p.moveRow(f.Row, d); ok {
				fixes = append(fixes, fix)
			}
		}
		return append(fixes, Fix{"clear the row", func(s *sheet.Sheet) *sheet.Sheet { return s.WithRow(sheet.Row{Place: f.Row}) }})
	},
}

func sameKind(a, b *RowOn) bool {
	return a.Line != nil && b.Line != nil && a.Line.ID.Kind == b.Line.ID.Kind
}

// leastGap is the least distance from a bond of the upper row to the parting
// of the lower one, where the lower one has been parted.
func (p *Pass) leastGap(upper, lower *RowOn) float64 {
	least := math.Inf(1)
	if lower.Row.Empty() {
		return least
	}
	gaps := p.Table.Gaps(upper.Line, lower.Line)
	for i := range upper.Bonds {
		b := &upper.Bonds[i]
		if b.On != nil && abreast(b, lower) {
			least = math.Min(least, float64(gaps[b.Slot-upper.Line.First]))
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
	step := p.Table.Gap
	if from.Along {
		step = p.Table.Spacing
	}
	to := sheet.Place{Along: from.Along, At: from.At + scalp.MM(lines)*step}
	if _, taken := p.Sheet.Row(to); taken {
		return Fix{}, false
	}
	if _, err := p.Table.Line(to); err != nil {
		return Fix{}, false
	}
	return Fix{"move the row to " + to.String(), func(s *sheet.Sheet) *sheet.Sheet {
		row, _ := s.Row(from)
		s = s.WithRow(sheet.Row{Place: from})
		row.Place = to
		return s.WithRow(row)
	}}, true
}
