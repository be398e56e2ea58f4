package shade_test

import (
	"encoding/csv"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"example.org/underveil/internal/shade"
)

// pair is two colours and how different they look.
type pair struct {
	a, b shade.Lab
	want float64
}

// published are the pairs of testdata/colour/ciede2000.csv.
func published(t *testing.T) []pair {
	file, err := os.Open("../../testdata/colour/ciede2000.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	lines, err := csv.NewReader(file).ReadAll()
	if err != nil || len(lines) != 35 {
		t.Fatalf("%d lines, %v", len(lines), err)
	}
	var pairs []pair
	for _, line := range lines[1:] {
		var v [7]float64
		for i := range v {
			if v[i], err = strconv.ParseFloat(line[i+1], 64); err != nil {
				t.Fatal(err)
			}
		}
		pairs = append(pairs, pair{shade.Lab{L: v[0], A: v[1], B: v[2]}, shade.Lab{L: v[3], A: v[4], B: v[5]}, v[6]})
	}
	return pairs
}

// TestDifference checks the pairs that Sharma, Wu and Dalal published to try a program with, and a few more: steps
// of grey, a purple and an orange whose mean hue lies past a full turn, and pairs of dark browns. The values of these
// come from other programs.
func TestDifference(t *testing.T) {
	pairs := append(published(t),
		pair{shade.Lab{L: 20}, shade.Lab{L: 21}, 0.6957}, pair{shade.Lab{L: 50}, shade.Lab{L: 51}, 0.9992}, pair{shade.Lab{L: 70}, shade.Lab{L: 71}, 0.7690},
		pair{shade.Lab{L: 68, A: 83, B: -118}, shade.Lab{L: 74, A: 14, B: 20}, 44.3956},
		pair{shade.Lab{L: 20, A: 6, B: 8}, shade.Lab{L: 23, A: 6, B: 8}, 2.1092},
		pair{shade.Lab{L: 18.37, A: -0.05, B: -0.84}, shade.Lab{L: 23.04, A: 4.04, B: 4.72}, 7.8790})
	for i, p := range pairs {
		within := 0.00005 + 1e-9
		if i == len(pairs)-1 {
			within = 0.0005 // known to three decimals
		}
		one, other := shade.Difference(p.a, p.b), shade.Difference(p.b, p.a)
		if math.Abs(one-p.want) > within {
			t.Errorf("pair %d: %.6f, want %.4f", i+1, one, p.want)
		}
		if math.Abs(one-other) > 1e-12 {
			t.Errorf("pair %d: %g, and the other way %g", i+1, one, other)
		}
	}
}

// TestDifferenceIsSymmetric also holds the difference to be zero between a colour and itself, and above it otherwise.
func TestDifferenceIsSymmetric(t *testing.T) {
	source := rand.New(rand.NewPCG(9, 10))
	for range 10000 {
		a, b := random(source), random(source)
		if source.IntN(4) == 0 { // opposite hues, where the mean hue is as good as undecided
			b = shade.Lab{L: b.L, A: -a.A, B: -a.B}
		}
		one, other := shade.Difference(a, b), shade.Difference(b, a)
		if math.Abs(one-other) > 1e-12 || !(one > 0) {
			t.Fatalf("%v and %v: %g, and the other way %g", a, b, one, other)
		}
		if d := shade.Difference(a, a); d != 0 {
			t.Fatalf("%v and itself: %g", a, d)
		}
	}
}

func TestRank(t *testing.T) {
	stock := []shade.Lab{{L: 20}, {L: 60}, {L: 50}, {L: 60}, {L: 52}}
	got := shade.Rank(shade.Lab{L: 51}, stock)
	// One up from 51 is a little nearer than one down, since differences count for less further from 50.
	want := []int{4, 2, 1, 3, 0}
	if len(got) != len(want) {
		t.Fatalf("%v", got)
	}
	for i, near := range got {
		if near.Index != want[i] || near.Difference != shade.Difference(shade.Lab{L: 51}, stock[near.Index]) {
			t.Errorf("place %d: %v, want index %d", i, near, want[i])
		}
	}
	if got := shade.Rank(shade.Lab{}, nil); len(got) != 0 {
		t.Errorf("without stock: %v", got)
	}
}

func BenchmarkDifference(b *testing.B) {
	one, other := shade.Lab{L: 68.2, A: 7.1, B: 24.5}, shade.Lab{L: 61.4, A: 8.3, B: 20.2}
	for b.Loop() {
		shade.Difference(one, other)
	}
}
