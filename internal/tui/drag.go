package tui

import (
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/sheet"
)

// drag is a mouse button held down on the map.
type drag struct {
	at     sheet.Place
	from   int
	place  bool // placing, or lifting
	before *sheet.Sheet
	dirty  bool
}

// press begins a drag at a slot: it places a bond, or lifts the one there.
func (d *document) press(at figure.Spot) error {
	d.cursor, d.wanted, d.picked = at, at.Slot, nil
	d.drag = &drag{at: at.At, from: at.Slot, before: d.sheet(), place: !d.sheet().Bond(at.At, at.Slot).Placed()}
	return d.dragTo(at.Slot)
}

// dragTo lays the pattern from where the drag began to a slot, or lifts all between.
// Where it began there is always a bond, or a click could place none.
func (d *document) dragTo(slot int) error {
	g := d.drag
	changes := map[int]sheet.Bond{}
	step, used := 1, 0
	if slot < g.from {
		step = -1
	}
	for k := g.from; k != slot+step; k += step {
		switch {
		case !g.place:
			changes[k] = sheet.Bond{}
		case k == g.from || d.hand.Pattern.Uses(k-g.from, 0):
			changes[k] = d.hand.Bond(used)
			used++
		}
	}
	next := g.before.WithBonds(g.at, changes)
	if d.both {
		for k, b := range changes {
			next = d.otherSide(next, g.at, k, b)
		}
	}
	label := "lift by hand"
	if g.place {
		label = "paint by hand"
	}
	if slot == g.from && !g.dirty {
		label = map[bool]string{true: "place a bond", false: "lift a bond"}[g.place]
	}
	err := d.extend(&g.dirty, label, next)
	d.cursor, d.wanted = figure.Spot{At: g.at, Slot: slot}, slot
	return err
}
