package scalp

import (
	"math"
	"math/rand/v2"
	"testing"
)

func TestContains(t *testing.T) {
	rng := seeded(63)
	for range 20 {
		h := randomHead(rng)
		line := mustHairline(t, h, nil)
		at := h.atLevel
		for _, c := range []struct {
			where  string
			p      Vec
			inside bool
		}{
			{"2 mm above the nape", h.midlinePoint(2), true},
			{"2 mm below the nape", h.midlinePoint(-2), false},
			{"the crown", h.midlinePoint(180), true},
			{"the top", Vec{Z: h.top}, true},
			{"2 mm behind the front hairline", h.midlinePoint(h.Measures.FrontToNape - 2), true},
			{"2 mm before the front hairline", h.midlinePoint(h.Measures.FrontToNape + 2), false},
			{"the forehead", at(180, 10), false},
			{"the temple, before the hair", at(130, 20), false},
			{"the ear", at(82, -20), false},
			{"the left ear", at(-82, -20), false},
			{"above the ear", at(82, 10), true},
			{"behind the ear", at(55, -30), true},
			{"the sideburn", at(98, -20), true},
			{"below the sideburn", at(98, -35), false},
			{"before the sideburn", at(112, -20), false},
			{"the neck", at(20, -0.96*h.low), false},
		} {
			if got := line.Contains(c.p); got != c.inside {
				t.Errorf("%+v: %s, %v: inside %v, want %v", h.Measures, c.where, c.p, got, c.inside)
			}
		}
	}
}

// Temple points moved so far forward that the hair lies under a bay of bare
// skin: straight up from it the hairline is crossed three times.
func TestContainsUnderAnOverhang(t *testing.T) {
	h := mediumHead(t)
	line := mustHairline(t, h, map[Landmark]Shift{
		{TemplePoint, Right}: {Right: 48}, {TemplePoint, Left}: {Right: -48},
	})
	tip, corner := line.Landmark(Landmark{TemplePoint, Right}), line.Landmark(Landmark{RecessionCorner, Right})
	azimuth := (tip.Azimuth() + corner.Azimuth()) / 2
	if tip.Azimuth() < corner.Azimuth()+4 {
		t.Fatalf("no overhang: temple point at %.1f degrees, recession corner at %.1f", tip.Azimuth(), corner.Azimuth())
	}
	for _, c := range []struct {
		where  string
		z      float64
		inside bool
	}{
		{"below the tongue", tip.Z - 12, false},
		{"in the tongue", tip.Z + 4, true},
		{"in the bay above it", corner.Z - 8, false},
		{"above the bay", corner.Z + 8, true},
	} {
		for _, side := range []float64{1, -1} {
			if got := line.Contains(h.atLevel(side*azimuth, c.z)); got != c.inside {
				t.Errorf("%s, azimuth %.1f: inside %v, want %v", c.where, side*azimuth, got, c.inside)
			}
		}
	}
}

// seenFromTheTop is the azimuthal equidistant map of the head from straight above its middle:
// one to one everywhere but under the head.
func seenFromTheTop(p Vec) (x, y float64) {
	side := math.Hypot(p.X, p.Y)
	if side == 0 {
		return 0, 0
	}
	theta := math.Atan2(side, p.Z)
	return theta * p.X / side, theta * p.Y / side
}

// Source: winding numbers in a plane. The hairline is drawn anew there from its landmarks:
// straight in azimuth and level between each two, as its documentation states it.
func TestContainsAgainstWindingNumbers(t *testing.T) {
	t.Parallel()
	rng := seeded(65)
	checked := 0
	for i := range 80 {
		h := randomHead(rng)
		// As far as may be, the hairline even crosses itself and the centre back.
		moved := randomMoves(rng, []float64{5, 12, 20, float64(MaxShift)}[i%4])
		if _, err := h.Hairline(moved); err != nil {
			continue
		}
		checked += compareWithWindingNumbers(t, rng, h, moved, 200)
	}
	if checked < 10000 {
		t.Errorf("only %d points checked", checked)
	}
}

func compareWithWindingNumbers(t *testing.T, rng *rand.Rand, h *Head, moved map[Landmark]Shift, points int) (checked int) {
	t.Helper()
	line := mustHairline(t, h, moved)
	ring := Landmarks()
	var xs, ys []float64
	for i, l := range ring {
		p, q := line.Landmark(l), line.Landmark(ring[(i+1)%len(ring)])
		az, turn := p.Azimuth(), math.Remainder(q.Azimuth()-p.Azimuth(), 360)
		for k := range 100 {
			f := float64(k) / 100
			x, y := seenFromTheTop(onRayAt(h, az+f*turn, p.Z+f*(q.Z-p.Z)))
			xs, ys = append(xs, x), append(ys, y)
		}
	}
	for range points {
		p := randomPoint(rng, h)
		if rng.IntN(2) == 0 { // near a landmark
			p, _ = h.Shoot(line.Landmark(ring[rng.IntN(len(ring))]), Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}, MM(12*rng.Float64()))
		}
		x, y := seenFromTheTop(p)
		turns, nearest := 0.0, math.Inf(1)
		for k := range xs {
			n := (k + 1) % len(xs)
			ax, ay, bx, by := xs[k]-x, ys[k]-y, xs[n]-x, ys[n]-y
			turns += math.Atan2(ax*by-ay*bx, ax*bx+ay*by)
			nearest = math.Min(nearest, math.Hypot(ax, ay))
		}
		if nearest < 0.01 { // about a millimetre: the hairline itself
			continue
		}
		checked++
		winding := int(math.Round(turns / (2 * math.Pi)))
		if want := winding%2 != 0; line.Contains(p) != want {
			t.Errorf("%+v %v: %v inside %v, winding number %d", h.Measures, moved, p, line.Contains(p), winding)
		}
	}
	return checked
}

// onRayAt is the point of the head at an azimuth in degrees and a level.
func onRayAt(h *Head, azimuth, z float64) Vec {
	sin, cos := math.Sincos(azimuth * math.Pi / 180)
	return onRay(&h.Surface, Vec{Z: z}, Vec{sin, -cos, 0})
}
