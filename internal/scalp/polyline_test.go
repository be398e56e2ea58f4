package scalp

import "math"

// The lengths here are those of fine polylines whose vertices are found by
// bisection of the surface's equation, so they owe nothing to section.

// planeCurve is the curve in which the plane through o spanned by u and v cuts the
// surface, from one angle to another, as a polyline of n pieces.
func planeCurve(s *Surface, o, u, v Vec, from, to float64, n int) []Vec {
	pts := make([]Vec, n+1)
	for i := range pts {
		sin, cos := math.Sincos(from + (to-from)*float64(i)/float64(n))
		pts[i] = onRay(s, o, u.Times(cos).Along(v, sin))
	}
	return pts
}

func polylineLength(pts []Vec) float64 {
	total := 0.0
	for i := 1; i < len(pts); i++ {
		total += pts[i].Minus(pts[i-1]).Length()
	}
	return total
}

// planeArc is the length of such a curve, good to about 1e-6 mm on a head: the length
// of an inscribed polyline is short by a term in 1/n², which the lengths
// with n and 2n pieces tell and cancel (Richardson).
func planeArc(s *Surface, o, u, v Vec, from, to float64) float64 {
	n := 8 + int(math.Abs(to-from)*100)
	fine := planeCurve(s, o, u, v, from, to, 2*n)
	coarse := make([]Vec, 0, n+1)
	for i := 0; i < len(fine); i += 2 {
		coarse = append(coarse, fine[i])
	}
	a, b := polylineLength(coarse), polylineLength(fine)
	return b + (b-a)/3
}

// angleIn is the angle of p about o in the plane spanned by u and v.
func angleIn(p, o, u, v Vec) float64 {
	d := p.Minus(o)
	return math.Atan2(d.Dot(v), d.Dot(u))
}
