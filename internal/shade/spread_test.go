package shade

import (
	"slices"
	"testing"
)

func TestSpread(t *testing.T) {
	for _, c := range []struct{ counts, want []int }{
		{nil, nil}, {[]int{0, 0}, nil}, {[]int{1}, []int{0}}, {[]int{1, 1}, []int{0, 1}}, {[]int{2, 1}, []int{0, 1, 0}}, {[]int{1, 2}, []int{1, 0, 1}},
		{[]int{3, 1}, []int{0, 0, 1, 0}}, {[]int{2, 2}, []int{0, 1, 0, 1}}, {[]int{3, 2}, []int{0, 1, 0, 1, 0}}, {[]int{1, 1, 1}, []int{0, 1, 2}},
		{[]int{2, 1, 1}, []int{0, 1, 0, 2}}, {[]int{3, 2, 1}, []int{0, 1, 0, 2, 0, 1}}, {[]int{1, 2, 3}, []int{2, 1, 2, 0, 2, 1}},
		{[]int{4, 2}, []int{0, 1, 0, 0, 1, 0}}, {[]int{4, 1, 1}, []int{0, 1, 0, 0, 2, 0}}, {[]int{2, 2, 2}, []int{0, 1, 2, 0, 1, 2}},
		{[]int{0, 2, 0, 1}, []int{1, 3, 1}},
	} {
		if got := spread(c.counts); !slices.Equal(got, c.want) {
			t.Errorf("%v: %v, want %v", c.counts, got, c.want)
		}
	}
}

// TestSpreadNeighbours holds all counts that a repeat may have to an order with so many of each, the most frequent
// first, and no two of a kind beside each other where that can be: in a row unless one kind has more than half of the
// places, rounded up, and over and over unless one has more than half.
func TestSpreadNeighbours(t *testing.T) {
	for places := 2; places <= MostPlaces; places++ {
		for kinds := 1; kinds <= MostKinds && kinds <= places; kinds++ {
			for _, counts := range compositions(kinds, places) {
				order, most := spread(counts), slices.Max(counts)
				for kind, count := range counts {
					if got := len(order) - len(slices.DeleteFunc(slices.Clone(order), func(k int) bool { return k == kind })); got != count {
						t.Errorf("%v: %v has %d of kind %d", counts, order, got, kind)
					}
				}
				if counts[order[0]] != most {
					t.Errorf("%v: %v does not start with the most frequent", counts, order)
				}
				for i := range order {
					alike := order[i] == order[(i+1)%places]
					last := i == places-1
					if alike && (last && 2*most <= places || !last && most <= (places+1)/2) {
						t.Errorf("%v: %v has two of a kind beside each other", counts, order)
					}
				}
			}
		}
	}
}

// TestRatios counts them: of two kinds 11 up to six places, and of three 19.
func TestRatios(t *testing.T) {
	for kinds, want := range map[int]int{1: 1, 2: 11, 3: 19} {
		got := 0
		for places := kinds; places <= MostPlaces; places++ {
			got += len(ratiosOf(kinds, places))
		}
		if got != want {
			t.Errorf("%d ratios of %d kinds, want %d", got, kinds, want)
		}
	}
	if got := ratiosOf(2, 6); len(got) != 2 || !slices.Equal(got[0], []int{5, 1}) || !slices.Equal(got[1], []int{1, 5}) {
		t.Errorf("two kinds in six places: %v", got)
	}
}
