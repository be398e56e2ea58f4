package tally

import (
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/slots"
)

// MostBow is how far a straight strip may lie off the parting under it; one that bows more is cut in parts. Common practice,
// no source.
const MostBow scalp.MM = 3

// Parts are the pieces in which the strip of a piece is cut so that none bows more than MostBow off the parting: as few as
// do, of as many holes each as can be. A strip that lies well enough is one part, as long as the whole.
func Parts(p Piece, t *slots.Table) []Strip {
	line, err := t.Line(p.Place)
	if err != nil || len(p.Bonds) == 0 {
		return nil
	}
	first, last := p.Bonds[0].Slot, p.Bonds[len(p.Bonds)-1].Slot
	for n := 1; ; n++ {
		parts, straight := cutIn(n, first, last, line, t)
		if straight || n >= last-first {
			return parts
		}
	}
}

// cutIn cuts a strip in n parts, and reports whether each lies well enough. Parts follow one another hole by hole.
func cutIn(n, first, last int, line *slots.Line, t *slots.Table) (parts []Strip, straight bool) {
	holes := last - first + 1
	straight = true
	for i := range n {
		from, to := first+holes*i/n, first+holes*(i+1)/n-1
		parts = append(parts, stripOver(from, to, t))
		if t.Head.Bow(line.Walk(t.Begin, t.Spacing, from, to)) > MostBow {
			straight = false
		}
	}
	return parts, straight
}
