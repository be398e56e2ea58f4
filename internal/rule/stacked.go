package rule

import (
	"math"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

var stacked = &Rule{
	ID: "stacked", Since: "0.1", Severity: Note,
	Title: "a bond straight below the one above",
	Doc: "Rows are offset like bricks so that each strand falls into the gap between two below it: the hair looks even, and no strip of " +
		"scalp carries bond under bond. Down a head that narrows, slots that were offset at the centre drift into line " +
		"towards the side. Only rows for which the offset was asked are checked.",
	Limits: []sheet.LimitName{sheet.LimitStacked},
	Check: func(p *Pass) {
		least, source := p.Sheet.Limit(sheet.LimitStacked)
		for i := range p.Rows {
			row := &p.Rows[i]
			above := p.rowAbove(i)
			if above == nil || !above.Offset {
				continue
			}
			for k := range row.Bonds {
				b := &row.Bonds[k]
				if up, d, ok := p.straightAbove(b, above, least); ok {
					p.reportBond(b, Finding{Value: d, Limit: least, Unit: "mm", Source: source,
						What: "sideways from the bond above", Near: []sheet.Concern{p.concern(up)}})
				}
			}
		}
	},
	Fixes: func(p *Pass, f Finding) []Fix {
		var fixes []Fix
		line, err := p.Table.Line(f.Row)
		if err != nil {
			return nil
		}
		zones := ZonesOf(p.Sheet)
		for _, to := range []int{f.Slot + out(f.Slot), f.Slot - out(f.Slot)} {
			if p.takes(f, line, zones, to) {
				fixes = append(fixes, moveTo(f, to))
			}
		}
		return append(fixes, lift(f))
	},
}

// rowAbove is the next level row above the i-th, or nil. A row that has no line on this head is passed over.
func (p *Pass) rowAbove(i int) *RowOn {
	row := &p.Rows[i]
	for k := i + 1; k < len(p.Rows); k++ {
		switch above := &p.Rows[k]; {
		case above.Line == nil:
		case sameKind(row, above) && row.Line.ID.Kind == scalp.Level:
			return above
		default:
			return nil
		}
	}
	return nil
}

// straightAbove finds the bond of the row above that hangs down nearest to the bond b, within
// least mm of it, and how far sideways it passes.
func (p *Pass) straightAbove(b *BondOn, above *RowOn, least float64) (up *BondOn, sideways float64, ok bool) {
	if b.On == nil {
		return nil, 0, false
	}
	at, reaches := slots.Below(b.On, above.Line) // the slot above, on the same line down
	if !reaches {
		return nil, 0, false
	}
	from := int(math.Floor(at))
	for _, way := range [...]struct{ slot, step int }{{from, -1}, {from + 1, 1}} {
		for slot := way.slot; ; slot += way.step {
			on := above.Line.At(slot)
			if on == nil {
				break
			}
			foot, reaches := slots.Below(on, b.Line)
			d := math.Abs(foot-float64(b.Slot)) * float64(p.Table.Spacing)
			if !reaches || !short(d, least) {
				break
			}
			if above.Bond(slot).Placed() {
				if up == nil || d < sideways {
					up, sideways = above.find(slot), d
				}
				break // all beyond hang farther away
			}
		}
	}
	return up, sideways, up != nil
}

// find is the bond of the row in a slot, or nil.
func (r *RowOn) find(slot int) *BondOn {
	lo, hi := 0, len(r.Bonds)
	for lo < hi {
		mid := (lo + hi) / 2
		if r.Bonds[mid].Slot < slot {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	if lo < len(r.Bonds) && r.Bonds[lo].Slot == slot {
		return &r.Bonds[lo]
	}
	return nil
}

// OffsetPhase is how many slots out from the centre a pattern should begin in a
// row so that it is offset best against the rows below and above: the phase with the fewest bonds
// straight above or below another. Near the centre back, where the eye falls, one counts
// more than at the side, where the slots drift anyway. Without neighbours it is 0.
func OffsetPhase(s *sheet.Sheet, t *slots.Table, at sheet.Place, pattern sheet.Pattern) int {
	line, err := t.Line(at)
	if err != nil || line.ID.Kind != scalp.Level {
		return 0
	}
	free := Free(s, line)
	var stacked [sheet.MaxPattern]float64
	for _, row := range neighbours(s, at) {
		other, err := t.Line(row.Place)
		if err != nil || other.ID.Kind != scalp.Level {
			continue
		}
		for _, slot := range free {
			foot, ok := slots.Below(line.At(slot), other)
			if !ok || !row.Bond(int(math.Round(foot))).Placed() {
				continue
			}
			for phase := range len(pattern) {
				if pattern.Uses(slot, phase) {
					stacked[phase] += 1 / float64(1+abs(slot))
				}
			}
		}
	}
	best := 0
	for phase := range len(pattern) {
		if stacked[phase] < stacked[best] {
			best = phase
		}
	}
	return best
}

// neighbours are the rows next below and next above a place, of those that are there.
func neighbours(s *sheet.Sheet, at sheet.Place) []sheet.Row {
	var below, above *sheet.Row
	for i := range s.Rows {
		switch r := &s.Rows[i]; {
		case r.Along:
		case r.At < at.At:
			below = r
		case r.At > at.At && above == nil:
			above = r
		}
	}
	var found []sheet.Row
	for _, r := range []*sheet.Row{below, above} {
		if r != nil {
			found = append(found, *r)
		}
	}
	return found
}
