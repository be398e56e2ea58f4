package retention

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// seeded is a source of random numbers that repeats from run to run.
func seeded(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 20261126)) }

// spot is a slot of a row across.
func spot(height scalp.MM, slot int) sheet.Spot {
	return sheet.Spot{At: sheet.Place{At: height}, Slot: slot}
}

// rows are rows across by their heights.
func rows(t testing.TB, bonds map[scalp.MM]string) []sheet.Row {
	t.Helper()
	s := blank()
	for at, text := range bonds {
		r, err := sheet.ParseBonds(sheet.Place{At: at}, text)
		if err != nil {
			t.Fatalf("%q: %v", text, err)
		}
		s = s.WithRow(r)
	}
	return s.Rows
}

// blank is an ordinary head with two shades.
func blank() *sheet.Sheet {
	return sheet.New(scalp.Sizes[1].Measures).With(func(c *sheet.Sheet) {
		c.Shades = []sheet.Shade{{Key: 'a', Name: "oat", Length: 500, Grams: 0.8, Pack: 25}, {Key: 'b', Name: "rye crust", Length: 500, Grams: 0.8, Pack: 25}}
	})
}

// table is the slot table of blank.
func table(t testing.TB) *slots.Table {
	t.Helper()
	table, err := slots.For(blank(), nil)
	if err != nil {
		t.Fatal(err)
	}
	return table
}

// client is a client with three cycles, whose bonds near the temples hold badly.
func client(t testing.TB) *sheet.Sheet {
	t.Helper()
	rng := seeded(3)
	s := blank()
	for at, text := range map[scalp.MM]string{
		60:  "a.a.b.a.a.b.a.(a).a.b.a.a.b.a.a",
		80:  "a.a.b.a.a.b.a.a.(b).a.a.b.a.a.b.a.a",
		100: "a.a.b.a.a.b.a.a.(b).a.a.b.a.a.b.a.a",
		150: "a'.a'.B'.a.a.b.a.a.b.a.(.).a.b.a.a.b.a.a.B'.a'.a'",
	} {
		r, err := sheet.ParseBonds(sheet.Place{At: at}, text)
		if err != nil {
			t.Fatal(err)
		}
		s = s.WithRow(r)
	}
	visits := []sheet.Visit{
		{Kind: sheet.Fitting, Date: "2026-03-02", Fitted: s.Rows},
		{Kind: sheet.Inspection, Date: "2026-03-14"},
		{Kind: sheet.Refit, Date: "2026-04-27", Fitted: s.Rows},
		{Kind: sheet.Inspection, Date: "2026-05-09"},
		{Kind: sheet.Refit, Date: "2026-06-20", Fitted: s.Rows},
		{Kind: sheet.Inspection, Date: "2026-06-30", Open: true},
	}
	for n := range visits {
		if n%2 == 0 {
			continue
		}
		for _, r := range s.Rows {
			for slot := range r.All() {
				at, lost := sheet.Spot{At: r.Place, Slot: slot}, 0.03
				if r.At == 150 && (slot < -14 || slot > 14) {
					lost = 0.5
				}
				switch x := rng.Float64(); {
				case x < lost:
					visits[n].Seen = visits[n].Seen.With(at, sheet.Lost)
				case x < lost+0.03:
					visits[n].Seen = visits[n].Seen.With(at, sheet.Slipped)
				case visits[n].Open && r.At > 70:
				case visits[n].Open:
					visits[n].Seen = visits[n].Seen.With(at, sheet.Sealed)
				}
			}
		}
	}
	return s.With(func(c *sheet.Sheet) { c.Visits = visits })
}

// randomClient has visits as anything may record them.
func randomClient(rng *rand.Rand) *sheet.Sheet {
	letters := "aabA'"
	kinds := sheet.VisitKinds
	marks := []sheet.Mark{sheet.Sealed, sheet.Slipped, sheet.Lost, sheet.Lost.Mended(), sheet.TakenOut, sheet.SealAgain, sheet.TooNear.Mended()}
	heights := []scalp.MM{40, 60, 150, 200, 990}
	var visits []sheet.Visit
	day := 1
	for n := range 1 + rng.IntN(7) {
		day += rng.IntN(3) // some on the same day
		v := sheet.Visit{Kind: kinds[rng.IntN(len(kinds))], Date: fmt.Sprintf("2026-01-%02d", day)}
		v.Open = n > 2 && rng.IntN(4) == 0
		for range rng.IntN(40) {
			at := spot(heights[rng.IntN(len(heights))], rng.IntN(7)-3)
			v.Seen = v.Seen.With(at, marks[rng.IntN(len(marks))])
		}
		for range rng.IntN(30) {
			at := spot(heights[rng.IntN(len(heights))], rng.IntN(7)-3)
			if rng.IntN(6) == 0 {
				at.At = sheet.Place{Along: true, At: scalp.MM(8 * (rng.IntN(5) - 2))}
			}
			b := sheet.Bond{Shade: letters[rng.IntN(3)], Split: rng.IntN(4) == 0, Trimmed: rng.IntN(4) == 0}
			if rng.IntN(30) == 0 {
				b.Shade = 'q' // no shade of the sheet
			}
			v = v.WithFitted(at, b)
		}
		visits = append(visits, v)
	}
	return blank().With(func(c *sheet.Sheet) { c.Visits = visits })
}
