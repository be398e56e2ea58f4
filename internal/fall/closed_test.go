package fall

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/underveil/internal/scalp"
)

// seeded is a source of random numbers that repeats from run to run.
func seeded(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 20240229)) }

// A sphere about as large as a head, on which all that follows has a closed form: geodesics are great
// circles, and lines that have come together or apart by an angle are as far apart as its sine or cosine says.
const radius = 90.0

func sphere() *scalp.Surface {
	s := scalp.Spheroid(radius, radius)
	return &s
}

// at is the point of the sphere at a polar angle from the top, and an angle round it.
func at(polar, round float64) scalp.Vec {
	return scalp.Vec{X: radius * math.Sin(polar) * math.Cos(round), Y: radius * math.Sin(polar) * math.Sin(round), Z: radius * math.Cos(polar)}
}

// grown is a line on which hair is as thick everywhere as at the back.
func grown(l *Line) strip {
	var g strip
	for i, st := range l.At {
		g.add(float64(l.Step)*float64(i), 1, l.Spread(st))
	}
	return g
}

// raw is the integral of the spread along a strip, over the spread at its end, without the limit that
// the cover puts on it.
func (g *strip) raw(spread float64) float64 {
	sum := 0.0
	for i := 1; i < len(g.at); i++ {
		sum += (g.at[i] - g.at[i-1]) * (g.spread[i-1] + g.spread[i]) / 2 / spread
	}
	return sum
}

// near holds a figure to its closed form within a thousandth.
func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-3*math.Abs(want)+1e-9 {
		t.Errorf("%s: %.5f, by its closed form %.5f", what, got, want)
	}
}

// TestPointSource: lines from a point spread as the sine, so the hair over a place s away is R tan(s/2R). They never
// draw together before they are a quarter of the way round, so up to there the limit changes nothing.
func TestPointSource(t *testing.T) {
	source := Point(sphere(), at(0, 0), 0)
	for _, round := range []float64{0, 0.7, 2, 3.1, -1.3} {
		for s := 4.0; s < 260; s += 17 {
			line := source.To(at(s/radius, round))
			near(t, "length", float64(line.Length()), s)
			roots := grown(&line)
			spread := line.Spread(line.End())
			near(t, "point source", roots.raw(spread), radius*math.Tan(s/2/radius))
			if s < radius*math.Pi/2 {
				near(t, "point source, limited", float64(roots.depth(0, line.Length(), spread)), radius*math.Tan(s/2/radius))
			}
		}
	}
}

// TestWhorl: a whorl of 25 mm lets lines set out with j = 1 and j' = 1/25, so j is cos(s/R) + R/25 sin(s/R) and its
// integral R sin(s/R) + R²/25 (1 - cos(s/R)).
func TestWhorl(t *testing.T) {
	source := Point(sphere(), at(0, 0), 25)
	for s := 4.0; s < 120; s += 9 {
		line := source.To(at(s/radius, 1))
		sin, cos := math.Sincos(s / radius)
		want := (radius*sin + radius*radius/25*(1-cos)) / (cos + radius/25*sin)
		roots := grown(&line)
		near(t, "whorl", roots.raw(line.Spread(line.End())), want)
	}
}

// greatCircle is the half of a great circle from the front over the top to the back.
func greatCircle() *Source {
	source := &Source{surface: sphere(), whorl: 25}
	var points []scalp.Vec
	for angle := -math.Pi / 2; angle <= math.Pi/2+1e-9; angle += math.Pi / 114 {
		points = append(points, scalp.Vec{Y: -radius * math.Sin(angle), Z: radius * math.Cos(angle)})
	}
	source.lay(points)
	return source
}

// TestLineSource: lines from a great circle draw together as the cosine, so the hair over a place s away is R tan(s/R);
// and as if they ran side by side it is s.
func TestLineSource(t *testing.T) {
	source := greatCircle()
	for _, over := range []float64{-0.6, 0, 0.9} { // where on the circle
		for s := 3.0; s < 125; s += 11 {
			for _, side := range []float64{-1, 1} {
				sin, cos := math.Sincos(s / radius)
				p := scalp.Vec{X: side * radius * sin, Y: -radius * cos * math.Sin(over), Z: radius * cos * math.Cos(over)}
				line := source.To(p)
				near(t, "length", float64(line.Length()), s)
				roots, spread := grown(&line), line.Spread(line.End())
				near(t, "line source", roots.raw(spread), radius*math.Tan(s/radius))
				near(t, "line source, limited", float64(roots.depth(0, line.Length(), spread)), s)
			}
		}
	}
}

// TestRingSource: a circle at the polar angle θ is bent within the surface, by cot θ/R. Lines from it to the pole draw
// together as sin(θ - s/R)/sin θ, and away from it spread as sin(θ + s/R)/sin θ.
func TestRingSource(t *testing.T) {
	for _, theta := range []float64{0.6, 1, 1.4} {
		var points []scalp.Vec
		n := int(2 * math.Pi * radius * math.Sin(theta) / 2.5)
		for i := range n {
			points = append(points, at(theta, 2*math.Pi*float64(i)/float64(n)))
		}
		source := Ring(sphere(), points)
		for s := 3.0; s < 0.8*radius*theta; s += 7 { // nearer to the pole the lines have all but met
			to := theta - s/radius
			for _, seam := range []float64{-0.006, -0.001, 0, 0.001, 0.006} {
				if line := source.To(at(to, seam)); line.misses(at(to, seam)) > hitWithin || math.Abs(float64(line.Length())-s) > 0.03 {
					t.Errorf("beside the seam a line of %.2f mm misses by %.3f, want %g", float64(line.Length()), line.misses(at(to, seam)), s)
				}
			}
			line := source.To(at(to, 0.3))
			near(t, "length inwards", float64(line.Length()), s)
			roots := grown(&line)
			near(t, "ring inwards", roots.raw(line.Spread(line.End())), radius*(math.Cos(to)-math.Cos(theta))/math.Sin(to))

			to = theta + s/radius
			line = source.To(at(to, 0.3))
			near(t, "length outwards", float64(line.Length()), s)
			roots = grown(&line)
			near(t, "ring outwards", roots.raw(line.Spread(line.End())), radius*(math.Cos(theta)-math.Cos(to))/math.Sin(to))
		}
	}
}

// TestTiedHair: worn up, the hair from a place s_b from the tie out to the hairline at s_h passes over it, spread as the
// sine of the distance: R (cos(s_b/R) - cos(s_h/R)) / sin(s_b/R). As if the lines ran side by side it is s_h - s_b.
func TestTiedHair(t *testing.T) {
	s := sphere()
	tie := Point(s, at(0, 0), 0)
	for bond := 20.0; bond < 130; bond += 13 {
		line := tie.To(at(bond/radius, 2))
		var g strip
		station, far := line.End(), bond
		const edge = 135
		steps := math.Ceil((edge - bond) / fineStep)
		g.add(far, 1, line.Spread(station))
		for range int(steps) {
			station = s.Follow(station, (edge-bond)/steps)
			far += (edge - bond) / steps
			g.add(far, 1, line.Spread(station))
		}
		spread := line.Spread(line.End())
		near(t, "worn up", g.raw(spread), radius*(math.Cos(bond/radius)-math.Cos(edge/radius))/math.Sin(bond/radius))
		near(t, "worn up, limited", float64(g.depth(scalp.MM(bond), edge, spread)), edge-bond)
	}
}

// TestOnTheSource: a bond right on the parting, on the section line or on the whorl has nothing over it.
func TestOnTheSource(t *testing.T) {
	circle := greatCircle()
	for _, p := range []scalp.Vec{{Z: radius}, {Y: -radius * math.Sin(0.4), Z: radius * math.Cos(0.4)}} {
		line := circle.To(p)
		roots := grown(&line)
		if got := roots.depth(0, line.Length(), line.Spread(line.End())); got > 0.05 {
			t.Errorf("%.3f mm of hair over a bond on the parting", float64(got))
		}
	}
	line := Point(sphere(), at(0, 0), 25).To(at(0, 0))
	roots := grown(&line)
	if got := roots.depth(0, line.Length(), line.Spread(line.End())); got > 0.05 {
		t.Errorf("%.3f mm of hair over a bond on the whorl", float64(got))
	}
}

// TestDepthIsBounded: whatever the spreads, and whatever the stretch that counts, the hair over a place is no more than
// what is rooted on the stretch, and never less than none.
func TestDepthIsBounded(t *testing.T) {
	rng := seeded(4)
	for range 2000 {
		var g strip
		far := 100 * rng.Float64()
		most := 0.0
		for range 2 + rng.IntN(30) {
			g.add(far, rng.Float64(), 3*rng.NormFloat64())
			far += 0.1 + 5*rng.Float64()
		}
		for i := 1; i < len(g.at); i++ {
			most += (g.at[i] - g.at[i-1]) * math.Max(g.share[i-1], g.share[i])
		}
		from, to := scalp.MM(far*rng.Float64()), scalp.MM(far*rng.Float64())
		spread := rng.NormFloat64()
		whole := g.depth(0, scalp.MM(far), spread)
		part := g.depth(from, to, spread)
		if !(whole >= 0 && float64(whole) <= most+1e-9 && part >= 0 && part <= whole+1e-9) {
			t.Fatalf("%g of the whole, %g of a part, at most %g are rooted: %+v, spread %g", float64(whole), float64(part), most, g, spread)
		}
	}
}
