package lesson

import (
	"math"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// MostOff is how far from the middle of its slot, either way, a bond can be entered: farther it is in another slot, and out of any reach
// of where it was planned. What is said to be farther counts as that far.
const MostOff scalp.MM = 100

// course is the line of a row as bonds are measured from it. A place on the head is so many mm along the line and from there
// so many mm aside: along the shortest path that leaves the line at a right angle, as a tape is laid.
type course struct {
	surface *scalp.Surface
	line    interface{ Point(scalp.MM) scalp.Vec }
	across  scalp.Vec // of the plane of the line: towards greater heights, or to the right of a row front to back
	kind    scalp.LineKind
	low     scalp.MM // where the line begins and ends
	high    scalp.MM
}

// courseOf is the line of a row on a head; ok is false where the head has none. Unlike the table's lines it need not be one of the map.
func courseOf(h *scalp.Head, at sheet.Place) (c course, ok bool) {
	var line *scalp.Line
	switch {
	case at.Along && math.Abs(float64(at.At)) <= float64(h.Measures.EarToEar)/2:
		line = h.Line(scalp.LineID{Kind: scalp.Along, At: at.At})
	case !at.Along && at.At >= 0 && at.At <= h.FrontHeight()+20:
		line = h.LineAt(at.At)
	}
	if line == nil || line.High <= 0 {
		return course{}, false
	}
	across := [...]scalp.Vec{scalp.Level: {Z: 1}, scalp.Across: {Y: 1}, scalp.Along: {X: 1}}[line.ID.Kind]
	return course{&h.Surface, line, across, line.ID.Kind, line.Low, line.High}, true
}

// at is the place so far along the line and so far aside, and the direction of the path there.
func (c course) at(along, aside scalp.MM) (p, dir scalp.Vec) {
	return c.surface.Shoot(c.line.Point(along), c.across, aside)
}

// of is how far along the line and how far aside a place lies, to 0.00001 mm; near is a position to begin with. It is for places
// nearer to the line than the line bends.
func (c course) of(place scalp.Vec, near scalp.MM) (along, aside scalp.MM) {
	const step = 0.01
	along = near
	for range 40 {
		p, dir := c.at(along, aside)
		beside, _ := c.at(along+step, aside)
		side := beside.Minus(p)
		spread := side.Length() / step // of the paths from the line, since they left it
		miss := place.Minus(p)
		forth := miss.Dot(side.Unit()) / math.Max(spread, 0.2)
		out := miss.Dot(dir)
		along, aside = along+scalp.MM(forth), aside+scalp.MM(out)
		if math.Abs(forth)+math.Abs(out) < 1e-6 {
			break
		}
	}
	return along, aside
}

// lain is a bond where it lies on a head.
type lain struct {
	sheet.Spot
	bond   sheet.Bond
	on     bool // the head has the line and the slot; if not, the rest means nothing
	course course
	slot   scalp.MM // where on the line the middle of its slot is
	point  scalp.Vec
	off    bool // point is not the middle of the slot
}

// lay is where the bonds of a sheet lie on a head, in map order. A bond that is not in off lies in the middle of its slot, and so the
// strip of the sheet, its spacing and half a hole aside, decides.
func lay(s *sheet.Sheet, off []Off, h *scalp.Head) []lain {
	aside := map[sheet.Spot]Off{}
	for _, o := range off {
		if _, twice := aside[o.Spot]; !twice { // the first counts, as in sheet.Tried
			aside[o.Spot] = o
		}
	}
	begin := scalp.MM(0)
	if s.Aside {
		begin = s.HoleSpacing / 2
	}
	all := make([]lain, 0, s.Bonds())
	for _, row := range s.Rows {
		c, ok := courseOf(h, row.Place)
		for slot, b := range row.All() {
			l := lain{Spot: sheet.Spot{At: row.Place, Slot: slot}, bond: b, course: c, slot: begin + scalp.MM(slot)*s.HoleSpacing}
			const inset = 1e-6 // a slot exactly at the end belongs to the line
			if l.on = ok && l.slot >= c.low-inset && l.slot <= c.high+inset; l.on {
				l.point = c.line.Point(l.slot)
				if o := aside[l.Spot]; o.Right != 0 || o.Up != 0 {
					l.off = true
					l.point, _ = c.at(l.slot+held(o.Right), held(o.Up))
				}
			}
			all = append(all, l)
		}
	}
	return all
}

// held is a distance that can be entered; no number is none.
func held(d scalp.MM) scalp.MM {
	if math.IsNaN(float64(d)) {
		return 0
	}
	return max(-MostOff, min(d, MostOff))
}
