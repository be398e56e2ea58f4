package scalp

import "math"

// section is the closed curve in which a plane cuts the surface, given by its
// radius about a point inside: p(θ) = o + r(θ)(u cos θ + v sin θ), with u and v
// orthonormal. Every line of the map and every measured distance is one.
type section struct {
	s       *Surface
	o, u, v Vec
}

// at is the point of the curve at the angle, and the speed ds/dθ there. The
// radius comes from Newton's method: along a ray from inside a convex surface
// it converges from any start, as long as no step goes where the equation has
// other sheets, several heads away.
func (c *section) at(theta, guess float64) (p Vec, radius, speed float64) {
	sin, cos := math.Sincos(theta)
	ray := c.u.Times(cos).Along(c.v, sin)
	const far = 60
	r := guess
	for range 40 {
		p = c.o.Along(ray, r)
		f, g := c.s.level(p)
		slope := g.Dot(ray)
		if slope <= 0 { // still at or behind the middle: step outwards
			r += far
			continue
		}
		step := math.Max(-far, f/slope)
		r -= step
		if math.Abs(step) < 1e-5 {
			// The error left in the radius is of the order of step², and in the speed of step.
			side := c.u.Times(-sin).Along(c.v, cos)
			turn := r * g.Dot(side) / slope
			return c.o.Along(ray, r), r, math.Sqrt(r*r + turn*turn)
		}
	}
	return p, r, r
}

// Nodes and weights of five-point Gauss-Legendre quadrature on [-1, 1]
// (Abramowitz and Stegun, table 25.4).
var gauss5 = [5]struct{ x, w float64 }{
	{-0.906179845938664, 0.236926885056189},
	{-0.538469310105683, 0.478628670499366},
	{0, 0.568888888888889},
	{0.538469310105683, 0.478628670499366},
	{0.906179845938664, 0.236926885056189},
}

// arc is the length of the curve from one angle to another, positive when the
// angle grows, and the radius at its far end as the next guess.
func (c *section) arc(from, to, guess float64) (length, radius float64) {
	panels := int(math.Ceil(math.Abs(to-from) / 0.7))
	half := (to - from) / float64(2*max(panels, 1))
	for i := range panels {
		mid := from + half*float64(2*i+1)
		for _, n := range gauss5 {
			var speed float64
			_, guess, speed = c.at(mid+half*n.x, guess)
			length += n.w * half * speed
		}
	}
	return length, guess
}

// advance is the angle at the given arc length from an angle, and the radius there.
func (c *section) advance(from, length, guess float64) (theta, radius float64) {
	_, r, speed := c.at(from, guess)
	theta = from + length/speed
	for range 20 {
		have, _ := c.arc(from, theta, r)
		_, r, speed = c.at(theta, r)
		step := (length - have) / speed
		theta += step
		if math.Abs(step*speed) < 1e-7 {
			break
		}
	}
	return theta, r
}

// angle is where a point of the section's plane lies on it.
func (c *section) angle(p Vec) float64 {
	d := p.Minus(c.o)
	return math.Atan2(d.Dot(c.v), d.Dot(c.u))
}
