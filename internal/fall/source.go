// Package fall works out how hair lies over a bond. Hair runs along geodesics of the scalp: away from
// where it is parted when it is worn down, towards the tie when it is worn up. What grows further up
// such a line, or further out from the tie, lies over the bond and hides it.
package fall

import (
	"math"

	"example.org/underveil/internal/scalp"
)

// Source is what fall lines set out from: a parting with the whorl at its end, a section line round
// the head, or one point, the tie or the whorl.
type Source struct {
	surface *scalp.Surface
	knots   []knot
	closed  bool
	// whorl is over how many mm neighbouring lines fan out at an end; 0 makes it a point from which
	// they spread at once. Without it the cover would halve from one line to the next where the side of
	// a parting ends and its end begins.
	whorl float64
}

// knot is a place on the source: along is how far, ahead and left lie in the surface.
type knot struct {
	at, ahead, left scalp.Vec
	along           float64
	bend            float64 // how sharply it turns to the left within the surface, radians per mm
}

// Point is a source that is one point. Lines spread at once where whorl is 0, as they do from a tie.
func Point(s *scalp.Surface, at scalp.Vec, whorl scalp.MM) *Source {
	n := s.Normal(at)
	any := scalp.Vec{X: 1}
	if math.Abs(n.X) > 0.8 {
		any = scalp.Vec{Y: 1}
	}
	left := any.Along(n, -any.Dot(n)).Unit()
	return &Source{surface: s, whorl: float64(whorl), knots: []knot{{at: at, left: left, ahead: left.Cross(n)}}}
}

// Ring is a source that runs round the head, such as a section line: hair falls from it to both sides.
// The points are once round, in order.
func Ring(s *scalp.Surface, points []scalp.Vec) *Source {
	r := &Source{surface: s, closed: true}
	r.lay(append(points, points[0]))
	return r
}

// Parting is a parting, given from the front hairline back, that goes on in a bow to the whorl. One
// that has passed the whorl, or nearly ends at it, ends where it does; without length it is none, and hair
// falls from the whorl.
func Parting(s *scalp.Surface, parting []scalp.Vec, crown scalp.Vec, whorl scalp.MM) *Source {
	const least = 1 // mm: a shorter one parts nothing
	if n := len(parting); n < 2 || parting[n-1].Minus(parting[0]).Length() < least {
		return Point(s, crown, whorl)
	}
	p := &Source{surface: s, whorl: float64(whorl)}
	p.lay(append(parting[:len(parting):len(parting)], bow(s, parting, crown)...))
	return p
}

// bow is the way from the end of a parting to the whorl: about a circle that sets out as the parting ends,
// and a sharper turn where the whorl lies far to the side. It is nothing when the parting has passed the whorl.
func bow(s *scalp.Surface, parting []scalp.Vec, crown scalp.Vec) []scalp.Vec {
	n := len(parting)
	const least, longest, behind = 10, 0.75, -0.5
	end := parting[n-1]
	ahead := end.Minus(parting[n-2]).Unit()
	way := crown.Minus(end)
	far := way.Length()
	toward := way.Dot(ahead) / far // the cosine of the angle between
	if far < least || toward < behind {
		return nil
	}
	on := longest // how far the parting goes on as it did, by the distance
	switch {
	case toward < 0:
		on += toward * 0.9
	case toward > 1/(2*longest):
		on = 1 / (2 * toward) // as a circle does
	}
	turn := end.Along(ahead, far*on)
	pieces := math.Ceil(far / 2.5)
	var points []scalp.Vec
	for k := 1.0; k <= pieces; k++ {
		t := k / pieces
		points = append(points, s.Settle(end.Times((1-t)*(1-t)).Along(turn, 2*t*(1-t)).Along(crown, t*t)))
	}
	return points
}

// lay makes the knots of a curve. Of a closed one the last is the first again.
func (c *Source) lay(points []scalp.Vec) {
	last := len(points) - 1
	c.knots = make([]knot, len(points))
	for i, p := range points {
		before, after := points[max(i-1, 0)], points[min(i+1, last)]
		if c.closed && (i == 0 || i == last) {
			before, after = points[last-1], points[1]
		}
		n := c.surface.Normal(p)
		k := knot{at: p, ahead: after.Minus(before)}
		k.ahead = k.ahead.Along(n, -k.ahead.Dot(n)).Unit()
		k.left = n.Cross(k.ahead)
		if i > 0 {
			k.along = c.knots[i-1].along + p.Minus(points[i-1]).Length()
		}
		c.knots[i] = k
	}
	c.bendKnots()
}

// bendKnots finds how sharply the source turns, as a mean over bendOver to either side: a corner, which
// a hand draws and no hair follows, would show as an edge in the cover.
func (c *Source) bendKnots() {
	const bendOver = 30
	for i := range c.knots {
		turned, long := 0.0, 0.0
		for _, way := range [...]int{-1, 1} {
			for far, at := 0.0, i; far < bendOver; {
				from, to, ok := c.next(at, way)
				if !ok {
					break
				}
				a, b := &c.knots[min(from, to)], &c.knots[max(from, to)]
				turned += b.ahead.Minus(a.ahead).Dot(a.left.Plus(b.left)) / 2
				far, at = far+b.along-a.along, to
				long += b.along - a.along
			}
		}
		if long > 0 {
			c.knots[i].bend = turned / long
		}
	}
}

// next is the piece of the source that lies before a knot, or after it where way is 1, by the knots at its ends; a closed
// source goes on over its seam.
func (c *Source) next(at, way int) (from, to int, ok bool) {
	last := len(c.knots) - 1
	if c.closed && at+way < 0 {
		at = last
	}
	if c.closed && at+way > last {
		at = 0
	}
	to = at + way
	return at, to, to >= 0 && to <= last
}

// length is how long the source is, in mm.
func (c *Source) length() float64 { return c.knots[len(c.knots)-1].along }

// on is the knot some way along the source, made from the two beside it.
func (c *Source) on(along float64) knot {
	lo, hi := 0, len(c.knots)-1
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; c.knots[mid].along <= along {
			lo = mid
		} else {
			hi = mid
		}
	}
	a, b := &c.knots[lo], &c.knots[hi]
	t := (along - a.along) / (b.along - a.along)
	k := knot{along: along, bend: a.bend + t*(b.bend-a.bend)}
	k.at = c.surface.Settle(a.at.Times(1-t).Along(b.at, t))
	n := c.surface.Normal(k.at)
	k.ahead = a.ahead.Times(1-t).Along(b.ahead, t)
	k.ahead = k.ahead.Along(n, -k.ahead.Dot(n)).Unit()
	k.left = n.Cross(k.ahead)
	return k
}
