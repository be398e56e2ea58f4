package card

import (
	"math"

	"example.org/underveil/internal/card/letter"
	"example.org/underveil/internal/card/page"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
	"example.org/underveil/internal/tally"
)

// The map is drawn in black lines of these widths, in mm, so that a printer without greys prints it as it is.
const (
	hatchLine   = 0.12
	edgeLine    = 0.3
	stripLine   = 0.22
	partingLine = 0.6
	markLine    = 0.25
)

// chart is the map as it is being drawn on a page.
type chart struct {
	*Card
	u                  *unrolled
	g                  *ground
	scale              float64
	x, y               float64     // of the middle of the nape hairline, on the page
	top, right, bottom float64     // how far the map may reach on the page
	under              []page.Mark // what lies under the marks: see ground
	marks              []page.Mark
	taken              []box // where something stands that no words may cover
	stops              map[sheet.Spot]bool

	corners []box // of the map, that something stands in
}

// box is a rectangle on the page.
type box struct{ x1, y1, x2, y2 float64 }

func (b box) meets(c box) bool { return b.x1 < c.x2 && c.x1 < b.x2 && b.y1 < c.y2 && c.y1 < b.y2 }

// atSpot is where on the page a place of the map lies.
func (c *chart) atSpot(p spot) page.Point {
	return page.Point{X: c.x + c.scale*p.right, Y: c.y - c.scale*p.height}
}

// draw draws the map but for what lies under its marks.
func (c *chart) draw() {
	c.stops = openStops(c.rep)
	c.edges()
	c.partings()
	c.patches()
	c.pieceMarks()
	c.numbers()
	c.names()
}

// ground draws what lies under the marks and takes some time: the zones, the free slots and the middle.
func (c *chart) ground() {
	c.hatch()
	c.dots()
	c.middle()
}

// middle draws the line up the middle, from which the first hole of a strip is measured.
func (c *chart) middle() {
	path := &page.Path{Stroke: 0.15, Dash: 1.2}
	low, high := c.atSpot(spot{0, 0}), c.atSpot(spot{0, float64(c.table.Head.FrontHeight())})
	c.under = append(c.under, path.Line(low.X, low.Y, high.X, high.Y))
}

// openStops are the slots with a stop that nobody accepted.
func openStops(rep *rule.Report) map[sheet.Spot]bool {
	stops := map[sheet.Spot]bool{}
	for _, f := range rep.Findings {
		if f.On == sheet.OnSlot && f.Accepted == nil && f.Severity == rule.Stop {
			stops[sheet.Spot{At: f.Row, Slot: f.Slot}] = true
		}
	}
	return stops
}

// hatchings are how the zones are hatched: which way the lines lean, and how far apart they are in mm. Zones that lie side by side
// differ in both ways.
var hatchings = map[rule.Zone][]hatching{
	rule.NapeZone:    {{1, 1.5}},
	rule.EarZone:     {{-1, 1.5}},
	rule.TempleZone:  {{1, 1.5}},
	rule.FaceZone:    {{1, 1.5}},
	rule.FringeZone:  {{-1, 1.5}},
	rule.PartZone:    {{1, 0.9}},
	rule.KeepOffZone: {{1, 1.1}, {-1, 1.1}},
}

type hatching struct{ lean, apart float64 }

// hatch draws the zones as hatched.
func (c *chart) hatch() {
	byStyle := map[hatching]map[rule.Zone]bool{}
	var styles []hatching
	for zone := rule.NapeZone; zone <= rule.KeepOffZone; zone++ {
		for _, h := range hatchings[zone] {
			if byStyle[h] == nil {
				byStyle[h] = map[rule.Zone]bool{}
				styles = append(styles, h)
			}
			byStyle[h][zone] = true
		}
	}
	for _, h := range styles {
		path := &page.Path{Stroke: hatchLine}
		for part, polygon := range [][]spot{c.u.back, c.u.top} {
			c.hatchPart(path, part, polygon, h, byStyle[h])
		}
		if len(path.Steps) > 0 {
			c.under = append(c.under, path)
		}
	}
}

// hatchPart draws the lines of one kind of hatching in one part of the map.
func (c *chart) hatchPart(path *page.Path, part int, polygon []spot, h hatching, zones map[rule.Zone]bool) {
	dir := spot{math.Sqrt2 / 2 / c.scale, h.lean * math.Sqrt2 / 2 / c.scale} // one mm of the page
	least, most := bounds(polygon)
	low, high := math.Inf(1), math.Inf(-1) // how far the corners lie across the lines, in mm of the page
	across := func(p spot) float64 { return (p.height*dir.right - p.right*dir.height) * c.scale * c.scale }
	for _, p := range []spot{least, most, {least.right, most.height}, {most.right, least.height}} {
		low, high = min(low, across(p)), max(high, across(p))
	}
	for k := math.Ceil(low / h.apart); k*h.apart <= high; k++ {
		from := spot{-dir.height * k * h.apart, dir.right * k * h.apart}
		cuts := inside(polygon, from, dir)
		for i := 0; i+1 < len(cuts); i += 2 {
			if cuts[i+1]-cuts[i] < 0.1 { // where the hairline runs along the round of the head there is an edge and no hair
				continue
			}
			c.hatchLine(path, part, from, dir, cuts[i], cuts[i+1], zones)
		}
	}
}

// hatchLine draws the parts of one line that lie in the zones. It looks every so often, and closer where a zone begins or ends.
func (c *chart) hatchLine(path *page.Path, part int, from, dir spot, a, b float64, zones map[rule.Zone]bool) {
	const look, close = 0.7, 0.05
	at := func(t float64) spot { return spot{from.right + t*dir.right, from.height + t*dir.height} }
	in := func(t float64) bool { return zones[c.g.zone(part, at(t))] }
	n := int(math.Ceil((b - a) / look))
	t, was, start := a, in(a), a
	for i := 1; i <= n; i++ {
		next := a + (b-a)*float64(i)/float64(n)
		is := in(next)
		if is != was {
			lo, hi := t, next
			for hi-lo > close {
				if mid := (lo + hi) / 2; in(mid) == was {
					lo = mid
				} else {
					hi = mid
				}
			}
			if was {
				c.segment(path, at(start), at(lo))
			}
			start, was = hi, is
		}
		t = next
	}
	if was {
		c.segment(path, at(start), at(b))
	}
}

func (c *chart) segment(path *page.Path, a, b spot) {
	p, q := c.atSpot(a), c.atSpot(b)
	path.Line(p.X, p.Y, q.X, q.Y)
}

// dots draws the slots where a bond may lie.
func (c *chart) dots() {
	dots := &page.Path{Stroke: min(0.35, 0.16*c.scale*float64(c.table.Spacing)), Round: true}
	for _, l := range c.table.Lines {
		for i := range l.Slots {
			if s := &l.Slots[i]; c.g.zones.Free(s) {
				p := c.atSpot(c.u.slotSpot(l, l.First+i))
				dots.Line(p.X, p.Y, p.X, p.Y) // a line without length has round ends all the same
			}
		}
	}
	if len(dots.Steps) > 0 {
		c.under = append(c.under, dots)
	}
}

// edges draws the hairline, and where the map turns from the back to the top.
func (c *chart) edges() {
	const onRound = 1e-6
	path := &page.Path{Stroke: edgeLine, Round: true}
	round := float64(c.u.round.ID.At)
	for _, polygon := range [][]spot{c.u.back[:len(c.u.back)-4], c.u.top} {
		isBack := &polygon[0] == &c.u.back[0]
		pen := false
		for i := 0; i < len(polygon); i++ {
			a, b := polygon[i], polygon[(i+1)%len(polygon)]
			if isBack && (i == len(polygon)-1 || a.height > round-onRound && b.height > round-onRound) {
				pen = false
				continue
			}
			p, q := c.atSpot(a), c.atSpot(b)
			if !pen {
				path.MoveTo(p.X, p.Y)
			}
			path.LineTo(q.X, q.Y)
			pen = true
		}
	}
	const justBelow = 0.01
	cuts := inside(c.u.back, spot{0, round - justBelow}, spot{1, 0})
	for i := 0; i+1 < len(cuts); i += 2 {
		c.segment(path, spot{cuts[i], round}, spot{cuts[i+1], round})
	}
	c.marks = append(c.marks, path)
}

// partings draws where the hair is parted.
func (c *chart) partings() {
	path := &page.Path{Stroke: partingLine, Dash: 1.6}
	for _, curve := range c.table.Zones.Partings {
		for i, p := range curve.Points() {
			q := c.atSpot(c.u.onTop(p))
			if i == 0 {
				path.MoveTo(q.X, q.Y)
			} else {
				path.LineTo(q.X, q.Y)
			}
		}
	}
	if len(path.Steps) > 0 {
		c.marks = append(c.marks, path)
	}
}

// patches marks the middles of the patches to keep off.
func (c *chart) patches() {
	path := &page.Path{Stroke: 0.4, Round: true}
	for _, k := range c.sheet.KeepOff {
		p := c.atSpot(spot{float64(k.Right), float64(k.Height)})
		const arm = 1
		path.Line(p.X-arm, p.Y-arm, p.X+arm, p.Y+arm)
		path.Line(p.X-arm, p.Y+arm, p.X+arm, p.Y-arm)
	}
	if len(path.Steps) > 0 {
		c.marks = append(c.marks, path)
	}
}

// markSize is the radius of a bond's mark.
func (c *chart) markSize() float64 { return min(1.35, 0.42*c.scale*float64(c.table.Spacing)) }

// pieceMarks draws the strip of each piece, and its bonds on it.
func (c *chart) pieceMarks() {
	strips := &page.Path{Stroke: stripLine}
	c.marks = append(c.marks, strips)
	for _, p := range c.pieces {
		line, bonds := c.u.shown(p)
		if len(bonds) == 0 {
			continue
		}
		c.strip(strips, line, bonds[0].Slot, bonds[len(bonds)-1].Slot)
		for _, b := range bonds {
			c.bond(line, p.Place, b)
		}
	}
}

// strip draws a strip from one slot to another, with its ends for the clips.
func (c *chart) strip(path *page.Path, line *slots.Line, from, to int) {
	clip := c.scale * float64(tally.ClipEnd)
	first, last := c.atSpot(c.u.slotSpot(line, from)), c.atSpot(c.u.slotSpot(line, to))
	if line.ID.Kind != scalp.Along {
		path.Line(first.X-clip, first.Y, last.X+clip, last.Y)
		return
	}
	path.MoveTo(first.X, first.Y+clip)
	for slot := from; slot <= to; slot++ {
		q := c.atSpot(c.u.slotSpot(line, slot))
		path.LineTo(q.X, q.Y)
	}
	path.LineTo(last.X, last.Y-clip)
}

// bond draws one bond, with the letter of its shade where there is more than one.
func (c *chart) bond(line *slots.Line, at sheet.Place, b tally.Placed) {
	p, r := c.atSpot(c.u.slotSpot(line, b.Slot)), c.markSize()
	c.marks = append(c.marks, bondMark(p.X, p.Y, r, b.Bond)...)
	c.taken = append(c.taken, box{p.X - r, p.Y - r, p.X + r, p.Y + r})
	if c.stops[sheet.Spot{At: at, Slot: b.Slot}] {
		c.marks = append(c.marks, stopMark(p.X, p.Y, 1.4*r)...)
	}
	if len(c.keys) < 2 {
		return
	}
	size := min(8, 6.2*r) * mmPerPoint
	set := c.setter.Set(string(rune(b.Shade)), letter.Bold)
	x, y := p.X-set.Width*size/2, p.Y+r+0.5+capital*size
	if at.Along {
		x, y = p.X+r+0.5, p.Y+0.25*size
	}
	room := box{x - 0.15, y - 0.75*size, x + set.Width*size + 0.15, y + 0.2}
	white := &page.Path{Filled: true, Fill: 1}
	c.marks = append(c.marks, white.Rect(room.x1, room.y1, room.x2-room.x1, room.y2-room.y1), &page.Text{Line: set, At: page.Point{X: x, Y: y}, Size: size})
	c.taken = append(c.taken, room)
}

// bondMark is the mark of a bond: full where it is whole, its left half where it is split, its lower half where it is trimmed, the
// quarter up on the right where it is both; as on the screen.
func bondMark(x, y, r float64, b sheet.Bond) []page.Mark {
	disc := &page.Path{Filled: true, Fill: 1, Stroke: markLine}
	disc.Circle(x, y, r-markLine/2)
	ink := &page.Path{Filled: true}
	switch {
	case b.Split && b.Trimmed:
		ink.MoveTo(x, y).LineTo(x, y-r)
		ink.Arc(x, y, r, 270, 360).Close()
	case b.Split:
		ink.MoveTo(x, y+r)
		ink.Arc(x, y, r, 90, 270).Close()
	case b.Trimmed:
		ink.MoveTo(x+r, y)
		ink.Arc(x, y, r, 0, 180).Close()
	default:
		ink.Circle(x, y, r)
	}
	return []page.Mark{disc, ink}
}

// stopMark crosses out a bond with a stop, in black with a white rim, so that it shows on a full bond as well.
func stopMark(x, y, r float64) []page.Mark {
	cross := func(thick, ink float64) page.Mark {
		path := &page.Path{Stroke: thick, Ink: ink, Round: true}
		return path.Line(x-r, y-r, x+r, y+r).Line(x-r, y+r, x+r, y-r)
	}
	return []page.Mark{cross(1.1, 1), cross(0.45, 0)}
}

// shortName is how many signs of a reason have room on the map.
const shortName = 24

// keepOffName is what stands beside a patch.
func keepOffName(k sheet.KeepOff) string {
	if why := clipped(k.Why, shortName); why != "" {
		return why
	}
	return "keep off"
}
