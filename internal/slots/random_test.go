package slots

import (
	"errors"
	"testing"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// However the hairline is moved, there is a table of which everything can be asked, or an error.
func TestAnyHairline(t *testing.T) {
	rng := seeded(3)
	made := 0
	for range 25 {
		s := spaced(medium(), scalp.MM(6+rng.IntN(12)), scalp.MM(7+rng.IntN(14)))
		most := 10 + rng.IntN(50)
		for _, l := range scalp.Landmarks() {
			if rng.IntN(2) == 0 {
				by := func() scalp.MM { return scalp.MM(rng.IntN(2*most+1) - most) }
				s = s.WithLandmark(l, scalp.Shift{Right: by(), Up: by()})
			}
		}
		table, err := For(s, nil)
		if err != nil {
			continue
		}
		made++
		askEverything(t, s, table)
	}
	if made < 8 {
		t.Errorf("only %d hairlines had a table", made)
	}
}

func askEverything(t *testing.T, s *sheet.Sheet, table *Table) {
	t.Helper()
	for i, l := range table.Lines {
		if got, err := table.Line(l.Place()); err != nil || got != l || table.Index(l) != i {
			t.Fatalf("%v: %s: error %v, index %d", s.Moved, l.Place(), err, table.Index(l))
		}
		first, last := l.HairEnds()
		if !l.At(first).OnScalp || !l.At(last).OnScalp {
			t.Fatalf("%v: %s has no hair", s.Moved, l.Place())
		}
		if i > 0 {
			table.Gaps(l, table.Lines[i-1])
		}
		if l.ID.Kind == scalp.Level && i > 1 {
			for k := range l.Slots {
				Below(&l.Slots[k], table.Lines[i-2])
			}
		}
	}
	for k := -15; k <= 15; k++ {
		l, err := table.Line(along(scalp.MM(k) * table.Spacing))
		switch {
		case err != nil && !errors.Is(err, ErrNoLine):
			t.Fatalf("%v: error %v", s.Moved, err)
		case err == nil:
			for i := range l.Slots {
				table.checkDrawn(t, l, i)
			}
		}
	}
}
