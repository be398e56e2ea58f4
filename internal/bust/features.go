package bust

import (
	"math"

	"example.org/underveil/internal/scalp"
)

// Ears, nose and neck are there so that one knows which way the head is turned. They are those of an
// ordinary head (assumptions, in mm); nothing is measured from them.
const (
	earHigh  = 58
	earWide  = 30
	earLean  = 0.12 // how far back the top leans, a mm up
	earStand = 0.5  // how far it stands off, a mm back: some 30 degrees

	noseRoot = -2 // level
	noseHigh = 50
	noseOut  = 16

	neckLong  = 42
	neckBelow = 3    // the lowest hair
	neckWide  = 0.96 // of the head where it begins
	neckDeep  = 1.1  // of its breadth
	neckFade  = 36   // over how much of its length it fades out
)

// earOf is the outline of an ear, once round from the notch: wider at the top than at the lobe.
func earOf(head *scalp.Head, side scalp.Side) []scalp.Vec {
	notch := head.Ear(side)
	out := scalp.Vec{X: float64(side)}
	var line []scalp.Vec
	for degrees := 0.0; degrees <= 360; degrees += 6 {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		up := earHigh / 2 * sin
		back := earWide / 2 * (1 - cos) * (1 + 0.15*sin)
		from := scalp.Vec{Y: notch.Y - back - earLean*up, Z: notch.Z + up}.Along(out, away)
		if p, _, ok := head.Hit(from, out.Times(-1), 0); ok {
			line = append(line, p.Along(out, earStand*back))
		}
	}
	return line
}

// noseOf is the line of the nose from its root over its tip to the lip.
func noseOf(head *scalp.Head) []scalp.Vec {
	var line []scalp.Vec
	for t := 0.0; t <= 1.001; t += 0.05 {
		p, normal, ok := head.Hit(scalp.Vec{Y: away, Z: noseRoot - noseHigh*t}, scalp.Vec{Y: -1}, 0)
		if ok {
			line = append(line, p.Along(normal, noseOut*min(t/0.85, (1-t)/0.15)))
		}
	}
	return line
}

// neck is an upright elliptical cylinder, flush with the back of the head. It begins inside the head
// just under the lowest hair, and fades out.
type neck struct {
	y           float64 // of its axis
	rx, ry      float64 // half its breadth and depth; 0 where the head has no room for one
	top, bottom float64 // levels
}

// neckOf is the neck of a head with that hairline, wherever it has been moved to.
func neckOf(head *scalp.Head, line []scalp.Vec) neck {
	lowest := head.LineAt(0).Point(0).Z
	for _, p := range line {
		lowest = min(lowest, p.Z)
	}
	n := neck{top: lowest - neckBelow, bottom: lowest - neckBelow - neckLong}
	back, _, ok := head.Hit(scalp.Vec{Y: -away, Z: n.top}, scalp.Vec{Y: 1}, 0)
	beside, _, too := head.Hit(scalp.Vec{X: away, Z: n.top}, scalp.Vec{X: -1}, 0)
	if ok && too {
		n.rx = neckWide * beside.X
		n.ry = neckDeep * n.rx
		n.y = back.Y + n.ry
	}
	return n
}

// hit is where a ray from outside first meets the neck, and the normal there.
func (n *neck) hit(from, dir scalp.Vec) (p, normal scalp.Vec, ok bool) {
	if n.rx == 0 {
		return p, normal, false
	}
	ox, oy, dx, dy := from.X/n.rx, (from.Y-n.y)/n.ry, dir.X/n.rx, dir.Y/n.ry
	a, half, c := dx*dx+dy*dy, ox*dx+oy*dy, ox*ox+oy*oy-1
	root := half*half - a*c
	if root <= 0 || a == 0 {
		return p, normal, false
	}
	p = from.Along(dir, (-half-math.Sqrt(root))/a)
	normal = scalp.Vec{X: p.X / (n.rx * n.rx), Y: (p.Y - n.y) / (n.ry * n.ry)}
	return p, normal.Unit(), p.Z <= n.top && p.Z >= n.bottom
}

// left is how much of the neck's tone is left at a level, from 1 down to 0 at its end.
func (n *neck) left(z float64) float64 { return min(max((z-n.bottom)/neckFade, 0), 1) }
