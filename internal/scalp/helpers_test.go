package scalp

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// seeded is a source of random numbers that repeats from run to run.
func seeded(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 20240229)) }

// randomMeasures draws tapes as people have them, and draws again what Fit
// refuses. Circumference: ANSUR II 2012. Ear to ear as a share of the
// circumference: NIOSH 2003, bitragion coronal arc. Front to nape: nasion to
// inion over the vertex (TMSMultiLab open data) less hairline to nasion plus 62 mm,
// as in Sizes, correlated by half with the circumference (assumption). Nape width: no
// figure was found, so Sizes' medians, growing with the head, SD 7 mm (assumption).
func randomMeasures(rng *rand.Rand) Measures { return randomHead(rng).Measures }

func randomHead(rng *rand.Rand) *Head {
	for {
		if h, err := Fit(drawMeasures(rng)); err == nil {
			return h
		}
	}
}

func drawMeasures(rng *rand.Rand) Measures {
	type stats struct{ mean, sd float64 }
	type people struct{ circumference, earShare, frontToNape, nape stats }
	who := people{stats{561.12, 19.36}, stats{0.6107, 0.0270}, stats{358.9 - 67.5 + 62, 17.5}, stats{108, 7}}
	if rng.IntN(2) == 1 {
		who = people{stats{574.37, 16.05}, stats{0.6090, 0.0221}, stats{372.6 - 72.2 + 62, 17.9}, stats{118, 7}}
	}
	size := rng.NormFloat64()
	half := func(s stats) MM { // half of it goes with the size of the head
		return MM(s.mean + s.sd*(0.5*size+math.Sqrt(0.75)*rng.NormFloat64()))
	}
	c := who.circumference.mean + who.circumference.sd*size
	return Measures{
		Circumference: MM(c),
		EarToEar:      MM(c * (who.earShare.mean + who.earShare.sd*rng.NormFloat64())),
		FrontToNape:   half(who.frontToNape),
		NapeWidth:     half(who.nape),
	}
}

func mustFit(t testing.TB, m Measures) *Head {
	t.Helper()
	h, err := Fit(m)
	if err != nil {
		t.Fatalf("%+v: %v", m, err)
	}
	return h
}

func mediumHead(t testing.TB) *Head { return mustFit(t, Sizes[1].Measures) }

// randomPoint is a point of the head above its lowest tenth.
func randomPoint(rng *rand.Rand, h *Head) Vec {
	for {
		ray := Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}.Unit()
		if p := onRay(&h.Surface, Vec{}, ray); p.Z > -0.9*h.low {
			return p
		}
	}
}

// onRay is where the ray from a point inside meets the surface, by bisection of
// the surface's equation as its documentation states it.
func onRay(s *Surface, o, ray Vec) Vec {
	lo, hi := 0.0, 2*math.Max(math.Max(s.a, s.b), math.Max(s.top, s.low))
	for hi-lo > 1e-12*hi {
		mid := (lo + hi) / 2
		if equation(s, o.Along(ray, mid)) < 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return o.Along(ray, (lo+hi)/2)
}

// equation is the left side of the surface's equation less the right side,
// with alpha and gamma worked out again from their two conditions.
func equation(s *Surface, p Vec) float64 {
	x2, y2 := p.X*p.X/(s.a*s.a), p.Y*p.Y/(s.b*s.b)
	// alpha top² + gamma top³ = 1 and alpha low² - gamma low³ = 1, by Cramer's rule.
	t, l := s.top, s.low
	det := -t*t*l*l*l - t*t*t*l*l
	alpha := (-l*l*l - t*t*t) / det
	gamma := (t*t - l*l) / det
	k := alpha*p.Z*p.Z + gamma*p.Z*p.Z*p.Z
	return (x2+y2+s.beta*(x2*x2+y2*y2))/(1+s.beta) + (k+s.mu*k*k)/(1+s.mu) - 1
}

// slotPoints are points of the head 10 mm apart up the midline and 8 mm apart
// along the lines of the map, whether or not there is hair.
func slotPoints(h *Head) []Vec {
	var all []Vec
	for height := MM(0); height < h.Measures.FrontToNape; height += 10 {
		line := h.LineAt(height)
		all = append(all, line.Walk(0, 8, int(line.Low/8), int(line.High/8))...)
	}
	return all
}

// hairSlots are the slot points inside a hairline.
func hairSlots(h *Head, line *Hairline) []Vec {
	var inside []Vec
	for _, p := range slotPoints(h) {
		if line.Contains(p) {
			inside = append(inside, p)
		}
	}
	return inside
}

func mustHairline(t testing.TB, h *Head, moved map[Landmark]Shift) *Hairline {
	t.Helper()
	line, err := h.Hairline(moved)
	if err != nil {
		t.Fatalf("hairline of %+v with %v: %v", h.Measures, moved, err)
	}
	return line
}

// largest keeps the largest of the errors seen in each band of lengths.
type largest struct {
	upTo  []float64
	error []float64
	count []int
}

func bands(upTo ...float64) *largest {
	return &largest{upTo, make([]float64, len(upTo)), make([]int, len(upTo))}
}

func (l *largest) add(length, err float64) {
	for i, end := range l.upTo {
		if length <= end {
			l.count[i]++
			l.error[i] = math.Max(l.error[i], math.Abs(err))
			return
		}
	}
}

func (l *largest) log(t testing.TB, what string) {
	t.Helper()
	for i, end := range l.upTo {
		t.Logf("%s up to %3.0f mm: largest error %.6f mm of %d", what, end, l.error[i], l.count[i])
	}
}

// randomMoves shifts every landmark a little, as a stylist would.
func randomMoves(rng *rand.Rand, most float64) map[Landmark]Shift {
	moved := map[Landmark]Shift{}
	for _, l := range Landmarks() {
		if rng.IntN(3) > 0 {
			moved[l] = Shift{MM(most * (2*rng.Float64() - 1)), MM(most * (2*rng.Float64() - 1))}
		}
	}
	return moved
}

// named are all the curves of the zones, with names for messages.
func (z *Zones) named() []namedCurve {
	all := []namedCurve{
		{"nape", z.Nape}, {"front", z.Front},
		{"left ear", z.Ears[0]}, {"right ear", z.Ears[1]},
		{"left temple", z.Temples[0]}, {"right temple", z.Temples[1]},
		{"left side of the fringe", z.Triangle[0]}, {"right side of the fringe", z.Triangle[1]},
	}
	for i, c := range z.Partings {
		all = append(all, namedCurve{fmt.Sprintf("parting %d", i+1), c})
	}
	return all
}

type namedCurve struct {
	name string
	Curve
}

// mirrored is the same point on the other side of the midline.
func (a Vec) mirrored() Vec { return Vec{-a.X, a.Y, a.Z} }
