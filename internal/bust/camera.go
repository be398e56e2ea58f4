package bust

import (
	"math"

	"example.org/underveil/internal/scalp"
)

// camera maps the head to the dots of a picture, without perspective: a millimetre is as long
// near as far, so that distances between bonds can be compared.
type camera struct {
	surface           *scalp.Surface
	right, up, toward scalp.Vec
	w, h              int     // of the picture, in dots
	half              int     // of the greatest breadth of a head, in dots
	scale             float64 // dots a mm
	middle            float64 // how far up from the frame's origin the middle of the picture is, mm
}

// away is how far from the frame's origin rays begin, in mm: outside any head.
const away = 500

// newCamera aims at the middle of head and neck. The scale is the same for every view, so that
// the head does not swell and shrink while it is turned.
func newCamera(head *scalp.Head, n neck, v View, w, h int) camera {
	c := camera{surface: &head.Surface, w: w, h: h}
	c.right, c.up, c.toward = v.axes()
	profile := append(profileOf(head), scalp.Vec{Z: n.bottom})
	wide, high := 0.0, 0.0
	for _, p := range profile {
		wide = max(wide, 2*(p.Y+noseOut))
	}
	for lift := float64(leastLift); lift <= mostLift; lift += 5 {
		low, top := extent(profile, lift)
		high = max(high, top-low)
	}
	c.scale = min(max(float64(w-2), 1)/wide, max(float64(h-2), 1)/high)
	c.half = int(wide/2*c.scale) + 1
	low, top := extent(profile, v.Lift)
	c.middle = (low + top) / 2
	return c
}

// profileOf is the front half of the head's outline from the side; the surface is the same front
// and back.
func profileOf(head *scalp.Head) []scalp.Vec {
	var profile []scalp.Vec
	for degrees := -90.0; degrees <= 90; degrees += 2 {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		out := scalp.Vec{Y: cos, Z: sin}
		if p, _, ok := head.Hit(out.Times(away), out.Times(-1), 0); ok {
			profile = append(profile, p)
		}
	}
	return profile
}

// extent is the lowest and highest that a profile reaches in a picture from behind or from the
// front, which is where it reaches furthest, in mm up from the frame's origin.
func extent(profile []scalp.Vec, lift float64) (low, high float64) {
	rise, level := math.Sincos(lift * math.Pi / 180)
	for _, p := range profile {
		y := math.Abs(p.Y * rise)
		low, high = min(low, p.Z*level-y), max(high, p.Z*level+y)
	}
	return low, high
}

// dot is where in the picture a point is, in dots from its upper left corner.
func (c *camera) dot(p scalp.Vec) (x, y float64) {
	return float64(c.w)/2 + p.Dot(c.right)*c.scale, float64(c.h)/2 - (p.Dot(c.up)-c.middle)*c.scale
}

// eye is where the ray through the middle of a dot begins.
func (c *camera) eye(x, y int) scalp.Vec {
	u := (float64(x) + 0.5 - float64(c.w)/2) / c.scale
	v := (float64(c.h)/2-float64(y)-0.5)/c.scale + c.middle
	return c.right.Times(u).Along(c.up, v).Along(c.toward, away)
}

// grazing is the sine of the angle under which a mark is too near the edge to say where it is.
const grazing = 0.05

// faces reports whether the surface at one of its points is turned to the viewer, and not
// merely seen along. The head is convex, so that what faces the viewer is hidden by nothing.
func (c *camera) faces(p scalp.Vec) bool { return c.surface.Normal(p).Dot(c.toward) > grazing }

// open reports whether nothing of the head is in front of a point outside or on it.
func (c *camera) open(p scalp.Vec) bool {
	const skin = 0.5 // mm
	hit, _, ok := c.surface.Hit(p.Along(c.toward, away), c.toward.Times(-1), 0)
	return !ok || hit.Minus(p).Dot(c.toward) < skin
}
