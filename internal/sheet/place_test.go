package sheet

import (
	"math"
	"slices"
	"testing"

	"example.org/underveil/internal/scalp"
)

// ordered are places as the map has them.
var ordered = []Place{
	at(0), at(10), at(12.5), at(60), at(350),
	along(-48), along(-8), along(0), along(8), along(40),
}

func TestPlaceOrder(t *testing.T) {
	for i, p := range ordered {
		for k, q := range ordered {
			want := 0
			if i != k {
				want = (i - k) / max(i-k, k-i)
			}
			if got := p.compare(q); got != want {
				t.Errorf("%s against %s: %d, want %d", p, q, got, want)
			}
		}
	}
}

func TestPlaceWords(t *testing.T) {
	for want, p := range map[string]Place{
		"height 60": at(60), "height 0": at(0), "height 12.5": at(12.5),
		"front to back, 24 right": along(24), "front to back, 8 left": along(-8), "front to back, middle": along(0),
		"front to back, 4.5 left": along(-4.5),
	} {
		if got := p.String(); got != want {
			t.Errorf("%#v is %q, want %q", p, got, want)
		}
	}
	if got := along(scalp.MM(math.Copysign(0, -1))).String(); got != "front to back, middle" {
		t.Errorf("minus zero is %q", got)
	}
}

// However rows are put in, they lie in the order of the map, one to a place.
func TestRowsStayInOrder(t *testing.T) {
	rng := seeded(2)
	for range 200 {
		s, model := New(scalp.Sizes[1].Measures), map[Place]string{}
		for range 30 {
			p := ordered[rng.IntN(len(ordered))]
			r := NewRow(p, randomChanges(rng))
			s = s.WithRow(r)
			if r.Empty() {
				delete(model, p)
			} else {
				model[p] = r.Text()
			}
			if !slices.IsSortedFunc(s.Rows, func(a, b Row) int { return a.Place.compare(b.Place) }) {
				t.Fatalf("the rows are out of order: %v", s.Rows)
			}
			if len(s.Rows) != len(model) {
				t.Fatalf("%d rows, want %d", len(s.Rows), len(model))
			}
			for _, q := range ordered {
				row, ok := s.Row(q)
				text, has := model[q]
				if ok != has || row.Place != q || ok && row.Text() != text {
					t.Fatalf("at %s: %v %q, want %v %q", q, ok, row.Text(), has, text)
				}
				if got := s.Bond(q, 3); got != row.Bond(3) {
					t.Fatalf("slot 3 at %s is %v, want %v", q, got, row.Bond(3))
				}
			}
		}
	}
}

func TestBondsCountsAllRows(t *testing.T) {
	s := New(scalp.Sizes[1].Measures)
	if s.Bonds() != 0 {
		t.Errorf("a new sheet has %d bonds", s.Bonds())
	}
	for i, text := range []string{"a.(A').a", "(a)", "a'(.)aa"} {
		r, _ := ParseBonds(at(scalp.MM(10*i)), text)
		s = s.WithRow(r)
	}
	if s.Bonds() != 7 {
		t.Errorf("%d bonds, want 7", s.Bonds())
	}
}
