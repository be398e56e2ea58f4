package scalp

import "math"

// Bow is how far a curve through points some even steps apart lies at most, in mm along the surface, from the shortest path
// between its ends: what a straight strip laid from one to the other is off the parting. It solves the second derivative
// of y plus K y = k for the distance y from that path, k the geodesic curvature of the curve and K the Gaussian curvature. That holds
// while y is small against the head: within a tenth up to bows of 15 mm.
func (s *Surface) Bow(points []Vec) MM {
	n := len(points) - 1
	if n < 2 {
		return 0
	}
	// Three in a row give y[i-1] - (2 - h²K) y[i] + y[i+1] = h² k: eliminated downwards, put back upwards.
	ratio, rest := make([]float64, n), make([]float64, n)
	for i := 1; i < n; i++ {
		before, p, after := points[i-1], points[i], points[i+1]
		along, normal := after.Minus(before), s.Normal(p)
		step := along.Length() / 2
		side := normal.Cross(along.Unit())
		turn := after.Minus(p).Minus(p.Minus(before)).Dot(side) // h² k
		pivot := -2 + step*step*s.Curvature(p) - ratio[i-1]
		ratio[i] = 1 / pivot
		rest[i] = (turn - rest[i-1]) / pivot
	}
	y, most := 0.0, 0.0
	for i := n - 1; i > 0; i-- {
		y = rest[i] - ratio[i]*y
		most = math.Max(most, math.Abs(y))
	}
	return MM(most)
}
