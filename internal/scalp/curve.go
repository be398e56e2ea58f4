package scalp

import "math"

// Curve is a line on the head to measure distances to: a polyline of points of
// the surface close enough together for the head to be flat between them.
type Curve struct {
	points, normals []Vec
}

// Curve makes a curve of points of the surface, in order, close enough together
// for the head to be flat between them.
func (s *Surface) Curve(points []Vec) Curve {
	c := Curve{points: points, normals: make([]Vec, len(points))}
	for i, p := range points {
		c.normals[i] = s.Normal(p)
	}
	return c
}

// Points are the curve's vertices in order. They must not be changed.
func (c Curve) Points() []Vec { return c.points }

// FarReach is the distance up to which DistanceToCurve measures: to 0.05 mm up to
// 100 mm, and to 0.3 mm from there. Beyond FarReach the answer is an estimate, good to some
// millimetres, for nothing asks how far exactly something is from a zone on the
// other side of the head.
const FarReach MM = 130

// DistanceToCurve is the length of the shortest path along the surface from p to
// the curve, and the point of the curve where it ends. An empty curve is
// infinitely far away.
//
// Chords, and where those are short estimates, find where the nearest points
// may be; only there is the distance measured.
func (s *Surface) DistanceToCurve(p Vec, c Curve) (MM, Vec) {
	if len(c.points) == 0 {
		return MM(math.Inf(1)), Vec{}
	}
	n := s.Normal(p)
	var space [160]float64
	est := s.estimates(p, n, c, space[:0])
	least := math.Inf(1)
	for _, d := range est {
		least = math.Min(least, d)
	}
	best, foot := math.Inf(1), Vec{}
	for i, d := range est {
		// What two estimates may be wrong by, so that no nearer point is passed over.
		if d > least+0.1+0.05*least || (i > 0 && est[i-1] < d) || (i+1 < len(est) && est[i+1] <= d) {
			continue
		}
		if d > float64(FarReach) {
			if d < best {
				best, foot = d, c.points[i]
			}
			continue
		}
		q, nq := s.refine(p, n, c, i)
		if got := s.distance(p, n, q, nq); got < best {
			best, foot = got, q
		}
	}
	return MM(best), foot
}

// estimates fills est with the estimated distance from p to each vertex of the
// curve, and infinity where the chord alone rules the vertex out.
func (s *Surface) estimates(p, n Vec, c Curve, est []float64) []float64 {
	least := math.Inf(1)
	for _, q := range c.points {
		d := q.minus(p)
		d2 := d.dot(d)
		est = append(est, d2)
		least = math.Min(least, d2)
	}
	// A chord stands for a path up to this much longer than the next chord's path.
	const longer = 1.12
	worth := longer*longer*least + 1
	for i, d2 := range est {
		est[i] = math.Inf(1)
		if d2 <= worth {
			est[i] = s.estimate(p, n, c.points[i], c.normals[i])
		}
	}
	return est
}

// refine moves from the i-th vertex, the nearest by estimate, to the nearest
// place on the pieces at either side of it.
func (s *Surface) refine(p, n Vec, c Curve, i int) (q, nq Vec) {
	at := func(t float64) (Vec, Vec) {
		j := i
		if t < 0 {
			j, t = i-1, t+1
		}
		if j+1 >= len(c.points) || t == 0 {
			return c.points[j], c.normals[j]
		}
		m := s.settle(c.points[j].times(1-t).along(c.points[j+1], t))
		return m, s.Normal(m)
	}
	lo, hi := -1.0, 1.0
	if i == 0 {
		lo = 0
	}
	if i == len(c.points)-1 {
		hi = 0
	}
	if lo == hi {
		return at(0)
	}
	t := leastBetween(lo, hi, func(t float64) float64 {
		q, nq := at(t)
		return s.estimate(p, n, q, nq)
	})
	return at(t)
}

// leastBetween finds the minimum of a function with one valley by golden
// section, to a hundredth of the interval.
func leastBetween(lo, hi float64, f func(float64) float64) float64 {
	const ratio = 0.6180339887498949
	a, b := hi-ratio*(hi-lo), lo+ratio*(hi-lo)
	fa, fb := f(a), f(b)
	for range 10 {
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
	return (lo + hi) / 2
}
