package scalp

import (
	"math"
	"math/rand/v2"
	"testing"
)

// randomRay is a ray from outside that passes near the middle of a head, or not so near.
func randomRay(rng *rand.Rand) (from, dir Vec) {
	out := Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}.Unit()
	if rng.IntN(4) == 0 { // along an axis, as the four plain views are
		out = [3]Vec{{X: 1}, {Y: -1}, {Z: 1}}[rng.IntN(3)]
	}
	aim := Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}.Times(60)
	return aim.Along(out, 500), out.Times(-1)
}

// Against the closed form for an ellipsoid, of which a sphere is one.
func TestHitOnEllipsoids(t *testing.T) {
	rng := seeded(41)
	hits, largest := 0, 0.0
	for range 20000 {
		a, b, c := 60+60*rng.Float64(), 60+60*rng.Float64(), 60+60*rng.Float64()
		if rng.IntN(3) == 0 {
			a, b = c, c
		}
		s := newSurface(a, b, c, c, 0, 0)
		from, dir := randomRay(rng)
		o, d := Vec{from.X / a, from.Y / b, from.Z / c}, Vec{dir.X / a, dir.Y / b, dir.Z / c}
		half, square := o.Dot(d), d.Dot(d)
		root := half*half - square*(o.Dot(o)-1)
		p, normal, ok := s.Hit(from, dir, 0)
		if ok != (root > 0) && math.Abs(root) > 1e-12 {
			t.Fatalf("ellipsoid %g, %g, %g, ray from %v along %v: hit %v, discriminant %g", a, b, c, from, dir, ok, root)
		}
		if !ok || root < 1e-9 {
			continue
		}
		hits++
		want := from.Along(dir, (-half-math.Sqrt(root))/square)
		largest = math.Max(largest, p.Minus(want).Length())
		level := Vec{want.X / (a * a), want.Y / (b * b), want.Z / (c * c)}.Unit()
		if off := normal.Minus(level).Length(); off > 1e-4 {
			t.Fatalf("ellipsoid %g, %g, %g: normal %v at %v, want %v", a, b, c, normal, want, level)
		}
	}
	t.Logf("largest error %.2g mm of %d hits", largest, hits)
	if hits < 1000 || largest > 1e-3 {
		t.Errorf("largest error %g mm of %d hits", largest, hits)
	}
}

// Against a walk along the ray on heads, from nowhere and from guesses good and bad.
func TestHitOnHeads(t *testing.T) {
	rng := seeded(42)
	hits := 0
	for range 40 {
		h := randomHead(rng)
		for range 60 {
			from, dir := randomRay(rng)
			want, meets := walkTo(&h.Surface, from, dir)
			for _, guess := range []float64{0, 500 + 100*rng.NormFloat64(), want + rng.NormFloat64(), 1000 * rng.Float64()} {
				p, normal, ok := h.Hit(from, dir, guess)
				if !ok && !meets {
					continue
				}
				if !meets { // it may graze between two steps of the walk
					if dip := math.Abs(normal.Dot(dir)); dip > 0.12 {
						t.Fatalf("ray from %v along %v, guess %g: hit under a sine of %g, the walk meets nothing", from, dir, guess, dip)
					}
					continue
				}
				hits++
				if got := p.Minus(from).Dot(dir); !ok || math.Abs(got-want) > 1e-3 {
					t.Fatalf("ray from %v along %v, guess %g: hit %v after %g mm, want %g", from, dir, guess, ok, got, want)
				}
				if off := normal.Minus(h.Normal(p)).Length(); off > 1e-4 {
					t.Fatalf("normal off by %g at %v", off, p)
				}
			}
		}
	}
	if hits < 2000 {
		t.Errorf("%d hits only", hits)
	}
}

// walkTo is how far along a ray a surface is met first: by steps of 1 mm, and then by bisection. The
// equation has other sheets far below the head, which are none of it.
func walkTo(s *Surface, from, dir Vec) (far float64, ok bool) {
	for hi := 1.0; hi < 1000; hi++ {
		if p := from.Along(dir, hi); p.Z < -1.1*s.low || equation(s, p) >= 0 {
			continue
		}
		lo := hi - 1
		for hi-lo > 1e-9 {
			mid := (lo + hi) / 2
			if equation(s, from.Along(dir, mid)) < 0 {
				hi = mid
			} else {
				lo = mid
			}
		}
		return lo, true
	}
	return 0, false
}

// A ray that looks away from the head meets nothing, and neither does one beside it.
func TestHitLooksAhead(t *testing.T) {
	h := mediumHead(t)
	for _, c := range []struct {
		from, dir Vec
		want      bool
	}{
		{Vec{Y: -300}, Vec{Y: 1}, true}, {Vec{Y: -300}, Vec{Y: -1}, false}, {Vec{X: 200, Y: -300}, Vec{Y: 1}, false},
		{Vec{X: h.a - 0.01, Y: -300}, Vec{Y: 1}, true}, {Vec{X: h.a + 0.01, Y: -300}, Vec{Y: 1}, false},
	} {
		if _, _, ok := h.Hit(c.from, c.dir, 0); ok != c.want {
			t.Errorf("from %v along %v: hit %v, want %v", c.from, c.dir, ok, c.want)
		}
	}
}

func TestEars(t *testing.T) {
	h := mediumHead(t)
	right, left := h.Ear(Right), h.Ear(Left)
	if left != right.mirrored() {
		t.Errorf("the ears are at %v and %v", left, right)
	}
	if f := equation(&h.Surface, right); math.Abs(f) > 1e-6 || right.X <= 0 || math.Abs(right.Azimuth()-earAzimuth) > 1e-6 {
		t.Errorf("the right ear is at %v, azimuth %g, off the head by %g", right, right.Azimuth(), f)
	}
	if below := MM(h.top - right.Z); math.Abs(float64(below-h.EarToTop())) > 1e-9 {
		t.Errorf("the ear is %v below the top, want %v", below, h.EarToTop())
	}
}

func BenchmarkHit(b *testing.B) {
	h := mediumHead(b)
	for b.Loop() {
		h.Hit(Vec{30, -500, 20}, Vec{Y: 1}, 405)
	}
}
