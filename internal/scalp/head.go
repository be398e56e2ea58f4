package scalp

import (
	"errors"
	"fmt"
	"math"
)

// Proportions that the tapes do not give.
const (
	breadthToLength = 0.777 // cephalic index of women 77.9 SD 3.7, men 77.4 SD 3.6: ANSUR II 2012
	squareness      = 0.44  // β = μ: fits the published circumference within 1.6 % and the ear-to-top height
	earBelow        = 30    // the ear notch lies this far below the widest level (fitted to the same data)
	earAzimuth      = 86    // degrees from the centre back: a little behind the middle, since the arc round the back is the shorter (270 and 289 mm, NIOSH 2003)
	foreheadArc     = 55    // brow to front hairline, women 55.4 SD 3.3 mm: Maxillofac Plast Reconstr Surg 2019, table 9
	napeCornerUp    = 10    // height at which the nape width is taken
	napeCornerAt    = 42    // azimuth of the nape corners, degrees, unless the tape asks for more or less
)

// The nape width moves the depth of the lower half, as a multiple of the upper,
// within the first range, and after that the nape corners within the second.
var (
	lowToTopRange   = [2]float64{1.0, 1.33}
	napeCornerRange = [2]float64{20, 62}
)

// Head is a head fitted to its measures. It does not change once made.
type Head struct {
	Surface
	Measures  Measures
	midline   section
	napeAngle float64 // on the midline section; angles grow from the nape over the top to the front
	corner    float64 // azimuth of the nape corners, degrees
	roundZ    float64 // the level of the round of the head, where the map turns from back to top
	round     MM      // its height
}

// Fit makes the head that the tapes describe. It returns a *MeasureError when a
// tape is outside what heads have and the measures are not confirmed, or when
// no head meets all four.
func Fit(m Measures) (*Head, error) {
	if err := m.plausible(); err != nil {
		return nil, err
	}
	h, err := fitNape(m, halfLength(m.Circumference))
	if err != nil {
		return nil, err
	}
	if top := float64(h.EarToTop()); !m.Confirmed && outside(top, earToTopRange) {
		return nil, &MeasureError{Measure: "ear to ear", Value: m.EarToEar, Soft: true,
			Reason: fmt.Sprintf("it puts the top of the head %.0f mm above the ears, and heads have %.0f to %.0f mm", top, earToTopRange[0], earToTopRange[1])}
	}
	return h, nil
}

// fitNape finds the depth of the lower half, and where need be the azimuth of
// the nape corners, that give the nape width.
func fitNape(m Measures, b float64) (*Head, error) {
	shallow, deep, err := depths(m, b)
	if err != nil {
		return nil, err
	}
	var h *Head
	byDepth := func(ratio float64) (width float64, err error) {
		if h, err = fitTop(m, b, ratio); err != nil {
			return 0, err
		}
		return float64(h.napeWidth(napeCornerAt)), nil
	}
	want := float64(m.NapeWidth)
	ratio, low, _, err := bracket(shallow, deep, want, byDepth)
	if err != nil {
		return nil, err
	}
	if !math.IsNaN(ratio) {
		h.corner = napeCornerAt
		return h, nil
	}
	narrowest, err := fitTop(m, b, shallow)
	if err != nil {
		return nil, err
	}
	widest, err := fitTop(m, b, deep)
	if err != nil {
		return nil, err
	}
	h = widest
	if want < low {
		h = narrowest
	}
	byCorner := func(azimuth float64) (float64, error) { return float64(h.napeWidth(azimuth)), nil }
	h.corner, _, _, _ = bracket(napeCornerRange[0], napeCornerRange[1], want, byCorner)
	if math.IsNaN(h.corner) {
		return nil, &MeasureError{Measure: "nape width", Value: m.NapeWidth,
			Low: narrowest.napeWidth(napeCornerRange[0]), High: widest.napeWidth(napeCornerRange[1]),
			Reason: "no head with the other three tapes is that wide at the nape"}
	}
	return h, nil
}

// depths is the range of depths of the lower half at which the other tapes can be
// met: a long front-to-nape tape needs a deep one, to end short of its bottom.
func depths(m Measures, b float64) (shallow, deep float64, err error) {
	shallow, deep = lowToTopRange[0], lowToTopRange[1]
	_, errShallow := fitTop(m, b, shallow)
	_, errDeep := fitTop(m, b, deep)
	nearest := func(out, in float64) float64 { // the last depth that serves on the way out
		for range 40 {
			mid := (out + in) / 2
			if _, err := fitTop(m, b, mid); err != nil {
				out = mid
			} else {
				in = mid
			}
		}
		return in
	}
	switch {
	case errShallow != nil && errDeep != nil:
		var one, other *MeasureError
		if !errors.As(errShallow, &one) || !errors.As(errDeep, &other) {
			return 0, 0, errShallow
		}
		if one.Measure == "ear to ear" && one.Measure != other.Measure {
			return 0, 0, errDeep // which does meet the ear-to-ear tape
		}
		if one.Measure == other.Measure {
			one.Low, one.High = min(one.Low, other.Low), max(one.High, other.High)
		}
		return 0, 0, one
	case errShallow != nil:
		shallow = nearest(shallow, deep)
	case errDeep != nil:
		deep = nearest(deep, shallow)
	}
	return shallow, deep, nil
}

// halfLength is half the length of the head whose widest level has the given
// circumference. The curve keeps its shape, so its length grows in step.
func halfLength(circumference MM) float64 {
	const trial = 100
	s := newSurface(trial*breadthToLength, trial, trial, trial, squareness, squareness)
	round := section{s: &s, u: Vec{Y: 1}, v: Vec{X: 1}}
	whole, _ := round.arc(0, 2*math.Pi, trial)
	return trial * float64(circumference) / whole
}

// fitTop finds the height that gives the ear-to-ear tape when the lower half is
// ratio times as deep as the upper, and then where the nape comes to lie.
func fitTop(m Measures, b, ratio float64) (*Head, error) {
	shape := func(top float64) *Head {
		return &Head{Surface: newSurface(b*breadthToLength, b, top, top*ratio, squareness, squareness), Measures: m}
	}
	over := func(top float64) (float64, error) { return float64(shape(top).earToEar()), nil }
	top, low, high, err := bracket(b*0.6, b*1.6, float64(m.EarToEar), over)
	if err != nil {
		return nil, err
	}
	if math.IsNaN(top) {
		return nil, &MeasureError{Measure: "ear to ear", Value: m.EarToEar, Low: MM(low), High: MM(high),
			Reason: fmt.Sprintf("no head of circumference %.0f mm has it", float64(m.Circumference))}
	}
	h := shape(top)
	return h, h.placeNape()
}

// bracket finds where the growing function f reaches the target between lo and
// hi, by bisection with a secant first guess in each half (Illinois). It returns NaN
// and the reach of f when the target lies outside it.
func bracket(lo, hi, target float64, f func(float64) (float64, error)) (x, low, high float64, err error) {
	flo, err := f(lo)
	if err != nil {
		return 0, 0, 0, err
	}
	fhi, err := f(hi)
	if err != nil {
		return 0, 0, 0, err
	}
	low, high = flo, fhi
	if target < low || target > high {
		return math.NaN(), low, high, nil
	}
	side := 0
	for range 60 {
		x = lo + (hi-lo)*(target-flo)/(fhi-flo)
		fx, err := f(x)
		if err != nil {
			return 0, 0, 0, err
		}
		switch {
		case math.Abs(fx-target) < 1e-9 || hi-lo < 1e-12:
			return x, low, high, nil
		case fx < target:
			lo, flo = x, fx
			if side == -1 {
				fhi = target + (fhi-target)/2
			}
			side = -1
		default:
			hi, fhi = x, fx
			if side == 1 {
				flo = target + (flo-target)/2
			}
			side = 1
		}
	}
	return x, low, high, nil
}

// earPoint is the notch in front of the ear canal, on the client's right.
func (h *Head) earPoint() Vec { return h.atLevel(earAzimuth, -earBelow) }

// EarToTop is the height of the top of the head above the ear notch.
func (h *Head) EarToTop() MM { return MM(h.top + earBelow) }

// earToEar is the tape over the top: the plane through both ear notches and the top.
func (h *Head) earToEar() MM {
	ear, top := h.earPoint(), Vec{Z: h.top}
	up := top.Minus(Vec{Y: ear.Y, Z: ear.Z}).Unit()
	c := section{s: &h.Surface, o: Vec{Y: ear.Y, Z: ear.Z}.Along(up, 10), u: up, v: Vec{X: 1}}
	half, _ := c.arc(0, c.angle(ear), h.top)
	return MM(2 * half)
}

// atLevel is the point of the surface at an azimuth in degrees and a level z.
func (h *Head) atLevel(azimuth, z float64) Vec {
	sin, cos := math.Sincos(azimuth * math.Pi / 180)
	c := section{s: &h.Surface, o: Vec{Z: z}, u: Vec{Y: -1}, v: Vec{X: 1}}
	p, _, _ := c.at(math.Atan2(sin, cos), h.a)
	return p
}

// placeNape puts the middle of the nape hairline at the end of the
// front-to-nape tape, and the round of the head at the level of the front hairline.
func (h *Head) placeNape() error {
	h.midline = section{s: &h.Surface, u: Vec{Y: -1}, v: Vec{Z: 1}}
	front, r := h.midline.advance(math.Pi, -foreheadArc, h.b)
	p, _, _ := h.midline.at(front, r)
	h.roundZ = p.Z
	nape, r := h.midline.advance(front, -float64(h.Measures.FrontToNape), r)
	h.napeAngle = nape
	p, _, _ = h.midline.at(nape, r)
	if lowest := -0.93 * h.low; nape < -math.Pi/2 || p.Z < lowest || p.Z > -earBelow {
		a, _ := h.midline.arc(h.midline.angle(h.onMidline(-earBelow)), front, h.b)
		b, _ := h.midline.arc(h.midline.angle(h.onMidline(lowest)), front, h.b)
		return &MeasureError{Measure: "front to nape", Value: h.Measures.FrontToNape, Low: MM(a), High: MM(b),
			Reason: "it would end above the ears or under the head"}
	}
	h.round = h.heightOf(h.onMidline(h.roundZ))
	return nil
}

// onMidline is the point of the back midline at a level.
func (h *Head) onMidline(z float64) Vec { return h.atLevel(0, z) }

// napeWidth is the level tape between nape corners at the given azimuth.
func (h *Head) napeWidth(azimuth float64) MM {
	z := h.midlinePoint(napeCornerUp).Z
	c := section{s: &h.Surface, o: Vec{Z: z}, u: Vec{Y: -1}, v: Vec{X: 1}}
	half, _ := c.arc(0, azimuth*math.Pi/180, h.b)
	return MM(2 * half)
}

// midlinePoint is the point of the midline at a height: mm of arc up from the
// middle of the nape hairline, over the top to the front.
func (h *Head) midlinePoint(height MM) Vec {
	theta, r := h.midline.advance(h.napeAngle, float64(height), h.b)
	p, _, _ := h.midline.at(theta, r)
	return p
}

// RoundHeight is the height of the round of the head: below it the map has
// level cuts, above it ear-to-ear cuts. It is the height at which a level cut
// meets the front hairline.
func (h *Head) RoundHeight() MM { return h.round }

// heightOf is the height of a point of the midline.
func (h *Head) heightOf(p Vec) MM {
	theta := h.midline.angle(p)
	if theta < -math.Pi/2 {
		theta += 2 * math.Pi
	}
	arc, _ := h.midline.arc(h.napeAngle, theta, h.b)
	return MM(arc)
}

// TopHeight is the height of the top of the head, over the ears.
func (h *Head) TopHeight() MM { return h.heightOf(Vec{Z: h.top}) }

// HeightAtLevel is the height of the level z on the back of the head.
func (h *Head) HeightAtLevel(z float64) MM { return h.heightOf(h.onMidline(z)) }

// FrontHeight is the height of the middle of the default front hairline: the
// length of the front-to-nape tape.
func (h *Head) FrontHeight() MM { return h.Measures.FrontToNape }
