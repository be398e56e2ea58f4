package scalp

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

func TestLandmarkNames(t *testing.T) {
	seen := map[string]bool{}
	for _, l := range Landmarks() {
		if seen[l.String()] {
			t.Errorf("%s comes twice", l)
		}
		seen[l.String()] = true
		if got, err := ParseLandmark(l.String()); err != nil || got != l {
			t.Errorf("%q is read as %v, %v", l.String(), got, err)
		}
	}
	if len(seen) != 20 || !seen["temple point left"] || !seen["nape centre"] {
		t.Errorf("%d landmarks: %v", len(seen), seen)
	}
	for _, s := range []string{"", "temple point", "nape centre left", "nose"} {
		if l, err := ParseLandmark(s); err == nil {
			t.Errorf("%q is read as %v", s, l)
		}
	}
}

// vertices are the points of the whole hairline, once round.
func (l *Hairline) vertices() []Vec {
	var pts []Vec
	for i := range l.azimuth {
		pts = append(pts, l.head.atLevel(l.azimuth[i], l.level[i]))
	}
	return pts
}

func TestHairlineRunsThroughItsLandmarks(t *testing.T) {
	rng := seeded(61)
	for i := range 60 {
		h := randomHead(t, rng)
		moved := randomMoves(rng, []float64{0, 10, 25}[i%3])
		line := mustHairline(t, h, moved)
		pts := line.vertices()
		for k, p := range pts {
			if f := equation(&h.Surface, p); !(math.Abs(f) < 1e-9) {
				t.Errorf("%+v %v: vertex %v is off the head by %g", h.Measures, moved, p, f)
			}
			if gap := p.minus(pts[max(k-1, 0)]).length(); gap > hairStep {
				t.Errorf("%+v %v: vertices %v and %v are %.3f mm apart", h.Measures, moved, pts[k-1], p, gap)
			}
		}
		if gap := pts[0].minus(pts[len(pts)-1]).length(); gap > 1e-9 {
			t.Errorf("%+v %v: the hairline is open by %g mm", h.Measures, moved, gap)
		}
		for _, l := range Landmarks() {
			nearest := math.Inf(1)
			for _, p := range pts {
				nearest = math.Min(nearest, p.minus(line.Landmark(l)).length())
			}
			if !(nearest < 1e-9) {
				t.Errorf("%+v %v: %s is %g mm from the hairline", h.Measures, moved, l, nearest)
			}
		}
	}
}

// A shift goes so many millimetres along the level and up the head, which
// fine polylines measure.
func TestLandmarkMovesByItsShift(t *testing.T) {
	rng := seeded(62)
	for range 10 {
		h := randomHead(t, rng)
		before := mustHairline(t, h, nil)
		for _, l := range Landmarks() {
			by := Shift{MM(30*rng.Float64() - 15), MM(30*rng.Float64() - 15)}
			p := before.Landmark(l)
			q := mustHairline(t, h, map[Landmark]Shift{l: by}).Landmark(l)
			heightOf := func(z float64) float64 { return angleIn(onRay(&h.Surface, Vec{Z: z}, back), Vec{}, back, upward) }
			up := planeArc(&h.Surface, Vec{}, back, upward, heightOf(p.Z), heightOf(q.Z))
			if q.Z < p.Z {
				up = -up
			}
			from, to := p.Azimuth()*math.Pi/180, q.Azimuth()*math.Pi/180
			to = from + math.Remainder(to-from, 2*math.Pi)
			right := math.Copysign(planeArc(&h.Surface, Vec{Z: q.Z}, back, across, from, to), to-from)
			if !(math.Abs(up-float64(by.Up)) < 0.001 && math.Abs(right-float64(by.Right)) < 0.001) {
				t.Errorf("%+v: %s moved by %v goes %.4f right and %.4f up", h.Measures, l, by, right, up)
			}
		}
	}
}

func TestHairlineRefuses(t *testing.T) {
	medium := mediumHead(t)
	flat := mustFit(t, Measures{Circumference: 426, EarToEar: 235, FrontToNape: 202, NapeWidth: 70, Confirmed: true})
	for _, c := range []struct {
		h     *Head
		mark  Landmark
		by    Shift
		fault string
	}{
		{medium, Landmark{NapeCorner, Right}, Shift{Right: 60.1}, "more than 60 mm"},
		{medium, Landmark{NapeCorner, Right}, Shift{Right: 30}, ""},
		{medium, Landmark{EarTop, Left}, Shift{Up: -60.1}, "more than 60 mm"},
		{medium, Landmark{NapeCentre, Middle}, Shift{Up: -60}, "under the head"},
		{medium, Landmark{NapeCentre, Middle}, Shift{Up: -20}, ""},
		{flat, Landmark{RecessionCorner, Left}, Shift{Up: 60}, "near the top"},
	} {
		line, err := c.h.Hairline(map[Landmark]Shift{c.mark: c.by})
		switch {
		case c.fault == "" && (err != nil || line == nil):
			t.Errorf("%s moved %v: %v", c.mark, c.by, err)
		case c.fault != "" && (err == nil || line != nil || !strings.Contains(err.Error(), c.fault) || !strings.Contains(err.Error(), c.mark.String())):
			t.Errorf("%s moved %v: error %v, want one with %q", c.mark, c.by, err, c.fault)
		}
	}
}

func TestContains(t *testing.T) {
	rng := seeded(63)
	for range 20 {
		h := randomHead(t, rng)
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

// Moving a landmark takes in what it sweeps or gives it up: half way along the move
// is then on the other side of the hairline.
func TestMovedLandmarksChangeWhatIsInside(t *testing.T) {
	up, down, outward, inward := Shift{Up: 10}, Shift{Up: -10}, Shift{Right: 10}, Shift{Right: -10}
	gains, loses := true, false
	rng := seeded(64)
	for range 10 {
		h := randomHead(t, rng)
		before := mustHairline(t, h, nil)
		for _, c := range []struct {
			name  string
			by    Shift
			gains bool
		}{
			{NapeCentre, up, loses}, {NapeCentre, down, gains},
			{NapeCorner, down, gains}, {NapeCorner, outward, gains}, {NapeCorner, inward, loses}, {NapeCorner, up, loses},
			{BehindEar, outward, gains}, {BehindEar, inward, loses}, {BehindEar, down, gains},
			{EarBack, outward, gains}, {EarBack, inward, loses},
			{EarTop, up, loses}, {EarTop, down, gains},
			{EarFront, up, loses}, {EarFront, down, gains},
			{SideburnBack, down, gains},
			{SideburnFront, down, gains}, {SideburnFront, outward, gains}, {SideburnFront, inward, loses},
			{TemplePoint, outward, gains}, {TemplePoint, inward, loses},
			{RecessionCorner, up, loses}, {RecessionCorner, down, gains},
			{FrontCentre, up, loses}, {FrontCentre, down, gains},
		} {
			l := Landmark{c.name, Right}
			if c.name == NapeCentre || c.name == FrontCentre {
				l.Side = Middle
			}
			for _, mirrored := range []bool{false, true} {
				l, by := l, c.by
				if mirrored {
					l.Side, by = -l.Side, by.Mirrored()
				}
				after := mustHairline(t, h, map[Landmark]Shift{l: by})
				half := Shift{by.Right / 2, by.Up / 2}
				p := mustHairline(t, h, map[Landmark]Shift{l: half}).Landmark(l)
				if was, is := before.Contains(p), after.Contains(p); was == is || is != c.gains {
					t.Errorf("%+v: %s moved %v: half way is inside %v before, %v after", h.Measures, l, by, was, is)
				}
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
	rng := seeded(65)
	checked := 0
	for i := range 80 {
		h := randomHead(t, rng)
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
