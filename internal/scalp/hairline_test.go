package scalp

import (
	"math"
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
	}
	if len(seen) != 20 || !seen["temple point left"] || !seen["nape centre"] {
		t.Errorf("%d landmarks: %v", len(seen), seen)
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
		h := randomHead(rng)
		moved := randomMoves(rng, []float64{0, 10, 25}[i%3])
		line := mustHairline(t, h, moved)
		pts := line.vertices()
		for k, p := range pts {
			if f := equation(&h.Surface, p); !(math.Abs(f) < 1e-9) {
				t.Errorf("%+v %v: vertex %v is off the head by %g", h.Measures, moved, p, f)
			}
			if gap := p.Minus(pts[max(k-1, 0)]).Length(); gap > hairStep {
				t.Errorf("%+v %v: vertices %v and %v are %.3f mm apart", h.Measures, moved, pts[k-1], p, gap)
			}
		}
		if gap := pts[0].Minus(pts[len(pts)-1]).Length(); gap > 1e-9 {
			t.Errorf("%+v %v: the hairline is open by %g mm", h.Measures, moved, gap)
		}
		for _, l := range Landmarks() {
			nearest := math.Inf(1)
			for _, p := range pts {
				nearest = math.Min(nearest, p.Minus(line.Landmark(l)).Length())
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
		h := randomHead(rng)
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

// Moving a landmark takes in what it sweeps or gives it up: half way along the move
// is then on the other side of the hairline.
func TestMovedLandmarksChangeWhatIsInside(t *testing.T) {
	up, down, outward, inward := Shift{Up: 10}, Shift{Up: -10}, Shift{Right: 10}, Shift{Right: -10}
	gains, loses := true, false
	rng := seeded(64)
	for range 10 {
		h := randomHead(rng)
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
