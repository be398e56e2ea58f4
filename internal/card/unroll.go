package card

import (
	"math"
	"sort"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/slots"
	"example.org/underveil/internal/tally"
)

// spot is a place on the map: mm right of the middle, and the height of its line.
type spot struct{ right, height float64 }

// unrolled takes places on the head to places on the map. The map has two parts: up to the round of the head each line is a
// level cut, above it an ear-to-ear cut, and positions are arc lengths from the middle along each.
type unrolled struct {
	t      *slots.Table
	round  *scalp.Line // the level line at the round of the head
	roundZ float64
	ys     []float64 // how far forward the midline of the top is, from the back on
	hs     []float64 // and its heights there

	seen        map[scalp.Vec]spot // places on the top that were asked for already
	back, top   []spot             // the hair in each of the two parts, as a polygon
	least, most spot               // how far the hair reaches
}

func unroll(t *slots.Table, pieces []tally.Piece) *unrolled {
	u := &unrolled{t: t, seen: map[scalp.Vec]spot{}, round: t.Head.Line(scalp.LineID{Kind: scalp.Level, At: t.Head.RoundHeight()})}
	u.roundZ = u.round.Point(0).Z
	const step = 2 // mm of arc; between two of them a straight line is off by 0.006 mm
	over := t.Head.Line(scalp.LineID{Kind: scalp.Along})
	n := int(float64(over.High) / step)
	add := func(y float64, at scalp.MM) {
		u.ys, u.hs = append(u.ys, y), append(u.hs, float64(t.Head.TopHeight()+at))
	}
	add(over.Point(over.Low).Y, over.Low)
	for i, p := range over.Walk(0, step, -n, n) {
		add(p.Y, step*scalp.MM(i-n))
	}
	add(over.Point(over.High).Y, over.High)
	u.edges()
	reach := []spot{u.least, u.most}
	for _, p := range pieces {
		line, bonds := u.shown(p)
		for _, b := range bonds {
			reach = append(reach, u.slotSpot(line, b.Slot))
		}
	}
	u.least, u.most = bounds(reach)
	return u
}

// shown is the line of a piece, and those of its bonds that lie on it; the rest the map cannot show.
func (u *unrolled) shown(p tally.Piece) (line *slots.Line, bonds []tally.Placed) {
	line, err := u.t.Line(p.Place)
	if err != nil {
		return nil, nil
	}
	for _, b := range p.Bonds {
		if line.At(b.Slot) != nil {
			bonds = append(bonds, b)
		}
	}
	return line, bonds
}

// slotSpot is where a slot of a line lies on the map.
func (u *unrolled) slotSpot(l *slots.Line, slot int) spot {
	if l.ID.Kind == scalp.Along {
		return u.onTop(l.At(slot).Point)
	}
	return spot{float64(u.t.Begin + scalp.MM(slot)*u.t.Spacing), float64(l.ID.At)}
}

func (u *unrolled) onBack(p scalp.Vec) spot {
	height := u.t.Head.HeightAtLevel(p.Z)
	line := u.t.Head.Line(scalp.LineID{Kind: scalp.Level, At: height})
	return spot{float64(line.PositionOf(p)), float64(height)}
}

func (u *unrolled) onTop(p scalp.Vec) spot {
	if at, ok := u.seen[p]; ok {
		return at
	}
	height := u.heightAt(p.Y)
	line := u.t.Head.Line(scalp.LineID{Kind: scalp.Across, At: scalp.MM(height)})
	u.seen[p] = spot{float64(line.PositionOf(p)), height}
	return u.seen[p]
}

// heightAt is the height of the ear-to-ear line that is so far forward. Beyond the ends of the midline of the top it is that of
// the end.
func (u *unrolled) heightAt(y float64) float64 {
	last := len(u.ys) - 1
	i := sort.SearchFloat64s(u.ys, y)
	if i == 0 {
		return u.hs[0]
	}
	if i > last {
		return u.hs[last]
	}
	t := (y - u.ys[i-1]) / max(u.ys[i]-u.ys[i-1], 1e-9)
	return u.hs[i-1] + t*(u.hs[i]-u.hs[i-1])
}

// edges draws the hair in the two parts. Where the hairline is above the round of the head it is no edge of the back, which then
// ends at the round; where it is below, the top ends there.
func (u *unrolled) edges() {
	ring := u.t.Zones.Hairline.Points()
	from := 0 // the vertex after which the ring crosses the middle of the front
	for i := range ring {
		if a, b := ring[i].Azimuth(), ring[(i+1)%len(ring)].Azimuth(); math.Abs(a-b) > 180 {
			from = i + 1
		}
	}
	half := float64(u.round.High)
	var edge []spot // of the back, where it is the hairline
	for k := range ring {
		p := ring[(from+k)%len(ring)]
		if onRound := float64(u.round.PositionOf(p)); p.Z < u.roundZ-1e-6 {
			u.back = append(u.back, u.onBack(p))
			edge = append(edge, u.back[len(u.back)-1])
			u.top = append(u.top, u.onTop(u.round.Point(scalp.MM(onRound))))
		} else {
			u.back = append(u.back, spot{onRound, float64(u.round.ID.At)})
			u.top = append(u.top, u.onTop(p))
		}
	}
	// The ring runs up the client's right, so it begins at the front on the left.
	first, last := u.back[0], u.back[len(u.back)-1]
	h := float64(u.round.ID.At)
	u.back = append(u.back, spot{half, last.height}, spot{half, h}, spot{-half, h}, spot{-half, first.height})
	u.least, u.most = bounds(edge, u.top)
}

// inside are the stretches of a line across a polygon, from a point in a direction, that lie in it, as multiples of the
// direction in pairs.
func inside(polygon []spot, from, dir spot) []float64 {
	var cuts []float64
	side := func(p spot) float64 { return dir.right*(p.height-from.height) - dir.height*(p.right-from.right) }
	for i, a := range polygon {
		b := polygon[(i+1)%len(polygon)]
		sa, sb := side(a), side(b)
		if (sa < 0) == (sb < 0) {
			continue
		}
		t := sa / (sa - sb)
		x, y := a.right+t*(b.right-a.right)-from.right, a.height+t*(b.height-a.height)-from.height
		cuts = append(cuts, (x*dir.right+y*dir.height)/(dir.right*dir.right+dir.height*dir.height))
	}
	sort.Float64s(cuts)
	return cuts
}

// bounds are the least and greatest of some places.
func bounds(lists ...[]spot) (least, most spot) {
	least, most = spot{math.Inf(1), math.Inf(1)}, spot{math.Inf(-1), math.Inf(-1)}
	for _, list := range lists {
		for _, p := range list {
			least = spot{min(least.right, p.right), min(least.height, p.height)}
			most = spot{max(most.right, p.right), max(most.height, p.height)}
		}
	}
	return least, most
}
