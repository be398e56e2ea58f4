package tally

import (
	"slices"
	"testing"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// anyRows is a sheet with some full rows all over a head, and its table.
func anyRows(t *testing.T, seed uint64) (*sheet.Sheet, *slots.Table) {
	t.Helper()
	rng := seeded(seed)
	s := sheetOf(t, []sheet.Shade{oat, honey}).With(func(c *sheet.Sheet) { c.Aside = rng.IntN(2) == 0 })
	table, err := slots.Outline(s)
	if err != nil {
		t.Fatal(err)
	}
	for range 1 + rng.IntN(12) {
		line := table.Lines[rng.IntN(len(table.Lines))]
		bonds := map[int]sheet.Bond{}
		for slot := line.First; slot <= line.Last(); slot++ {
			if rng.IntN(3) > 0 {
				bonds[slot] = sheet.Bond{Shade: "ab"[rng.IntN(2)], Split: rng.IntN(3) == 0}
			}
		}
		s = s.WithRow(sheet.NewRow(line.Place(), bonds))
	}
	return s, table
}

// Every bond of the sheet is in one piece and no other, and the pieces are in the order of fitting.
func TestPiecesAreTheSheetInOrder(t *testing.T) {
	for seed := range uint64(fewer(200, 20)) {
		s, table := anyRows(t, seed)
		seen := map[sheet.Spot]sheet.Bond{}
		var before Piece
		for i, p := range Pieces(s, table) {
			if i > 0 && (p.Panel < before.Panel || p.Panel == before.Panel && p.At <= before.At) {
				t.Fatalf("seed %d: %s at %s comes after %s at %s", seed, p.Panel, p.Place, before.Panel, before.Place)
			}
			before = p
			if !slices.IsSortedFunc(p.Bonds, func(a, b Placed) int { return a.Slot - b.Slot }) {
				t.Fatalf("seed %d: %v is not from left to right", seed, p.Bonds)
			}
			for _, b := range p.Bonds {
				at := sheet.Spot{At: p.Place, Slot: b.Slot}
				if _, twice := seen[at]; twice {
					t.Fatalf("seed %d: %s, slot %d is in two pieces", seed, at.At, at.Slot)
				}
				seen[at] = b.Bond
			}
			first, last := p.Bonds[0].Slot, p.Bonds[len(p.Bonds)-1].Slot
			if p.Strip.Holes != last-first+1 || p.Strip.First != table.Begin+scalp.MM(first)*table.Spacing {
				t.Fatalf("seed %d: slots %d to %d take %+v", seed, first, last, p.Strip)
			}
		}
		if len(seen) != s.Bonds() {
			t.Fatalf("seed %d: %d bonds in pieces, %d on the sheet", seed, len(seen), s.Bonds())
		}
		for at, b := range seen {
			if s.Bond(at.At, at.Slot) != b {
				t.Fatalf("seed %d: %s, slot %d: %v, want %v", seed, at.At, at.Slot, b, s.Bond(at.At, at.Slot))
			}
		}
	}
}

// A row that goes round to the sides is parted behind the ears, unless there are fewer than three bonds on a side.
func TestRowsArePartedBehindTheEars(t *testing.T) {
	table := holes(8)
	for _, c := range []struct {
		at    scalp.MM
		bonds string
		want  []string
	}{
		{60, "a.a.(a).a.a", []string{"back"}},
		{110, "a.a.a..............(a)..............a.a.a", []string{"back", "left side", "right side"}},
		{110, "a.a................(a)..............a.a.a", []string{"back", "right side"}},
		{110, "aaa................(.)", []string{"left side"}},
		{240, "a.a.a.(a).a.a.a", []string{"top"}},
	} {
		var got []string
		for _, p := range Pieces(sheetOf(t, []sheet.Shade{oat}, written{c.at, c.bonds}), table) {
			got = append(got, p.Panel.String())
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("height %g, %s: %v, want %v", float64(c.at), c.bonds, got, c.want)
		}
	}
}

// The parts of a strip have its holes, one after another, and none bows more than it may; one fewer would.
func TestPartsLieOnTheParting(t *testing.T) {
	many := 0
	for seed := range uint64(fewer(200, 20)) {
		s, table := anyRows(t, seed)
		for _, p := range Pieces(s, table) {
			parts := Parts(p, table)
			line, err := table.Line(p.Place)
			if err != nil {
				t.Fatal(err)
			}
			holes, next := 0, p.Strip.First
			for _, part := range parts {
				if part.First != next {
					t.Fatalf("seed %d: a part begins at %g, want %g", seed, float64(part.First), float64(next))
				}
				next += scalp.MM(part.Holes) * table.Spacing
				holes += part.Holes
				from := int((part.First - table.Begin) / table.Spacing)
				if bow := table.Head.Bow(line.Walk(table.Begin, table.Spacing, from, from+part.Holes-1)); bow > MostBow {
					t.Fatalf("seed %d: %s: a part of %d holes bows %.1f mm", seed, p.Place, part.Holes, float64(bow))
				}
			}
			if holes != p.Strip.Holes {
				t.Fatalf("seed %d: %d holes in parts, %d in the strip", seed, holes, p.Strip.Holes)
			}
			if n := len(parts); n > 1 {
				many++
				if _, straight := cutIn(n-1, p.Bonds[0].Slot, p.Bonds[len(p.Bonds)-1].Slot, line, table); straight {
					t.Fatalf("seed %d: %d parts where %d do", seed, n, n-1)
				}
			}
		}
	}
	if many < fewer(20, 2) {
		t.Errorf("only %d strips were cut in parts", many)
	}
}

// New tips are counted while the refit is going on: one for each piece re-tipped, two for one halved.
func TestTipsOfARefit(t *testing.T) {
	s := sheetOf(t, []sheet.Shade{oat}, written{60, "a.(a).a"})
	refit := sheet.Visit{Kind: sheet.Refit, Date: "2026-04-27", Open: true, Strands: []sheet.Outcome{
		{Shade: 'a', Retipped: 5, Halved: 2, Thrown: 3}, {Shade: 'a', Split: true, Retipped: 4, Kept: 1}}}
	for _, c := range []struct {
		open bool
		want int
	}{{true, 5 + 2*2 + 4}, {false, 0}} {
		refit.Open = c.open
		with := s.WithVisit(0, refit)
		if got := OrderOf(with, Count(with, holes(8)), nil); got.Tips != c.want {
			t.Errorf("open %v: %d tips, want %d", c.open, got.Tips, c.want)
		}
	}
}
