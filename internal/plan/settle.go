package plan

import (
	"math"
	"slices"

	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// settle makes of the rows found a plan that keeps every rule as a whole, with nothing beyond the wish: it improves, cuts
// back and mends in turn for as long as the rows are worth more for it.
func (p *planner) settle(rows []*choice) []*choice {
	best := p.mend(rows)
	for {
		better := p.mend(p.improve(best))
		if cut := p.mend(p.cutBack(better)); p.worth(cut) > p.worth(better)+same {
			better = cut
		}
		if p.worth(better) <= p.worth(best)+same {
			return best
		}
		best = better
	}
}

// mend does what the rules say of all the rows together: bonds that meet at the round of the head, the balance of the
// sides, and whatever else no row alone could know.
func (p *planner) mend(rows []*choice) []*choice {
	for len(rows) > 0 {
		planned := p.with(rows)
		next := planned
		for _, f := range rule.Check(planned, p.table).Findings {
			if f.Severity == rule.Note {
				continue
			}
			switch f.On {
			case sheet.OnSlot:
				next = next.WithBond(f.Row, f.Slot, sheet.Bond{})
			case sheet.OnRow:
				next = next.WithRow(sheet.Row{Place: f.Row})
			default:
				next = p.mendWhole(next, f)
			}
			if f.On != sheet.OnSlot && next != planned {
				break // what is left may be no trouble any more
			}
		}
		if next == planned {
			return rows
		}
		rows = p.remade(rows, next)
	}
	return nil
}

// mendWhole does what the rules say of the sheet as a whole, where it is for bonds to do.
func (p *planner) mendWhole(s *sheet.Sheet, f rule.Finding) *sheet.Sheet {
	switch f.Rule {
	case "balance":
		if fixes := rule.Fixes(s, p.table, f); len(fixes) > 0 {
			return fixes[0].Do(s)
		}
		return p.lighter(s)
	case "total-load":
		return p.lighter(s)
	}
	return s
}

// lighter is the sheet without its shortest row.
func (p *planner) lighter(s *sheet.Sheet) *sheet.Sheet {
	least := s.Rows[0]
	for _, r := range s.Rows {
		if r.Count() < least.Count() {
			least = r
		}
	}
	return s.WithRow(sheet.Row{Place: least.Place})
}

// remade are the rows as they are on a sheet now; those that are hardly there any more are left out.
func (p *planner) remade(rows []*choice, s *sheet.Sheet) []*choice {
	var kept []*choice
	for _, c := range rows {
		row, _ := s.Row(c.row.Place)
		if row.Count() < leastBonds {
			continue
		}
		if !row.Equal(c.row) {
			again := *c
			again.row, again.amounts = row, p.amountsOf(row)
			c = &again
		}
		kept = append(kept, c)
	}
	return kept
}

// cutBack takes out bonds beyond what was wished for, pair by pair from the hairline in, as long as the rows are worth more
// for it.
func (p *planner) cutBack(rows []*choice) []*choice {
	rows = slices.Clone(rows)
	for {
		value, at, shorter := p.worth(rows), -1, (*choice)(nil)
		edge := scalp.MM(math.Inf(1))
		for i, c := range rows {
			less, d := p.narrower(c)
			if less == nil {
				continue
			}
			rows[i] = less
			v, even := p.worth(rows), p.balanced(sum(rows))
			rows[i] = c
			if even && v > value+same || even && at >= 0 && v > value-same && d < edge {
				value, at, shorter, edge = v, i, less, d
			}
		}
		if at < 0 {
			return rows
		}
		rows[at] = shorter
	}
}

// narrower is a row without its outermost bonds, and how far these are from the hairline; nil where what is left would
// be no row for its look.
func (p *planner) narrower(c *choice) (*choice, scalp.MM) {
	out := max(-c.row.First(), c.row.Last())
	edge := scalp.MM(math.Inf(1))
	for _, slot := range [...]int{-out, out} {
		if c.row.Bond(slot).Placed() {
			edge = min(edge, p.table.Lines[c.line].At(slot).Edge())
		}
	}
	return p.choiceOf(c.row.With(map[int]sheet.Bond{-out: {}, out: {}}), c.line, c.step, losses{}), edge
}
