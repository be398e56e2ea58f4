package fall_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/underveil/internal/fall"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// somePlaces are slots with hair of random lines.
func somePlaces(rng *rand.Rand, table *slots.Table, n int) []scalp.Vec {
	var places []scalp.Vec
	for len(places) < n {
		l := table.Lines[rng.IntN(len(table.Lines))]
		if on := &l.Slots[rng.IntN(len(l.Slots))]; on.OnScalp {
			places = append(places, on.Point)
		}
	}
	return places
}

// TestLinesAreTheShortest holds the line to a place to the shortest of those that brute force finds: shot from all along
// the source and all round its ends, and kept where they pass within a millimetre of the place.
func TestLinesAreTheShortest(t *testing.T) {
	longer, all, most := 0, 0, 0.0
	heads(t, 2, 20, func(rng *rand.Rand, s *sheet.Sheet, table *slots.Table) {
		if len(s.Partings) == 0 || s.Partings[0].Length < 20 {
			return
		}
		w := table.Worn(slots.Way{Wear: sheet.WornDown})
		head, parting := table.Head, table.Zones.Partings[0].Points()
		places := somePlaces(rng, table, 30)
		least := make([]float64, len(places))
		for i := range least {
			least[i] = math.Inf(1)
		}
		try := func(p, dir scalp.Vec) {
			at := head.Leave(p, dir)
			for far := 0.0; far < 220; far++ {
				for i, q := range places {
					if off := q.Minus(at.Point).Length(); off < 1 {
						least[i] = math.Min(least[i], far)
					}
				}
				at = head.Follow(at, 1)
			}
		}
		for k := 1; k < len(parting); k++ {
			for _, part := range [3]float64{0, 1. / 3, 2. / 3} {
				p := head.Settle(parting[k-1].Times(1-part).Along(parting[k], part))
				left := head.Normal(p).Cross(parting[k].Minus(parting[k-1]))
				try(p, left)
				try(p, left.Times(-1))
			}
		}
		for i, q := range places {
			if math.IsInf(least[i], 1) {
				continue // its line comes from the way to the whorl, or round an end
			}
			line := w.Falls.To(q)
			all++
			over := float64(line.Length()) - least[i]
			if over > 2 {
				longer++
			}
			most = math.Max(most, over)
		}
	})
	t.Logf("%d of %d lines are more than 2 mm longer than the shortest seen, by up to %.1f mm", longer, all, most)
	if all < 20 && !testing.Short() || longer > all/100+1 {
		t.Errorf("%d of %d lines are not the shortest", longer, all)
	}
}

// TestWorkingAddsUp holds the samples of a working to the depth that they are said to add up to, and that to the cover.
func TestWorkingAddsUp(t *testing.T) {
	heads(t, 3, 40, func(rng *rand.Rand, s *sheet.Sheet, table *slots.Table) {
		own := table.Own()
		if rng.IntN(2) == 0 {
			own.Length = scalp.MM(60 + rng.IntN(200))
		}
		for _, way := range slots.Ways(s) {
			w := table.Worn(way)
			for _, p := range somePlaces(rng, table, 5) {
				c := w.At(p, own)
				for time := range fall.Weeks {
					k := w.Working(p, own, time)
					if k.Depth != c.Depth[time] || k.Tied != c.Tied || k.Line != c.Line {
						t.Fatalf("%s: the working comes to %g mm, the cover is %g", way.In(s), float64(k.Depth), float64(c.Depth[time]))
					}
					if own.Length > 0 {
						reaches(t, &k, own, own.Hang[time])
					}
					sum := 0.0
					for i := 1; i < len(k.Samples); i++ {
						a, b := k.Samples[i-1], k.Samples[i]
						sum += float64(b.At-a.At) * (a.Share*a.Ratio + b.Share*b.Ratio) / 2
					}
					if off := math.Abs(sum - float64(k.Depth)); off > 1e-6 {
						t.Errorf("%s: the samples add up to %.4f mm, not %.4f", way.In(s), sum, float64(k.Depth))
					}
				}
			}
		}
	})
}

// reaches holds the roots that a working counts to hair that is long enough: falling, to reach past where the bond hangs;
// tied, to reach past the tie.
func reaches(t *testing.T, k *fall.Working, own fall.Own, hang scalp.MM) {
	t.Helper()
	for _, s := range k.Samples {
		needs := k.Line - s.At + hang
		if k.Tied {
			needs = s.At
		}
		if needs+own.Past > own.Length+1e-9 && s.Ratio*s.Share > 0 && s.At != k.Line {
			t.Errorf("hair rooted at %.1f of %.1f mm counts, tied %v: %g mm do not reach it and %g mm on", float64(s.At), float64(k.Line), k.Tied, float64(own.Length), float64(own.Past))
		}
	}
	if first := k.Line + hang + own.Past - own.Length; !k.Tied && first > 0 && first < k.Line && math.Abs(float64(k.Samples[0].At-first)) > 1e-9 {
		t.Errorf("roots count from %.2f mm, want %.2f", float64(k.Samples[0].At), float64(first))
	}
}

// TestMoreHairCoversMore: longer hair never covers less, hair that has to reach further never more, and the longest as
// much as the cover says that hair long enough would.
func TestMoreHairCoversMore(t *testing.T) {
	const alike = 0.03 // mm: where hair ends on a line is sought to 0.02
	less := 0
	heads(t, 4, 60, func(rng *rand.Rand, s *sheet.Sheet, table *slots.Table) {
		for _, way := range slots.Ways(s) {
			w := table.Worn(way)
			for _, p := range somePlaces(rng, table, 4) {
				own := fall.Own{Length: scalp.MM(40 + rng.IntN(250)), Past: scalp.MM(rng.IntN(50)), Hang: fall.Times{5, 19.7, 24.6}}
				longer, further := own, own
				longer.Length += scalp.MM(1 + rng.IntN(80))
				further.Past += scalp.MM(1 + rng.IntN(40))
				base, long, far := w.At(p, own), w.At(p, longer), w.At(p, further)
				if full := w.At(p, fall.Own{Hang: own.Hang}); !base.Tied && base.Full != full.Depth {
					t.Errorf("%s: hair long enough would cover %v, and is said to cover %v", way.In(s), full.Depth, base.Full)
				}
				for time := range base.Depth {
					if long.Depth[time] < base.Depth[time]-alike {
						t.Errorf("%s: %g mm of hair cover %g, and %g mm only %g", way.In(s), float64(own.Length), float64(base.Depth[time]), float64(longer.Length), float64(long.Depth[time]))
					}
					if far.Depth[time] > base.Depth[time]+alike {
						t.Errorf("%s: hair that has to reach further covers more", way.In(s))
					}
					if long.Depth[time] > base.Depth[time]+1 {
						less++
					}
				}
			}
		}
	})
	if less < 20 && !testing.Short() {
		t.Errorf("hair was too short for %d covers only", less)
	}
}

// TestCoversMirror holds the covers of a head mirrored left to right, with its partings and turns, to the mirror image.
func TestCoversMirror(t *testing.T) {
	heads(t, 5, 60, func(rng *rand.Rand, s *sheet.Sheet, table *slots.Table) {
		across := s.With(func(c *sheet.Sheet) {
			c.Partings, c.Turns = nil, map[sheet.Turn]scalp.Shift{}
			for _, p := range s.Partings {
				c.Partings = append(c.Partings, scalp.Parting{Right: -p.Right, Length: p.Length})
			}
			for turn, by := range s.Turns {
				c.Turns[turn] = by.Mirrored()
			}
		})
		mirrored, err := slots.Outline(across)
		if err != nil {
			t.Fatal(err)
		}
		for _, way := range slots.Ways(s) {
			for _, p := range somePlaces(rng, table, 4) {
				a := table.Worn(way).At(p, table.Own())
				b := mirrored.Worn(way).At(scalp.Vec{X: -p.X, Y: p.Y, Z: p.Z}, mirrored.Own())
				// Lines are sought to 0.02 mm, and a change of a millimetre in where a line from a tie
				// comes to is one of 0.1 mm at the bond.
				for time := range a.Depth {
					if off := math.Abs(float64(a.Depth[time] - b.Depth[time])); off > 0.5 {
						t.Errorf("%s at %v: %.3f mm, and in the mirror %.3f", way.In(s), p, float64(a.Depth[time]), float64(b.Depth[time]))
					}
				}
				if math.Abs(float64(a.Line-b.Line)) > 0.05 || math.Abs(a.Aside-b.Aside) > 0.5 {
					t.Errorf("%s at %v: %+v, and in the mirror %+v", way.In(s), p, a, b)
				}
			}
		}
	})
}

// TestOnTheParting: a bond right on a parting, on the way from it to the whorl or on the whorl has nothing over it.
func TestOnTheParting(t *testing.T) {
	heads(t, 6, 40, func(rng *rand.Rand, s *sheet.Sheet, table *slots.Table) {
		for i, parting := range table.Zones.Partings {
			if s.Partings[i].Length < 20 {
				continue
			}
			w := table.Worn(slots.Way{Wear: sheet.WornDown, Parting: i})
			points := parting.Points()
			for _, p := range []scalp.Vec{points[len(points)/3], points[len(points)/2], points[len(points)-1]} {
				if c := w.At(p, table.Own()); c.Depth[0] > 0.1 {
					t.Errorf("%g mm over a bond on the %s", float64(c.Depth[0]), s.Partings[i])
				}
			}
		}
	})
}

// BenchmarkCover is what lies over one slot, worn down and in a ponytail.
func BenchmarkCover(b *testing.B) {
	s := sheet.New(scalp.Sizes[1].Measures)
	table, err := slots.Outline(s)
	if err != nil {
		b.Fatal(err)
	}
	places := somePlaces(seeded(7), table, 256)
	for _, way := range slots.Ways(s) {
		w := table.Worn(way)
		b.Run(way.In(s), func(b *testing.B) {
			for i := range b.N {
				w.At(places[i%len(places)], table.Own())
			}
		})
	}
}
