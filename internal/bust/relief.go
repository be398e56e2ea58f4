package bust

import (
	"math"

	"example.org/underveil/internal/scalp"
)

// Relief is the shaded head for one view and size. It does not change once made.
type Relief struct {
	key
	camera
	cells []cell
}

// key is all that a relief depends on.
type key struct {
	head          *scalp.Head
	hairline      *scalp.Hairline
	view          View
	across, lines int // size in cells
	ascii         bool
}

// cell is one cell of a relief.
type cell struct {
	part    part
	rim     bool      // the outline of the head runs through it
	feature bool      // an ear or the nose is drawn in it
	dots    uint8     // as a braille cell has them
	plain   rune      // the same without braille
	full    uint8     // how many of its dots lie on the head
	at      scalp.Vec // a point of the head in it, if full > 0
}

// part says what of the head is in a dot or, mostly, in a cell.
type part uint8

const (
	nothing part = iota
	throat       // the neck
	bare         // the face, and all else of the head without hair
	hair
	edge // the hairline
)

// NewRelief draws the bare head, w by h cells large, in braille cells or in plain characters.
func NewRelief(head *scalp.Head, hairline *scalp.Hairline, v View, w, h int, ascii bool) *Relief {
	s := shade(head, hairline, v, max(w, 0), max(h, 0), ascii)
	s.finish()
	return s.Relief
}

// shade is a relief whose dots are not put together in cells yet.
func shade(head *scalp.Head, hairline *scalp.Hairline, v View, w, h int, ascii bool) *shading {
	r := &Relief{key: key{head, hairline, v, w, h, ascii}, cells: make([]cell, w*h)}
	line := hairline.Points()
	neck := neckOf(head, line)
	r.camera = newCamera(head, neck, v, 2*w, 4*h)
	s := newShading(r, neck)
	s.look(newMask(line))
	s.dither()
	s.features(line)
	return s
}

// Fits reports whether the relief is the one that NewRelief would make.
func (r *Relief) Fits(head *scalp.Head, hairline *scalp.Hairline, v View, w, h int, ascii bool) bool {
	return r != nil && r.key == key{head, hairline, v, max(w, 0), max(h, 0), ascii}
}

// Cell is the cell of the relief, counted from its upper left one, in which a point of the head is
// drawn; ok is false where it is hidden or outside the picture.
func (r *Relief) Cell(p scalp.Vec) (x, y int, ok bool) {
	u, v := r.dot(p)
	x, y = int(math.Floor(u/2)), int(math.Floor(v/4))
	return x, y, x >= 0 && x < r.across && y >= 0 && y < r.lines && r.faces(p)
}

// Point is a point of the head that is seen in a cell of the relief, near its middle; ok is false
// beside the head.
func (r *Relief) Point(x, y int) (p scalp.Vec, ok bool) {
	if x < 0 || x >= r.across || y < 0 || y >= r.lines {
		return scalp.Vec{}, false
	}
	c := &r.cells[y*r.across+x]
	return c.at, c.full > 0
}
