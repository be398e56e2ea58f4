package sheet

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"example.org/underveil/internal/scalp"
)

// seeded is a source of random numbers that repeats from run to run.
func seeded(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 20240229)) }

// at is a level or ear-to-ear row's place, along one front to back.
func at(height scalp.MM) Place   { return Place{At: height} }
func along(right scalp.MM) Place { return Place{Along: true, At: right} }

// read is the row of a string that has to be right.
func read(t testing.TB, text string) Row {
	t.Helper()
	r, err := ParseBonds(at(60), text)
	if err != nil {
		t.Fatalf("%q: %v", text, err)
	}
	return r
}

func randomBond(rng *rand.Rand) Bond {
	return Bond{Shade: byte('a' + rng.IntN(4)), Split: rng.IntN(3) == 0, Trimmed: rng.IntN(3) == 0}
}

// randomChanges are some slots near a middle, about a third of them emptied.
func randomChanges(rng *rand.Rand) map[int]Bond {
	changes := map[int]Bond{}
	middle := rng.IntN(41) - 20
	for range rng.IntN(8) {
		b := randomBond(rng)
		if rng.IntN(3) == 0 {
			b = Bond{}
		}
		changes[middle+rng.IntN(15)-7] = b
	}
	return changes
}

func randomPlace(rng *rand.Rand) Place {
	if rng.IntN(4) == 0 {
		return along(scalp.MM(8 * (rng.IntN(5) - 2)))
	}
	return at(scalp.MM(10 * rng.IntN(8)))
}

// randomEdit is a sheet after one random edit, and what it was.
func randomEdit(rng *rand.Rand, s *Sheet) (*Sheet, string) {
	place := randomPlace(rng)
	switch rng.IntN(14) {
	case 0, 1, 2:
		changes := randomChanges(rng)
		return s.WithBonds(place, changes), fmt.Sprintf("bonds %v at %s", changes, place)
	case 3, 4:
		slot, b := rng.IntN(61)-30, randomBond(rng)
		return s.WithBond(place, slot, b), fmt.Sprintf("bond %v in slot %d at %s", b, slot, place)
	case 5:
		return s.WithRow(Row{Place: place}), "no row at " + place.String()
	case 6:
		r, _ := s.Row(place)
		by := rng.IntN(5) - 2
		return s.WithRow(r.Shifted(by)), fmt.Sprintf("row at %s shifted by %d", place, by)
	case 7:
		r, _ := s.Row(place)
		r.Offset, r.Look = !r.Offset, Looks[rng.IntN(len(Looks))]
		return s.WithRow(r), "look of the row at " + place.String()
	case 8:
		size := scalp.Sizes[rng.IntN(len(scalp.Sizes))]
		return s.With(func(c *Sheet) { c.Measures = size.Measures }), size.Name
	case 9:
		l := scalp.Landmarks()[rng.IntN(20)]
		by := scalp.Shift{Right: scalp.MM(rng.IntN(3) - 1), Up: scalp.MM(rng.IntN(3) - 1)}
		return s.WithLandmark(l, by), fmt.Sprintf("%s moved by %v", l, by)
	case 10:
		l := Limits[rng.IntN(len(Limits))]
		if rng.IntN(2) == 0 {
			return s.WithoutLimit(l.Name), "default " + string(l.Name)
		}
		return s.WithLimit(l.Name, l.Low+1), "limit " + string(l.Name)
	case 11:
		a := Accepted{Concern: Concern{Rule: "nape", Row: place, On: OnRow}, Reason: fmt.Sprint(rng.IntN(100))}
		return s.WithAccepted(a), "accepted at " + place.String()
	case 12:
		return s.WithoutAccepted(Concern{Rule: "nape", Row: place, On: OnRow}), "no acceptance at " + place.String()
	}
	title := fmt.Sprint("sheet ", rng.IntN(100))
	return s.With(func(c *Sheet) {
		c.Title = title
		c.Worn = append([]Wear{WornHalfUp}, c.Worn...)
		c.Shades = append([]Shade{{Key: 'b', Name: title}}, c.Shades...)
	}), title
}

// whole is all that a sheet holds, down to every bond, as text.
func whole(s *Sheet) string { return fmt.Sprintf("%#v", *s) }
