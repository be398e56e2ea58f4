package rule

import (
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// Pass is one check of one sheet: what the rules read, and where they report.
type Pass struct {
	Sheet *sheet.Sheet
	Table *slots.Table
	Rows  []RowOn
	Bonds []BondOn // row by row

	rule  *Rule
	found []Finding
	own   *Hair // once asked for
}

// section is how many own hairs are in the section taken for a bond.
func (p *Pass) section(b *BondOn) float64 {
	if b.own == 0 {
		b.own = p.hair().Section(b.On)
	}
	return b.own
}

// hair is the client's own hair.
func (p *Pass) hair() *Hair {
	if p.own == nil {
		h := HairOf(p.Sheet, p.Table)
		p.own = &h
	}
	return p.own
}

// RowOn is a row where it lies on the head.
type RowOn struct {
	sheet.Row
	Line  *slots.Line // nil when this head has no such line
	Bonds []BondOn
}

// BondOn is a bond where it lies on the head.
type BondOn struct {
	sheet.Bond
	Slot  int
	On    *slots.Slot // nil beyond the end of the line
	Line  *slots.Line // nil when this head has no such line
	Place sheet.Place
	own   float64 // own hairs in its section, once asked for
}

func newPass(s *sheet.Sheet, t *slots.Table) *Pass {
	p := &Pass{Sheet: s, Table: t, Bonds: make([]BondOn, 0, s.Bonds()), Rows: make([]RowOn, 0, len(s.Rows))}
	for _, r := range s.Rows {
		line, _ := t.Line(r.Place)
		from := len(p.Bonds)
		for slot, b := range r.All() {
			on := BondOn{Bond: b, Slot: slot, Line: line, Place: r.Place}
			if line != nil {
				on.On = line.At(slot)
			}
			p.Bonds = append(p.Bonds, on)
		}
		p.Rows = append(p.Rows, RowOn{Row: r, Line: line, Bonds: p.Bonds[from:]})
	}
	return p
}

// concern is the pass's rule speaking of a bond.
func (p *Pass) concern(b *BondOn) sheet.Concern {
	return sheet.Concern{Rule: p.rule.ID, Row: b.Place, On: sheet.OnSlot, Slot: b.Slot}
}

// onRow is the pass's rule speaking of a row.
func (p *Pass) onRow(at sheet.Place) sheet.Concern {
	return sheet.Concern{Rule: p.rule.ID, Row: at, On: sheet.OnRow}
}

// reportBond adds a finding about a bond, as grave as its rule.
func (p *Pass) reportBond(b *BondOn, f Finding) {
	f.Concern, f.Severity = p.concern(b), p.rule.Severity
	p.found = append(p.found, f)
}

// lift empties the slot that a finding is about.
func lift(f Finding) Fix {
	return Fix{Label: "lift it", Do: func(s *sheet.Sheet) *sheet.Sheet { return s.WithBond(f.Row, f.Slot, sheet.Bond{}) }}
}

// moveTo moves the bond of a finding to another slot of its row.
func moveTo(f Finding, slot int) Fix {
	return Fix{Label: "move it to " + SlotName(f.Row, slot), Do: func(s *sheet.Sheet) *sheet.Sheet {
		return s.WithBonds(f.Row, map[int]sheet.Bond{f.Slot: {}, slot: s.Bond(f.Row, f.Slot)})
	}}
}

// remake is the fix that makes another bond of a finding's.
func remake(f Finding, label string, how func(*sheet.Bond)) Fix {
	return Fix{Label: label, Do: func(s *sheet.Sheet) *sheet.Sheet {
		b := s.Bond(f.Row, f.Slot)
		how(&b)
		return s.WithBond(f.Row, f.Slot, b)
	}}
}

// liftOrMove offers to lift a bond that is where none should be, or to move it along its
// row to the nearest free slot with room to work.
func liftOrMove(p *Pass, f Finding) []Fix {
	fixes := []Fix{lift(f)}
	if slot, ok := p.nearestRoom(f, func(int) bool { return true }); ok {
		fixes = append(fixes, moveTo(f, slot))
	}
	return fixes
}

// nearestRoom finds the slot nearest to the finding's, in its row, that no zone
// covers, that leaves room to work between neighbours, and that will do; of two, the one nearer to the centre.
func (p *Pass) nearestRoom(f Finding, willDo func(slot int) bool) (slot int, ok bool) {
	line, err := p.Table.Line(f.Row)
	if err != nil {
		return 0, false
	}
	zones := ZonesOf(p.Sheet)
	for d := 1; d <= 6; d++ {
		for _, k := range []int{f.Slot - d*out(f.Slot), f.Slot + d*out(f.Slot)} {
			if p.takes(f, line, zones, k) && willDo(k) {
				return k, true
			}
		}
	}
	return 0, false
}

// takes reports whether a slot of the finding's line could take its bond: free, empty, and with
// room to work between its neighbours.
func (p *Pass) takes(f Finding, line *slots.Line, zones Zones, slot int) bool {
	row, _ := p.Sheet.Row(f.Row)
	on := line.At(slot)
	return on != nil && zones.Free(on) && !row.Bond(slot).Placed() && p.hasRoom(row, f.Slot, slot)
}

// hasRoom reports whether the bond of the row at from would have room at slot to.
func (p *Pass) hasRoom(row sheet.Row, from, to int) bool {
	need, _ := p.Sheet.Limit(sheet.LimitBondGap)
	reach := int(need/float64(p.Table.Spacing)) + 1
	for k := to - reach; k <= to+reach; k++ {
		if k != from && k != to && row.Bond(k).Placed() && short(float64(p.Table.Spacing)*float64(abs(k-to)), need) {
			return false
		}
	}
	return true
}

// out is the step from a slot away from the centre.
func out(slot int) int {
	if slot < 0 {
		return -1
	}
	return 1
}

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}
