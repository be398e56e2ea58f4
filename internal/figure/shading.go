package figure

import (
	"fmt"
	"math"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// Shading is the map's ground by a reading other than the zones: for each slot the step of the
// reading's scale. It changes with the scale only.
type Shading struct {
	Scale rule.Scale
	steps [][]int8 // -1 where there is no hair
}

// NewShading looks up the step of every slot.
func NewShading(t *slots.Table, scale rule.Scale) *Shading {
	scale.Fill()
	sh := &Shading{Scale: scale, steps: make([][]int8, len(t.Lines))}
	for i, l := range t.Lines {
		sh.steps[i] = make([]int8, len(l.Slots))
		for k := range l.Slots {
			sh.steps[i][k] = -1
			if v, ok := scale.At(l, l.First+k); ok {
				sh.steps[i][k] = int8(scale.Step(v))
			}
		}
	}
	return sh
}

// step is the ink and mark of a step of a scale.
func (g Glyphs) step(n int) (cells.Ink, rune) { return stepInk + cells.Ink(n), g.Steps[n] }

// Legend explains the marks of a scale, the worst first.
func (sh *Shading) Legend(g Glyphs) []LegendItem {
	word := "under"
	if sh.Scale.AtMost {
		word = "over"
	}
	bounds := sh.Scale.Bounds()
	items := make([]LegendItem, rule.Steps)
	for n := range items {
		ink, mark := g.step(n)
		switch items[n] = (LegendItem{ink, mark, "more"}); {
		case n == 0:
			items[n].Says = fmt.Sprintf("%s %.0f", word, bounds[n])
		case n < len(bounds):
			items[n].Says = fmt.Sprintf("%.0f", bounds[n])
		case sh.Scale.AtMost:
			items[n].Says = "less"
		}
	}
	return items
}

// LegendItem is one mark of a legend and what it says.
type LegendItem struct {
	Ink  cells.Ink
	Mark rune
	Says string
}

// shaded draws the ground by the reading.
func (d *drawing) shaded() {
	for i, l := range d.Ground.Table.Lines {
		for k := range l.Slots {
			n := d.Shading.steps[i][k]
			x, y, ok := d.cell(i, l.First+k)
			if !ok || n < 0 {
				continue
			}
			ink, mark := d.Glyphs.step(int(n))
			d.scr.Put(x, y, ink, mark)
			if d.step == 2 && k+1 < len(l.Slots) {
				d.fillBetween(x+1, y, int(n), int(d.Shading.steps[i][k+1]))
			}
		}
	}
}

// turns marks where the hair turns in the way of wearing it that the map is shaded by.
func (d *drawing) turns() {
	if d.Shading.Scale.Kind != rule.ByCover {
		return
	}
	for _, turn := range turnsOf(d.Shading.Scale.Way.Wear) {
		if turn == sheet.HalfUpSection {
			d.sectionLine()
			continue
		}
		at := NearestSlot(d.Ground.Table, d.Ground.Table.Turn(turn))
		if x, y, ok := d.place(at.At, at.Slot); ok {
			d.scr.Put(x, y, Strong, d.Glyphs.turn(turn))
		}
	}
}

// fillBetween draws the cell between two slots as the better of their steps, so that what is thin is a surface
// and not a row of marks.
func (d *drawing) fillBetween(x, y, left, right int) {
	if better := max(left, right); min(left, right) >= 0 && better < rule.Steps-1 {
		ink, mark := d.Glyphs.step(better)
		d.put(x, y, ink, mark)
	}
}

// turn is the mark of a whorl or a tie.
func (g Glyphs) turn(t sheet.Turn) rune {
	if t == sheet.Whorl {
		return g.Whorl
	}
	return g.Tie
}

// turnsOf are the turns that a way of wearing hair has.
func turnsOf(w sheet.Wear) []sheet.Turn {
	switch w {
	case sheet.WornHalfUp:
		return []sheet.Turn{sheet.HalfUpSection, sheet.HalfUpTie}
	case sheet.WornLowTail:
		return []sheet.Turn{sheet.LowTie}
	case sheet.WornHighTail:
		return []sheet.Turn{sheet.HighTie}
	}
	return []sheet.Turn{sheet.Whorl}
}

// sectionLine marks the section line at both ends of the line of the map nearest to it.
func (d *drawing) sectionLine() {
	t := d.Ground.Table
	at := NearestSlot(t, t.Turn(sheet.HalfUpSection))
	line, err := t.Line(at.At)
	if err != nil {
		return
	}
	first, last := line.HairEnds()
	for _, end := range [...]struct{ slot, out int }{{first, -1}, {last, 1}} {
		x, y, _ := d.place(at.At, end.slot)
		for k := 1; k <= 3; k++ {
			d.put(x+k*end.out, y, Strong, d.Glyphs.Across)
		}
	}
}

// NearestSlot is the slot of the map nearest to a point of the head.
func NearestSlot(t *slots.Table, p scalp.Vec) Spot {
	best, least := Spot{}, math.Inf(1)
	for _, line := range t.Lines {
		for k := range line.Slots {
			if d := line.Slots[k].Point.Minus(p); d.Dot(d) < least {
				best, least = Spot{At: line.Place(), Slot: line.First + k}, d.Dot(d)
			}
		}
	}
	return best
}
