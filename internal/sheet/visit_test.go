package sheet

import (
	"math/rand/v2"
	"reflect"
	"testing"
)

// Marks are values: With leaves what it is called on as it was.
func TestMarksAreValues(t *testing.T) {
	at := func(slot int) Spot { return Spot{Place{At: 60}, slot} }
	none := Marks(nil)
	one := none.With(at(-2), Sealed)
	two := one.With(at(3), Lost)
	if len(none) != 0 || len(one) != 1 || len(two) != 2 || two[at(-2)] != Sealed || two[at(3)] != Lost {
		t.Fatalf("%v, %v, %v", none, one, two)
	}
	if back := two.With(at(3), NoMark); !reflect.DeepEqual(back, one) {
		t.Errorf("taken back: %v, want %v", back, one)
	}
	if places := two.With(Spot{Place{At: 20}, 0}, Sealed).Places(); !reflect.DeepEqual(places, []Place{{At: 20}, {At: 60}}) {
		t.Errorf("the rows are %v", places)
	}
}

// A mark of something wrong is a capital once it is mended; all others stay as they are.
func TestMending(t *testing.T) {
	for _, info := range SeenMarks {
		mended := info.Mark.Mended()
		switch {
		case info.Mend == "" && (info.Mark.ToMend() || mended != info.Mark):
			t.Errorf("%s is nothing to mend, and becomes %c", info.Words, mended)
		case info.Mend != "" && (!info.Mark.ToMend() || mended.ToMend() || mended.Plain() != info.Mark || mended.Mended() != mended):
			t.Errorf("%s: mended it is %c", info.Words, mended)
		}
		if got, ok := mended.Info(); !ok || got != info {
			t.Errorf("%c is explained as %+v", mended, got)
		}
	}
	for _, bad := range []Mark{NoMark, 'S', 'O', 'z', '.', '?'} {
		if _, ok := bad.Info(); ok || bad.ToMend() {
			t.Errorf("%q is a mark", rune(bad))
		}
	}
	letters := map[Mark]bool{}
	for _, info := range SeenMarks {
		if letters[info.Mark] {
			t.Errorf("%c means two things", info.Mark)
		}
		letters[info.Mark] = true
	}
}

// The rows of a visit stay in map order, are tight, and hold what was put last into each slot.
func TestFittedRows(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	places := []Place{{At: 20}, {At: 60}, {At: 90}, {Along: true, At: -16}, {Along: true, At: 0}}
	var v Visit
	want := map[Spot]Bond{}
	for range 2000 {
		at := Spot{places[r.IntN(len(places))], r.IntN(21) - 10}
		b := Bond{}
		if r.IntN(3) > 0 {
			b = Bond{Shade: "ab"[r.IntN(2)], Split: r.IntN(2) == 0}
			want[at] = b
		} else {
			delete(want, at)
		}
		v = v.WithFitted(at, b)
		n := 0
		for i, row := range v.Fitted {
			if row.Empty() || i > 0 && v.Fitted[i-1].Place.compare(row.Place) >= 0 {
				t.Fatalf("row %d of %v is empty or out of order", i, v.Fitted)
			}
			n += row.Count()
			for slot, b := range row.All() {
				if want[Spot{row.Place, slot}] != b {
					t.Fatalf("%s, slot %d: %v, want %v", row.Place, slot, b, want[Spot{row.Place, slot}])
				}
			}
		}
		if n != len(want) || n == 0 && v.Fitted != nil {
			t.Fatalf("%d bonds, want %d", n, len(want))
		}
	}
}
