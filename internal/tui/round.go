package tui

import (
	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/tally"
)

// round goes round the bonds of some pieces of strip, in the order of fitting.
type round struct {
	pieces []tally.Piece
	piece  int // where the cursor is
	bond   int
}

// step goes some bonds or pieces on, from the end of a piece to the next one.
func (r *round) step(bonds, pieces int) {
	if len(r.pieces) == 0 {
		return
	}
	r.piece = min(max(r.piece+pieces, 0), len(r.pieces)-1)
	if pieces != 0 {
		r.bond = 0
	}
	r.bond += bonds
	switch last := len(r.pieces[r.piece].Bonds) - 1; {
	case r.bond < 0 && r.piece > 0:
		r.piece--
		r.bond = len(r.pieces[r.piece].Bonds) - 1
	case r.bond > last && r.piece < len(r.pieces)-1:
		r.piece, r.bond = r.piece+1, 0
	default:
		r.bond = min(max(r.bond, 0), last)
	}
}

// roundKey is how many bonds or pieces an arrow goes on; ok is false for any other key.
func roundKey(key string) (bonds, pieces int, ok bool) {
	switch key {
	case "left":
		return -1, 0, true
	case "right":
		return 1, 0, true
	case "up":
		return 0, 1, true
	case "down":
		return 0, -1, true
	}
	return 0, 0, false
}

// panelOver clears the side for a panel over it and writes the panel's keys at its foot: pairs of a key and what it does, as many on a line as
// stand together. It returns what is left.
func (m *Model) panelOver(r cells.Rect, foot [][]string) *column {
	m.scr.Fill(cells.Rect{X: r.X - 1, Y: r.Y, W: r.W + 1, H: r.H}, figure.Plain, ' ')
	for i, keys := range foot {
		var ps []piece
		for k := 0; k < len(keys); k += 2 {
			ps = append(ps, piece{figure.Key, keys[k]}, piece{figure.Dim, " " + keys[k+1] + "  "})
		}
		m.write(r.X, r.Y+r.H-len(foot)+i, r.W, ps)
	}
	return &column{m, cells.Rect{X: r.X, Y: r.Y, W: r.W, H: max(0, r.H-len(foot)-1)}, r.Y}
}
