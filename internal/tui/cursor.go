package tui

import (
	"math"

	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// move takes the cursor some slots to the right and some lines up. On a line front to
// back, up is the next slot forward and right is the next line over.
func (d *document) move(right, up int) {
	d.steady = ""
	if d.cursor.At.Along {
		d.moveAlong(right, up)
		return
	}
	if up != 0 {
		i := d.table.Index(d.line()) + up
		i = min(max(i, 0), len(d.table.Lines)-1)
		d.cursor.At = d.table.Lines[i].Place()
	}
	if right != 0 {
		d.wanted = d.cursor.Slot + right
	}
	l := d.line()
	d.cursor.Slot = min(max(d.wanted, l.First), l.Last())
	if right != 0 {
		d.wanted = d.cursor.Slot
	}
}

func (d *document) moveAlong(right, up int) {
	l := d.line()
	if right != 0 {
		if to, err := d.table.Over(d.cursor.At, right); err == nil {
			d.cursor.At = to
			l = d.line()
		}
	}
	slot := d.cursor.Slot + up
	if slot < l.First && up < 0 { // down off the top, on to the back
		spot := l.Drawn[0]
		d.cursor = figure.Spot{At: d.table.Lines[d.table.Round()-1].Place(), Slot: spot.Slot}
		d.wanted = spot.Slot
		d.move(0, 0)
		return
	}
	d.cursor.Slot = min(max(slot, l.First), l.Last())
}

// toEnd takes the cursor to the first or last slot of its line with hair.
func (d *document) toEnd(sign int) {
	first, last := d.line().HairEnds()
	d.cursor.Slot = first
	if sign > 0 {
		d.cursor.Slot = last
	}
	d.wanted = d.cursor.Slot
}

// toCentre takes the cursor to the centre of its line.
func (d *document) toCentre() { d.cursor.Slot, d.wanted = 0, 0 }

// turn changes between the line ear to ear and the line front to back through the
// cursor. Its answer is why that can't be, or empty.
func (d *document) turn() string {
	if d.cursor.At.Along {
		spot := d.line().Drawn[d.cursor.Slot-d.line().First]
		d.cursor = figure.Spot{At: d.table.Lines[spot.Line].Place(), Slot: spot.Slot}
		d.wanted = spot.Slot
		return ""
	}
	l := d.line()
	if l.ID.Kind == scalp.Level {
		return "rows run front to back on the top of the head only"
	}
	at := sheet.Place{Along: true, At: scalp.MM(d.cursor.Slot) * d.table.Spacing}
	along, err := d.table.Line(at)
	if err != nil {
		return "there is no line front to back so far out"
	}
	d.cursor = figure.Spot{At: at, Slot: nearestTo(along, d.slot().Point)}
	return ""
}

// nearestTo is the slot of a line nearest to a point.
func nearestTo(l *slots.Line, p scalp.Vec) int {
	best, least := l.First, math.Inf(1)
	for i := range l.Slots {
		if d := apart(l.Slots[i].Point, p); d < least {
			best, least = l.First+i, d
		}
	}
	return best
}

// apart is the straight distance of two points.
func apart(p, q scalp.Vec) float64 { return math.Hypot(math.Hypot(p.X-q.X, p.Y-q.Y), p.Z-q.Z) }

// goTo takes the cursor to a place; a slot beyond the line goes to its end.
func (d *document) goTo(c sheet.Concern) {
	if c.On == sheet.OnSheet {
		return
	}
	if _, err := d.table.Line(c.Row); err != nil {
		return
	}
	d.cursor.At = c.Row
	if c.On == sheet.OnSlot {
		d.cursor.Slot = c.Slot
	}
	l := d.line()
	d.cursor.Slot = min(max(d.cursor.Slot, l.First), l.Last())
	d.wanted = d.cursor.Slot
}

// selection is what is selected: a panel, or all between two corners on the map.
type selection struct {
	panel  bool
	of     slots.Panel
	row    *sheet.Place // a whole row front to back, which is no stretch of the map
	anchor slots.Spot
	to     slots.Spot
}

// spot is where on the map the cursor is.
func (d *document) spot() slots.Spot {
	s, _ := figure.SpotOf(d.table, d.cursor.At, d.cursor.Slot)
	return s
}

// stretch moves the cursor and selects from where it began to move.
func (d *document) stretch(right, up int) {
	if d.picked == nil || d.picked.panel || d.picked.row != nil {
		d.picked = &selection{anchor: d.spot()}
	}
	d.move(right, up)
	d.picked.to = d.spot()
}

// stretchToEnd selects on to the first or last slot of the line with hair.
func (d *document) stretchToEnd(sign int) {
	d.stretch(0, 0)
	d.toEnd(sign)
	d.picked.to = d.spot()
}

// pickPanel selects the panel that the cursor is on.
func (d *document) pickPanel() slots.Panel {
	of := slots.PanelOf(d.line(), d.slot())
	d.picked = &selection{panel: true, of: of}
	return of
}

// isPicked reports whether a slot is selected.
func (d *document) isPicked(at sheet.Place, slot int) bool {
	l, err := d.table.Line(at)
	if err != nil || l.At(slot) == nil || d.picked == nil {
		return false
	}
	if d.picked.panel {
		return l.At(slot).OnScalp && slots.PanelOf(l, l.At(slot)) == d.picked.of
	}
	if d.picked.row != nil {
		return at == *d.picked.row
	}
	spot, ok := figure.SpotOf(d.table, at, slot)
	a, b := d.picked.anchor, d.picked.to
	return ok && between(spot.Line, a.Line, b.Line) && between(spot.Slot, a.Slot, b.Slot)
}

func between(n, a, b int) bool { return n >= min(a, b) && n <= max(a, b) }
