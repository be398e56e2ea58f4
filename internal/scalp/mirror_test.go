package scalp

import (
	"math"
	"testing"
)

// A head has the same measures on both sides: mirrored moves and partings must give
// every slot the distances that its mirror image had.
func TestMirrorImageInMirrorImageOut(t *testing.T) {
	t.Parallel()
	rng := seeded(101)
	heads := 8
	if testing.Short() {
		heads = 2
	}
	worst := 0.0
	for range heads {
		h := randomHead(rng)
		moved := randomMoves(rng, 12)
		mirrored := map[Landmark]Shift{}
		for l, by := range moved {
			mirrored[Landmark{l.Name, -l.Side}] = by.Mirrored()
		}
		partings := []Parting{{Right: MM(90*rng.Float64() - 45), Length: 90}, {Right: 0, Length: 40}}
		var swapped []Parting
		for _, p := range partings {
			swapped = append(swapped, Parting{-p.Right, p.Length})
		}
		one := mustHairline(t, h, moved).Zones(50, partings, nil)
		other := mustHairline(t, h, mirrored).Zones(50, swapped, nil)
		pairs := []struct {
			name string
			a, b Curve
		}{
			{"nape", one.Nape, other.Nape}, {"front", one.Front, other.Front},
			{"ear", one.Ears[0], other.Ears[1]}, {"ear", one.Ears[1], other.Ears[0]},
			{"temple", one.Temples[0], other.Temples[1]}, {"temple", one.Temples[1], other.Temples[0]},
			{"fringe", one.Triangle[0], other.Triangle[1]}, {"fringe", one.Triangle[1], other.Triangle[0]},
			{"parting", one.Partings[0], other.Partings[0]}, {"middle parting", one.Partings[1], other.Partings[1]},
		}
		for _, l := range Landmarks() {
			p, q := one.Hairline.Landmark(l), other.Hairline.Landmark(Landmark{l.Name, -l.Side})
			if !(p.Minus(q.mirrored()).Length() < 1e-6) {
				t.Errorf("%+v: %s at %v, and mirrored at %v", h.Measures, l, p, q)
			}
		}
		for _, p := range slotPoints(h) {
			q := p.mirrored()
			if one.Hairline.Contains(p) != other.Hairline.Contains(q) {
				t.Errorf("%+v: %v is inside one hairline and outside its mirror image", h.Measures, p)
			}
			if !one.Hairline.Contains(p) {
				continue
			}
			check := func(name string, a, b MM) {
				worst = math.Max(worst, math.Abs(float64(a-b)))
				if !(math.Abs(float64(a-b)) <= 1e-6) {
					t.Errorf("%+v: from %v to the %s %.9f mm, mirrored %.9f", h.Measures, p, name, float64(a), float64(b))
				}
			}
			for _, c := range pairs {
				a, _ := h.DistanceToCurve(p, c.a)
				b, _ := h.DistanceToCurve(q, c.b)
				check(c.name, a, b)
			}
			check("fringe, with its sign", one.FringeDepthOf(p), other.FringeDepthOf(q))
		}
	}
	t.Logf("largest difference %.9f mm", worst)
}

func TestDistanceOfMirrorImages(t *testing.T) {
	rng := seeded(102)
	for range 50 {
		h := randomHead(rng)
		for range 50 {
			p, q := randomPoint(rng, h), randomPoint(rng, h)
			a, b := h.Distance(p, q), h.Distance(p.mirrored(), q.mirrored())
			if !(math.Abs(float64(a-b)) < 1e-9) {
				t.Errorf("%+v: from %v to %v %.12f mm, mirrored %.12f", h.Measures, p, q, float64(a), float64(b))
			}
		}
	}
}
