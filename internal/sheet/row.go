package sheet

import (
	"cmp"
	"fmt"
	"iter"
	"slices"

	"example.org/underveil/internal/scalp"
)

// Place says where on the head a row lies. Two rows never share a place.
type Place struct {
	// Along is true for a row on the top that runs front to back.
	Along bool
	// At is the height of the parting, or for a row front to back its distance right of
	// the midline (negative is left), in mm.
	At scalp.MM
}

// String is the place in words: "height 60" or "front to back, 24 right".
func (p Place) String() string {
	switch {
	case !p.Along:
		return fmt.Sprintf("height %g", float64(p.At))
	case p.At > 0:
		return fmt.Sprintf("front to back, %g right", float64(p.At))
	case p.At < 0:
		return fmt.Sprintf("front to back, %g left", float64(-p.At))
	}
	return "front to back, middle"
}

// Ways are the two ways along a row, to lower slots and to higher ones: left and right, or back and front.
func (p Place) Ways() (minus, plus string) {
	if p.Along {
		return "back", "front"
	}
	return "left", "right"
}

// compare orders rows as the map does: by height from the nape up, then
// the front-to-back rows from left to right.
func (p Place) compare(q Place) int {
	if p.Along != q.Along {
		if p.Along {
			return 1
		}
		return -1
	}
	return cmp.Compare(p.At, q.At)
}

// Bond is a strand bonded in a slot. The zero Bond is an empty slot.
type Bond struct {
	Shade   byte // the letter of the shade
	Split   bool // half a strand, halved lengthwise
	Trimmed bool // the top of the bond cut off
}

// Placed reports whether there is a bond.
func (b Bond) Placed() bool { return b.Shade != 0 }

// Strands is how much of a strand the bond takes: all of it, half of it when split, none where there is no bond.
func (b Bond) Strands() float64 {
	switch {
	case !b.Placed():
		return 0
	case b.Split:
		return 0.5
	}
	return 1
}

// String is the bond in words: "split, trimmed".
func (b Bond) String() string {
	switch {
	case !b.Placed():
		return "empty"
	case b.Split && b.Trimmed:
		return "split, trimmed"
	case b.Split:
		return "split"
	case b.Trimmed:
		return "trimmed"
	}
	return "whole"
}

// Row is the bonds along one parting. Slots are counted in hole spacings from
// the centre back, left negative, right positive; along a front-to-back row from
// the ear-to-ear line over the top, back negative, front positive.
type Row struct {
	Place
	Look   Look // what this row is for; empty is the sheet's first wish
	Offset bool // offset against the row below was asked for

	first int    // slot of bonds[0]
	bonds []Bond // from the first bond to the last, both placed
}

// MaxSlot is the farthest slot from the centre that a row may use; no head is
// that wide at any hole spacing allowed.
const MaxSlot = 200

// NewRow makes a row from its bonds by slot.
func NewRow(at Place, bonds map[int]Bond) Row { return Row{Place: at}.With(bonds) }

// Bond is the bond in a slot.
func (r Row) Bond(slot int) Bond {
	if i := slot - r.first; i >= 0 && i < len(r.bonds) {
		return r.bonds[i]
	}
	return Bond{}
}

// Empty reports whether the row has no bond.
func (r Row) Empty() bool { return len(r.bonds) == 0 }

// First and Last are the outermost slots with a bond; they mean nothing in an
// empty row.
func (r Row) First() int { return r.first }

// Last is the rightmost slot with a bond.
func (r Row) Last() int { return r.first + len(r.bonds) - 1 }

// Count is the number of bonds.
func (r Row) Count() int {
	n := 0
	for _, b := range r.bonds {
		if b.Placed() {
			n++
		}
	}
	return n
}

// Step is how many slots apart the bonds of the row lie: the middle one of the gaps between neighbours, 0 where there are
// none.
func (r Row) Step() int {
	var space [2 * MaxSlot]int
	gaps, before := space[:0], 0
	for i, b := range r.bonds {
		if b.Placed() && i > 0 {
			gaps = append(gaps, i-before)
		}
		if b.Placed() {
			before = i
		}
	}
	if len(gaps) == 0 {
		return 0
	}
	slices.Sort(gaps)
	return gaps[len(gaps)/2]
}

// BondsOf are the bonds of some rows, row by row.
func BondsOf(rows []Row) iter.Seq[Bond] {
	return func(yield func(Bond) bool) {
		for _, r := range rows {
			for _, b := range r.All() {
				if !yield(b) {
					return
				}
			}
		}
	}
}

// All yields the bonds of the row with their slots, from left to right.
func (r Row) All() iter.Seq2[int, Bond] {
	return func(yield func(int, Bond) bool) {
		for i, b := range r.bonds {
			if b.Placed() && !yield(r.first+i, b) {
				return
			}
		}
	}
}

// With is the row after some slots are changed; an empty Bond empties its slot.
// There are no slots beyond MaxSlot, so a change of one changes nothing.
func (r Row) With(changes map[int]Bond) Row {
	lo, hi := r.first, r.Last()
	if r.Empty() {
		lo, hi = MaxSlot, -MaxSlot
	}
	changed := false
	for slot := range changes {
		if abs(slot) <= MaxSlot {
			lo, hi, changed = min(lo, slot), max(hi, slot), true
		}
	}
	if !changed {
		return r
	}
	next := make([]Bond, hi-lo+1)
	if !r.Empty() {
		copy(next[r.first-lo:], r.bonds)
	}
	for slot, b := range changes {
		switch {
		case abs(slot) > MaxSlot:
		case b.Placed():
			next[slot-lo] = b
		default:
			next[slot-lo] = Bond{} // one value for every empty slot
		}
	}
	r.first, r.bonds = lo, next
	return r.tight()
}

// tight drops the empty slots at both ends, so that equal rows are equal values.
func (r Row) tight() Row {
	for len(r.bonds) > 0 && !r.bonds[0].Placed() {
		r.bonds, r.first = r.bonds[1:], r.first+1
	}
	for len(r.bonds) > 0 && !r.bonds[len(r.bonds)-1].Placed() {
		r.bonds = r.bonds[:len(r.bonds)-1]
	}
	if len(r.bonds) == 0 {
		r.bonds, r.first = nil, 0
	}
	return r
}

// Shifted is the row with every bond moved by some slots, or by fewer where its
// outermost bond would go beyond MaxSlot.
func (r Row) Shifted(by int) Row {
	if !r.Empty() {
		r.first += max(-MaxSlot-r.first, min(by, MaxSlot-r.Last()))
	}
	return r
}

// Equal reports whether two rows are the same in everything.
func (r Row) Equal(q Row) bool {
	return r.Place == q.Place && r.Look == q.Look && r.Offset == q.Offset && r.first == q.first && slices.Equal(r.bonds, q.bonds)
}

// Row finds the row at a place.
func (s *Sheet) Row(at Place) (Row, bool) {
	i, ok := s.find(at)
	if !ok {
		return Row{Place: at}, false
	}
	return s.Rows[i], true
}

func (s *Sheet) find(at Place) (int, bool) {
	return slices.BinarySearchFunc(s.Rows, at, func(r Row, at Place) int { return r.Place.compare(at) })
}

// Bond is the bond in a slot of the row at a place.
func (s *Sheet) Bond(at Place, slot int) Bond {
	if i, ok := s.find(at); ok {
		return s.Rows[i].Bond(slot)
	}
	return Bond{}
}

// WithRow puts a row in its place, instead of any row there; an empty row
// takes the place out of the sheet. Where that changes nothing, it returns the
// sheet itself, so that no undo step comes of it.
func (s *Sheet) WithRow(r Row) *Sheet {
	i, ok := s.find(r.Place)
	if r.Empty() && !ok || ok && s.Rows[i].Equal(r) {
		return s
	}
	return s.change(func(c *Sheet) {
		switch {
		case r.Empty():
			c.Rows = slices.Delete(slices.Clone(c.Rows), i, i+1)
		case ok:
			c.Rows = slices.Clone(c.Rows)
			c.Rows[i] = r
		default:
			c.Rows = slices.Insert(slices.Clone(c.Rows), i, r)
		}
	})
}

// WithBonds changes some slots of the row at a place.
func (s *Sheet) WithBonds(at Place, changes map[int]Bond) *Sheet {
	r, _ := s.Row(at)
	return s.WithRow(r.With(changes))
}

// WithBond changes one slot.
func (s *Sheet) WithBond(at Place, slot int, b Bond) *Sheet {
	return s.WithBonds(at, map[int]Bond{slot: b})
}
