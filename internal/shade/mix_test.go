package shade_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"example.org/underveil/internal/shade"
)

func TestMix(t *testing.T) {
	black, white := shade.Lab{}, shade.Lab{L: 100}
	red := shade.Reading("#ff0000").Lab()
	green := shade.Reading("#00ff00").Lab()
	blue := shade.Reading("#0000ff").Lab()
	for name, c := range map[string]struct {
		parts []shade.Part
		want  shade.Lab
	}{
		"nothing":               {nil, black},
		"parts of nothing":      {[]shade.Part{{white, 0}, {red, -2}, {red, math.NaN()}}, black},
		"one":                   {[]shade.Part{{red, 7}}, red},
		"one and none of white": {[]shade.Part{{red, 7}, {white, 0}}, red},
		// Y = 0.5: 116·0.5^(1/3) - 16 = 116·0.793701 - 16.
		"half black": {[]shade.Part{{black, 3}, {white, 3}}, shade.Lab{L: 76.0692610141}},
		// Y = 0.2: 116·0.584804 - 16. And Y = 0.005, below the threshold: 24389/27·0.005.
		"a fifth of white":    {[]shade.Part{{black, 4}, {white, 1}}, shade.Lab{L: 51.8372115265}},
		"next to no white":    {[]shade.Part{{black, 199}, {white, 1}}, shade.Lab{L: 4.5164814815}},
		"all three primaries": {[]shade.Part{{red, 1}, {green, 1}, {blue, 1}}, shade.Lab{L: 64.4299078247}}, // Y = 1/3
	} {
		if got := shade.Mix(c.parts); !near(got, c.want, 1e-7) {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
}

// TestMixOrder holds a mixture to be the same whatever the order and the unit of its parts, and a colour mixed with
// itself to stay what it is.
func TestMixOrder(t *testing.T) {
	source := rand.New(rand.NewPCG(7, 8))
	for range 2000 {
		c := random(source)
		if got := shade.Mix([]shade.Part{{Colour: c, Share: 0.3}, {Colour: c, Share: 5}}); !near(got, c, 1e-11) {
			t.Fatalf("%v with itself is %v", c, got)
		}
		// The tolerance is that of colours that hair has.
		var parts []shade.Part
		for range 2 + source.IntN(4) {
			hair := shade.Lab{L: 15 + 75*source.Float64(), A: 25 * source.Float64(), B: 40 * source.Float64()}
			parts = append(parts, shade.Part{Colour: hair, Share: 0.1 + source.Float64()})
		}
		want := shade.Mix(parts)
		slices.Reverse(parts)
		if got := shade.Mix(parts); !near(got, want, 1e-12) {
			t.Fatalf("%v mix to %v, and backwards to %v", parts, got, want)
		}
		for i := range parts {
			parts[i].Share *= 3
		}
		if got := shade.Mix(parts); !near(got, want, 1e-12) {
			t.Fatalf("%v mix to %v, and three times as much to %v", parts, want, got)
		}
	}
}
