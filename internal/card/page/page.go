// Package page is a small canvas: pages of marks, and the two ways in which they are written, PDF and SVG.
//
// A mark is a path, drawn as a line or filled, or a line of text. Lengths are millimetres, x from the left edge of the
// paper and y down from its top. Ink goes from 0, black, to 1, white: there is no colour.
//
// In a PDF, text that shows the same when its letters are put one after another is written as text, with the fonts
// embedded as far as they are used, so that it can be searched, copied and read aloud and is sharp on any screen. The
// library's subset of a font is the same bytes twice, and smaller than the outlines would be. All other text, which joins,
// reorders or stacks its letters or has a box in place of one, is drawn as outlines, with what it says laid over them as text
// that is not shown, for whoever searches or listens. In SVG all text is outlines, each kept once and used by reference, under a label.
package page

import (
	"math"

	"example.org/underveil/internal/card/letter"
)

// Size is a size of paper, in mm.
type Size struct{ Width, Height float64 }

// The sizes.
var (
	A4     = Size{210, 297}
	Letter = Size{215.9, 279.4}
)

// Page is one page.
type Page struct {
	Size
	Title string // what it is, for whoever does not see it
	Marks []Mark // each over the one before
}

// Mark is a *Path or a *Text.
type Mark interface{ mark() }

// Point is a place on a page.
type Point struct{ X, Y float64 }

// Op is what a step of a path does.
type Op uint8

// The operations. Cube is a curve with two points of control; Close goes back to the last Move.
const (
	Move Op = iota
	To
	Cube
	Close
)

// Step is one step of a path.
type Step struct {
	Op Op
	P  [3]Point // the first, or for a curve all three, of which the last is where it ends
}

// Path is a path that is drawn, filled, or both. Where it overlaps itself, even and odd decide what is filled.
type Path struct {
	Steps  []Step
	Stroke float64 // width of the line; 0 for none
	Ink    float64 // of the line
	Dash   float64 // length of dashes and of gaps; 0 for a whole line
	Round  bool    // round ends, and dashes that are dots
	Filled bool
	Fill   float64 // the ink of what is filled
}

// Text is a line of text.
type Text struct {
	letter.Line
	At   Point   // the left end of its baseline
	Size float64 // of the type
	Ink  float64
}

func (*Path) mark() {}
func (*Text) mark() {}

// MoveTo begins a part of a path.
func (p *Path) MoveTo(x, y float64) *Path { return p.step(Move, Point{x, y}) }

// LineTo goes on straight.
func (p *Path) LineTo(x, y float64) *Path { return p.step(To, Point{x, y}) }

// CubeTo goes on in a curve.
func (p *Path) CubeTo(a, b, end Point) *Path {
	p.Steps = append(p.Steps, Step{Cube, [3]Point{a, b, end}})
	return p
}

// Close goes back to where the part began.
func (p *Path) Close() *Path { return p.step(Close, Point{}) }

func (p *Path) step(op Op, at Point) *Path {
	p.Steps = append(p.Steps, Step{op, [3]Point{at}})
	return p
}

// Line adds a straight line.
func (p *Path) Line(x1, y1, x2, y2 float64) *Path { return p.MoveTo(x1, y1).LineTo(x2, y2) }

// Rect adds a rectangle.
func (p *Path) Rect(x, y, w, h float64) *Path {
	return p.MoveTo(x, y).LineTo(x+w, y).LineTo(x+w, y+h).LineTo(x, y+h).Close()
}

// Circle adds a circle.
func (p *Path) Circle(x, y, r float64) *Path {
	p.MoveTo(x+r, y)
	return p.Arc(x, y, r, 0, 360).Close()
}

// Arc goes on along a circle, from one angle to a greater one in degrees, clockwise as seen on the page from the right. The
// pen has to be where it begins.
func (p *Path) Arc(x, y, r, from, to float64) *Path {
	const most = 90
	n := math.Ceil((to - from) / most)
	turn := (to - from) / n * math.Pi / 180
	k := 4.0 / 3 * math.Tan(turn/4) // the usual curve for a part of a circle, off by 0.03 % of the radius at most
	a := from * math.Pi / 180
	for range int(n) {
		s1, c1 := math.Sincos(a)
		s2, c2 := math.Sincos(a + turn)
		p.CubeTo(Point{x + r*(c1-k*s1), y + r*(s1+k*c1)}, Point{x + r*(c2+k*s2), y + r*(s2-k*c2)}, Point{x + r*c2, y + r*s2})
		a += turn
	}
	return p
}

// Add puts marks on the page.
func (p *Page) Add(marks ...Mark) { p.Marks = append(p.Marks, marks...) }

// outline is the shape of a text's glyphs, on the page.
func (t *Text) outline(s *letter.Setter) *Path {
	path := &Path{Filled: true, Fill: t.Ink}
	for _, g := range t.Glyphs {
		if g.Box {
			t.box(path, g)
			continue
		}
		trace(path, s.Outline(t.Weight, g.ID), func(p [2]float64) Point {
			return Point{t.At.X + t.Size*(g.X+p[0]), t.At.Y - t.Size*(g.Y+p[1])}
		})
	}
	return path
}

// The box that stands for a sign that the font lacks, in em: how far from the edges of its room, how high, how thick.
const (
	boxInset = 0.07
	boxTall  = 0.73
	boxThick = 0.07
)

func (t *Text) box(p *Path, g letter.Glyph) {
	x, w := t.At.X+t.Size*(g.X+boxInset), t.Size*(g.Width-2*boxInset)
	y, h, in := t.At.Y-t.Size*boxTall, t.Size*boxTall, t.Size*boxThick
	p.Rect(x, y, w, h)
	p.MoveTo(x+in, y+in).LineTo(x+in, y+h-in).LineTo(x+w-in, y+h-in).LineTo(x+w-in, y+in).Close() // the other way round: a hole
}

// trace adds an outline to a path.
func trace(p *Path, outline []letter.Segment, at func([2]float64) Point) {
	open := false
	for _, seg := range outline {
		switch seg.Op {
		case letter.Move:
			if open {
				p.Close()
			}
			open = true
			p.step(Move, at(seg.Points[0]))
		case letter.To:
			p.step(To, at(seg.Points[0]))
		case letter.Cube:
			p.CubeTo(at(seg.Points[0]), at(seg.Points[1]), at(seg.Points[2]))
		}
	}
	if open {
		p.Close()
	}
}
