package slots

import (
	"math"
	"math/rand/v2"
	"sync"
	"testing"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// seeded is a source of random numbers that repeats from run to run.
func seeded(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 20240229)) }

// medium is a new sheet for the default head of a woman.
func medium() *sheet.Sheet { return sheet.New(scalp.Sizes[1].Measures) }

// spaced is the sheet with another hole spacing and line gap.
func spaced(s *sheet.Sheet, spacing, gap scalp.MM) *sheet.Sheet {
	return s.With(func(c *sheet.Sheet) { c.HoleSpacing, c.LineGap = spacing, gap })
}

// made are the tables of must, for a sheet never changes.
var made = map[*sheet.Sheet]*Table{}

// must is the table of a sheet that has to have one.
func must(t testing.TB, s *sheet.Sheet) *Table {
	t.Helper()
	if made[s] == nil {
		made[s] = fresh(t, s)
	}
	return made[s]
}

// fresh is a new table of a sheet that has to have one.
func fresh(t testing.TB, s *sheet.Sheet) *Table {
	t.Helper()
	table, err := For(s, nil)
	if err != nil {
		t.Fatalf("%+v: %v", s.Measures, err)
	}
	return table
}

// line is a line that the table has to have.
func (t *Table) line(tb testing.TB, at sheet.Place) *Line {
	tb.Helper()
	l, err := t.Line(at)
	if err != nil {
		tb.Fatal(err)
	}
	return l
}

func level(height scalp.MM) sheet.Place { return sheet.Place{At: height} }
func along(right scalp.MM) sheet.Place  { return sheet.Place{Along: true, At: right} }

// alongs are the front-to-back lines of a table, left to right.
func (t *Table) alongs() []*Line {
	var all []*Line
	for k := 0; ; k++ {
		right, err := t.Line(along(scalp.MM(k) * t.Spacing))
		left, errLeft := t.Line(along(scalp.MM(-k) * t.Spacing))
		if err == nil && k > 0 {
			all = append(all, right)
		}
		if errLeft == nil {
			all = append([]*Line{left}, all...)
		}
		if err != nil && errLeft != nil {
			return all
		}
	}
}

// heads are the default sizes and some others with a lopsided hairline, partings
// and patches.
var heads = sync.OnceValue(func() []*sheet.Sheet {
	var all []*sheet.Sheet
	for _, size := range scalp.Sizes {
		all = append(all, sheet.New(size.Measures))
	}
	rng := seeded(1)
	for len(all) < len(scalp.Sizes)+3 {
		m := scalp.Sizes[rng.IntN(len(scalp.Sizes))].Measures
		m.Circumference += scalp.MM(rng.IntN(21) - 10)
		m.EarToEar += scalp.MM(rng.IntN(21) - 10)
		m.FrontToNape += scalp.MM(rng.IntN(21) - 10)
		m.NapeWidth += scalp.MM(rng.IntN(11) - 5)
		s := lopsided(sheet.New(m))
		if _, err := For(s, nil); err == nil {
			all = append(all, s)
		}
	}
	return all
})

// lopsided is the sheet with all that a hairline, partings and patches can have
// on one side only.
func lopsided(s *sheet.Sheet) *sheet.Sheet {
	mark := func(name string, side scalp.Side) scalp.Landmark { return scalp.Landmark{Name: name, Side: side} }
	s = s.WithLandmark(mark(scalp.NapeCentre, scalp.Middle), scalp.Shift{Right: 4, Up: 3}).
		WithLandmark(mark(scalp.RecessionCorner, scalp.Left), scalp.Shift{Right: -6, Up: 5}).
		WithLandmark(mark(scalp.EarTop, scalp.Right), scalp.Shift{Right: 2, Up: 7}).
		WithLandmark(mark(scalp.NapeCorner, scalp.Right), scalp.Shift{Right: -5, Up: -2})
	return s.With(func(c *sheet.Sheet) {
		c.Partings = []scalp.Parting{{Right: 32, Length: 110}, {Right: -20, Length: 70}}
		c.KeepOff = []sheet.KeepOff{{Height: 70, Right: -45, Radius: 12}, {Height: 260, Right: 30, Radius: 8}}
	})
}

// mirrored is the sheet with left and right changed.
func mirrored(s *sheet.Sheet) *sheet.Sheet {
	return s.With(func(c *sheet.Sheet) {
		c.Moved, c.Partings, c.KeepOff = map[scalp.Landmark]scalp.Shift{}, nil, nil
		for l, by := range s.Moved {
			l.Side = -l.Side
			c.Moved[l] = by.Mirrored()
		}
		for _, p := range s.Partings {
			p.Right = -p.Right
			c.Partings = append(c.Partings, p)
		}
		for _, k := range s.KeepOff {
			k.Right = -k.Right
			c.KeepOff = append(c.KeepOff, k)
		}
	})
}

// chord is the straight distance between two points, in mm.
func chord(p, q scalp.Vec) float64 {
	return math.Hypot(math.Hypot(p.X-q.X, p.Y-q.Y), p.Z-q.Z)
}

func infinite(d scalp.MM) bool { return math.IsInf(float64(d), 1) }
