package lesson

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// fitSeeded is a source of random numbers that repeats from run to run.
func fitSeeded(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 20240229)) }

// fitFewer is how many of something are tried: all, or with -short some.
func fitFewer(all, some int) int {
	if testing.Short() {
		return some
	}
	return all
}

// randomMatches are some planned bonds with made ones within their reach, at costs of 0 to 9 so that many ways are as good, or of any.
func randomMatches(rng *rand.Rand, planned, made int) (matches [][]match, alone int64) {
	most := int64(10)
	if rng.IntN(2) == 0 {
		most = 1e9
	}
	share := rng.Float64()
	matches = make([][]match, planned)
	for i := range matches {
		for j := range made {
			if rng.Float64() < share {
				matches[i] = append(matches[i], match{j, rng.Int64N(most)})
			}
		}
	}
	return matches, most
}

// sumOf is what a pairing costs; it fails where one is no pairing.
func sumOf(t *testing.T, matches [][]match, alone int64, plan []int) int64 {
	t.Helper()
	sum, used := int64(0), map[int]bool{}
	for i, j := range plan {
		if j < 0 {
			sum += alone
			continue
		}
		k := slices.IndexFunc(matches[i], func(m match) bool { return m.made == j })
		if k < 0 || used[j] {
			t.Fatalf("%v: %d is paired with %d in %v", matches, i, j, plan)
		}
		used[j] = true
		sum += matches[i][k].cost
	}
	return sum
}

// cheapest is what the best pairing costs, over every choice of partners one after another.
func cheapest(matches [][]match, alone int64, i int, used []bool) int64 {
	if i == len(matches) {
		return 0
	}
	best := alone + cheapest(matches, alone, i+1, used)
	for _, m := range matches[i] {
		if !used[m.made] {
			used[m.made] = true
			best = min(best, m.cost+cheapest(matches, alone, i+1, used))
			used[m.made] = false
		}
	}
	return best
}

// Against every pairing that there is.
func TestPairUpAgainstBruteForce(t *testing.T) {
	rng := fitSeeded(1)
	for range fitFewer(6000, 1000) {
		planned, made := rng.IntN(6), rng.IntN(7)
		matches, alone := randomMatches(rng, planned, made)
		got := sumOf(t, matches, alone, pairUp(matches, made, alone))
		if want := cheapest(matches, alone, 0, make([]bool, made)); got != want {
			t.Fatalf("%v, alone %d: %d, and %d can be had", matches, alone, got, want)
		}
	}
}

// Against the best over every set of made bonds that the first planned ones may have used, for larger cases.
func TestPairUpAgainstSubsets(t *testing.T) {
	rng := fitSeeded(2)
	for range fitFewer(60, 10) {
		planned, made := 10+rng.IntN(30), 10+rng.IntN(3)
		matches, alone := randomMatches(rng, planned, made)
		best := make([]int64, 1<<made) // by what is used
		for i := range best {
			best[i] = int64(planned) * alone * 2
		}
		best[0] = 0
		for i := range matches {
			next := make([]int64, len(best))
			for set := range best {
				next[set] = best[set] + alone
				for _, m := range matches[i] {
					if set>>m.made&1 == 1 {
						next[set] = min(next[set], best[set&^(1<<m.made)]+m.cost)
					}
				}
			}
			best = next
		}
		want := slices.Min(best)
		if got := sumOf(t, matches, alone, pairUp(matches, made, alone)); got != want {
			t.Fatalf("%d with %d: %d, and %d can be had", planned, made, got, want)
		}
	}
}

// Of two made bonds as near, the first on the map is taken.
func TestPairUpTakesTheFirstOfTwoAsGood(t *testing.T) {
	got := pairUp([][]match{{{0, 5}, {1, 5}}, {{1, 7}, {2, 7}}}, 3, 10)
	if !slices.Equal(got, []int{0, 1}) {
		t.Errorf("paired %v", got)
	}
	// What costs exactly as much as being alone is still a pair.
	if got := pairUp([][]match{{{0, 10}}}, 1, 10); got[0] != 0 {
		t.Errorf("a pair at the end of the reach is left alone: %v", got)
	}
}

// A change at one end is carried through to the other where that costs least, and not where it does not.
func TestPairUpALongRow(t *testing.T) {
	const n = 200
	var matches [][]match
	for i := range n {
		matches = append(matches, []match{{i, 0}, {i + 1, 400}})
	}
	plan := pairUp(matches, n+1, 1000)
	for i, j := range plan {
		if i != j {
			t.Fatalf("%d is paired with %d", i, j)
		}
	}
	matches[0] = []match{{1, 400}} // the first has only the place of the second: cheaper alone than all moved along
	plan = pairUp(matches, n+1, 1000)
	if plan[0] != -1 || plan[1] != 1 {
		t.Errorf("the first is paired with %d, the second with %d", plan[0], plan[1])
	}
	for i := range matches {
		matches[i] = []match{{i, 0}, {i + 1, 1}}
	}
	matches[0] = []match{{1, 1}} // now all moved along cost less
	plan = pairUp(matches, n+1, 1000)
	for i, j := range plan {
		if j != i+1 {
			t.Fatalf("where one along is as good as any, %d is paired with %d", i, j)
		}
	}
}
