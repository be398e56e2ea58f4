package shade

import (
	"iter"
	"math"
)

// The largest blends that are looked for. Common practice, no source: more shades than three in a row, or more than six
// strands before they come again, are not kept in order by hand.
const (
	MostKinds  = 3
	MostPlaces = 6
)

// tie is how close two differences are for neither to be better: far above what rounding does to them, and far below
// what anybody sees.
const tie = 1e-9

// Blend is shades of stock that are set strand by strand in turn.
type Blend struct {
	Repeat     []int   // the index in stock of each strand, until they come again
	Colour     Lab     // what they look like together
	Difference float64 // from what is wanted
}

// Best is the blend that looks most like the target: of at most so many kinds of shade, from 1 to MostKinds, that
// comes again after at most the longest number of strands, from 1 to MostPlaces; numbers outside become the nearest.
// Of equals it is the one with fewer kinds, then the shorter one, then the one with lower indices. Without stock it
// has no strand, and an infinite difference.
func Best(target Lab, stock []Lab, kinds, longest int) Blend {
	lights := make([]light, len(stock))
	for i, c := range stock {
		lights[i] = c.light()
	}
	kinds, longest = max(1, min(kinds, MostKinds)), max(1, min(longest, MostPlaces))
	best := Blend{Difference: math.Inf(1)}
	var chosen, counts []int
	// They are tried from the most preferred on, so that one has to be better to take the place of another.
	for k := 1; k <= min(kinds, len(stock)); k++ {
		for places := k; places <= longest; places++ {
			ratios := ratiosOf(k, places)
			for set := range sets(len(stock), k) {
				for _, ratio := range ratios {
					colour := blended(lights, set, ratio, places)
					if d := Difference(target, colour); d < best.Difference-tie {
						best.Colour, best.Difference = colour, d
						chosen, counts = append(chosen[:0], set...), ratio
					}
				}
			}
		}
	}
	for _, i := range spread(counts) {
		best.Repeat = append(best.Repeat, chosen[i])
	}
	return best
}

// blended is the colour of the shades in a set, with so many places for each of all the places.
func blended(lights []light, set, ratio []int, places int) Lab {
	var sum light
	for i, count := range ratio {
		sum = sum.add(lights[set[i]], float64(count)/float64(places))
	}
	return sum.lab()
}

// sets are the sets of k of the numbers below n, each in ascending order, the lowest first. A set is only to be used
// until the next one comes.
func sets(n, k int) iter.Seq[[]int] {
	return func(yield func([]int) bool) {
		set := make([]int, k)
		var fill func(at, from int) bool
		fill = func(at, from int) bool {
			if at == k {
				return yield(set)
			}
			for i := from; i < n; i++ {
				set[at] = i
				if !fill(at+1, i+1) {
					return false
				}
			}
			return true
		}
		fill(0, 0)
	}
}

// ratiosOf are the ways to give all of the places to so many kinds, at least one to each, with most for the first
// kind first. Left out are those that are a shorter repeat over again, like 2:2 or 4:2.
func ratiosOf(kinds, places int) [][]int {
	var ratios [][]int
	for _, counts := range compositions(kinds, places) {
		common := 0
		for _, count := range counts {
			common = divisor(common, count)
		}
		if common == 1 {
			ratios = append(ratios, counts)
		}
	}
	return ratios
}

// compositions are the ways to write sum as so many numbers above zero, the one with the largest first number first.
func compositions(numbers, sum int) [][]int {
	if numbers == 1 {
		return [][]int{{sum}}
	}
	var all [][]int
	for first := sum - numbers + 1; first >= 1; first-- {
		for _, rest := range compositions(numbers-1, sum-first) {
			all = append(all, append([]int{first}, rest...))
		}
	}
	return all
}

// divisor is the greatest common divisor of two numbers, by Euclid.
func divisor(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
