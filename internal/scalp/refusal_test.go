package scalp

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// scaled is the medium head made larger or smaller as a whole.
func scaled(circumference MM) Measures {
	m := Sizes[1].Measures
	k := circumference / m.Circumference
	return Measures{Circumference: circumference, EarToEar: k * m.EarToEar, FrontToNape: k * m.FrontToNape, NapeWidth: k * m.NapeWidth}
}

// with is the medium head with some tapes replaced; 0 leaves a tape as it is.
func with(circumference, earToEar, frontToNape, nape MM) Measures {
	m := Sizes[1].Measures
	for _, t := range []struct {
		tape  *MM
		value MM
	}{{&m.Circumference, circumference}, {&m.EarToEar, earToEar}, {&m.FrontToNape, frontToNape}, {&m.NapeWidth, nape}} {
		if t.value != 0 {
			*t.tape = t.value
		}
	}
	return m
}

func confirmed(m Measures) Measures {
	m.Confirmed = true
	return m
}

func refusal(t testing.TB, m Measures) *MeasureError {
	t.Helper()
	h, err := Fit(m)
	var e *MeasureError
	if err == nil || h != nil || !errors.As(err, &e) {
		t.Fatalf("%+v: head %v, error %v; want no head and a *MeasureError", m, h, err)
	}
	return e
}

// Sources of the ranges: ANSUR II 2012, circumference 500 to 635 mm and tragion to top of
// head 105 to 150; NIOSH 2003, coronal arc 0.49 to 0.73 of the circumference.
func TestFitRefuses(t *testing.T) {
	nan, inf := MM(math.NaN()), MM(math.Inf(1))
	for _, c := range []struct {
		name      string
		measures  Measures
		tape      string
		soft      bool
		low, high MM // 0 when no range is stated, -1 when some range is
	}{
		{"small circumference", scaled(499), "circumference", true, 500, 635},
		{"large circumference", scaled(636), "circumference", true, 500, 635},
		{"low over the top", with(0, 0.489*560, 0, 0), "ear to ear", true, 0.49 * 560, 0.73 * 560},
		{"high over the top", with(0, 0.731*560, 0, 0), "ear to ear", true, 0.49 * 560, 0.73 * 560},
		{"top near the ears", with(0, 300, 310, 0), "ear to ear", true, 0, 0},
		{"top far from the ears", with(0, 395, 400, 0), "ear to ear", true, 0, 0},
		{"no such arc, low", confirmed(with(0, 270, 0, 0)), "ear to ear", false, -1, -1},
		{"no such arc, high", confirmed(with(0, 460, 0, 0)), "ear to ear", false, -1, -1},
		{"front to nape short", with(0, 0, 280, 0), "front to nape", false, -1, -1},
		{"front to nape long", with(0, 0, 410, 0), "front to nape", false, -1, -1},
		{"nape narrow", with(0, 0, 0, 35), "nape width", false, -1, -1},
		{"nape wide", with(0, 0, 0, 190), "nape width", false, -1, -1},
		{"a head of 5 mm", scaled(5), "circumference", false, 500, 635},
		{"a head of 5 mm, confirmed", confirmed(scaled(5)), "circumference", false, 300, 900},
		{"a head of 2 m", confirmed(scaled(2000)), "circumference", false, 300, 900},
		{"ear to ear 5 mm", with(0, 5, 0, 0), "ear to ear", false, 0, 0},
		{"front to nape 5 mm", with(0, 0, 5, 0), "front to nape", false, 0, 0},
		{"nape 5 mm", with(0, 0, 0, 5), "nape width", false, 0, 0},
		{"no circumference", Measures{EarToEar: 340, FrontToNape: 355, NapeWidth: 108}, "circumference", false, 500, 635},
		{"circumference not a number", with(nan, 0, 0, 0), "circumference", false, 500, 635},
		{"ear to ear not a number", with(0, nan, 0, 0), "ear to ear", false, 0, 0},
		{"front to nape not a number", with(0, 0, nan, 0), "front to nape", false, 0, 0},
		{"nape not a number", with(0, 0, 0, nan), "nape width", false, 0, 0},
		{"negative", with(-560, 0, 0, 0), "circumference", false, 500, 635},
		{"negative, confirmed", confirmed(with(0, -340, 0, 0)), "ear to ear", false, 0, 0},
		{"endless", confirmed(with(0, 0, inf, 0)), "front to nape", false, 0, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			e := refusal(t, c.measures)
			if e.Measure != c.tape || e.Soft != c.soft {
				t.Errorf("refused for the %s, soft %v; want the %s, soft %v (%v)", e.Measure, e.Soft, c.tape, c.soft, e)
			}
			value := map[string]MM{"circumference": c.measures.Circumference, "ear to ear": c.measures.EarToEar,
				"front to nape": c.measures.FrontToNape, "nape width": c.measures.NapeWidth}[c.tape]
			if e.Value != value && !math.IsNaN(float64(value)) {
				t.Errorf("the value refused is %v, want %v", e.Value, value)
			}
			if c.low >= 0 && (math.Abs(float64(e.Low-c.low)) > 1e-9 || math.Abs(float64(e.High-c.high)) > 1e-9) {
				t.Errorf("range %v to %v, want %v to %v", e.Low, e.High, c.low, c.high)
			}
			if c.low < 0 && !(e.Low > 0 && e.High > e.Low && (e.Value < e.Low || e.Value > e.High)) {
				t.Errorf("%v is refused with the range %v to %v", e.Value, e.Low, e.High)
			}
			msg := e.Error()
			if !strings.HasPrefix(msg, c.tape) || e.High > 0 && !strings.Contains(msg, fmt.Sprintf("%.0f mm", math.Floor(float64(e.High)))) {
				t.Errorf("message %q", msg)
			}
			if e.Soft != strings.Contains(msg, "confirm the measures") {
				t.Errorf("message %q, soft %v", msg, e.Soft)
			}
		})
	}
}

func TestFitAcceptsTheEndsOfItsRanges(t *testing.T) {
	for _, m := range []Measures{scaled(500), scaled(635)} {
		mustFit(t, m)
	}
}

func TestConfirmedLetsSoftRefusalsThrough(t *testing.T) {
	for _, m := range []Measures{
		scaled(499), scaled(636), scaled(460), scaled(700),
		with(0, 0.731*560, 420, 0), with(0, 300, 310, 0), with(0, 395, 400, 0),
	} {
		if e := refusal(t, m); !e.Soft {
			t.Errorf("%+v: refused for good: %v", m, e)
		}
		h := mustFit(t, confirmed(m))
		if !h.Measures.Confirmed {
			t.Errorf("%+v: the head forgets that it was confirmed", m)
		}
	}
}

// accepted says whether a tape is taken once the tapes refused after it are changed to
// the middle of what is said to fit, which is how a person would go on.
func accepted(t testing.TB, m Measures, tape string) bool {
	t.Helper()
	m.Confirmed = true
	for range 4 {
		_, err := Fit(m)
		var e *MeasureError
		switch {
		case err == nil:
			return true
		case !errors.As(err, &e):
			t.Fatalf("%+v: %v", m, err)
		case e.Measure == tape:
			return false
		case e.Measure == "front to nape":
			m.FrontToNape = (e.Low + e.High) / 2
		case e.Measure == "nape width":
			m.NapeWidth = (e.Low + e.High) / 2
		default:
			t.Fatalf("%+v: asks to change the %s: %v", m, e.Measure, e)
		}
	}
	return false
}

// A range stated must be true: just inside is taken, just outside is not; and so for the
// whole millimetres of the message.
func TestStatedRangesAreTrue(t *testing.T) {
	t.Parallel()
	tapes := []struct {
		name   string
		at     func(m *Measures) *MM
		absurd [2]MM // too short, too long
		margin MM    // the ends of the ear-to-ear range move a little with the depth of the head
	}{
		{"ear to ear", func(m *Measures) *MM { return &m.EarToEar }, [2]MM{200, 590}, 0.3},
		{"front to nape", func(m *Measures) *MM { return &m.FrontToNape }, [2]MM{200, 590}, 0.01},
		{"nape width", func(m *Measures) *MM { return &m.NapeWidth }, [2]MM{30, 250}, 0.01},
	}
	rng := seeded(31)
	for range 25 {
		m := confirmed(randomMeasures(rng))
		for _, tape := range tapes {
			for _, value := range tape.absurd {
				wrong := m
				*tape.at(&wrong) = value
				e := refusal(t, wrong)
				if e.Measure != tape.name || e.Soft || !(e.Low < e.High) {
					t.Fatalf("%+v: %v", wrong, e)
				}
				whole := [2]MM{MM(math.Ceil(float64(e.Low))), MM(math.Floor(float64(e.High)))}
				if want := fmt.Sprintf("between %.0f and %.0f mm fits", whole[0], whole[1]); !strings.Contains(e.Error(), want) {
					t.Errorf("message %q does not say %q", e, want)
				}
				for _, try := range []struct {
					value MM
					ok    bool
				}{
					{e.Low + tape.margin, true}, {e.High - tape.margin, true}, {e.Low - tape.margin, false}, {e.High + tape.margin, false},
					{whole[0] - 1, false}, {whole[0] + 1, true}, {whole[1] - 1, true}, {whole[1] + 1, false},
				} {
					*tape.at(&wrong) = try.value
					if got := accepted(t, wrong, tape.name); got != try.ok {
						t.Errorf("%+v: %s %.2f mm accepted %v, but %v", m, tape.name, float64(try.value), got, e)
					}
				}
			}
		}
	}
}

// Nothing that is typed may stop the program or make a head that is not one.
func TestFitOfNonsense(t *testing.T) {
	t.Parallel()
	rng := seeded(32)
	special := []float64{0, 1, -1, math.NaN(), math.Inf(1), math.Inf(-1), math.MaxFloat64, math.SmallestNonzeroFloat64, 150, 300, 600, 900}
	tape := func(mean float64) MM {
		switch rng.IntN(20) {
		case 0:
			return MM(special[rng.IntN(len(special))])
		case 1:
			return MM(1000 * rng.Float64())
		}
		return MM(mean * (0.5 + rng.Float64()))
	}
	fits := 0
	for range 6000 {
		if checkFit(t, Measures{tape(560), tape(340), tape(355), tape(108), rng.IntN(3) > 0}, rng) {
			fits++
		}
	}
	t.Logf("%d of 6000 fit", fits)
	if fits < 100 {
		t.Errorf("only %d fit: too few to show anything", fits)
	}
}

func FuzzFit(f *testing.F) {
	for _, size := range Sizes {
		m := size.Measures
		f.Add(float64(m.Circumference), float64(m.EarToEar), float64(m.FrontToNape), float64(m.NapeWidth), false)
	}
	f.Add(300.0, 150.0, 150.0, 30.0, true)
	f.Add(900.0, 600.0, 600.0, 250.0, true)
	f.Fuzz(func(t *testing.T, c, e, n, w float64, sure bool) {
		checkFit(t, Measures{MM(c), MM(e), MM(n), MM(w), sure}, seeded(33))
	})
}

// checkFit fits and, if there is a head, checks that it is one.
func checkFit(t testing.TB, m Measures, rng *rand.Rand) bool {
	t.Helper()
	h, err := Fit(m)
	if err != nil {
		if e := (*MeasureError)(nil); !errors.As(err, &e) || h != nil || e.Error() == "" {
			t.Errorf("%+v: head %v, error %v", m, h, err)
		}
		return false
	}
	for _, v := range []float64{h.a, h.b, h.top, h.low, h.corner, float64(h.EarToTop()), float64(h.RoundHeight())} {
		if !(v > 0 && v < 1000) {
			t.Errorf("%+v: %+v", m, h)
		}
	}
	if h.low > maxLowToTop*h.top {
		t.Errorf("%+v: the lower half is %.3f times as deep as the upper, and no longer convex", m, h.low/h.top)
	}
	for range 5 {
		p := randomPoint(rng, h)
		if k := h.Curvature(p); !(k > 0) || !(math.Abs(h.Normal(p).Length()-1) < 1e-9) {
			t.Errorf("%+v: curvature %g at %v", m, k, p)
		}
	}
	line, err := h.Hairline(nil)
	if err != nil {
		t.Errorf("%+v: %v", m, err)
		return true
	}
	for _, l := range Landmarks() {
		if p := line.Landmark(l); !(math.Abs(equation(&h.Surface, p)) < 1e-9) {
			t.Errorf("%+v: %s at %v, off the head", m, l, p)
		}
	}
	return true
}
