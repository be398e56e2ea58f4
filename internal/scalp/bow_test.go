package scalp

import (
	"math"
	"testing"
)

// On a sphere the bow of a parallel over the great circle between its ends is known: with the ends at latitude φ and the
// longitudes ±λ, the great circle crosses the middle at the latitude ψ with tan ψ = tan φ / cos λ.
func TestBowOnASphere(t *testing.T) {
	const r = 85.0
	s := Spheroid(r, r)
	for _, lat := range []float64{0, 10, 30, 42, 60} {
		for _, length := range []float64{20, 40, 80, 150} {
			phi := lat * math.Pi / 180
			half := length / 2 / (r * math.Cos(phi))
			const n = 60
			points := make([]Vec, n+1)
			for i := range points {
				l := half * (2*float64(i)/n - 1)
				points[i] = Vec{X: r * math.Cos(phi) * math.Sin(l), Y: r * math.Cos(phi) * math.Cos(l), Z: r * math.Sin(phi)}
			}
			want := r * (math.Atan2(math.Tan(phi), math.Cos(half)) - phi)
			if want > 15 {
				continue // no strip is laid like that
			}
			if got := float64(s.Bow(points)); math.Abs(got-want) > 0.01+0.1*want {
				t.Errorf("latitude %g, %g mm: %.2f mm, want %.2f", lat, length, got, want)
			}
		}
	}
}

// On heads it is held against geodesics shot from one end until they meet the other, and the greatest distance of the line
// from them.
func TestBowOnHeads(t *testing.T) {
	for _, size := range Sizes {
		h, err := Fit(size.Measures)
		if err != nil {
			t.Fatal(err)
		}
		for _, height := range []MM{20, 60, 110, 150, 200, 260} {
			line := h.LineAt(height)
			for _, length := range []MM{40, 80, 120} {
				if length > line.High-line.Low {
					continue
				}
				const n = 40
				points := line.Walk(-length/2, length/n, 0, n)
				got := float64(h.Bow(points))
				path := h.Curve(shotTo(h, points[0], points[n]))
				want := 0.0
				for _, p := range points {
					d, _ := h.DistanceToCurve(p, path)
					want = math.Max(want, float64(d))
				}
				if math.Abs(got-want) > 0.1+0.1*want {
					t.Errorf("%s, height %g, %g mm: %.2f mm, want %.2f", size.Name, float64(height), float64(length), got, want)
				}
			}
		}
	}
}

// shotTo is the shortest path between two points, found by turning the direction in which a geodesic sets out.
func shotTo(h *Head, from, to Vec) []Vec {
	length := h.Distance(from, to)
	n := h.Normal(from)
	ahead := to.Minus(from)
	ahead = ahead.Along(n, -ahead.Dot(n)).Unit()
	side := n.Cross(ahead)
	dir := func(a float64) Vec { return Vec{}.Along(ahead, math.Cos(a)).Along(side, math.Sin(a)) }
	miss := func(a float64) float64 {
		end, heading := h.Shoot(from, dir(a), length)
		return to.Minus(end).Dot(h.Normal(end).Cross(heading))
	}
	low, high := -0.6, 0.6
	for range 60 {
		if mid := (low + high) / 2; (miss(mid) > 0) == (miss(low) > 0) {
			low = mid
		} else {
			high = mid
		}
	}
	var path []Vec
	for i := range 41 {
		p, _ := h.Shoot(from, dir(low), length*MM(i)/40)
		path = append(path, p)
	}
	return path
}
