package letter

import (
	"github.com/go-text/typesetting/font"
	"github.com/go-text/typesetting/font/opentype"
)

// Op is what a segment of an outline does.
type Op uint8

// The operations. Cube is a curve with two points of control.
const (
	Move Op = iota
	To
	Cube
)

// Segment is a part of an outline: its points, of which the last is where it ends.
type Segment struct {
	Op     Op
	Points [3][2]float64 // the first, or for a curve all three
}

// glyphOf names a glyph of one of the fonts.
type glyphOf struct {
	weight Weight
	id     uint32
}

// Outline is the outline of a glyph. Its contours are closed. A blank has none.
func (s *Setter) Outline(w Weight, id uint32) []Segment {
	g := glyphOf{w, id}
	list, ok := s.outlines[g]
	if !ok {
		list = s.outline(w, id)
		s.outlines[g] = list
	}
	return list
}

func (s *Setter) outline(w Weight, id uint32) []Segment {
	face := s.faces[w]
	em := float64(face.Upem())
	at := func(p opentype.SegmentPoint) [2]float64 { return [2]float64{float64(p.X) / em, float64(p.Y) / em} }
	outline, _ := face.GlyphDataOutline(font.GID(id))
	var list []Segment
	var pen [2]float64
	for _, seg := range outline.Segments {
		switch seg.Op {
		case opentype.SegmentOpMoveTo, opentype.SegmentOpLineTo:
			op := To
			if seg.Op == opentype.SegmentOpMoveTo {
				op = Move
			}
			pen = at(seg.Args[0])
			list = append(list, Segment{Op: op, Points: [3][2]float64{pen}})
		case opentype.SegmentOpQuadTo: // as a curve with two points of control, which is the same curve
			c, end := at(seg.Args[0]), at(seg.Args[1])
			list = append(list, Segment{Op: Cube, Points: [3][2]float64{between(pen, c), between(end, c), end}})
			pen = end
		case opentype.SegmentOpCubeTo:
			pen = at(seg.Args[2])
			list = append(list, Segment{Op: Cube, Points: [3][2]float64{at(seg.Args[0]), at(seg.Args[1]), pen}})
		}
	}
	return list
}

// between is two thirds of the way from one point to another.
func between(from, to [2]float64) [2]float64 {
	return [2]float64{from[0] + 2*(to[0]-from[0])/3, from[1] + 2*(to[1]-from[1])/3}
}
