package tally

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// holes is a slot table with holes so far apart, which is all of it that counting needs.
func holes(spacing scalp.MM) *slots.Table {
	t, err := slots.Outline(sheet.New(scalp.Sizes[1].Measures).With(func(c *sheet.Sheet) { c.HoleSpacing = spacing }))
	if err != nil {
		panic(err)
	}
	return t
}

// written is a row of a test: its height, and its bonds as a sheet's file has them.
type written struct {
	at    scalp.MM
	bonds string
}

// sheetOf is a sheet with the given shades and rows.
func sheetOf(t testing.TB, shades []sheet.Shade, rows ...written) *sheet.Sheet {
	t.Helper()
	s := sheet.New(scalp.Sizes[1].Measures).With(func(c *sheet.Sheet) { c.Shades = shades })
	for _, w := range rows {
		r, err := sheet.ParseBonds(sheet.Place{At: w.at}, w.bonds)
		if err != nil {
			t.Fatalf("%q: %v", w.bonds, err)
		}
		s = s.WithRow(r)
	}
	return s
}

func nearly(a, b float64) bool { return math.Abs(a-b) < 1e-9*math.Max(1, math.Abs(a)) }

// seeded is a source of random numbers that repeats from run to run.
func seeded(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 20240229)) }

// randomSheet has a few shades in packs of several sizes, and rows across and along.
func randomSheet(rng *rand.Rand) *sheet.Sheet {
	s := sheet.New(scalp.Sizes[1].Measures)
	var shades []sheet.Shade
	for i := range 1 + rng.IntN(5) {
		shades = append(shades, sheet.Shade{Key: byte('a' + i*3), Grams: 0.5 + 0.1*float64(rng.IntN(6)), Pack: rng.IntN(12)})
	}
	s = s.With(func(c *sheet.Sheet) { c.Shades = shades })
	for range rng.IntN(10) {
		at := sheet.Place{At: scalp.MM(10 * rng.IntN(20))}
		if rng.IntN(4) == 0 {
			at = sheet.Place{Along: true, At: scalp.MM(8 * (rng.IntN(7) - 3))}
		}
		bonds := map[int]sheet.Bond{}
		for range rng.IntN(30) {
			bonds[rng.IntN(61)-30] = sheet.Bond{
				Shade: shades[rng.IntN(len(shades))].Key, Split: rng.IntN(2) == 0, Trimmed: rng.IntN(3) == 0,
			}
		}
		s = s.WithRow(sheet.NewRow(at, bonds))
	}
	return s
}

// fewer is how many of something are tried: all, or with -short some.
func fewer(all, some int) int {
	if testing.Short() {
		return some
	}
	return all
}
