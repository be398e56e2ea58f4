package bust

import "example.org/underveil/internal/scalp"

// shading is a relief in the making.
type shading struct {
	*Relief
	neck    neck
	light   scalp.Vec // the direction to it
	dots    []dot
	ground  canvas // the shaded surface
	strokes canvas // hairline, ears and nose
}

// dot is what is seen in one dot.
type dot struct {
	part  part
	tone  float32 // the share of such dots to be lit
	depth float32 // towards the viewer, mm
}

// newShading puts the lamp above and behind the viewer: so the head is lit from both sides alike,
// and looks the same from the left as from the right.
func newShading(r *Relief, n neck) *shading {
	return &shading{
		Relief: r, neck: n, light: r.toward.Times(0.8).Along(r.up, 0.6), dots: make([]dot, r.w*r.h),
		ground: newCanvas(r.across, r.lines), strokes: newCanvas(r.across, r.lines),
	}
}

// look finds what is seen in every dot.
func (s *shading) look(m *mask) {
	for y := range s.h {
		s.headRow(y, m)
	}
	left, right, above, below := s.neckBounds()
	for y := above; y < below; y++ {
		s.neckRow(y, left, right)
	}
}

// neckBounds are the dots among which the neck lies.
func (s *shading) neckBounds() (left, right, above, below int) {
	n := &s.neck
	x, high := s.dot(scalp.Vec{Y: n.y, Z: n.top})
	_, low := s.dot(scalp.Vec{Y: n.y, Z: n.bottom})
	r := max(n.rx, n.ry)*s.scale + 1
	return max(0, int(x-r)), min(s.w, int(x+r)+1), max(0, int(min(high, low)-r)), min(s.h, int(max(high, low)+r)+1)
}

// headRow does the head's part of a row of dots, which is in one piece. Each ray begins where the
// three before it lead to.
func (s *shading) headRow(y int, m *mask) {
	into := s.toward.Times(-1)
	var one, two, three float64 // distances along the rays before
	for x := max(0, s.w/2-s.half); x < min(s.w, s.w/2+s.half); x++ {
		from := s.eye(x, y)
		p, normal, ok := s.surface.Hit(from, into, 3*one-3*two+three)
		if !ok && one > 0 {
			return
		}
		if !ok {
			continue
		}
		if one == 0 {
			one = p.Minus(from).Dot(into)
			two = one
		}
		one, two, three = p.Minus(from).Dot(into), one, two
		at := bare
		if m.hair(p) {
			at = hair
		}
		s.dots[y*s.w+x] = dot{at, float32(tone(at, normal.Dot(s.light))), float32(away - one)}
	}
}

// neckRow does the neck's part of a row, where nothing of the head is in front of it.
func (s *shading) neckRow(y, left, right int) {
	into := s.toward.Times(-1)
	for x := left; x < right; x++ {
		p, normal, ok := s.neck.hit(s.eye(x, y), into)
		if !ok {
			continue
		}
		depth := float32(p.Dot(s.toward))
		if d := &s.dots[y*s.w+x]; d.part == nothing || d.depth < depth {
			*d = dot{throat, float32(tone(bare, normal.Dot(s.light)) * s.neck.left(p.Z)), depth}
		}
	}
}

// How much of a surface in full light, and of one in none, is dots.
var (
	hairTone = [2]float64{0.40, 0.14}
	bareTone = [2]float64{0.14, 0.03}
)

// tone is the share of dots of a surface whose normal is turned to the light by that cosine.
func tone(at part, shine float64) float64 {
	tones := &bareTone
	if at == hair {
		tones = &hairTone
	}
	return tones[1] + (tones[0]-tones[1])*max(shine, 0)
}

// dither lights the dots that their tones ask for, and those of the outline.
func (s *shading) dither() {
	for y := range s.h {
		for x := range s.w {
			d := &s.dots[y*s.w+x]
			if d.part != nothing && lit(x, y, float64(d.tone)) {
				s.ground.set(x, y)
			}
		}
	}
	for y := range s.h {
		for x := range s.w {
			if s.outline(x, y) {
				s.ground.set(x, y)
				s.cells[y/4*s.across+x/2].rim = true
			}
		}
	}
}

// outline reports whether a dot is the last before the background, or before the neck further back.
// The neck's own outline fades out with it.
func (s *shading) outline(x, y int) bool {
	const behind = 8 // mm
	i := y*s.w + x
	d := &s.dots[i]
	ends := func(beside *dot) bool {
		return beside.part == nothing || beside.part == throat && d.part != throat && beside.depth < d.depth-behind
	}
	switch {
	case d.part == nothing:
		return false
	case x == 0 || x == s.w-1 || y == 0 || y == s.h-1:
	case !ends(&s.dots[i-1]) && !ends(&s.dots[i+1]) && !ends(&s.dots[i-s.w]) && !ends(&s.dots[i+s.w]):
		return false
	}
	return d.part != throat || lit(0, y, s.neck.left(s.pointOf(x, y, d).Z)) // on both sides alike
}

// pointOf is the point of the head seen in a dot.
func (s *shading) pointOf(x, y int, d *dot) scalp.Vec {
	return s.eye(x, y).Along(s.toward, float64(d.depth)-away)
}

// features draws hairline, ears and nose, and keeps the ground clear of them.
func (s *shading) features(line []scalp.Vec) {
	s.engrave(append(line, line[0]), s.faces, func(c *cell) { c.part = edge })
	for _, feature := range [][]scalp.Vec{earOf(s.head, scalp.Left), earOf(s.head, scalp.Right), noseOf(s.head)} {
		s.engrave(feature, s.open, func(c *cell) { c.feature = true })
	}
}

// engrave draws a line, dot by dot or, without braille, cell by cell. note is called for its cells.
func (s *shading) engrave(line []scalp.Vec, shows func(scalp.Vec) bool, note func(*cell)) {
	at := func(x, y int) {
		if x >= 0 && x < s.across && y >= 0 && y < s.lines {
			note(&s.cells[y*s.across+x])
		}
	}
	if s.ascii {
		strokeCells(&s.camera, line, shows, at)
		return
	}
	stroke(&s.camera, line, shows, func(x, y int) {
		s.strokes.set(x, y)
		ring(x, y, s.ground.clear)
		at(x>>1, y>>2)
	})
}

// finish turns dots into cells.
func (s *shading) finish() {
	for y := range s.lines {
		for x := range s.across {
			s.finishCell(x, y)
		}
	}
}

// middles are the dots of a cell, those nearest to its middle first.
var middles = [8][2]int{{0, 1}, {1, 1}, {0, 2}, {1, 2}, {0, 0}, {1, 0}, {0, 3}, {1, 3}}

func (s *shading) finishCell(x, y int) {
	c := &s.cells[y*s.across+x]
	c.dots = s.ground.cells[y*s.across+x] | s.strokes.cells[y*s.across+x]
	var tones float32
	var count [hair + 1]uint8
	for _, m := range middles {
		i, j := 2*x+m[0], 4*y+m[1]
		d := &s.dots[j*s.w+i]
		tones += d.tone
		if c.full = count[bare] + count[hair]; c.full == 0 && d.part >= bare {
			c.at = s.pointOf(i, j, d)
		}
		count[d.part]++
	}
	c.full = count[bare] + count[hair]
	switch {
	case c.part == edge || count[nothing] == 8:
	case count[hair] >= count[bare]+count[throat]:
		c.part = hair
	default:
		c.part = bare
	}
	c.plain = plain(c, float64(tones), 8-count[nothing])
}

// The plain characters for a surface from dark to bright. None of them is a mark of the map.
var (
	hairRamp = []rune(".-=")
	bareRamp = []rune(" `'")
)

// plain is the character for a cell with that many dots on head or neck, and the sum of their tones.
func plain(c *cell, tones float64, dots uint8) rune {
	switch {
	case c.part == edge:
		return '*'
	case c.feature:
		return '@'
	case dots < 4:
		return ' '
	}
	ramp, full := bareRamp, bareTone[0]
	if c.part == hair {
		ramp, full = hairRamp, hairTone[0]
	}
	return ramp[min(int(tones/float64(dots)/full*float64(len(ramp))), len(ramp)-1)]
}
