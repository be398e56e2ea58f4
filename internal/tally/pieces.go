package tally

import (
	"cmp"
	"slices"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// Piece is a stretch of a row that is fitted in one go, with one strip: the part of it on one panel.
type Piece struct {
	sheet.Place
	Panel slots.Panel
	Counts
	Strands int
	Grams   float64
	Strip   Strip
	Bonds   []Placed // from left to right, or from back to front
}

// Spots are the slots of its bonds.
func (p Piece) Spots() []sheet.Spot {
	spots := make([]sheet.Spot, len(p.Bonds))
	for i, b := range p.Bonds {
		spots[i] = sheet.Spot{At: p.Place, Slot: b.Slot}
	}
	return spots
}

// Placed is a bond in its slot.
type Placed struct {
	Slot int
	sheet.Bond
}

// fewestOwn is how many bonds of a row a side needs for a strip of its own; fewer are fitted with the back, under one
// strip. Common practice, no source.
const fewestOwn = 3

// Pieces are the rows of a sheet as they are fitted: the back from the bottom up, then the left side, the right side and
// the top, each from the bottom up, and the rows front to back last. A row that goes round to the sides is parted where the
// sides begin, behind the ears. Rows off the head are left out: nothing can be fitted there.
func Pieces(s *sheet.Sheet, t *slots.Table) []Piece { return PiecesOf(s.Rows, s, t) }

// PiecesOf are rows of one's own choice as they are fitted, with the shades of a sheet.
func PiecesOf(rows []sheet.Row, s *sheet.Sheet, t *slots.Table) []Piece {
	var pieces []Piece
	for _, r := range rows {
		line, err := t.Line(r.Place)
		if err != nil {
			continue
		}
		pieces = append(pieces, piecesOf(r, line, s, t)...)
	}
	slices.SortStableFunc(pieces, func(a, b Piece) int { return cmp.Compare(a.Panel, b.Panel) })
	return pieces
}

// OffMap are the rows, of one's own choice, that lie on no line of this head: the measures, or the lines of the map, have changed since they
// were fitted. Each is one piece without a strip.
func OffMap(rows []sheet.Row, t *slots.Table) []Piece {
	var pieces []Piece
	for _, r := range rows {
		if _, err := t.Line(r.Place); err == nil {
			continue
		}
		p := Piece{Place: r.Place, Panel: slots.Top}
		for slot, b := range r.All() {
			p.add(b)
			p.Bonds = append(p.Bonds, Placed{slot, b})
		}
		pieces = append(pieces, p)
	}
	return pieces
}

// piecesOf parts one row by panel.
func piecesOf(r sheet.Row, line *slots.Line, s *sheet.Sheet, t *slots.Table) []Piece {
	var on [slots.Top + 1][]Placed
	for slot, b := range r.All() {
		panel := slots.Back
		if at := line.At(slot); at != nil {
			panel = slots.PanelOf(line, at)
		} else if line.ID.Kind != scalp.Level {
			panel = slots.Top
		}
		on[panel] = append(on[panel], Placed{slot, b})
	}
	for _, side := range []slots.Panel{slots.LeftSide, slots.RightSide} {
		if n := len(on[side]); n > 0 && n < fewestOwn && len(on[slots.Back]) > 0 {
			on[slots.Back], on[side] = append(on[slots.Back], on[side]...), nil
		}
	}
	var pieces []Piece
	for panel, bonds := range on {
		if len(bonds) > 0 {
			slices.SortFunc(bonds, func(a, b Placed) int { return cmp.Compare(a.Slot, b.Slot) })
			pieces = append(pieces, pieceOf(r.Place, slots.Panel(panel), bonds, s, t))
		}
	}
	return pieces
}

// pieceOf counts a stretch of a row.
func pieceOf(at sheet.Place, panel slots.Panel, bonds []Placed, s *sheet.Sheet, t *slots.Table) Piece {
	p := Piece{Place: at, Panel: panel, Bonds: bonds, Strip: stripOver(bonds[0].Slot, bonds[len(bonds)-1].Slot, t)}
	inPiece := map[byte]Counts{}
	for _, b := range bonds {
		p.add(b.Bond)
		c := inPiece[b.Shade]
		c.add(b.Bond)
		inPiece[b.Shade] = c
		shade, _ := s.Shade(b.Shade)
		p.Grams += shade.GramsOf(b.Bond)
	}
	for _, c := range inPiece {
		p.Strands += c.Strands()
	}
	return p
}
