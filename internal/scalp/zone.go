package scalp

import (
	"fmt"
	"math"
)

// Parting is where the hair is parted: a line from the front hairline straight
// back, some way right (or, negative, left) of the midline.
type Parting struct {
	Right  MM // from the midline, along the ear-to-ear line over the top
	Length MM // along the parting, from the front hairline back
}

// String is the parting in words: "parting 30 mm right".
func (p Parting) String() string {
	switch {
	case p.Right > 0:
		return fmt.Sprintf("parting %g mm right", float64(p.Right))
	case p.Right < 0:
		return fmt.Sprintf("parting %g mm left", float64(-p.Right))
	}
	return "parting in the middle"
}

// Zones are the curves that the no-go zones are measured from. How far each
// zone reaches is not here: that is a limit, and limits belong to the rules.
type Zones struct {
	Hairline *Hairline
	Nape     Curve
	Ears     [2]Curve // client's left, right
	Temples  [2]Curve
	Front    Curve    // from recession corner to recession corner
	Triangle [2]Curve // the sides of the fringe, from its point to the recession corners
	Partings []Curve  // as given
	Patches  []Curve  // the middle of each patch to keep off, as given
	point    Vec      // where the sides of the fringe meet
	corners  [2]Vec   // the recession corners
	surface  *Surface
}

// Zones makes the curves of a head's no-go zones. fringeDepth is how far back from
// the front hairline the point of the fringe lies, along the midline. patches are the
// middles of the patches to keep off.
func (l *Hairline) Zones(fringeDepth MM, partings []Parting, patches []Vec) *Zones {
	h := l.head
	mark := func(name string, side Side) Landmark { return Landmark{name, side} }
	z := &Zones{
		Hairline: l,
		Nape:     l.between(mark(BehindEar, Left), mark(BehindEar, Right)),
		Ears: [2]Curve{
			l.between(mark(SideburnBack, Left), mark(BehindEar, Left)),
			l.between(mark(BehindEar, Right), mark(SideburnBack, Right)),
		},
		Temples: [2]Curve{
			l.between(mark(RecessionCorner, Left), mark(SideburnBack, Left)),
			l.between(mark(SideburnBack, Right), mark(RecessionCorner, Right)),
		},
		Front:   l.between(mark(RecessionCorner, Right), mark(RecessionCorner, Left)),
		surface: &h.Surface,
	}
	front := h.heightOf(l.Landmark(mark(FrontCentre, Middle)))
	z.point = h.midlinePoint(front - fringeDepth)
	for i, side := range []Side{Left, Right} {
		z.corners[i] = l.Landmark(mark(RecessionCorner, side))
		z.Triangle[i] = h.planLine(z.point, z.corners[i])
	}
	for _, p := range patches {
		z.Patches = append(z.Patches, h.Curve([]Vec{p}))
	}
	for _, p := range partings {
		z.Partings = append(z.Partings, l.parting(p))
	}
	return z
}

// planLine is the curve over two points that is straight seen from above.
func (h *Head) planLine(p, q Vec) Curve {
	plan := Vec{X: q.X - p.X, Y: q.Y - p.Y}
	c := section{s: &h.Surface, o: Vec{X: (p.X + q.X) / 2, Y: (p.Y + q.Y) / 2}, u: Vec{Z: 1}, v: plan.Unit()}
	from, to := c.angle(p), c.angle(q)
	pieces := math.Max(1, math.Ceil(q.Minus(p).Length()*1.1/hairStep))
	var pts []Vec
	r := h.top
	for k := range int(pieces) + 1 {
		var v Vec
		v, r, _ = c.at(from+(to-from)*float64(k)/pieces, r)
		pts = append(pts, v)
	}
	return h.Curve(pts)
}

// parting is the curve of a parting, from the front hairline back.
func (l *Hairline) parting(p Parting) Curve {
	h := l.head
	line := h.Line(LineID{Along, p.Right})
	c := line.cut
	// Forward from over the ears until the hair ends; then the parting's length back.
	const step = hairStep
	theta, r := line.origin, h.top
	front := theta
	for i := 0; i < 200; i++ {
		var q Vec
		theta, r = c.advance(theta, step, r)
		if q, _, _ = c.at(theta, r); !l.Contains(q) {
			break
		}
		front = theta
	}
	front = l.edge(c, front, theta, r)
	pieces := math.Max(1, math.Ceil(float64(p.Length)/step))
	pts := make([]Vec, 0, int(pieces)+1)
	theta = front
	for range int(pieces) + 1 {
		var q Vec
		q, r, _ = c.at(theta, r)
		pts = append(pts, q)
		theta, r = c.advance(theta, -float64(p.Length)/pieces, r)
	}
	return h.Curve(pts)
}

// edge is the angle between in (inside the hair) and out where the section
// crosses the hairline, to a hundredth of a millimetre.
func (l *Hairline) edge(c section, in, out, r float64) float64 {
	for range 12 {
		mid := (in + out) / 2
		if q, _, _ := c.at(mid, r); l.Contains(q) {
			in = mid
		} else {
			out = mid
		}
	}
	return in
}

// FringeDepthOf is how far a point lies outside the fringe triangle, measured
// to its two sides; negative inside.
func (z *Zones) FringeDepthOf(p Vec) MM {
	d, _ := z.surface.DistanceToCurve(p, z.Triangle[:]...)
	if z.inFringe(p) {
		return -d
	}
	return d
}

// inFringe reports whether the point lies, seen from above, in front of the
// sides of the fringe.
func (z *Zones) inFringe(p Vec) bool {
	ahead := func(corner Vec, turn float64) bool {
		dx, dy := corner.X-z.point.X, corner.Y-z.point.Y
		return turn*(dx*(p.Y-z.point.Y)-dy*(p.X-z.point.X)) > 0
	}
	left, right := ahead(z.corners[0], -1), ahead(z.corners[1], 1)
	l, r := z.corners[0].Minus(z.point), z.corners[1].Minus(z.point)
	if r.X*l.Y < r.Y*l.X {
		return left || right // a shallow fringe, whose sides run back from its point
	}
	return left && right
}
