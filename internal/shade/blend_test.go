package shade_test

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"example.org/underveil/internal/shade"
)

// sequence is one order of strands among all there are, for brute force.
type sequence struct {
	kinds, places int
	set           []int // the indices that are in it, ascending
	counts        []int // how often each of them is
	colour        shade.Lab
	difference    float64
}

// xyz is the light of a colour and lab its inverse, from the textbook and written apart from the package.
func xyz(c shade.Lab) [3]float64 {
	fy := (c.L + 16) / 116
	var v [3]float64
	for i, f := range []float64{fy + c.A/500, fy, fy - c.B/200} {
		if f > 6.0/29 {
			v[i] = f * f * f
		} else {
			v[i] = 3 * 36.0 / 841 * (f - 4.0/29)
		}
	}
	return v
}

func lab(v [3]float64) shade.Lab {
	var f [3]float64
	for i := range v {
		if v[i] > math.Pow(6.0/29, 3) {
			f[i] = math.Pow(v[i], 1.0/3)
		} else {
			f[i] = v[i]*841/108 + 4.0/29
		}
	}
	return shade.Lab{L: 116*f[1] - 16, A: 500 * (f[0] - f[1]), B: 200 * (f[1] - f[2])}
}

// allSequences are all ordered sequences of stock up to so many places that have at most so many kinds.
func allSequences(target shade.Lab, stock []shade.Lab, kinds, longest int) []sequence {
	var all []sequence
	for places := 1; places <= longest; places++ {
		for number := range int(math.Pow(float64(len(stock)), float64(places)) + 0.5) {
			often := make([]int, len(stock))
			var sum [3]float64
			for range places { // the digits of the number are the indices
				i := number % len(stock)
				number /= len(stock)
				often[i]++
				for j, v := range xyz(stock[i]) {
					sum[j] += v / float64(places)
				}
			}
			s := sequence{places: places, colour: lab(sum)}
			for i, n := range often {
				if n > 0 {
					s.kinds, s.set, s.counts = s.kinds+1, append(s.set, i), append(s.counts, n)
				}
			}
			if s.kinds <= kinds {
				s.difference = shade.Difference(target, s.colour)
				all = append(all, s)
			}
		}
	}
	return all
}

// preferred compares two sequences that look the same.
func preferred(a, b sequence) int {
	return cmp.Or(cmp.Compare(a.kinds, b.kinds), cmp.Compare(a.places, b.places), slices.Compare(a.set, b.set), -slices.Compare(a.counts, b.counts))
}

// brute is the best of all sequences, and of those that tie with it the preferred one.
func brute(target shade.Lab, stock []shade.Lab, kinds, longest int) sequence {
	all := allSequences(target, stock, kinds, longest)
	least := slices.MinFunc(all, func(a, b sequence) int { return cmp.Compare(a.difference, b.difference) }).difference
	ties := slices.DeleteFunc(all, func(s sequence) bool { return s.difference > least+1e-9 })
	return slices.MinFunc(ties, preferred)
}

// check holds a blend to be what brute force finds.
func check(t *testing.T, target shade.Lab, stock []shade.Lab, kinds, longest int) {
	t.Helper()
	got, want := shade.Best(target, stock, kinds, longest), brute(target, stock, kinds, longest)
	var set, counts []int
	for i := range stock {
		if n := len(got.Repeat) - len(slices.DeleteFunc(slices.Clone(got.Repeat), func(k int) bool { return k == i })); n > 0 {
			set, counts = append(set, i), append(counts, n)
		}
	}
	if !slices.Equal(set, want.set) || !slices.Equal(counts, want.counts) || math.Abs(got.Difference-want.difference) > 1e-9 || !near(got.Colour, want.colour, 1e-9) {
		t.Errorf("%v of %v with %d kinds up to %d: %+v, brute force has %+v", target, stock, kinds, longest, got, want)
	}
	// What it says of itself is so: the shares of its repeat have its colour, and that has its difference.
	var parts []shade.Part
	for _, i := range got.Repeat {
		parts = append(parts, shade.Part{Colour: stock[i], Share: 1})
	}
	if !near(shade.Mix(parts), got.Colour, 1e-11) || shade.Difference(target, got.Colour) != got.Difference {
		t.Errorf("%v of %v: %+v is not what its repeat looks like", target, stock, got)
	}
}

// hair is a colour that hair may have.
func hair(source *rand.Rand) shade.Lab {
	return shade.Lab{L: 15 + 70*source.Float64(), A: 20 * source.Float64(), B: 40 * source.Float64()}
}

// TestBest holds the best blend to be the best of all ordered sequences, with every limit on kinds and places.
func TestBest(t *testing.T) {
	targets, shades := 6, 6
	if testing.Short() {
		targets, shades = 2, 4
	}
	source := rand.New(rand.NewPCG(11, 12))
	for range targets {
		var stock []shade.Lab
		for range shades {
			stock = append(stock, hair(source))
		}
		check(t, hair(source), stock, 3, 6)
		for kinds := 1; kinds <= 3; kinds++ {
			for longest := 1; longest <= 6; longest++ {
				check(t, hair(source), stock[:4], kinds, longest)
			}
		}
	}
}

// TestBestTies has what ties: two strands alike, mixtures that are in stock, and greys of which many mix to one.
func TestBestTies(t *testing.T) {
	grey := func(y float64) shade.Lab { return lab([3]float64{y, y, y}) }
	greys := []shade.Lab{grey(0.1), grey(0.5), grey(0.3), grey(0.5), grey(0.1)}
	for _, y := range []float64{0.1, 0.3, 0.5, 0.2, 0.4, 0.35, 0.25, 0.1 + 0.4/6, 0.6} {
		for kinds := 1; kinds <= 3; kinds++ {
			check(t, grey(y), greys, kinds, 6)
		}
	}
}

// TestBestMixedInStock has mixtures of two shades in stock beside them, which are to be taken in their place although
// rounding makes either the better one.
func TestBestMixedInStock(t *testing.T) {
	source := rand.New(rand.NewPCG(15, 16))
	for range 20 {
		a, b := hair(source), hair(source)
		half := shade.Mix([]shade.Part{{Colour: a, Share: 1}, {Colour: b, Share: 1}})
		third := shade.Mix([]shade.Part{{Colour: a, Share: 1}, {Colour: b, Share: 2}})
		target := shade.Lab{L: half.L + source.Float64(), A: half.A + source.Float64(), B: half.B + source.Float64()}
		check(t, target, []shade.Lab{a, b, half, third}, 3, 5)
		check(t, half, []shade.Lab{a, half, b}, 2, 6)
		check(t, third, []shade.Lab{a, b, b, third}, 2, 4)
	}
}

func TestBestByHand(t *testing.T) {
	black, white := shade.Lab{}, shade.Lab{L: 100}
	third := lab([3]float64{1.0 / 3, 1.0 / 3, 1.0 / 3})
	got := shade.Best(third, []shade.Lab{white, black}, 3, 6)
	if !slices.Equal(got.Repeat, []int{1, 0, 1}) || !near(got.Colour, third, 1e-9) || got.Difference > 1e-9 {
		t.Errorf("a third of white: %+v", got)
	}
	// Limits outside their range become the nearest.
	for _, limits := range [][2]int{{0, 0}, {-3, 6}, {1, 100}} {
		if got := shade.Best(third, []shade.Lab{white, black}, limits[0], limits[1]); len(got.Repeat) != 1 {
			t.Errorf("limits %v: %+v", limits, got)
		}
	}
	if got := shade.Best(third, []shade.Lab{white, black}, 9, 9); !slices.Equal(got.Repeat, []int{1, 0, 1}) {
		t.Errorf("limits too large: %+v", got)
	}
	if got := shade.Best(third, nil, 3, 6); got.Repeat != nil || !math.IsInf(got.Difference, 1) || got.Colour != (shade.Lab{}) {
		t.Errorf("without stock: %+v", got)
	}
}

func BenchmarkBest(b *testing.B) {
	source := rand.New(rand.NewPCG(13, 14))
	var stock []shade.Lab
	for range 30 {
		stock = append(stock, hair(source))
	}
	target := hair(source)
	for b.Loop() {
		shade.Best(target, stock, 3, 6)
	}
}
