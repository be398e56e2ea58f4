package tally

import (
	"testing"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

func TestStripWorkedByHand(t *testing.T) {
	for _, c := range []struct {
		bonds   string
		spacing scalp.MM
		want    Strip
	}{
		// One bond in the centre: one hole, nothing but the ends for the clips: 2 x 10.
		{"(a)", 8, Strip{Holes: 1, Length: 20, First: 0}},
		// One bond, 3 slots left: its hole lies 3 x 8 = 24 mm left.
		{"a..(.)", 8, Strip{Holes: 1, Length: 20, First: -24}},
		// Slots -4 to 4 are 9 holes, 8 spaces of 8 mm and the ends: 64 + 20.
		{"a.a.(a).a.a", 8, Strip{Holes: 9, Length: 84, First: -32}},
		// Slots -6 to 6 with holes between that stay empty: 13 holes, 12 x 8 + 20.
		{"a.....(.).....a", 8, Strip{Holes: 13, Length: 116, First: -48}},
		// Wholly to the right, slots 2 to 5: 4 holes, 3 x 8 + 20, first 16 mm right.
		{"(.).a..A'", 8, Strip{Holes: 4, Length: 44, First: 16}},
		// Holes 6.5 mm apart, slots -1 to 2: 4 holes, 3 x 6.5 + 20, first 6.5 mm left.
		{"a(.).a", 6.5, Strip{Holes: 4, Length: 39.5, First: -6.5}},
	} {
		got := Count(sheetOf(t, []sheet.Shade{oat}, written{60, c.bonds}), holes(c.spacing))
		if s := got.Rows[0].Strip; s != c.want {
			t.Errorf("%s, holes %g mm apart: %+v, want %+v", c.bonds, float64(c.spacing), s, c.want)
		}
	}
	if got := strip(sheet.Row{}, holes(8)); got != (Strip{}) {
		t.Errorf("an empty row takes %+v", got)
	}
}

func TestRowsWorkedByHand(t *testing.T) {
	got := Count(sheetOf(t, []sheet.Shade{oat, honey},
		written{30, "a.(B').a"}, // 2 x 0.8 + 1 x 0.5 = 2.1 g
		written{20, "A.(.).b"},  // 0.4 + 1.0 = 1.4 g
	), holes(8))
	want := []OfRow{
		{Place: sheet.Place{At: 20}, Counts: Counts{Whole: 1, Split: 1}, Grams: 1.4},
		{Place: sheet.Place{At: 30}, Counts: Counts{Whole: 2, Split: 1, Trimmed: 1}, Grams: 2.1},
	}
	if len(got.Rows) != len(want) {
		t.Fatalf("%d rows, want %d", len(got.Rows), len(want))
	}
	for i, r := range got.Rows {
		if r.Place != want[i].Place || r.Counts != want[i].Counts || !nearly(r.Grams, want[i].Grams) {
			t.Errorf("row %d: %+v, want %+v", i, r, want[i])
		}
	}
}

// Counted by rows or by shades, it is the same in all.
func TestSumsAgree(t *testing.T) {
	for seed := range uint64(300) {
		s := randomSheet(seeded(seed))
		got := Count(s, holes(8))
		var byRow, byShade Counts
		rowGrams, shadeGrams, strands := 0.0, 0.0, 0
		for _, r := range got.Rows {
			byRow.Whole, byRow.Split, byRow.Trimmed = byRow.Whole+r.Whole, byRow.Split+r.Split, byRow.Trimmed+r.Trimmed
			rowGrams += r.Grams
		}
		for _, o := range got.Shades {
			byShade.Whole, byShade.Split, byShade.Trimmed = byShade.Whole+o.Whole, byShade.Split+o.Split, byShade.Trimmed+o.Trimmed
			shadeGrams += o.Grams
			strands += o.Counts.Strands()
			if o.Pack > 0 && (o.Packs*o.Pack+o.Part != o.Counts.Strands() || o.Part >= o.Pack) {
				t.Fatalf("seed %d: %d packs of %d and %d are not %d strands", seed, o.Packs, o.Pack, o.Part, o.Counts.Strands())
			}
			if o.Bonds() == 0 || o.ToBuy()*o.Pack < o.Counts.Strands() && o.Pack > 0 {
				t.Fatalf("seed %d: shade %+v", seed, o)
			}
			// What is worn and the halves left over are all that was opened.
			left := 0.0
			if o.Spare {
				left = o.Shade.Grams / 2
			}
			if !nearly(o.Grams+left, o.Shade.Grams*float64(o.Counts.Strands())) {
				t.Fatalf("seed %d: %g g worn and %g g left of %d strands of %g g", seed, o.Grams, left, o.Counts.Strands(), o.Shade.Grams)
			}
		}
		if byRow != got.Counts || byShade != got.Counts || got.Bonds() != s.Bonds() || strands != got.Strands {
			t.Fatalf("seed %d: by row %+v, by shade %+v, in all %+v; %d bonds, %d strands of %d", seed, byRow, byShade, got.Counts, s.Bonds(), strands, got.Strands)
		}
		if !nearly(rowGrams, got.Grams) || !nearly(shadeGrams, got.Grams) {
			t.Fatalf("seed %d: %g g by row, %g g by shade, %g g in all", seed, rowGrams, shadeGrams, got.Grams)
		}
	}
}

// mirrored is the sheet with left and right changed.
func mirrored(s *sheet.Sheet) *sheet.Sheet {
	m := s.With(func(c *sheet.Sheet) { c.Rows = nil })
	for _, r := range s.Rows {
		at, bonds := r.Place, map[int]sheet.Bond{}
		if at.Along {
			at.At = -at.At
		}
		for slot, b := range r.All() {
			if !at.Along {
				slot = -slot
			}
			bonds[slot] = b
		}
		m = m.WithRow(sheet.NewRow(at, bonds))
	}
	return m
}

// The mirror image takes the same hair and the same strips, laid the other way round.
func TestMirrorImageCountsTheSame(t *testing.T) {
	const spacing = 7
	for seed := range uint64(100) {
		s := randomSheet(seeded(seed))
		a, b := Count(s, holes(spacing)), Count(mirrored(s), holes(spacing))
		if a.Counts != b.Counts || a.Strands != b.Strands || !nearly(a.Grams, b.Grams) || len(a.Rows) != len(b.Rows) || len(a.Shades) != len(b.Shades) {
			t.Fatalf("seed %d: %+v\nthe mirror image: %+v", seed, a, b)
		}
		for i := range a.Shades {
			x, y := a.Shades[i], b.Shades[i]
			x.Grams, y.Grams = 0, 0 // added in another order
			if x != y || !nearly(a.Shades[i].Grams, b.Shades[i].Grams) {
				t.Fatalf("seed %d: %+v\nthe mirror image: %+v", seed, x, y)
			}
		}
		other := map[sheet.Place]OfRow{}
		for _, r := range b.Rows {
			other[r.Place] = r
		}
		for _, r := range a.Rows {
			at := r.Place
			if at.Along {
				at.At = -at.At
			}
			m := other[at]
			first := -r.Strip.First - scalp.MM(r.Strip.Holes-1)*spacing
			if at.Along {
				first = r.Strip.First
			}
			if m.Counts != r.Counts || !nearly(m.Grams, r.Grams) || m.Strip.Holes != r.Strip.Holes || m.Strip.Length != r.Strip.Length || m.Strip.First != first {
				t.Fatalf("seed %d: row %+v\nthe mirror image: %+v", seed, r, m)
			}
		}
	}
}
