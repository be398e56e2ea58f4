package fibre_test

import (
	"math"
	"testing"

	"example.org/underveil/internal/fibre"
	"example.org/underveil/internal/scalp"
)

// The areas in µm² that the tables below are worked with: means of three groups of people, Evans and
// Wickett (eds) 2012, Practical Modern Hair Science, ch. 6 table 3; and a round hair of 70 µm.
const (
	area1 = 5063.0
	area2 = 4079.0
	area3 = 4210.0
)

var round70 = math.Pi * 35 * 35

// linear is what a hair weighs in µg/cm, of a section in µm².
func linear(area float64) float64 { return area * fibre.FibreDensity / 100 }

// TestWorkedValues holds the arithmetic to values worked out beforehand, to the digits written down. Their
// inputs: sections as above, fibre density 1.32 g/cm³ (Robbins, from memory), telogen 100 days (from memory),
// densities of Loussouarn 2005 and Guo 2017, growth of Loussouarn 2001 and 2005, g = 9.80665 m/s².
func TestWorkedValues(t *testing.T) {
	each := func(area float64) float64 { return fibre.MilligramsEach(500, linear(area)) }
	inGram := func(area float64) float64 { return fibre.InStrand(1, 500, linear(area)) }
	for _, c := range []struct {
		what      string
		got, want float64
		digit     float64 // of the last place written down
	}{
		{"mass of a 50 cm hair, mg, 4079 µm²", each(area2), 2.69, 0.01},
		{"mass of a 50 cm hair, mg, 5063 µm²", each(area1), 3.34, 0.01},
		{"mass of a 50 cm hair, mg, 4210 µm²", each(area3), 2.78, 0.01},
		{"mass of a 50 cm hair, mg, 70 µm round", each(round70), 2.54, 0.01},
		{"hairs in 1 g at 50 cm, 4079 µm²", inGram(area2), 371, 1},
		{"hairs in 1 g at 50 cm, 5063 µm²", inGram(area1), 299, 1},
		{"hairs in 1 g at 50 cm, 4210 µm²", inGram(area3), 360, 1},
		{"section of a 70 µm round hair, µm²", round70, 3848, 1},
		{"its µg/cm", linear(round70), 50.8, 0.1},
		{"tied 8 cm round, 4079 µm², φ 0.5", fibre.Tied(80, 0.5, area2), 62429, 1},
		{"tied 8 cm round, 4079 µm², φ 0.6", fibre.Tied(80, 0.6, area2), 74915, 1},
		{"tied 8 cm round, 4079 µm², φ 0.7", fibre.Tied(80, 0.7, area2), 87401, 1},
		{"tied 8 cm round, 4079 µm², never more", fibre.Tied(80, 1, area2), 113234, 1},
		{"tied 8 cm round, 5063 µm², φ 0.5", fibre.Tied(80, 0.5, area1), 50296, 1},
		{"tied 8 cm round, 5063 µm², φ 0.6", fibre.Tied(80, 0.6, area1), 60355, 1},
		{"tied 8 cm round, 5063 µm², φ 0.7", fibre.Tied(80, 0.7, area1), 70414, 1},
		{"twice as far round, times the count", fibre.Tied(160, 0.6, area2) / fibre.Tied(80, 0.6, area2), 4, 1e-9},
		{"100,000 hairs of 4079 µm² tied at φ 0.6, cm round", 8 * math.Sqrt(100000/fibre.Tied(80, 0.6, area2)), 9.24, 0.01},
		{"growth in 8 weeks, mm, 367 µm/d", float64(fibre.Grown(56, 0.367)), 20.6, 0.1},
		{"growth in 8 weeks, mm, 411 µm/d", float64(fibre.Grown(56, 0.411)), 23.0, 0.1},
		{"growth in 8 weeks, mm, 280 µm/d", float64(fibre.Grown(56, 0.280)), 15.7, 0.1},
		{"growth in a mean month, mm, 367 µm/d", float64(fibre.Grown(30.44, 0.367)), 11.17, 0.01},
		{"growth in a mean month, mm, 411 µm/d", float64(fibre.Grown(30.44, 0.411)), 12.51, 0.01},
		{"growth in a mean month, mm, 280 µm/d", float64(fibre.Grown(30.44, 0.280)), 8.52, 0.01},
		{"days to grow 15 mm at 411", 15 / float64(fibre.Grown(1, 0.411)), 36.5, 0.1},
		{"days to grow 15 mm at 367", 15 / float64(fibre.Grown(1, 0.367)), 40.9, 0.1},
		{"days to grow 15 mm at 350", 15 / float64(fibre.Grown(1, 0.350)), 42.9, 0.1},
		{"days to grow 15 mm at 280", 15 / float64(fibre.Grown(1, 0.280)), 53.6, 0.1},
		{"days to grow 15 mm at 256", 15 / float64(fibre.Grown(1, 0.256)), 58.6, 0.1},
		{"hairs on 5 by 5 mm at 226/cm²", fibre.InSection(226, 5, 5), 56.5, 0.1},
		{"hairs on 5 by 5 mm at 143.33/cm²", fibre.InSection(143.33, 5, 5), 35.8, 0.1},
		{"mm square for 200 hairs at 226/cm²", math.Sqrt(200 / fibre.Density(226).PerMM2()), 9.4, 0.1},
		{"mm square for 200 hairs at 143.33/cm²", math.Sqrt(200 / fibre.Density(143.33).PerMM2()), 11.8, 0.1},
		{"shed within 56 days, %", 100 * fibre.Shed(56, 0.12, 100), 6.7, 0.1},
		{"shed within 84 days, %", 100 * fibre.Shed(84, 0.12, 100), 10.1, 0.1},
		{"shed a day of 100,000", 100000 * fibre.Shed(1, 0.12, 100), 120, 1},
		{"1 g on 300 hairs, µN on each", 1e6 * fibre.Pull(fibre.Load(1, 300)), 32.7, 0.1},
		{"of the 0.375 N that pull one out, %", 100 * fibre.Pull(fibre.Load(1, 300)) / 0.375, 0.009, 0.001},
		{"1 g on one hair, mN", 1e3 * fibre.Pull(fibre.Load(1, 1)), 9.81, 0.01},
		{"of the 0.375 N that pull one out, %", 100 * fibre.Pull(fibre.Load(1, 1)) / 0.375, 2.6, 0.1},
	} {
		if math.Abs(c.got-c.want) > c.digit/2*(1+1e-9) {
			t.Errorf("%s: %g, written down as %g", c.what, c.got, c.want)
		}
	}
}

// TestWholeScalp holds totals at 650 cm² to their worked values: 146,900 hairs at 226/cm², and so on.
func TestWholeScalp(t *testing.T) {
	for density, want := range map[fibre.Density]float64{226: 146900, 175: 113750, 161: 104650, 143.33: 93165} {
		// A square of 650 cm² is 254.95 mm wide.
		side := scalp.MM(math.Sqrt(65000))
		if got := fibre.InSection(density, side, side); math.Abs(got-want) > 0.5 {
			t.Errorf("%g/cm² over 650 cm²: %.1f hairs, worked out as %.0f", float64(density), got, want)
		}
	}
}

// TestConstantsAgree holds the constants to what they are derived from.
func TestConstantsAgree(t *testing.T) {
	if got := linear(4100); math.Abs(got-fibre.LinearDensity) > 0.5 {
		t.Errorf("4,100 µm² weigh %.2f µg/cm, not %g", got, fibre.LinearDensity)
	}
	if got := fibre.Section(linear(area2)); math.Abs(got-area2) > 1e-9 {
		t.Errorf("a section of %g µm² comes back as %g", area2, got)
	}
	if want := math.Pi / (2 * math.Sqrt(3)); math.Abs(fibre.MostPacking-want) > 1e-15 {
		t.Errorf("closest packing %v, not %v", fibre.MostPacking, want)
	}
}

func TestByEye(t *testing.T) {
	before := fibre.LeastDensity
	for _, word := range []string{"fine", "medium", "thick"} {
		d, ok := fibre.ByEye(word)
		if !ok || d <= before || d >= fibre.MostDensity {
			t.Errorf("%s: %g, %v; it has to lie between %g and %g", word, float64(d), ok, float64(before), float64(fibre.MostDensity))
		}
		before = d
	}
	if d, ok := fibre.ByEye("bushy"); ok || d != 0 {
		t.Errorf("a word nobody knows gives %g", float64(d))
	}
}

// TestReaching holds the taper of a strand to its corners, and to never growing.
func TestReaching(t *testing.T) {
	for _, c := range []struct {
		at        scalp.MM
		tip, want float64
	}{{0, 0.6, 1}, {250, 0.6, 1}, {375, 0.6, 0.8}, {499.999999, 0.6, 0.6}, {500, 0.6, 0}, {900, 0.6, 0}, {375, 0, 0.5}, {400, 1, 1}} {
		if got := fibre.Reaching(c.at, 500, c.tip); math.Abs(got-c.want) > 1e-6 {
			t.Errorf("%g of 500 mm with tips of %g: %g, want %g", float64(c.at), c.tip, got, c.want)
		}
	}
	before := 1.0
	for at := scalp.MM(0); at < 700; at += 7 {
		got := fibre.Reaching(at, 600, 0.3)
		if got > before {
			t.Fatalf("more hair at %g mm than before it", float64(at))
		}
		before = got
	}
}

// TestNothing holds what comes of nothing to what the docs say.
func TestNothing(t *testing.T) {
	if got := fibre.Load(0.8, 0); !math.IsInf(got, 1) {
		t.Errorf("a strand on no hair: %g mg on each", got)
	}
	if got := fibre.InStrand(0.8, 0, 54); got != 0 {
		t.Errorf("a strand without length has %g hairs", got)
	}
	if got := fibre.Tied(80, 0.6, 0); got != 0 {
		t.Errorf("a bundle of hairs without section has %g", got)
	}
	if got := fibre.Grown(-3, 0.35); got != 0 {
		t.Errorf("%v grown in less than no time", got)
	}
	if got := fibre.Shed(-3, 0.12, 100); got != 0 {
		t.Errorf("%g shed in less than no time", got)
	}
	if a, b := fibre.Shed(5000, 0.12, 100), fibre.Shed(1, 0.12, 0); a != 1 || b != 1 {
		t.Errorf("shed in the end: %g and %g", a, b)
	}
}
