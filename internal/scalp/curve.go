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

// FarReach is the distance up to which DistanceToCurve measures, to 0.05 mm: as far as
// any limit of a sheet reaches. Beyond it the answer is an estimate, good to some
// millimetres, for nothing asks how far exactly something is from a zone on the
// other side of the head.
const FarReach MM = 100

// DistanceToCurve is the length of the shortest path along the surface from p to
// the nearest of the curves, and the point where it ends. An empty curve is
// infinitely far away, and so is no curve at all.
func (s *Surface) DistanceToCurve(p Vec, curves ...Curve) (MM, Vec) {
	n := s.Normal(p)
	best, foot := math.Inf(1), Vec{}
	for len(curves) > 0 {
		c, rest, chord := nearestByChord(p, curves)
		// A path is never shorter than its chord, and the nearest place of a curve
		// may lie between two vertices.
		if chord-hairStep >= best {
			break
		}
		if d, q := s.toCurve(p, n, c); d < best {
			best, foot = d, q
		}
		curves = rest
	}
	return MM(best), foot
}

// nearestByChord takes out of some curves the one that comes nearest in a straight line, and says
// how near.
func nearestByChord(p Vec, curves []Curve) (nearest Curve, rest []Curve, chord float64) {
	at, least := 0, math.Inf(1)
	for i, c := range curves {
		for _, q := range c.points {
			if d := q.Minus(p); d.Dot(d) < least {
				at, least = i, d.Dot(d)
			}
		}
	}
	if len(curves) == 1 {
		return curves[0], nil, math.Sqrt(least)
	}
	rest = make([]Curve, 0, len(curves)-1)
	rest = append(append(rest, curves[:at]...), curves[at+1:]...)
	return curves[at], rest, math.Sqrt(least)
}

// toCurve is the distance to one curve. Chords, and where those are short estimates, find
// where the nearest points may be; only there is the distance measured.
func (s *Surface) toCurve(p, n Vec, c Curve) (float64, Vec) {
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
	return best, foot
}

// estimates fills est with the estimated distance from p to each vertex of the
// curve, and infinity where the chord alone rules the vertex out.
func (s *Surface) estimates(p, n Vec, c Curve, est []float64) []float64 {
	least := math.Inf(1)
	for _, q := range c.points {
		d := q.Minus(p)
		d2 := d.Dot(d)
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
	q, nq = c.points[i], c.normals[i]
	least := s.estimate(p, n, q, nq)
	for j := max(i-1, 0); j <= i && j+1 < len(c.points); j++ {
		if t, d := s.valley(p, n, c, j); d < least {
			q, nq = s.between(c, j, t)
			least = d
		}
	}
	return q, nq
}

// between is the point and normal of the curve a share t of the way from its j-th
// vertex to the next.
func (s *Surface) between(c Curve, j int, t float64) (q, nq Vec) {
	q = s.Settle(c.points[j].Times(1-t).Along(c.points[j+1], t))
	return q, s.Normal(q)
}

// valley finds the least estimate on one piece of a curve. The square of the distance to a
// straight line is a parabola, and a piece is short and without a corner: so the lowest point
// of the parabola through the squares at both ends and the middle.
func (s *Surface) valley(p, n Vec, c Curve, j int) (t, least float64) {
	square := func(q, nq Vec) float64 {
		d := s.estimate(p, n, q, nq)
		return d * d
	}
	a, b := square(c.points[j], c.normals[j]), square(c.points[j+1], c.normals[j+1])
	m := square(s.between(c, j, 0.5))
	bend, slope := 2*(a+b-2*m), 4*m-3*a-b // a + slope·t + bend·t²
	if bend > 0 {
		t = math.Max(0, math.Min(1, -slope/(2*bend)))
	} else if b < a {
		t = 1
	}
	return t, math.Sqrt(math.Max(0, a+slope*t+bend*t*t))
}
