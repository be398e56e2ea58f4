package scalp

import "math"

// LineKind is a kind of line on the map.
type LineKind uint8

const (
	// Level lines are horizontal cuts round the back and sides, by height.
	Level LineKind = iota
	// Across lines are ear-to-ear cuts over the top, by height.
	Across
	// Along lines run from the crown to the front, by distance from the midline.
	Along
)

// LineID says which line: its kind, and its height (Level, Across) or its distance
// right of the midline over the ears (Along).
type LineID struct {
	Kind LineKind
	At   MM
}

// Line is a line of the map. Positions on it are arc lengths in millimetres from
// its middle: the midline for Level and Across, positive to the client's right;
// the ear-to-ear line over the top for Along, positive forward.
type Line struct {
	ID       LineID
	Low      MM // least and greatest position on the line, whether or not there is hair
	High     MM
	cut      section
	origin   float64 // the angle of the middle
	firstTry float64 // a radius to begin with
}

// LineAt is the level or ear-to-ear line at a height: level up to the round of
// the head, ear to ear above it.
func (h *Head) LineAt(height MM) *Line {
	if height <= h.RoundHeight() {
		return h.Line(LineID{Level, height})
	}
	return h.Line(LineID{Across, height})
}

// Line is a line of the map of this head.
func (h *Head) Line(id LineID) *Line {
	l := &Line{ID: id, firstTry: h.a}
	switch id.Kind {
	case Level:
		l.cut = section{s: &h.Surface, o: Vec{Z: h.midlinePoint(id.At).Z}, u: Vec{Y: -1}, v: Vec{X: 1}}
		half, _ := l.cut.arc(0, math.Pi, h.b)
		l.Low, l.High = MM(-half), MM(half)
	case Across:
		y := h.midlinePoint(id.At).Y
		l.cut = section{s: &h.Surface, o: Vec{Y: y}, u: Vec{Z: 1}, v: Vec{X: 1}}
		edge := section{s: &h.Surface, o: Vec{Y: y, Z: h.roundZ}, u: Vec{X: 1}, v: Vec{Y: 1}}
		p, _, _ := edge.at(0, h.a)
		half, _ := l.cut.arc(0, l.cut.angle(p), h.top)
		l.Low, l.High = MM(-half), MM(half)
	case Along:
		over := section{s: &h.Surface, u: Vec{Z: 1}, v: Vec{X: 1}}
		theta, r := over.advance(0, float64(id.At), h.top)
		p, _, _ := over.at(theta, r)
		l.cut = section{s: &h.Surface, o: Vec{X: p.X}, u: Vec{Z: 1}, v: Vec{Y: 1}}
		if p.Z <= h.roundZ {
			return l // beside the top: a line without length
		}
		edge := section{s: &h.Surface, o: Vec{X: p.X, Z: h.roundZ}, u: Vec{Y: 1}, v: Vec{X: 1}}
		q, _, _ := edge.at(0, h.b)
		half, _ := l.cut.arc(0, l.cut.angle(q), h.top)
		l.Low, l.High = MM(-half), MM(half)
	}
	return l
}

// Walk returns the points of the line at the positions begin + from·step, …, begin + to·step.
func (l *Line) Walk(begin, step MM, from, to int) []Vec {
	if to < from {
		return nil
	}
	pts := make([]Vec, to-from+1)
	outward := func(sign int) {
		theta, r := l.cut.advance(l.origin, float64(begin), l.firstTry)
		for k := 0; ; k += sign {
			if k >= from && k <= to {
				pts[k-from], r, _ = l.cut.at(theta, r)
			}
			if (sign > 0 && k >= to) || (sign < 0 && k <= from) {
				return
			}
			theta, r = l.cut.advance(theta, float64(sign)*float64(step), r)
		}
	}
	outward(1)
	outward(-1)
	return pts
}

// Point is the point of the line at a position.
func (l *Line) Point(position MM) Vec {
	theta, r := l.cut.advance(l.origin, float64(position), l.firstTry)
	p, _, _ := l.cut.at(theta, r)
	return p
}

// PositionOf is the position on the line of a point in its plane.
func (l *Line) PositionOf(p Vec) MM {
	arc, _ := l.cut.arc(l.origin, l.cut.angle(p), l.firstTry)
	return MM(arc)
}

// Hang is the line straight down the head through a point, named by the
// azimuth, in degrees, at which it reaches the widest level. Two points of the
// back and sides with the same Hang lie one straight below the other.
//
// The steepest way down a surface g(x,y) + k(z) = 1 follows the gradient of g
// seen from above, whatever k is, and with g = X² + Y² + β(X⁴ + Y⁴) it keeps
//
//	a² ln(X²/(1+2βX²)) - b² ln(Y²/(1+2βY²))
//
// the same all the way, so no path has to be traced.
func (h *Head) Hang(p Vec) float64 {
	x, y := math.Abs(p.X), math.Abs(p.Y)
	const eps = 1e-9
	quarter := 0.0 // degrees from the front-to-back axis, 0 to 90
	switch {
	case x < eps:
	case y < eps:
		quarter = 90
	default:
		want := h.hangKey(x, y)
		key := func(degrees float64) (float64, error) {
			q := h.atLevel(degrees, 0)
			return h.hangKey(math.Abs(q.X), math.Abs(q.Y)), nil
		}
		quarter, _, _, _ = bracket(1e-6, 90-1e-6, want, key)
		if math.IsNaN(quarter) { // closer to an axis than can be told apart
			quarter = math.Atan2(x, y) * 180 / math.Pi
		}
	}
	azimuth := quarter
	if p.Y > 0 {
		azimuth = 180 - quarter
	}
	return math.Copysign(azimuth, p.X)
}

func (h *Head) hangKey(x, y float64) float64 {
	key := func(u, half float64) float64 {
		u2 := u * u / (half * half)
		return half * half * math.Log(u2/(1+2*h.beta*u2))
	}
	return key(x, h.a) - key(y, h.b)
}
