package shade

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestMatrices works the light of sRGB's primaries out of their chromaticities and white, and holds the two matrices
// to it and to each other.
func TestMatrices(t *testing.T) {
	chromaticities := [3][2]float64{{0.64, 0.33}, {0.30, 0.60}, {0.15, 0.06}}
	for j, c := range chromaticities {
		// A primary has the x and y of its light in proportion: X = x·s, Y = y·s, Z = (1-x-y)·s.
		s := fromRGB[1][j] / c[1]
		if x, z := s*c[0], s*(1-c[0]-c[1]); math.Abs(fromRGB[0][j]-x) > 1e-15 || math.Abs(fromRGB[2][j]-z) > 1e-15 {
			t.Errorf("primary %d is %g, %g, %g", j, fromRGB[0][j], fromRGB[1][j], fromRGB[2][j])
		}
	}
	if d65 := (light{0.95047, 1, 1.08883}); !same(white, d65, 1e-15) {
		t.Errorf("white is %v, want %v", white, d65)
	}
	for j := range 3 {
		var unit [3]float64
		unit[j] = 1
		l := apply(fromRGB, unit)
		if got := apply(toRGB, [3]float64{l.x, l.y, l.z}); !same(got, light{unit[0], unit[1], unit[2]}, 1e-15) {
			t.Errorf("primary %d comes back as %v", j, got)
		}
	}
}

func same(a, b light, within float64) bool {
	return math.Abs(a.x-b.x) <= within && math.Abs(a.y-b.y) <= within && math.Abs(a.z-b.z) <= within
}

// TestDecode is worked by hand: 0x80 is (0.50196+0.055)/1.055 to the power of 2.4, 0x0a is 10/255/12.92.
func TestDecode(t *testing.T) {
	for written, want := range map[uint8]float64{0: 0, 255: 1, 128: 0.2158605, 10: 0.0030353, 11: 0.0033465} {
		if got := decode(written); math.Abs(got-want) > 5e-8 {
			t.Errorf("%d: %.7f, want %.7f", written, got, want)
		}
	}
	for v := range 256 {
		if got := encode(decode(uint8(v))); int(got) != v {
			t.Errorf("%d comes back as %d", v, got)
		}
	}
	for power, want := range map[float64]uint8{-3: 0, 1.5: 255, math.Inf(1): 255, math.Inf(-1): 0} {
		if got := encode(power); got != want {
			t.Errorf("power %g: %d, want %d", power, got, want)
		}
	}
}

// TestLightOfLab holds every L*a*b*, even of what no light has, to come back from its light.
func TestLightOfLab(t *testing.T) {
	source := rand.New(rand.NewPCG(3, 4))
	for range 10000 {
		want := Lab{100 * source.Float64(), 255*source.Float64() - 128, 255*source.Float64() - 128}
		got := want.light().lab()
		if math.Abs(got.L-want.L)+math.Abs(got.A-want.A)+math.Abs(got.B-want.B) > 1e-11 {
			t.Fatalf("%v comes back as %v", want, got)
		}
	}
	// The two pieces meet at L* = 8: 216/24389 of white's light.
	if l := (Lab{L: 8}).light(); math.Abs(l.y-216.0/24389) > 1e-15 {
		t.Errorf("L* of 8 has Y %g", l.y)
	}
}

// TestMixAdds holds the light of a mixture to be that of its parts, each by its share.
func TestMixAdds(t *testing.T) {
	source := rand.New(rand.NewPCG(5, 6))
	for range 2000 {
		var parts []Part
		var want light
		var shares float64
		for range 1 + source.IntN(5) {
			p := Part{Lab{20 + 70*source.Float64(), 30 * source.Float64(), 60 * source.Float64()}, 10 * source.Float64()}
			l := p.Colour.light()
			want.x, want.y, want.z = want.x+p.Share*l.x, want.y+p.Share*l.y, want.z+p.Share*l.z
			shares += p.Share
			parts = append(parts, p)
		}
		got := Mix(parts).light()
		if !same(got, light{want.x / shares, want.y / shares, want.z / shares}, 1e-13) {
			t.Fatalf("%v mix to the light %v", parts, got)
		}
	}
}
