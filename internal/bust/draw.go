package bust

import (
	"math"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/scalp"
)

// Mark is something to draw at a point of the head when that is not hidden.
type Mark struct {
	At   scalp.Vec
	Ink  cells.Ink
	Rune rune
	Rank int // of two marks in one cell the higher shows, and of equals the later
}

// Path is a line on the head, drawn as dots in its ink or, without braille, as Rune. Its points
// are near enough to each other to be joined by straight lines.
type Path struct {
	Points []scalp.Vec
	Ink    cells.Ink
	Rune   rune
}

// Tint says how the hair-bearing ground is drawn near a point. Each cell is drawn as the nearest
// tint says; so there is one for each slot, also for those in no zone.
type Tint struct {
	At   scalp.Vec
	Ink  cells.Ink
	Rune rune // instead of the shaded surface; 0 leaves that
}

// Scene is what lies on the head.
type Scene struct {
	Ground []Tint
	Reach  scalp.MM // how far from its point a tint reaches at most
	Paths  []Path
	Marks  []Mark
	Bare   cells.Ink // of face, neck and ears
	Hair   cells.Ink // of hair-bearing scalp, where no tint reaches
	Edge   cells.Ink // of the hairline
}

// drawing is one drawing of a scene.
type drawing struct {
	*Scene
	*Relief
	scr  *cells.Screen
	area cells.Rect
}

// Draw draws a scene on a relief, whose upper left cell is that of the area. Of the area nothing is left
// of what was there; outside it nothing is changed.
func Draw(scr *cells.Screen, area cells.Rect, r *Relief, s Scene) {
	d := &drawing{&s, r, scr, area}
	d.relief()
	d.tints()
	d.paths()
	d.marks()
}

// put sets a cell of the relief.
func (d *drawing) put(x, y int, ink cells.Ink, r rune) {
	if x >= 0 && y >= 0 && x < min(d.across, d.area.W) && y < min(d.lines, d.area.H) {
		d.scr.Put(d.area.X+x, d.area.Y+y, ink, r)
	}
}

func (d *drawing) relief() {
	d.scr.Fill(d.area, 0, ' ')
	for y := range min(d.lines, d.area.H) {
		for x := range min(d.across, d.area.W) {
			c := &d.cells[y*d.across+x]
			if r := d.glyph(c); r != ' ' {
				d.scr.Put(d.area.X+x, d.area.Y+y, d.ink(c), r)
			}
		}
	}
}

func (d *drawing) glyph(c *cell) rune {
	switch {
	case d.ascii:
		return c.plain
	case c.dots == 0:
		return ' '
	}
	return blankBraille + rune(c.dots)
}

func (d *drawing) ink(c *cell) cells.Ink {
	switch {
	case c.part == edge:
		return d.Edge
	case c.part == hair && !c.feature:
		return d.Hair
	}
	return d.Bare
}

// tints draws the ground of each cell of hair as the nearest tint has it.
func (d *drawing) tints() {
	if len(d.Ground) == 0 {
		return
	}
	nearest := make([]nearestTint, len(d.cells))
	for i := range nearest {
		nearest[i].squared = float32(d.Reach * d.Reach)
	}
	for i := range d.Ground {
		d.reach(int32(i), nearest)
	}
	for k := range nearest {
		if i := nearest[k].next - 1; i >= 0 {
			d.tint(k%d.across, k/d.across, &d.cells[k], &d.Ground[i])
		}
	}
}

// nearestTint is the nearest tint of a cell so far.
type nearestTint struct {
	next    int32   // the number of the one after it, 0 while there is none
	squared float32 // how far it is, in mm squared
}

// reach offers a tint to the cells round it.
func (d *drawing) reach(i int32, nearest []nearestTint) {
	// What is seen of a head is nowhere this far behind the middle of it, in mm: at its edge its
	// depth is about half the difference of its length and breadth.
	const behind = 40
	at, r := d.Ground[i].At, float64(d.Reach)
	if at.Dot(d.toward) < -behind-r {
		return
	}
	u, v := d.dot(at)
	r *= d.scale
	left, right := max(0, int(u-r)>>1), min(d.across-1, int(u+r)>>1)
	for y := max(0, int(v-r)>>2); y <= min(d.lines-1, int(v+r)>>2); y++ {
		for k := y*d.across + left; k <= y*d.across+right; k++ {
			c := &d.cells[k]
			if c.part != hair {
				continue
			}
			off := c.at.Minus(at)
			if squared := float32(off.Dot(off)); squared < nearest[k].squared {
				nearest[k] = nearestTint{i + 1, squared}
			}
		}
	}
}

// tint draws one cell as a tint has it. At the edge of the head, where a glyph would stick out, the
// dots stay.
func (d *drawing) tint(x, y int, c *cell, t *Tint) {
	if c.part != hair || c.feature {
		return
	}
	r := t.Rune
	if r == 0 || c.rim || c.full < 5 {
		r = d.glyph(c)
	}
	d.put(x, y, t.Ink, r)
}

// paths draws lines over the ground, which keeps clear of them in the cells they run through.
func (d *drawing) paths() {
	if d.ascii {
		for i := range d.Paths {
			p := &d.Paths[i]
			strokeCells(&d.camera, p.Points, d.faces, func(x, y int) { d.put(x, y, p.Ink, p.Rune) })
		}
		return
	}
	if len(d.Paths) == 0 {
		return
	}
	lines, beside := newCanvas(d.across, d.lines), newCanvas(d.across, d.lines)
	inks := make([]*Path, len(d.cells))
	for i := range d.Paths {
		stroke(&d.camera, d.Paths[i].Points, d.faces, func(x, y int) {
			if lines.has(x, y) {
				lines.set(x, y)
				ring(x, y, beside.set)
				inks[y/4*d.across+x/2] = &d.Paths[i]
			}
		})
	}
	for k, path := range inks {
		if path != nil {
			dots := d.cells[k].dots&^beside.cells[k] | lines.cells[k]
			d.put(k%d.across, k/d.across, path.Ink, blankBraille+rune(dots))
		}
	}
}

// marks draws the marks that are seen.
func (d *drawing) marks() {
	if len(d.Marks) == 0 {
		return
	}
	ranks := make([]int, len(d.cells))
	for i := range ranks {
		ranks[i] = math.MinInt
	}
	for i := range d.Marks {
		m := &d.Marks[i]
		x, y, ok := d.Cell(m.At)
		if !ok || m.Rank < ranks[y*d.across+x] {
			continue
		}
		ranks[y*d.across+x] = m.Rank
		d.put(x, y, m.Ink, m.Rune)
	}
}
