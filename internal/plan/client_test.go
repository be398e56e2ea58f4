package plan_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// randomClient is a client within the published ranges: tapes about the means of ANSUR II 2012 and NIOSH 2003, by their
// standard deviations and no further than two of them; hair of 90 to 300 hairs/cm² (the people in Barman 1965 and Guo 2017),
// worn and wished for in any way.
func randomClient(rng *rand.Rand) (*sheet.Sheet, *slots.Table) {
	for {
		about := func(mean, sd float64) scalp.MM {
			return scalp.MM(math.Round(mean + sd*math.Max(-2, math.Min(2, rng.NormFloat64()))))
		}
		s := sheet.New(scalp.Measures{Circumference: about(561, 19), EarToEar: about(341, 14), FrontToNape: about(352, 15), NapeWidth: about(106, 8)})
		s = s.With(func(c *sheet.Sheet) {
			c.Hair = sheet.Hair{Length: scalp.MM(80 + rng.IntN(420)), Count: float64(90 + rng.IntN(211))}
			c.Wish, c.Worn, c.Partings = some(rng, sheet.Looks), some(rng, sheet.Wears), nil
			for range 1 + rng.IntN(2) {
				c.Partings = append(c.Partings, scalp.Parting{Right: scalp.MM(5 * (rng.IntN(17) - 8)), Length: scalp.MM(60 + 10*rng.IntN(9))})
			}
			c.Amounts = sheet.Amounts{Length: scalp.MM(400 + 100*rng.IntN(3)), Volume: float64(10 + rng.IntN(30)), Highlights: 10 + rng.IntN(40)}
			c.Shades = []sheet.Shade{{Key: 'a', Name: "oat", Length: 500, Grams: []float64{0.5, 0.8, 1}[rng.IntN(3)], Pack: 25}}
			if rng.IntN(4) == 0 {
				c.KeepOff = []sheet.KeepOff{{Height: scalp.MM(60 + 10*rng.IntN(15)), Right: scalp.MM(rng.IntN(81) - 40), Radius: scalp.MM(8 + rng.IntN(15))}}
			}
		})
		if t, err := slots.For(s, nil); err == nil { // of some tapes no head can be made, which is no client
			return s, t
		}
	}
}

// some is one or more of a list, in any order.
func some[T any](rng *rand.Rand, of []T) []T {
	var picked []T
	for _, i := range rng.Perm(len(of))[:1+rng.IntN(len(of))] {
		picked = append(picked, of[i])
	}
	return picked
}

func seeded(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 20260411)) }

// tableOf is the slot table of a sheet that has to have one.
func tableOf(t testing.TB, s *sheet.Sheet) *slots.Table {
	t.Helper()
	table, err := slots.For(s, nil)
	if err != nil {
		t.Fatal(err)
	}
	return table
}
