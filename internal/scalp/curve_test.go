package scalp

import (
	"math"
	"math/rand/v2"
	"testing"
)

// nearest is the distance from p to a curve by brute force: Distance to every
// vertex that its chord does not rule out, and then along every piece that could
// hold a nearer point, at steps of a quarter and by golden section about the best.
func nearest(s *Surface, p Vec, c Curve) float64 {
	pts := c.Points()
	d := make([]float64, len(pts))
	best := math.Inf(1)
	for i, q := range pts {
		d[i] = q.Minus(p).Length() // too short, which keeps a piece in the search if anything
		if d[i] < best+3 {
			d[i] = float64(s.Distance(p, q))
			best = math.Min(best, d[i])
		}
	}
	for i := 1; i < len(pts); i++ {
		piece := pts[i].Minus(pts[i-1]).Length()
		if (d[i-1]+d[i]-1.01*piece)/2 > best { // no point of the piece can be nearer
			continue
		}
		at := func(t float64) float64 {
			return float64(s.Distance(p, s.Settle(pts[i-1].Times(1-t).Along(pts[i], t))))
		}
		least, where := d[i-1], 0.0
		if d[i] < least {
			least, where = d[i], 1
		}
		for _, t := range []float64{0.25, 0.5, 0.75} {
			if got := at(t); got < least {
				least, where = got, t
			}
		}
		best = math.Min(best, math.Min(least, goldenSection(math.Max(0, where-0.25), math.Min(1, where+0.25), at)))
	}
	return best
}

// goldenSection is the least value of a function with one valley.
func goldenSection(lo, hi float64, f func(float64) float64) float64 {
	const ratio = 0.6180339887498949
	a, b := hi-ratio*(hi-lo), lo+ratio*(hi-lo)
	fa, fb := f(a), f(b)
	for range 9 {
		if fa < fb {
			hi, b, fb = b, a, fa
			a = hi - ratio*(hi-lo)
			fa = f(a)
		} else {
			lo, a, fa = a, b, fb
			b = lo + ratio*(hi-lo)
			fb = f(b)
		}
	}
	return math.Min(fa, fb)
}

// someZones are the zones of a head with landmarks moved and two partings.
func someZones(t testing.TB, rng *rand.Rand, h *Head) *Zones {
	t.Helper()
	line := mustHairline(t, h, randomMoves(rng, 8))
	return line.Zones(35+15*MM(rng.Float64()), []Parting{
		{Right: MM(100*rng.Float64() - 50), Length: 20 + 100*MM(rng.Float64())},
		{Right: 0, Length: 90},
	}, nil)
}

// Source: brute force with Distance, itself held against GeodSolve and shot geodesics.
func TestDistanceToCurveAgainstBruteForce(t *testing.T) {
	t.Parallel()
	heads := 200
	if testing.Short() {
		heads = 20
	}
	seen := bands(5, 20, 40, 60, 80, float64(FarReach))
	beyond := bands(150)
	rng := seeded(41)
	for range heads {
		h := randomHead(rng)
		z := someZones(t, rng, h)
		slots := hairSlots(h, z.Hairline)
		for range 12 {
			p := slots[rng.IntN(len(slots))]
			for _, c := range z.named() {
				name := c.name
				got, foot := h.DistanceToCurve(p, c.Curve)
				if got > 150 || got > FarReach && rng.IntN(5) > 0 {
					continue
				}
				want := nearest(&h.Surface, p, c.Curve)
				off, mayBe := math.Abs(float64(got)-want), 0.05
				if got > FarReach { // "an estimate, good to some millimetres"
					beyond.add(float64(got), off)
					mayBe = 10
				} else {
					seen.add(float64(got), off)
					if d := h.Distance(p, foot) - got; math.Abs(float64(d)) > 1e-9 || math.Abs(equation(&h.Surface, foot)) > 1e-9 {
						t.Errorf("%+v: the foot %v on the %s is %v from %v, not %v", h.Measures, foot, name, h.Distance(p, foot), p, got)
					}
				}
				if !(off <= mayBe) {
					t.Errorf("%+v: from %v to the %s %.4f mm, by brute force %.4f", h.Measures, p, name, float64(got), want)
				}
			}
		}
	}
	seen.log(t, "distance to a curve")
	beyond.log(t, "estimate beyond reach")
}

// Source: shot geodesics. DistanceToCurve passes over what the estimate says is more
// than 0.1 mm + 5 % further than the nearest, so up to 100 mm no two estimates may be wrong
// by more than that between them. It also passes over vertices whose chord is more than
// 1.12 times the shortest, so no two paths of a length may differ by more in that.
func TestEstimateIsAsGoodAsDistanceToCurveNeeds(t *testing.T) {
	rng := seeded(42)
	var short, long, least, most [10]float64 // by tens of millimetres
	for i := range least {
		least[i] = math.Inf(1)
	}
	for range 60 {
		h := randomHead(rng)
		for range 200 {
			p := randomPoint(rng, h)
			dir := Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}
			length := 0.1 + 99.9*rng.Float64()
			q, _ := h.Shoot(p, dir, MM(length))
			off := h.estimate(p, h.Normal(p), q, h.Normal(q)) - length
			toChord := length / q.Minus(p).Length()
			i := int(length / 10)
			short[i], long[i] = math.Min(short[i], off), math.Max(long[i], off)
			least[i], most[i] = math.Min(least[i], toChord), math.Max(most[i], toChord)
		}
	}
	for i := range short {
		from := 10 * float64(i)
		t.Logf("estimate from %2.0f mm: %+.3f to %+.3f mm, path %.3f to %.3f of the chord", from, short[i], long[i], least[i], most[i])
		if !(long[i]-short[i] <= 0.1+0.05*from) || !(most[i] <= 1.12*least[i]) {
			t.Errorf("from %.0f mm the estimate is wrong by %+.3f to %+.3f mm, and the path %.3f to %.3f of the chord",
				from, short[i], long[i], least[i], most[i])
		}
	}
}

// To several curves at once it is the least of the distances to each.
func TestDistanceToTheNearestOfSeveralCurves(t *testing.T) {
	rng := seeded(43)
	for range 20 {
		h := randomHead(rng)
		z := someZones(t, rng, h)
		all := []Curve{z.Nape, z.Ears[0], z.Ears[1], z.Temples[0], z.Temples[1], z.Front, z.Triangle[0], z.Triangle[1]}
		for _, p := range hairSlots(h, z.Hairline) {
			want := MM(math.Inf(1))
			for _, c := range all {
				d, _ := h.DistanceToCurve(p, c)
				want = min(want, d)
			}
			if want > FarReach {
				continue
			}
			got, foot := h.DistanceToCurve(p, all...)
			if math.Abs(float64(got-want)) > 1e-9 || math.Abs(float64(h.Distance(p, foot)-got)) > 1e-9 {
				t.Errorf("%+v: from %v to the nearest curve %.6f mm at %v, to each %.6f", h.Measures, p, float64(got), foot, float64(want))
			}
		}
	}
}

func TestDistanceToCurveWithNothingToMeasure(t *testing.T) {
	h := mediumHead(t)
	p := h.midlinePoint(100)
	if d, _ := h.DistanceToCurve(p, Curve{}); !math.IsInf(float64(d), 1) {
		t.Errorf("to an empty curve %v, want infinitely far", d)
	}
	if d, _ := h.DistanceToCurve(p); !math.IsInf(float64(d), 1) {
		t.Errorf("to no curve %v, want infinitely far", d)
	}
	q, _ := h.Shoot(p, across, 30)
	d, foot := h.DistanceToCurve(p, h.Curve([]Vec{q}))
	if math.Abs(float64(d)-30) > 0.01 || foot != q {
		t.Errorf("to a curve of one point %.4f mm at %v, want 30 at %v", float64(d), foot, q)
	}
	if d, _ := h.DistanceToCurve(q, h.Curve([]Vec{q})); d != 0 {
		t.Errorf("from the curve's own point %v", d)
	}
}
