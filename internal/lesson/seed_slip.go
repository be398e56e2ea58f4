package lesson

import (
	"math"
	"math/rand/v2"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// slip is something that a learner may do wrong in one row. Whether it is wrong, and by which rule, only the rules say.
type slip struct {
	at    sheet.Place
	bonds map[int]sheet.Bond // changed slots; an empty bond empties its slot
}

// make is the sheet after the slip.
func (p *slip) make(s *sheet.Sheet) *sheet.Sheet { return s.WithBonds(p.at, p.bonds) }

// slipsOf are slips that can be made on a sheet, in an order that mixes their kinds.
func slipsOf(s *sheet.Sheet, t *slots.Table, rng *rand.Rand) []slip {
	free := freeLines(s, t, rng)
	few := min(strayLines, len(free))
	kinds := [][]slip{further(s, t), aside(s, t), remade(s), strays(s, free[:few], rng), overTop(s, t, rng)}
	last := strays(s, free[few:], rng)
	for _, k := range append(kinds, last) {
		rng.Shuffle(len(k), func(i, j int) { k[i], k[j] = k[j], k[i] })
	}
	var all []slip
	for i, more := 0, true; more; i++ {
		more = false
		for _, k := range kinds {
			if i < len(k) {
				all, more = append(all, k[i]), true
			}
		}
	}
	return append(all, last...)
}

// How far a learner may go on with a row.
const (
	beyond  = 6 // slots past its ends
	outside = 2 // slots past the last hair
)

// wrongable reports which slots of a row a bond may be wrong in, as far as can be told at a glance: past its ends, in a gap that is wider than
// its pattern, or anywhere where neighbours can be too near. It saves trying what is no mistake.
func wrongable(s *sheet.Sheet, row sheet.Row, line *slots.Line) func(slot int) bool {
	room, _ := s.Limit(sheet.LimitBondGap)
	crowded := float64(s.HoleSpacing) < room
	first, last := line.HairEnds()
	return func(slot int) bool {
		switch {
		case line.At(slot) == nil || slot < first-outside || slot > last+outside:
			return false
		case slot < row.First() || slot > row.Last():
			return true
		}
		return crowded || gapRound(row, slot) > row.Step()
	}
}

// gapRound is how many slots apart the bonds of a row are that have a slot between them: 0 where it has a bond itself.
func gapRound(row sheet.Row, slot int) int {
	left, right := slot, slot
	for ; left > row.First() && !row.Bond(left).Placed(); left-- {
	}
	for ; right < row.Last() && !row.Bond(right).Placed(); right++ {
	}
	return right - left
}

// further are one bond more in a row: past its end, or where a slot was left for a reason.
func further(s *sheet.Sheet, t *slots.Table) []slip {
	var made []slip
	for _, row := range s.Rows {
		line, err := t.Line(row.Place)
		if err != nil {
			continue
		}
		may := wrongable(s, row, line)
		for slot := row.First() - beyond; slot <= row.Last()+beyond; slot++ {
			if row.Bond(slot).Placed() || !may(slot) {
				continue
			}
			for _, b := range waysToBond(nearestIn(row, slot)) {
				made = append(made, slip{row.Place, map[int]sheet.Bond{slot: b}})
			}
		}
	}
	return made
}

// waysToBond are the ways in which a bond would be made at the hairline: as it is; trimmed, for there one of full height is worth a note;
// and split besides, for there is too little hair to carry a whole one. So a bond is wrong only by where it is.
func waysToBond(b sheet.Bond) []sheet.Bond {
	all := []sheet.Bond{b}
	if !b.Trimmed {
		b.Trimmed = true
		all = append(all, b)
	}
	if !b.Split {
		b.Split = true
		all = append(all, b)
	}
	return all
}

// nearestIn is the bond of a row nearest to a slot.
func nearestIn(row sheet.Row, slot int) sheet.Bond {
	for d := 0; d <= 2*sheet.MaxSlot; d++ {
		for _, k := range [...]int{slot - d, slot + d} {
			if b := row.Bond(k); b.Placed() {
				return b
			}
		}
	}
	return sheet.Bond{}
}

// aside are bonds in a slot beside their own, or in the one after that.
func aside(s *sheet.Sheet, t *slots.Table) []slip {
	var made []slip
	for _, row := range s.Rows {
		line, err := t.Line(row.Place)
		if err != nil {
			continue
		}
		may := wrongable(s, row, line)
		for slot, b := range row.All() {
			for _, by := range [...]int{-2, -1, 1, 2} {
				if to := slot + by; !row.Bond(to).Placed() && may(to) {
					made = append(made, slip{row.Place, map[int]sheet.Bond{slot: {}, to: b}})
				}
			}
		}
	}
	return made
}

// remade are bonds that are heavier than they were: whole where they were split, or of a heavier shade.
func remade(s *sheet.Sheet) []slip {
	var made []slip
	for _, row := range s.Rows {
		for slot, b := range row.All() {
			if b.Split {
				whole := b
				whole.Split = false
				made = append(made, slip{row.Place, map[int]sheet.Bond{slot: whole}})
			}
			own, _ := s.Shade(b.Shade)
			for _, h := range s.Shades {
				if h.Grams > own.Grams {
					heavier := b
					heavier.Shade = h.Key
					made = append(made, slip{row.Place, map[int]sheet.Bond{slot: heavier}})
				}
			}
		}
	}
	return made
}

// How many places are tried for short rows of their own.
const (
	strayLines   = 8 // lines that are tried first: how far they lie from other rows has to be measured
	strayEach    = 8 // short rows on each
	longestStray = 5 // bonds
	topLines     = 3 // rows front to back, all of whose distances have to be measured
	topEach      = 6
)

// freeLines are the lines of the map without a row, in any order.
func freeLines(s *sheet.Sheet, t *slots.Table, rng *rand.Rand) []*slots.Line {
	var free []*slots.Line
	for _, i := range rng.Perm(len(t.Lines)) {
		if _, taken := s.Row(t.Lines[i].Place()); !taken {
			free = append(free, t.Lines[i])
		}
	}
	return free
}

// strays are short rows on some lines.
func strays(s *sheet.Sheet, lines []*slots.Line, rng *rand.Rand) []slip {
	var made []slip
	for _, line := range lines {
		made = append(made, shortRows(s, line, strayEach, rng)...)
	}
	return made
}

// overTop are short rows front to back.
func overTop(s *sheet.Sheet, t *slots.Table, rng *rand.Rand) []slip {
	var made []slip
	reach := int(t.Head.Measures.EarToEar / 4 / t.Spacing)
	for range topLines {
		at := sheet.Place{Along: true, At: scalp.MM(rng.IntN(2*reach+1)-reach) * t.Spacing}
		if _, taken := s.Row(at); taken {
			continue
		}
		if line, err := t.Line(at); err == nil {
			made = append(made, shortRows(s, line, topEach, rng)...)
		}
	}
	return made
}

// shortRows are some short rows on a line, each like a piece of the row nearest to it: a few bonds anywhere on the hair, or
// just off it. Where there is no row it is one bond.
func shortRows(s *sheet.Sheet, line *slots.Line, n int, rng *rand.Rand) []slip {
	b, step, most := sheet.Bond{Shade: s.Shades[0].Key}, 1, 1
	if like, ok := nearestRow(s, line.Place()); ok {
		b, step, most = nearestIn(like, 0), max(1, like.Step()), longestStray
	}
	var made []slip
	first, last := line.HairEnds()
	for range n {
		at := first - 1 + rng.IntN(last-first+3)
		all := waysToBond(b)
		b := all[rng.IntN(len(all))]
		bonds := map[int]sheet.Bond{}
		for k := range 1 + rng.IntN(most) {
			if slot := at + k*step; line.At(slot) != nil {
				bonds[slot] = b
			}
		}
		if len(bonds) > 0 {
			made = append(made, slip{line.Place(), bonds})
		}
	}
	return made
}

// nearestRow is the row nearest to a place by its height, front to back or not.
func nearestRow(s *sheet.Sheet, at sheet.Place) (row sheet.Row, ok bool) {
	least := math.Inf(1)
	for _, r := range s.Rows {
		d := math.Abs(float64(r.At - at.At))
		if r.Along == at.Along && d < least {
			row, least, ok = r, d, true
		}
	}
	if !ok && len(s.Rows) > 0 {
		return s.Rows[len(s.Rows)-1], true
	}
	return row, ok
}
