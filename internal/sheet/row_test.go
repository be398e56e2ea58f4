package sheet

import (
	"maps"
	"slices"
	"testing"
)

// tight fails unless a row begins and ends with a bond, lies within MaxSlot, and
// has one value for every empty slot.
func tight(t testing.TB, r Row) {
	t.Helper()
	if r.Empty() {
		if r.first != 0 || r.bonds != nil || r.Count() != 0 {
			t.Fatalf("an empty row is %#v", r)
		}
		return
	}
	if !r.Bond(r.First()).Placed() || !r.Bond(r.Last()).Placed() {
		t.Fatalf("%s does not begin and end with a bond", r.Text())
	}
	if r.First() < -MaxSlot || r.Last() > MaxSlot {
		t.Fatalf("the row reaches from %d to %d", r.First(), r.Last())
	}
	for slot := r.First(); slot <= r.Last(); slot++ {
		if b := r.Bond(slot); !b.Placed() && b != (Bond{}) {
			t.Fatalf("the empty slot %d is %#v", slot, b)
		}
	}
}

// A row is what a map from slots to bonds would be.
func TestWithAgainstAMap(t *testing.T) {
	rng := seeded(1)
	for range 400 {
		r, model := Row{Place: at(60), Offset: true}, map[int]Bond{}
		for range 12 {
			if rng.IntN(5) == 0 {
				by := rng.IntN(7) - 3
				r = r.Shifted(by)
				moved := map[int]Bond{}
				for slot, b := range model {
					moved[slot+by] = b
				}
				model = moved
			} else {
				changes := randomChanges(rng)
				r = r.With(changes)
				maps.Copy(model, changes)
				maps.DeleteFunc(model, func(_ int, b Bond) bool { return !b.Placed() })
			}
			tight(t, r)
			if got := maps.Collect(r.All()); !maps.Equal(got, model) {
				t.Fatalf("the row is %v, want %v", got, model)
			}
			for slot := -60; slot <= 60; slot++ {
				if r.Bond(slot) != model[slot] {
					t.Fatalf("slot %d is %v, want %v", slot, r.Bond(slot), model[slot])
				}
			}
			if r.Count() != len(model) || r.Empty() != (len(model) == 0) {
				t.Fatalf("%d bonds, empty %v; want %d", r.Count(), r.Empty(), len(model))
			}
			if again := NewRow(at(60), model); again.first != r.first || !slices.Equal(again.bonds, r.bonds) {
				t.Fatalf("made at once it is %q, step by step %q", again.Text(), r.Text())
			}
		}
		if r.Place != at(60) || !r.Offset {
			t.Fatalf("the row became %+v", r)
		}
	}
}

func TestAllGoesFromLeftToRightAndStops(t *testing.T) {
	r := read(t, "a.A'.(.)z.a")
	var slots []int
	for slot := range r.All() {
		slots = append(slots, slot)
	}
	if want := []int{-4, -2, 1, 3}; !slices.Equal(slots, want) {
		t.Errorf("slots %v, want %v", slots, want)
	}
	for slot := range r.All() {
		if slot != -4 {
			t.Errorf("went on to %d", slot)
		}
		break
	}
}

func TestWithEdges(t *testing.T) {
	r := read(t, "a.(a).a")
	for _, c := range []struct {
		name    string
		changes map[int]Bond
		want    string
	}{
		{"nothing", nil, "a.(a).a"},
		{"an empty slot emptied", map[int]Bond{1: {}}, "a.(a).a"},
		{"a slot far out emptied", map[int]Bond{150: {}, -150: {}}, "a.(a).a"},
		{"an end emptied", map[int]Bond{2: {}}, "a.(a)"},
		{"both ends", map[int]Bond{2: {}, -2: {}}, "(a)"},
		{"all", map[int]Bond{2: {}, 0: {}, -2: {}}, "(.)"},
		{"an empty bond with marks", map[int]Bond{1: {Split: true}, 2: {Trimmed: true}}, "a.(a)"},
		{"a hole with marks", map[int]Bond{0: {Split: true, Trimmed: true}}, "a.(.).a"},
		{"beyond the last slot", map[int]Bond{MaxSlot + 1: wholeA, -MaxSlot - 1: wholeA}, "a.(a).a"},
		{"beyond it, and another", map[int]Bond{MaxSlot + 1: wholeA, -MaxSlot - 1: wholeA, 1: wholeA}, "a.(a)aa"},
	} {
		got := r.With(c.changes)
		tight(t, got)
		if got.Text() != c.want {
			t.Errorf("%s: %q, want %q", c.name, got.Text(), c.want)
		}
		if want := read(t, c.want); !got.Equal(want) {
			t.Errorf("%s: the row is not equal to the same row read from %q", c.name, c.want)
		}
	}
	if got := (Row{}).With(map[int]Bond{MaxSlot + 1: wholeA}); !got.Empty() {
		t.Errorf("a bond beyond the last slot makes %q", got.Text())
	}
	if got := (Row{}).With(map[int]Bond{MaxSlot: wholeA, -MaxSlot: wholeA}); got.Count() != 2 {
		t.Errorf("the outermost slots take %d bonds, want 2", got.Count())
	}
}

func TestShifted(t *testing.T) {
	r := read(t, "a.(A').z")
	for _, by := range []int{0, 1, -1, 5, -30} {
		if got := r.Shifted(by).Shifted(-by); !got.Equal(r) {
			t.Errorf("there and back by %d it is %q", by, got.Text())
		}
	}
	if got, want := r.Shifted(3).Text(), "(.)a.A'.z"; got != want {
		t.Errorf("shifted by 3 it is %q, want %q", got, want)
	}
	if got := (Row{Place: at(60)}).Shifted(4); !got.Equal(Row{Place: at(60)}) {
		t.Errorf("an empty row shifted is %#v", got)
	}
	for _, by := range []int{MaxSlot, 1 << 40, -MaxSlot, -1 << 40} {
		got := r.Shifted(by)
		tight(t, got)
		if got.Count() != r.Count() || got.First() != -MaxSlot && got.Last() != MaxSlot {
			t.Errorf("shifted by %d it reaches from %d to %d with %d bonds", by, got.First(), got.Last(), got.Count())
		}
		if again := read(t, got.Text()); !again.Equal(got) {
			t.Errorf("shifted by %d it can't be read again", by)
		}
	}
}

func TestRowEqual(t *testing.T) {
	r := read(t, "a.(a).a")
	for name, other := range map[string]Row{
		"place":  {Place: at(70), first: r.first, bonds: r.bonds},
		"look":   {Place: r.Place, Look: Volume, first: r.first, bonds: r.bonds},
		"offset": {Place: r.Place, Offset: true, first: r.first, bonds: r.bonds},
		"slots":  r.Shifted(1),
		"bonds":  r.With(map[int]Bond{0: splitA}),
		"count":  r.With(map[int]Bond{3: wholeA}),
	} {
		if r.Equal(other) || other.Equal(r) {
			t.Errorf("rows that differ in %s are equal", name)
		}
	}
	if !r.Equal(read(t, "..a.(a).a.")) {
		t.Error("the same row is not equal")
	}
}

func TestBondWords(t *testing.T) {
	for want, b := range map[string]Bond{
		"empty": {}, "whole": wholeA, "split": splitA, "trimmed": trimmedA, "split, trimmed": bothA,
	} {
		if got := b.String(); got != want {
			t.Errorf("%#v is %q, want %q", b, got, want)
		}
	}
	if (Bond{Split: true, Trimmed: true}).Placed() {
		t.Error("a bond without a shade is placed")
	}
}
