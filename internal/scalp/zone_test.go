package scalp

import (
	"fmt"
	"math"
	"testing"
)

// A point shot off a long straight piece of a curve at right angles is as far from it as
// it was shot. Source: Shoot, itself held against GeodSolve.
func TestZoneDistancesOfShotPoints(t *testing.T) {
	rng := seeded(91)
	for range 20 {
		h := randomHead(rng)
		line := mustHairline(t, h, nil)
		z := line.Zones(45, []Parting{{Right: 35 - 70*MM(rng.Float64()), Length: 80}}, nil)
		arm := func(from, to string) Curve { return line.between(Landmark{from, Right}, Landmark{to, Right}) }
		napeArm := line.between(Landmark{NapeCentre, Middle}, Landmark{NapeCorner, Right})
		for _, c := range []struct {
			name        string
			piece, zone Curve
			far         float64 // as far as no other part of the zone's curve is nearer
		}{
			{"nape", napeArm, z.Nape, 5},
			{"temple", arm(TemplePoint, RecessionCorner), z.Temples[1], 15},
			{"ear", arm(BehindEar, EarBack), z.Ears[1], 5},
			{"front", line.between(Landmark{RecessionCorner, Right}, Landmark{FrontCentre, Middle}), z.Front, 15},
			{"parting", z.Partings[0], z.Partings[0], 30},
			{"side of the fringe", z.Triangle[1], z.Triangle[1], 15},
		} {
			pts := c.piece.Points()
			i := len(pts) / 2
			foot, along := pts[i], pts[i+1].Minus(pts[i-1])
			for _, side := range []float64{1, -1} {
				for _, d := range []float64{0.5, c.far / 3, c.far} {
					p, _ := h.Shoot(foot, h.Normal(foot).Cross(along).Times(side), MM(d))
					got, _ := h.DistanceToCurve(p, c.zone)
					if !(math.Abs(float64(got)-d) <= 0.05) {
						t.Errorf("%+v: %.2f mm from the %s is measured as %.4f", h.Measures, d, c.name, float64(got))
					}
				}
			}
		}
	}
}

// The zones' curves follow the hairline from end to end, in pieces short enough to be flat.
func TestZoneCurves(t *testing.T) {
	rng := seeded(92)
	for range 30 {
		h := randomHead(rng)
		z := someZones(t, rng, h)
		mark := func(name string, side Side) Vec { return z.Hairline.Landmark(Landmark{name, side}) }
		ends := map[string][2]Vec{
			"nape":                     {mark(BehindEar, Left), mark(BehindEar, Right)},
			"left ear":                 {mark(SideburnBack, Left), mark(BehindEar, Left)},
			"right ear":                {mark(BehindEar, Right), mark(SideburnBack, Right)},
			"left temple":              {mark(RecessionCorner, Left), mark(SideburnBack, Left)},
			"right temple":             {mark(SideburnBack, Right), mark(RecessionCorner, Right)},
			"front":                    {mark(RecessionCorner, Right), mark(RecessionCorner, Left)},
			"left side of the fringe":  {z.point, mark(RecessionCorner, Left)},
			"right side of the fringe": {z.point, mark(RecessionCorner, Right)},
		}
		for _, c := range z.named() {
			pts := c.Points()
			if want, ok := ends[c.name]; ok && !(pts[0].Minus(want[0]).Length() < 1e-6 && pts[len(pts)-1].Minus(want[1]).Length() < 1e-6) {
				t.Errorf("%+v: the %s runs from %v to %v, want %v", h.Measures, c.name, pts[0], pts[len(pts)-1], want)
			}
			for i, p := range pts {
				if f := equation(&h.Surface, p); !(math.Abs(f) < 1e-9) {
					t.Errorf("%+v: the %s is off the head by %g at %v", h.Measures, c.name, f, p)
				}
				if gap := p.Minus(pts[max(i-1, 0)]).Length(); !(gap <= 3) {
					t.Errorf("%+v: the %s has vertices %.3f mm apart at %v", h.Measures, c.name, gap, p)
				}
			}
		}
	}
}

// The point of the fringe lies its depth behind the front hairline, and the sides run
// from it to the recession corners, straight as seen from above.
func TestFringe(t *testing.T) {
	rng := seeded(93)
	for range 20 {
		h := randomHead(rng)
		line := mustHairline(t, h, nil)
		depth := 15 + 75*rng.Float64() // from less than the recession corners lie back to the middle of the head
		z := line.Zones(MM(depth), nil, nil)
		front := angleIn(line.Landmark(Landmark{FrontCentre, Middle}), Vec{}, back, upward)
		tip := angleIn(z.point, Vec{}, back, upward)
		if got := planeArc(&h.Surface, Vec{}, back, upward, tip, front); !(math.Abs(got-depth) < 0.001) || z.point.X != 0 {
			t.Errorf("%+v: the fringe is %.4f mm deep, want %.4f", h.Measures, got, depth)
		}
		for i, c := range z.Triangle {
			for _, p := range c.Points() {
				dx, dy := z.corners[i].X-z.point.X, z.corners[i].Y-z.point.Y
				if off := (dx*(p.Y-z.point.Y) - dy*(p.X-z.point.X)) / math.Hypot(dx, dy); !(math.Abs(off) < 1e-6) {
					t.Errorf("%+v: a side of the fringe is off its plane by %g mm at %v", h.Measures, off, p)
				}
			}
		}
		// In front of the point inside and so negative, behind it outside, and on the sides nothing.
		for _, d := range []float64{0.5, 4, 12, 25} {
			behind, _ := h.Shoot(z.point, back, MM(d))
			got := float64(z.FringeDepthOf(behind))
			if deep := z.point.Y < z.corners[0].Y-5; !(got > 0 && got < d+0.03) || deep && got < d-0.03 {
				t.Errorf("%+v: %.2f mm behind the point of the fringe, %.1f mm deep, is %.4f", h.Measures, d, depth, got)
			}
			ahead, _ := h.Shoot(z.point, forward, MM(d))
			if got := float64(z.FringeDepthOf(ahead)); !(got < 0 && got > -d-0.03) {
				t.Errorf("%+v: %.2f mm ahead of the point of the fringe is %.4f", h.Measures, d, got)
			}
		}
		for i, c := range z.Triangle {
			pts := c.Points()
			k := len(pts) / 2
			if got := z.FringeDepthOf(pts[k]); !(math.Abs(float64(got)) < 0.03) {
				t.Errorf("%+v: on a side of the fringe %v", h.Measures, got)
			}
			outward := h.Normal(pts[k]).Cross(pts[k+1].Minus(pts[k-1]))
			if outward.Y > 0 {
				outward = outward.Times(-1)
			}
			for _, d := range []float64{-10, -2, 2, 10} {
				p, _ := h.Shoot(pts[k], outward, MM(d))
				if got := float64(z.FringeDepthOf(p)); !(math.Abs(got-d) < 0.05) {
					t.Errorf("%+v: %.1f mm outside side %d of the fringe is %.4f", h.Measures, d, i, got)
				}
			}
		}
		for where, p := range map[string]Vec{"crown": h.midlinePoint(180), "nape": h.midlinePoint(10), "side": h.atLevel(90, 30)} {
			if got := z.FringeDepthOf(p); !(got > 20) {
				t.Errorf("%+v: the %s is %v outside the fringe", h.Measures, where, got)
			}
		}
	}
}

// A parting begins where its line leaves the hair in front, runs straight back as seen from
// above, as far right as it says over the ears, and is as long as it says.
func TestParting(t *testing.T) {
	rng := seeded(94)
	for i := range 60 {
		h := randomHead(rng)
		line := mustHairline(t, h, randomMoves(rng, 8))
		want := Parting{Right: MM(100*rng.Float64() - 50), Length: MM(5 + 120*rng.Float64())}
		if i%10 == 0 {
			want.Right = 0
		}
		z := line.Zones(45, []Parting{want}, nil)
		pts := z.Partings[0].Points()
		first := pts[0]
		off := math.Inf(1)
		for _, c := range []Curve{z.Front, z.Temples[0], z.Temples[1]} {
			d, _ := h.DistanceToCurve(first, c)
			off = math.Min(off, float64(d))
		}
		if !(off <= 0.02) {
			t.Errorf("%+v %v: begins %.4f mm from the hairline", h.Measures, want, off)
		}
		ahead, behind := h.Settle(first.Along(forward, 0.1)), h.Settle(first.Along(forward, -0.1))
		if line.Contains(ahead) || !line.Contains(behind) {
			t.Errorf("%+v %v: at its beginning %v, hair ahead %v and behind %v", h.Measures, want, first, line.Contains(ahead), line.Contains(behind))
		}
		o := Vec{X: first.X}
		from, to := angleIn(first, o, forward, upward), angleIn(pts[len(pts)-1], o, forward, upward)
		if got := planeArc(&h.Surface, o, forward, upward, from, to); !(math.Abs(got-float64(want.Length)) < 0.001) {
			t.Errorf("%+v %v: is %.4f mm long", h.Measures, want, got)
		}
		over := onRay(&h.Surface, o, upward) // over the ears
		right := math.Copysign(planeArc(&h.Surface, Vec{}, upward, across, 0, angleIn(over, Vec{}, upward, across)), over.X)
		if !(math.Abs(right-float64(want.Right)) < 0.001) {
			t.Errorf("%+v %v: is %.4f mm right of the midline", h.Measures, want, right)
		}
		for k, p := range pts {
			if math.Abs(p.X-first.X) > 1e-6 || (k > 0 && float64(want.Length) < 60 && p.Y >= pts[k-1].Y) {
				t.Errorf("%+v %v: does not run straight back at %v", h.Measures, want, p)
			}
		}
	}
}

// What a user may type for a parting must neither stop the program nor leave the head.
func TestPartingsThatAreNot(t *testing.T) {
	t.Parallel()
	rng := seeded(95)
	for range 6 {
		h := randomHead(rng)
		line := mustHairline(t, h, nil)
		for _, right := range []MM{0, 30, -30, 74, -110, 118, 200, -200, 1000} {
			for _, length := range []MM{0, 0.001, 60, 400, 5000, -20} {
				name := fmt.Sprintf("%+v: parting %v right, %v long", h.Measures, right, length)
				z := line.Zones(45, []Parting{{right, length}}, nil)
				c := z.Partings[0]
				for _, p := range c.Points() {
					if !(math.Abs(equation(&h.Surface, p)) < 1e-6) {
						t.Fatalf("%s: %v is off the head", name, p)
					}
				}
				for _, p := range []Vec{h.midlinePoint(60), h.midlinePoint(200), h.atLevel(90, 20)} {
					if d, _ := h.DistanceToCurve(p, c); !(d >= 0 && d < 1000) {
						t.Errorf("%s: %v from %v", name, d, p)
					}
				}
			}
		}
		// Without length a parting is a point of the hairline.
		c := line.Zones(45, []Parting{{Right: 20}}, nil).Partings[0]
		d, _ := h.DistanceToCurve(c.Points()[0], c)
		if math.Abs(float64(d)) > 1e-6 {
			t.Errorf("%+v: a parting without length is %v from itself", h.Measures, d)
		}
	}
}
