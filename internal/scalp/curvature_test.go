package scalp

import (
	"math"
	"testing"
)

// Source: closed forms. A sphere has 1/R², and an ellipsoid
// 1/(a²b²c²(x²/a⁴ + y²/b⁴ + z²/c⁴)²).
func TestCurvatureOfEllipsoids(t *testing.T) {
	rng := seeded(21)
	for range 200 {
		a, b, c := 60+50*rng.Float64(), 60+50*rng.Float64(), 60+50*rng.Float64()
		s := newSurface(a, b, c, c, 0, 0)
		ball := newSurface(a, a, a, a, 0, 0)
		ray := Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}.Unit()
		if got, want := ball.Curvature(ray.Times(a)), 1/(a*a); !(math.Abs(got/want-1) < 1e-12) {
			t.Errorf("sphere of radius %.3f: %g, want %g", a, got, want)
		}
		p := onRay(&s, Vec{}, ray)
		k := p.X*p.X/(a*a*a*a) + p.Y*p.Y/(b*b*b*b) + p.Z*p.Z/(c*c*c*c)
		want := 1 / (a * a * b * b * c * c * k * k)
		if got := s.Curvature(p); !(math.Abs(got/want-1) < 1e-9) {
			t.Errorf("ellipsoid %.3f %.3f %.3f at %v: %g, want %g", a, b, c, p, got, want)
		}
	}
}

// Source: Gauss's theorem, that the curvature of a closed surface adds up to
// 4π. It holds the curvature of the head itself, which has no closed form, and the
// normal along with it: an area element is r² dω/(normal · ray).
func TestCurvatureAddsUp(t *testing.T) {
	rng := seeded(22)
	for range 5 {
		h := randomHead(rng)
		const rows, columns = 150, 300
		total := 0.0
		for i := range rows {
			// The middle of each row of a grid that is even in azimuth and in height on the unit sphere.
			sinLat := -1 + (2*float64(i)+1)/rows
			cosLat := math.Sqrt(1 - sinLat*sinLat)
			for j := range columns {
				sin, cos := math.Sincos(2 * math.Pi * (float64(j) + 0.5) / columns)
				ray := Vec{cosLat * cos, cosLat * sin, sinLat}
				p := onRay(&h.Surface, Vec{}, ray)
				total += h.Curvature(p) * p.Dot(p) / h.Normal(p).Dot(ray)
			}
		}
		total *= 4 * math.Pi / (rows * columns)
		if !(math.Abs(total/(4*math.Pi)-1) < 1e-3) {
			t.Errorf("%+v: the curvature adds up to %.5f, want %.5f", h.Measures, total, 4*math.Pi)
		}
	}
}

// Lines along which hair falls spread as the curvature says, so it must be
// positive wherever a bond may be (design, head from four tapes).
func TestCurvatureIsPositiveAtEverySlot(t *testing.T) {
	t.Parallel()
	rng := seeded(23)
	heads := 1000
	if testing.Short() {
		heads = 100
	}
	least, most, slots := math.Inf(1), 0.0, 0
	for range heads {
		h := randomHead(rng)
		for _, p := range slotPoints(h) {
			k := h.Curvature(p)
			least, most = math.Min(least, k), math.Max(most, k)
			slots++
			if !(k > 0) || math.IsInf(k, 0) {
				t.Fatalf("%+v: curvature %g at %v", h.Measures, k, p)
			}
		}
	}
	t.Logf("%d slots: radius of curvature from %.1f to %.1f mm", slots, 1/math.Sqrt(most), 1/math.Sqrt(least))
	// A head has neither corners nor flats: radii of 40 mm and of 400 would be either.
	if least < 1/(400.0*400) || most > 1/(40.0*40) {
		t.Errorf("radius of curvature from %.1f to %.1f mm", 1/math.Sqrt(most), 1/math.Sqrt(least))
	}
}

// Source: differences of the surface's equation as its documentation states it.
func TestNormalIsTheGradient(t *testing.T) {
	rng := seeded(24)
	for range 100 {
		h := randomHead(rng)
		p := randomPoint(rng, h)
		const d = 1e-4
		slope := func(v Vec) float64 {
			return (equation(&h.Surface, p.Along(v, d)) - equation(&h.Surface, p.Along(v, -d))) / (2 * d)
		}
		want := Vec{slope(across), slope(forward), slope(upward)}.Unit()
		if got := h.Normal(p); !(got.Minus(want).Length() < 1e-6) {
			t.Errorf("%+v: normal at %v is %v, want %v", h.Measures, p, got, want)
		}
		if f := equation(&h.Surface, h.Settle(p.Along(want, 2*rng.Float64()-1))); !(math.Abs(f) < 1e-10) {
			t.Errorf("%+v: a point near %v settles %g off the surface", h.Measures, p, f)
		}
	}
}
