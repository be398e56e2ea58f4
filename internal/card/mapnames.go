package card

import (
	"fmt"
	"math"
	"strconv"

	"example.org/underveil/internal/card/letter"
	"example.org/underveil/internal/card/page"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/slots"
	"example.org/underveil/internal/tally"
)

// mmPerPoint is how long a point is, of which type is measured in: 72 to an inch.
const mmPerPoint = 25.4 / 72

// Sizes of type on the map, in mm.
const (
	numberSize = 13 * mmPerPoint // of the numbers of the pieces
	nameSize   = 8.5 * mmPerPoint
	axisSize   = 7 * mmPerPoint
)

// Heights of letters, in em: of capitals and figures, and of what hangs below the line.
const (
	capital = 0.73
	hanging = 0.24
)

// numbers writes the number of each piece at its outer end, or else where there is room near it.
func (c *chart) numbers() {
	for i, p := range c.pieces {
		line, bonds := c.u.shown(p)
		if len(bonds) == 0 {
			continue
		}
		first, last := c.atSpot(c.u.slotSpot(line, bonds[0].Slot)), c.atSpot(c.u.slotSpot(line, bonds[len(bonds)-1].Slot))
		set := c.setter.Set(strconv.Itoa(i+1), letter.Bold)
		c.label(set, numberSize, numberPlaces(p, first, last, c.markSize(), set.Width*numberSize))
	}
}

// numberPlaces are where the number of a piece may stand, by the left end of its baseline, the best first.
func numberPlaces(p tally.Piece, first, last page.Point, r, width float64) []page.Point {
	const gap = 1.8
	tall := capital * numberSize
	middle := tall / 2
	left := func(q page.Point, up float64) page.Point {
		return page.Point{X: q.X - r - gap - width, Y: q.Y + middle - up}
	}
	right := func(q page.Point, up float64) page.Point { return page.Point{X: q.X + r + gap, Y: q.Y + middle - up} }
	above := func(q page.Point, aside float64) page.Point {
		return page.Point{X: q.X - width/2 + aside, Y: q.Y - r - gap}
	}
	below := func(q page.Point, aside float64) page.Point {
		return page.Point{X: q.X - width/2 + aside, Y: q.Y + r + gap + tall}
	}
	if p.Along {
		return []page.Point{above(last, 0), below(first, 0), right(last, 0), left(last, 0), right(first, 0), left(first, 0)}
	}
	places := []page.Point{left(first, 0), right(last, 0)}
	if p.Panel == slots.RightSide {
		places = []page.Point{right(last, 0), left(first, 0)}
	}
	up := tall/2 + r + 0.8
	return append(places, below(first, 0), above(first, 0), below(last, 0), above(last, 0), left(first, -up), left(first, up), right(last, -up), right(last, up))
}

// label writes words at the first of some places where they cover nothing, on a white ground. Where there is none, it looks
// further and further from the first, and draws a line to it.
func (c *chart) label(set letter.Line, size float64, places []page.Point) {
	at, ok := c.firstFree(set, size, places)
	if !ok {
		var near page.Point
		if near, ok = c.firstFree(set, size, around(places[0])); ok {
			middle := func(p page.Point) page.Point {
				return page.Point{X: p.X + set.Width*size/2, Y: p.Y - capital*size/2}
			}
			from, to := middle(places[0]), middle(near)
			path := &page.Path{Stroke: 0.2}
			c.under = append(c.under, path.Line(from.X, from.Y, to.X, to.Y))
			at = near
		}
	}
	b := labelRoom(set, size, at)
	white := &page.Path{Filled: true, Fill: 1}
	c.marks = append(c.marks, white.Rect(b.x1, b.y1, b.x2-b.x1, b.y2-b.y1), &page.Text{Line: set, At: at, Size: size})
	c.taken = append(c.taken, b)
}

// labelRoom is what words take with a rim.
func labelRoom(set letter.Line, size float64, at page.Point) box {
	const rim = 0.5
	return box{at.X - rim, at.Y - capital*size - rim, at.X + set.Width*size + rim, at.Y + rim}
}

// firstFree is the first place at which words cover nothing, or the first of all.
func (c *chart) firstFree(set letter.Line, size float64, places []page.Point) (at page.Point, ok bool) {
	for _, p := range places {
		if b := labelRoom(set, size, p); c.free(b) && b.x1 > margin && b.x2 < c.right && b.y1 > c.top && b.y2 < c.bottom {
			return p, true
		}
	}
	return places[0], false
}

// around are places round about one, the nearest first.
func around(p page.Point) []page.Point {
	const step, most, turns = 1.5, 45, 24
	var list []page.Point
	for r := step; r < most; r += step {
		for k := range turns {
			sin, cos := math.Sincos(math.Pi + 2*math.Pi*float64(k)/turns)
			list = append(list, page.Point{X: p.X + r*cos, Y: p.Y + r*sin})
		}
	}
	return list
}

func (c *chart) free(b box) bool {
	for _, t := range c.taken {
		if t.meets(b) {
			return false
		}
	}
	return true
}

// names writes each zone's name once, where it is.
func (c *chart) names() {
	extents := c.zoneExtents()
	name := func(text string, places func(width float64) []page.Point) {
		set := c.setter.Set(text, letter.Regular)
		c.label(set, nameSize, places(set.Width*nameSize))
	}
	for _, zone := range []rule.Zone{rule.NapeZone, rule.EarZone, rule.TempleZone, rule.FringeZone, rule.PartZone, rule.FaceZone} {
		at, ok := extents[zone]
		if !ok {
			continue
		}
		name(zoneName(zone), func(w float64) []page.Point { return c.namePlaces(zone, at, w) })
	}
	for _, k := range c.sheet.KeepOff {
		p := c.atSpot(spot{float64(k.Right), float64(k.Height)})
		r := c.scale * float64(k.Radius)
		name(keepOffName(k), func(w float64) []page.Point {
			mid := p.Y + capital*nameSize/2
			return []page.Point{{X: p.X + r + 1, Y: mid}, {X: p.X - r - 1 - w, Y: mid}, {X: p.X - w/2, Y: p.Y - r - 1}, {X: p.X - w/2, Y: p.Y + r + 1 + capital*nameSize}}
		})
	}
	c.sides()
}

func zoneName(z rule.Zone) string {
	switch z {
	case rule.EarZone:
		return "ears"
	case rule.TempleZone:
		return "temples"
	case rule.PartZone:
		return "parting"
	}
	return z.String()
}

// namePlaces are where a zone's name may stand: beside the hair where the zone meets its edge.
func (c *chart) namePlaces(zone rule.Zone, at extent, w float64) []page.Point {
	const gap = 1.4
	tall := capital * nameSize
	top := c.atSpot(c.u.most).Y
	switch zone {
	case rule.NapeZone:
		p := c.atSpot(spot{0, c.u.least.height})
		low := c.atSpot(spot{0, 0})
		y := max(p.Y, low.Y) + gap + tall
		return []page.Point{{X: p.X - w/2, Y: y}, {X: p.X + 8, Y: y}, {X: p.X - w - 8, Y: y}, {X: p.X + 25, Y: y}, {X: p.X - w - 25, Y: y}}
	case rule.FringeZone:
		x := c.atSpot(spot{0, 0}).X
		return []page.Point{{X: x - w/2, Y: top - gap}, {X: x - w - 6, Y: top - gap}, {X: x + 6, Y: top - gap}}
	case rule.PartZone:
		var places []page.Point
		for _, curve := range c.table.Zones.Partings {
			front := c.u.onTop(curve.Points()[0])
			p := c.atSpot(front)
			if math.Abs(front.right) < 15 {
				places = append(places, page.Point{X: p.X - w/2, Y: top - gap}, page.Point{X: p.X + 8, Y: top - gap})
				continue
			}
			cuts := inside(c.u.top, spot{0, front.height - 4}, spot{1, 0})
			if len(cuts) < 2 {
				continue
			}
			if end := c.atSpot(spot{cuts[len(cuts)-1], 0}).X; front.right > 0 {
				places = append(places, page.Point{X: end + gap, Y: p.Y + tall/2})
			} else {
				places = append(places, page.Point{X: c.atSpot(spot{cuts[0], 0}).X - gap - w, Y: p.Y + tall/2})
			}
		}
		return append(places, page.Point{X: c.atSpot(c.u.most).X - w, Y: top - gap})
	case rule.EarZone:
		return []page.Point{c.outside(at.lowest, tall)}
	default: // temples and face: beside the left end of the back, or where that is at the edge of the page above it
		p := c.atSpot(at.leftmost)
		places := []page.Point{{X: p.X - w - 3, Y: p.Y + tall/2}}
		if places[0].X < margin {
			places = nil
		}
		up := c.atSpot(spot{at.leftmost.right, float64(c.u.round.ID.At)}).Y - gap
		return append(places, page.Point{X: p.X, Y: up}, page.Point{X: p.X, Y: up - 5})
	}
}

// outside is where words may stand on the right of the hair, beside a place at its edge.
func (c *chart) outside(at spot, tall float64) page.Point {
	p := c.atSpot(at)
	edge := p.X
	for _, y := range []float64{p.Y - tall/2, p.Y, p.Y + tall/2, p.Y + tall} { // the words are as high as that
		cuts := inside(c.u.back, spot{at.right, (c.y - y) / c.scale}, spot{1, 0})
		for i := 1; i < len(cuts); i += 2 {
			if cuts[i-1] <= 0 { // the stretch that the place is in
				edge = max(edge, c.atSpot(spot{at.right + cuts[i], 0}).X)
			}
			if cuts[i] > 0 {
				break
			}
		}
	}
	return page.Point{X: edge + 1.8, Y: p.Y + tall}
}

// extent is how far a zone reaches: down on the right, and to the left.
type extent struct{ lowest, leftmost spot }

// zoneExtents are the zones that there are on the map, slot by slot.
func (c *chart) zoneExtents() map[rule.Zone]extent {
	found := map[rule.Zone]extent{}
	for _, l := range c.table.Lines {
		for i := range l.Slots {
			s := &l.Slots[i]
			zone := c.g.zones.In(s)
			if zone == rule.NoZone || !s.OnScalp {
				continue
			}
			p := c.u.slotSpot(l, l.First+i)
			e, ok := found[zone]
			if !ok {
				e = extent{p, p}
			}
			if p.right < e.leftmost.right {
				e.leftmost = p
			}
			if p.right > 0 && (p.height < e.lowest.height || e.lowest.right <= 0) {
				e.lowest = p
			}
			found[zone] = e
		}
	}
	return found
}

// sides writes which side is which, above the ends of the back.
func (c *chart) sides() {
	left, right := c.setter.Set("client's left", letter.Bold), c.setter.Set("client's right", letter.Bold)
	least, most := c.hairEnds()
	y := c.atSpot(spot{0, float64(c.u.round.ID.At)}).Y
	for _, it := range []struct {
		set letter.Line
		x   float64
	}{{left, least}, {right, most - right.Width*nameSize}} {
		var places []page.Point
		for up := 1.4; up < 20; up += 1.5 {
			places = append(places, page.Point{X: it.x, Y: y - up})
		}
		c.label(it.set, nameSize, places)
	}
}

// hairEnds are how far left and right the hair reaches on the page.
func (c *chart) hairEnds() (least, most float64) {
	return c.atSpot(c.u.least).X, c.atSpot(c.u.most).X
}

// axis draws the heights beside the map, at x.
func (c *chart) axis(x float64) {
	path := &page.Path{Stroke: 0.15}
	top := math.Floor(c.u.most.height/20) * 20
	path.Line(x, c.atSpot(spot{0, 0}).Y, x, c.atSpot(spot{0, top}).Y)
	for h := 0.0; h <= top; h += 20 {
		y := c.atSpot(spot{0, h}).Y
		path.Line(x, y, x+1, y)
		set := c.setter.Set(fmt.Sprintf("%.0f", h), letter.Regular)
		c.marks = append(c.marks, &page.Text{Line: set, At: page.Point{X: x + 1.8, Y: y + capital*axisSize/2}, Size: axisSize})
	}
	c.marks = append(c.marks, path)
}
