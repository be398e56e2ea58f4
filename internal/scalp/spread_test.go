package scalp

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mathext"
)

// follow goes on from a station for some mm in equal steps of at most 5, as fall lines do.
func (s *Surface) follow(at Station, length float64) Station {
	steps := math.Ceil(length / 5)
	for range int(steps) {
		at = s.Follow(at, length/steps)
	}
	return at
}

// directGeodesic is a line of testdata/geodesic/direct-*.csv: it leaves a point and ends at another
// with a direction there, and geodesics beside it spread as m12 and M12 say.
type directGeodesic struct {
	from, leaving, to, arriving Vec
	length, m12, M12            float64
}

func readDirect(t testing.TB, file string, equator, toPole float64) []directGeodesic {
	t.Helper()
	var all []directGeodesic
	for _, v := range readNumbers(t, file, 9) {
		heading := func(lat, lon, azimuth float64) (p, dir Vec) {
			p, north, east := geodetic(equator, toPole, lat, lon)
			sin, cos := math.Sincos(azimuth * math.Pi / 180)
			return p, north.Times(cos).Along(east, sin)
		}
		g := directGeodesic{length: v[3], m12: v[7], M12: v[8]}
		g.from, g.leaving = heading(v[0], v[1], v[2])
		g.to, g.arriving = heading(v[4], v[5], v[6])
		all = append(all, g)
	}
	if len(all) != 250 {
		t.Fatalf("%s has %d geodesics, want 250", file, len(all))
	}
	return all
}

// Source: GeographicLib's GeodSolve, the direct problem; see testdata/geodesic/README.md. Its reduced
// length m12 is Fan. Its geodesic scale M12 is how far apart at the end two geodesics are that were parallel at
// the beginning, so Line; M21, the same for the way back, is another number.
func TestFollowOnSpheroids(t *testing.T) {
	for _, e := range spheroids {
		t.Run(e.file, func(t *testing.T) {
			s := Spheroid(MM(e.equator), MM(e.toPole))
			ends, turned, fans, lines := bands(60, 120, 180, 250), 0.0, 0.0, 0.0
			for _, g := range readDirect(t, "direct-"+e.file, e.equator, e.toPole) {
				at := s.follow(s.Leave(g.from, g.leaving), g.length)
				miss, turn := at.Point.Minus(g.to).Length(), at.Dir.Minus(g.arriving).Length()
				// A share of the spread a quarter of the way round: near where lines meet there is none of its own.
				fan, line := (at.Fan-g.m12)/math.Max(math.Abs(g.m12), 10), at.Line-g.M12
				ends.add(g.length, miss)
				turned = math.Max(turned, turn)
				fans, lines = math.Max(fans, math.Abs(fan)), math.Max(lines, math.Abs(line))
				if !(miss <= 0.01) || !(turn <= 2e-4) {
					t.Errorf("from %v along %v for %.3f mm: ends %.5f mm away, turned by %.6f", g.from, g.leaving, g.length, miss, turn)
				}
				if !(math.Abs(fan) <= 1e-4) || !(math.Abs(line) <= 1e-4) {
					t.Errorf("from %v along %v for %.3f mm: fan %.6f mm, want %.6f; line %.7f, want %.7f",
						g.from, g.leaving, g.length, at.Fan, g.m12, at.Line, g.M12)
				}
			}
			ends.log(t, "end of the path")
			t.Logf("largest error of the direction %.7f, of the fan %.7f of it, of the line %.7f", turned, fans, lines)
		})
	}
}

// Source: on a sphere geodesics that set out side by side have come to cos(s/R) of that, and those that
// set out from a point to R sin(s/R) mm a radian.
func TestSpreadOnSphere(t *testing.T) {
	rng := seeded(301)
	worst := 0.0
	for range 200 {
		radius := 70 + 40*rng.Float64()
		s := Spheroid(MM(radius), MM(radius))
		p := Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}.Unit().Times(radius)
		length := 300 * rng.Float64()
		at := s.follow(s.Leave(p, Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}), length)
		sin, cos := math.Sincos(length / radius)
		off := math.Max(math.Abs(at.Line-cos), math.Abs(at.Fan/radius-sin))
		worst = math.Max(worst, off)
		if !(off < 1e-5) {
			t.Errorf("radius %.3f, %.3f mm on: line %.8f, want %.8f; fan %.6f, want %.6f", radius, length, at.Line, cos, at.Fan, radius*sin)
		}
	}
	t.Logf("largest error %.2g", worst)
}

// Source: geodesics that really set out side by side, and from one point, a little apart, on spheroids,
// on ellipsoids with three axes and on heads.
func TestSpreadOfNeighbours(t *testing.T) {
	rng := seeded(302)
	surfaces := []Surface{Spheroid(80, 95), Spheroid(95, 80), newSurface(72, 98, 85, 85, 0, 0), newSurface(100, 75, 90, 90, 0, 0)}
	for range 6 {
		surfaces = append(surfaces, randomHead(rng).Surface)
	}
	worst := 0.0
	for i := range surfaces {
		s := &surfaces[i]
		for range 60 {
			p := onRay(s, Vec{}, Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}.Unit())
			first := s.Leave(p, Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()})
			length := 5 + 245*rng.Float64()
			at := s.follow(first, length)
			apart := func(a, b Vec) float64 { return b.Minus(a).Dot(s.Normal(at.Point).Cross(at.Dir)) }

			const h = 0.02 // mm, and at one mm from a point radians
			left := s.Normal(p).Cross(first.Dir)
			beside := func(side float64) Vec {
				// Along the geodesic to the left, and there at right angles to it: so it is parallel.
				foot := s.Follow(s.Leave(p, left), side*h)
				return s.follow(s.Leave(foot.Point, foot.Dir.Cross(s.Normal(foot.Point))), length).Point
			}
			swung := func(side float64) Vec {
				return s.follow(s.Leave(p, first.Dir.Along(left, side*h)), length).Point
			}
			line := apart(beside(-1), beside(1)) / (2 * h)
			fan := apart(swung(-1), swung(1)) / (2 * math.Atan(h))
			off := math.Max(math.Abs(at.Line-line), math.Abs(at.Fan-fan)/90)
			worst = math.Max(worst, off)
			if !(off < 3e-3) {
				t.Errorf("surface %d, from %v along %v, %.2f mm on: line %.6f, differences %.6f; fan %.5f, differences %.5f",
					i, p, first.Dir, length, at.Line, line, at.Fan, fan)
			}
		}
	}
	t.Logf("largest difference %.2g", worst)
}

// Steps of 5 mm, as the docstring has it, are right to 0.001 mm over the length of a head, and so are spreads to
// within a share of the same size: against steps of a quarter of a millimetre.
func TestStepOfFollow(t *testing.T) {
	rng := seeded(303)
	moved, spread := 0.0, 0.0
	for range 20 {
		h := randomHead(rng)
		for range 10 {
			at := h.Leave(randomPoint(rng, h), Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()})
			far := at
			for range 50 {
				for range 20 {
					at = h.Follow(at, 0.25)
				}
				far = h.Follow(far, 5)
			}
			moved = math.Max(moved, far.Point.Minus(at.Point).Length())
			spread = math.Max(spread, math.Max(math.Abs(far.Line-at.Line), math.Abs(far.Fan-at.Fan)/90))
		}
	}
	t.Logf("after 250 mm: %.6f mm apart, spread %.7f", moved, spread)
	if !(moved < 0.001) || !(spread < 1e-4) {
		t.Errorf("after 250 mm in steps of 5 mm the end is %.6f mm off, and the spread %.7f", moved, spread)
	}
}

// A step back undoes a step on.
func TestFollowBack(t *testing.T) {
	rng := seeded(304)
	h := randomHead(rng)
	for range 50 {
		at := h.Leave(randomPoint(rng, h), Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()})
		at = h.follow(at, 40)
		back := h.Follow(h.Follow(at, 5), -5)
		if d := back.Point.Minus(at.Point).Length(); !(d < 1e-4) || !(math.Abs(back.Fan-at.Fan) < 1e-4) || !(math.Abs(back.Line-at.Line) < 1e-6) {
			t.Errorf("5 mm on and back: %+v, was %+v", back, at)
		}
	}
}

// Source: closed forms for the area of spheroids, and for an ellipsoid with three axes Legendre's, by
// gonum's elliptic integrals:
//
//	S = 2πc² + 2πab/sin φ · (E(φ,k) sin²φ + F(φ,k) cos²φ)   cos φ = c/a   k² = a²(b²-c²)/(b²(a²-c²))   a ≥ b ≥ c
func TestIntegralIsTheArea(t *testing.T) {
	one := func(Vec) float64 { return 1 }
	ball := Spheroid(90, 90)
	oblate, prolate := Spheroid(95, 80.75), Spheroid(80, 95)
	three := newSurface(75, 97, 86, 86, 0, 0)
	e := math.Sqrt(1 - 80.75*80.75/(95.0*95))
	g := math.Sqrt(1 - 80*80/(95.0*95))
	a, b, c := 97.0, 86.0, 75.0
	phi := math.Acos(c / a)
	m := a * a * (b*b - c*c) / (b * b * (a*a - c*c))
	sin, cos := math.Sincos(phi)
	for _, w := range []struct {
		name string
		s    Surface
		want float64
	}{
		{"sphere", ball, 4 * math.Pi * 90 * 90},
		{"oblate spheroid", oblate, 2 * math.Pi * 95 * 95 * (1 + (1-e*e)/e*math.Atanh(e))},
		{"prolate spheroid", prolate, 2 * math.Pi * 80 * 80 * (1 + 95/(80*g)*math.Asin(g))},
		{"ellipsoid", three, 2*math.Pi*c*c + 2*math.Pi*a*b/sin*(mathext.EllipticE(phi, m)*sin*sin+mathext.EllipticF(phi, m)*cos*cos)},
	} {
		got := w.s.Integral(90, one)
		t.Logf("%s: %.1f mm², by its closed form %.1f", w.name, got, w.want)
		if !(math.Abs(got/w.want-1) < 1e-3) {
			t.Errorf("%s: %.1f mm², want %.1f", w.name, got, w.want)
		}
	}
}

// Source: the same sum over the unit sphere, each place met by bisection. By symmetry the mean of x, y and of
// z on a ball is 0, and of each of their squares R²/3.
func TestIntegralOfOtherThings(t *testing.T) {
	ball := Spheroid(90, 90)
	area := 4 * math.Pi * 90 * 90
	for name, of := range map[string]func(Vec) float64{
		"x": func(p Vec) float64 { return p.X }, "y": func(p Vec) float64 { return p.Y }, "z": func(p Vec) float64 { return p.Z },
		"x² - R²/3": func(p Vec) float64 { return p.X*p.X - 2700 }, "y² - R²/3": func(p Vec) float64 { return p.Y*p.Y - 2700 },
		"z² - R²/3": func(p Vec) float64 { return p.Z*p.Z - 2700 },
	} {
		if got := ball.Integral(90, of) / area; !(math.Abs(got) < 3) {
			t.Errorf("the mean of %s on a ball is %g", name, got)
		}
	}
	rng := seeded(305)
	h := randomHead(rng)
	of := func(p Vec) float64 { return 1 + p.X/200 + p.Y*p.Z/20000 }
	const rows, columns = 200, 400
	want := 0.0
	for i := range rows {
		up := -1 + (2*float64(i)+1)/rows // even in height, where Integral is even in elevation
		level := math.Sqrt(1 - up*up)
		for k := range columns {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / columns)
			ray := Vec{level * cos, level * sin, up}
			p := onRay(&h.Surface, Vec{}, ray)
			want += of(p) * p.Dot(p) / h.Normal(p).Dot(ray)
		}
	}
	want *= 4 * math.Pi / (rows * columns)
	if got := h.Integral(90, of); !(math.Abs(got/want-1) < 1e-3) {
		t.Errorf("on a head: %.2f, by another grid %.2f", got, want)
	}
}

// Source: the distance, which is held against GeodSolve. The docstring says 2 % up to 90 mm, and 8 % up to 190.
func TestEstimateOfLengths(t *testing.T) {
	rng := seeded(306)
	near, far := 0.0, 0.0
	for range 30 {
		h := randomHead(rng)
		for range 60 {
			length := 1 + 189*rng.Float64()
			p := randomPoint(rng, h)
			q, _ := h.Shoot(p, Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}, MM(length))
			off := float64(h.Estimate(p, q)/h.Distance(p, q)) - 1
			if length <= 90 {
				near = math.Max(near, math.Abs(off))
			} else {
				far = math.Max(far, math.Abs(off))
			}
		}
	}
	t.Logf("largest error %.3f %% up to 90 mm, %.2f %% up to 190", 100*near, 100*far)
	if !(near < 0.02) || !(far < 0.08) {
		t.Errorf("estimates are off by %.3f %% up to 90 mm and by %.2f %% up to 190", 100*near, 100*far)
	}
}
