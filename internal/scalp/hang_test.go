package scalp

import (
	"math"
	"testing"
)

// descend follows the steepest way down the head from p in steps of h mm, by
// Runge-Kutta on the surface's normal.
func descend(s *Surface, p Vec, h float64) Vec {
	down := func(p Vec) Vec {
		n := s.Normal(p)
		return upward.Times(-1).Along(n, n.Z).Unit()
	}
	k1 := down(p)
	k2 := down(p.Along(k1, h/2))
	k3 := down(p.Along(k2, h/2))
	k4 := down(p.Along(k3, h))
	return s.Settle(p.Along(k1.Plus(k2.Times(2)).Plus(k3.Times(2)).Plus(k4), h/6))
}

// Source: steepest descent traced point by point.
func TestHangAlongSteepestDescent(t *testing.T) {
	rng := seeded(81)
	worst := 0.0
	for range 100 {
		h := randomHead(rng)
		p := randomPoint(rng, h)
		for p.Z < 0.3*h.top || p.Z > 0.99*h.top {
			p = randomPoint(rng, h)
		}
		want := h.Hang(p)
		for i := 0; p.Z > -0.8*h.low && i < 400; i++ {
			before := p
			p = descend(&h.Surface, p, 1)
			diff := math.Abs(math.Remainder(h.Hang(p)-want, 360))
			worst = math.Max(worst, diff)
			if !(diff <= 0.01) {
				t.Errorf("%+v: Hang %.4f at %v, %.4f at the top of the line", h.Measures, h.Hang(p), p, want)
				break
			}
			if before.Z > 0 && p.Z <= 0 { // the line reaches the widest level at its own azimuth
				k := before.Z / (before.Z - p.Z)
				at := before.Times(1-k).Along(p, k).Azimuth()
				if !(math.Abs(math.Remainder(at-want, 360)) <= 0.01) {
					t.Errorf("%+v: reaches the widest level at azimuth %.4f, Hang %.4f", h.Measures, at, want)
				}
			}
		}
		if p.Z > 0 {
			t.Errorf("%+v: the line from Hang %.3f ends at %v", h.Measures, want, p)
		}
	}
	t.Logf("largest difference along a line %.6f degrees", worst)
}

func TestHangOfMirrorImages(t *testing.T) {
	rng := seeded(82)
	for range 300 {
		h := randomHead(rng)
		p := randomPoint(rng, h)
		left, right := h.Hang(p.mirrored()), h.Hang(p)
		if !(math.Abs(left+right) < 1e-9) {
			t.Errorf("%+v: Hang %.9f at %v, %.9f at its mirror image", h.Measures, right, p, left)
		}
		front := h.Hang(Vec{p.X, -p.Y, p.Z})
		if want := math.Copysign(180, right) - right; !(math.Abs(front-want) < 1e-9) {
			t.Errorf("%+v: Hang %.9f at %v, %.9f in front of it", h.Measures, right, p, front)
		}
	}
}

// On the midlines the way down keeps to them, and close by it must not jump.
func TestHangOnTheMidlines(t *testing.T) {
	rng := seeded(83)
	for range 30 {
		h := randomHead(rng)
		s := &h.Surface
		for _, z := range []float64{-60, -10, 0, 30, 0.95 * h.top} {
			for _, c := range []struct {
				out  Vec
				want float64
			}{{back, 0}, {forward, 180}, {across, 90}, {across.Times(-1), -90}} {
				p := onRay(s, Vec{Z: z}, c.out)
				if got := h.Hang(p); !(math.Abs(math.Remainder(got-c.want, 360)) < 1e-6) {
					t.Errorf("%+v: Hang %.9f at %v, want %.0f", h.Measures, got, p, c.want)
				}
				side := c.out.Cross(upward)
				for _, off := range []float64{1e-12, 1e-9, 1e-7, 1e-5, 1e-3} {
					q := s.Settle(p.Along(side, off))
					got := math.Remainder(h.Hang(q)-c.want, 360)
					if !(math.Abs(got) < 5*off+1e-5) {
						t.Errorf("%+v: Hang %.9f degrees from the midline at %g mm from it, at %v", h.Measures, got, off, q)
					}
				}
			}
		}
		if top := h.Hang(Vec{Z: h.top}); math.IsNaN(top) {
			t.Errorf("%+v: Hang of the top is %v", h.Measures, top)
		}
		// It grows from the nape round the side to the forehead, at every level.
		for _, z := range []float64{-50, 0, 40} {
			last := 0.0
			for azimuth := 5.0; azimuth < 180; azimuth += 5 {
				got := h.Hang(h.atLevel(azimuth, z))
				if !(got > last) || (z == 0 && math.Abs(got-azimuth) > 1e-6) {
					t.Errorf("%+v: Hang %.6f at azimuth %.0f, level %.0f, after %.6f", h.Measures, got, azimuth, z, last)
				}
				last = got
			}
		}
	}
}
