package rule

import (
	"fmt"
	"slices"

	"example.org/underveil/internal/sheet"
)

var wish = &Rule{
	ID: "wish", Since: "0.1", Severity: Caution,
	Title: "a row that does not serve the look it is for",
	Doc: "For length the strands have to lie in every slot, or the ends look like a fringe of wisps; for volume in every second; for " +
		"highlights in every third or fourth (common practice, no source). Closer than needed is only a note: it costs hair and " +
		"load. Length wished for without volume is asked about, for long hair that is not filled out looks thin at the ends.",
	Check: func(p *Pass) {
		for i := range p.Rows {
			p.checkLook(&p.Rows[i])
		}
		if len(p.Bonds) > 0 && p.Sheet.Wishes(sheet.Length) && !p.Sheet.Wishes(sheet.Volume) {
			p.found = append(p.found, Finding{Concern: sheet.Concern{Rule: p.rule.ID}, Severity: Caution,
				What: "length is wished for and volume is not: the ends will look thin", Source: sheet.Practice})
		}
	},
	Fixes: func(p *Pass, f Finding) []Fix {
		if f.On == sheet.OnSheet {
			return []Fix{{Label: "wish for volume too", Do: func(s *sheet.Sheet) *sheet.Sheet {
				return s.With(func(c *sheet.Sheet) { c.Wish = append(slices.Clone(c.Wish), sheet.Volume) })
			}}}
		}
		return p.repaint(f)
	},
}

// stepFor is how many slots apart the bonds of a row should be for a look, from
// closest to widest.
func stepFor(l sheet.Look) (closest, widest int) {
	switch l {
	case sheet.Length:
		return 1, 1
	case sheet.Volume:
		return 2, 2
	case sheet.Highlights:
		return 3, 4
	}
	return 1, 1 << 30
}

// checkLook compares how far apart a row's bonds are with what its look needs.
func (p *Pass) checkLook(r *RowOn) {
	const few = 4 // bonds; fewer show no pattern
	look := p.Sheet.LookOf(r.Row)
	if len(r.Bonds) < few || look == "" {
		return
	}
	closest, widest := stepFor(look)
	f := Finding{Concern: p.onRow(r.Place), Unit: "", Source: sheet.Practice}
	switch step := r.Step(); {
	case step > widest:
		f.Severity, f.What = Caution, fmt.Sprintf("a bond in every %s is too few for %s, which needs every %s", ordinal(step), look, ordinal(widest))
	case step < closest:
		f.Severity, f.What = Note, fmt.Sprintf("a bond in every %s is more than %s needs, which is every %s", ordinal(step), look, ordinal(closest))
	default:
		return
	}
	p.found = append(p.found, f)
}

// Every is how close the bonds of a row lie, in words: "every second slot".
func Every(r sheet.Row) string { return "every " + ordinal(r.Step()) }

// ordinal is what comes after "every": "slot" for 1, "second slot" for 2, and so on.
func ordinal(n int) string {
	if n < len(ordinals) {
		return ordinals[n]
	}
	return fmt.Sprintf("%d slots", n)
}

var ordinals = [...]string{1: "slot", 2: "second slot", 3: "third slot", 4: "fourth slot", 5: "fifth slot", 6: "sixth slot"}

// repaint offers to lay the row again in the pattern its look needs, over the
// stretch that it covers. A bond that is there already in a slot of the pattern stays as it
// is, and a new one is like the bond nearest to it.
func (p *Pass) repaint(f Finding) []Fix {
	row, _ := p.Sheet.Row(f.Row)
	line, err := p.Table.Line(f.Row)
	if err != nil {
		return nil
	}
	closest, _ := stepFor(p.Sheet.LookOf(row))
	pattern := sheet.Patterns[closest-1]
	phase := 0
	if row.Offset {
		phase = OffsetPhase(p.Sheet, p.Table, f.Row, pattern)
	}
	zones := ZonesOf(p.Sheet)
	bonds := map[int]sheet.Bond{}
	for slot := row.First(); slot <= row.Last(); slot++ {
		on := line.At(slot)
		free := on != nil && zones.Free(on)
		if pattern.Uses(slot, phase) && (free || row.Bond(slot).Placed()) {
			bonds[slot] = nearestBond(row, slot)
		}
	}
	return []Fix{{Label: "lay " + pattern.String() + " from end to end", Do: func(s *sheet.Sheet) *sheet.Sheet {
		fresh := sheet.NewRow(row.Place, bonds)
		fresh.Look, fresh.Offset = row.Look, row.Offset
		return s.WithRow(fresh)
	}}}
}

// nearestBond is the bond of the row nearest to a slot between its ends, of two the one nearer to the centre.
func nearestBond(row sheet.Row, slot int) sheet.Bond {
	for d := 0; ; d++ {
		for _, k := range [...]int{slot - d*out(slot), slot + d*out(slot)} {
			if b := row.Bond(k); b.Placed() {
				return b
			}
		}
	}
}
