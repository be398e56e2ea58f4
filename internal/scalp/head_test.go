package scalp

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mathext"
)

var (
	across  = Vec{X: 1}
	forward = Vec{Y: 1}
	back    = Vec{Y: -1}
	upward  = Vec{Z: 1}
)

// The four tapes measured on the surface by fine polylines must come out as they
// were put in, to two thousandths of a millimetre: the quadrature is good to one.
func TestFitMeetsItsTapes(t *testing.T) {
	rng := seeded(11)
	var all []Measures
	for _, size := range Sizes {
		all = append(all, size.Measures)
	}
	for range 40 {
		all = append(all, randomMeasures(rng))
	}
	// A wide nape, a narrow one, and a nape hairline near the bottom of the head.
	all = append(all,
		Measures{Circumference: 560, EarToEar: 340, FrontToNape: 355, NapeWidth: 150},
		Measures{Circumference: 560, EarToEar: 340, FrontToNape: 355, NapeWidth: 65},
		Measures{Circumference: 560, EarToEar: 340, FrontToNape: 388, NapeWidth: 88})
	worst := 0.0
	check := func(m Measures, tape string, got float64, want MM) {
		t.Helper()
		worst = math.Max(worst, math.Abs(got-float64(want)))
		if !(math.Abs(got-float64(want)) <= 0.002) {
			t.Errorf("%+v: %s measures %.4f mm on the head, want %.4f", m, tape, got, float64(want))
		}
	}
	for _, m := range all {
		h := mustFit(t, m)
		s := &h.Surface
		line := mustHairline(t, h, nil)
		check(m, "circumference", planeArc(s, Vec{}, back, across, 0, 2*math.Pi), m.Circumference)

		// Ear to ear over the top, in the plane through both ear notches and the top.
		ear := h.earPoint()
		if math.Abs(ear.Z+earBelow) > 1e-9 || math.Abs(ear.Azimuth()-earAzimuth) > 1e-9 || math.Abs(equation(s, ear)) > 1e-9 {
			t.Errorf("%+v: ear notch at %v, azimuth %.3f", m, ear, ear.Azimuth())
		}
		middle := Vec{Y: ear.Y, Z: ear.Z}
		over := Vec{Z: h.top}.Minus(middle).Unit()
		inside := middle.Along(over, 20)
		end := angleIn(ear, inside, over, across)
		check(m, "ear to ear", planeArc(s, inside, over, across, -end, end), m.EarToEar)

		// Brow to front hairline, and on to the nape hairline, on the midline.
		front, nape := line.Landmark(Landmark{FrontCentre, Middle}), line.Landmark(Landmark{NapeCentre, Middle})
		atFront, atNape := angleIn(front, Vec{}, back, upward), angleIn(nape, Vec{}, back, upward)
		check(m, "brow to front hairline", planeArc(s, Vec{}, back, upward, atFront, math.Pi), foreheadArc)
		check(m, "front to nape", planeArc(s, Vec{}, back, upward, atNape, atFront), m.FrontToNape)
		if math.Abs(front.X)+math.Abs(nape.X) > 1e-9 || nape.Y >= 0 || front.Y <= 0 || nape.Z >= -earBelow {
			t.Errorf("%+v: front hairline at %v, nape at %v", m, front, nape)
		}

		// The nape width is level, between corners 10 mm up from the nape hairline.
		corner := line.Landmark(Landmark{NapeCorner, Right})
		level := Vec{Z: corner.Z}
		end = angleIn(corner, level, back, across)
		check(m, "nape width", planeArc(s, level, back, across, -end, end), m.NapeWidth)
		atCorner := angleIn(onRay(s, level, back), Vec{}, back, upward)
		check(m, "height of the nape corners", planeArc(s, Vec{}, back, upward, atNape, atCorner), napeCornerUp)
	}
	t.Logf("largest difference %.7f mm", worst)
}

// Sources: ANSUR II 2012, means of headcircumference, headlength and headbreadth.
func TestLengthAndBreadthFromCircumference(t *testing.T) {
	for _, c := range []struct {
		who                            string
		circumference, length, breadth float64
	}{
		{"women", 561.12, 189.82, 147.77},
		{"men", 574.37, 199.50, 154.33},
	} {
		b := halfLength(MM(c.circumference))
		for _, d := range []struct {
			name      string
			got, want float64
		}{{"length", 2 * b, c.length}, {"breadth", 2 * b * breadthToLength, c.breadth}} {
			t.Logf("%s: %s %.2f mm, published mean %.2f (%+.2f %%)", c.who, d.name, d.got, d.want, 100*(d.got/d.want-1))
			if !(math.Abs(d.got/d.want-1) < 0.03) {
				t.Errorf("%s: %s %.2f mm is more than 3 %% from the published mean of %.2f", c.who, d.name, d.got, d.want)
			}
		}
	}
}

// The head of mean tapes: what its tapes do not give must agree with the surveys.
func TestMeanHeadAgainstSurveys(t *testing.T) {
	for _, c := range []struct {
		who                     string
		measures                Measures
		earToTop, posterior, sd float64
	}{
		// Circumference and tragion to top of head: ANSUR II 2012. Ear to ear: NIOSH 2003,
		// bitragion coronal arc. Round the back: NIOSH 2003, circumference less frontal
		// arc, good to 10 mm. The other tapes, which hardly matter here: Sizes.
		{"women", Measures{Circumference: 561.12, EarToEar: 341.05, FrontToNape: 355, NapeWidth: 108}, 126.48, 269.9, 18.9},
		{"men", Measures{Circumference: 574.37, EarToEar: 350.74, FrontToNape: 361, NapeWidth: 118}, 131.15, 271.7, 15.6},
	} {
		h := mustFit(t, c.measures)
		if top := float64(h.EarToTop()); !(math.Abs(top-c.earToTop) < 3) {
			t.Errorf("%s: ear to top %.2f mm, want %.2f within 3 (half its SD)", c.who, top, c.earToTop)
		} else {
			t.Logf("%s: ear to top %.2f mm, published mean %.2f", c.who, top, c.earToTop)
		}
		if got := h.top - h.earPoint().Z; math.Abs(got-float64(h.EarToTop())) > 1e-9 {
			t.Errorf("%s: EarToTop says %v, the points say %.3f", c.who, h.EarToTop(), got)
		}
		// Round the back at the level of the circumference, above the ear notches.
		ear := h.atLevel(earAzimuth, 0)
		end := angleIn(ear, Vec{}, back, across)
		round := planeArc(&h.Surface, Vec{}, back, across, -end, end)
		t.Logf("%s: ear to ear round the back %.2f mm, published mean %.1f SD %.1f", c.who, round, c.posterior, c.sd)
		if !(math.Abs(round-c.posterior) <= 10) {
			t.Errorf("%s: ear to ear round the back %.1f mm, want %.1f within 10", c.who, round, c.posterior)
		}
	}
}

// The four sizes must be heads as they stand, and grow from one to the next.
func TestSizes(t *testing.T) {
	var before *Head
	for _, size := range Sizes {
		h := mustFit(t, size.Measures)
		if depth := h.low / h.top; math.Abs(depth-1.2) > 0.02 {
			t.Errorf("%s: the lower half is %.3f times as deep as the upper, documented as 1.2", size.Name, depth)
		}
		if before != nil && (h.top <= before.top || h.b <= before.b || h.Measures.NapeWidth <= before.Measures.NapeWidth) {
			t.Errorf("%s is not larger than the size before it", size.Name)
		}
		before = h
	}
}

// Sources: ANSUR II 2012, half the mean breadth 73.885 and mean tragion height
// 126.48 mm; Legendre's elliptic integral in gonum. NIOSH 2003 measured 341.05 mm
// from ear to ear over the top, and a plain ellipsoid would be 20 mm short of it.
func TestPlainEllipsoidIsShort(t *testing.T) {
	s := newSurface(73.885, 95, 126.48, 126.48, 0, 0)
	over := section{s: &s, u: upward, v: across}
	got, _ := over.arc(-math.Pi/2, math.Pi/2, 100)
	if want := 2 * 126.48 * mathext.CompleteE(1-math.Pow(73.885/126.48, 2)); math.Abs(got-want) > 0.001 {
		t.Errorf("half ellipse %.6f mm, by the elliptic integral %.6f", got, want)
	}
	if short := 341.05 - got; short < 20 || short > 22 {
		t.Errorf("half ellipse %.3f mm is %.3f short of the tape, want about 21", got, short)
	}
}

// Source: Legendre's elliptic integrals in gonum. The arc of the ellipse p cos t,
// q sin t from t = 0, the end of its short half axis p, is q E(t | 1 - p²/q²).
func TestArcOfEllipses(t *testing.T) {
	rng := seeded(12)
	worst := 0.0
	for range 300 {
		a, b, c := 70+40*rng.Float64(), 70+40*rng.Float64(), 70+40*rng.Float64()
		s := newSurface(a, b, c, c, 0, 0)
		for _, cut := range []struct {
			p, q float64
			c    section
		}{
			{a, c, section{s: &s, u: across, v: upward}},
			{b, c, section{s: &s, u: forward, v: upward}},
			{a, b, section{s: &s, u: across, v: forward}},
		} {
			p, q := cut.p, cut.q
			if p > q { // the parameter must not be negative: measure from the other axis
				p, q = q, p
				cut.c.u, cut.c.v = cut.c.v, cut.c.u
			}
			m := 1 - p*p/(q*q)
			whole, _ := cut.c.arc(0, 2*math.Pi, 80)
			ecc := 1.5 * rng.Float64()
			part, _ := cut.c.arc(0, math.Atan2(q*math.Sin(ecc), p*math.Cos(ecc)), 80)
			home, _ := cut.c.arc(math.Atan2(q*math.Sin(ecc), p*math.Cos(ecc)), 0, 80)
			wantWhole, wantPart := 4*q*mathext.CompleteE(m), q*mathext.EllipticE(ecc, m)
			worst = math.Max(worst, math.Max(math.Abs(whole-wantWhole), math.Abs(part-wantPart)))
			if !(math.Abs(whole-wantWhole) < 0.001 && math.Abs(part-wantPart) < 0.001 && math.Abs(part+home) < 1e-6) {
				t.Errorf("half axes %.3f and %.3f: perimeter %.5f mm, want %.5f; to %.3f %.5f mm, want %.5f, back %.5f",
					p, q, whole, wantWhole, ecc, part, wantPart, home)
			}
		}
	}
	t.Logf("largest error of an arc %.7f mm", worst)
}
