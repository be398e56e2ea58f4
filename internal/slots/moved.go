package slots

import (
	"maps"
	"slices"

	"example.org/underveil/internal/fall"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// Moved is the table with some slots in other places, as the bonds of a training head may lie, and all that is near them measured
// there. What hangs straight below what goes by the slots as they were. A slot that no line has is passed over. All else is
// taken over from the table, which stays as it is, so that it takes a fraction of the time of a new one; For never hands it out again.
func (t *Table) Moved(to map[sheet.Spot]scalp.Vec) *Table {
	m := movedLines{own: map[*Line]*Line{}, slots: map[*Line][]int{}}
	for at, point := range to {
		if line, err := t.Line(at.At); err == nil && line.At(at.Slot) != nil {
			m.move(t.ground, line, at.Slot, point)
		}
	}
	return &Table{ground: t.ground.moved(m), hair: t.hair, turns: t.turns, ways: t.ways.moved(m)}
}

// movedLines are the lines with slots in other places.
type movedLines struct {
	own   map[*Line]*Line // by the line that they are copies of
	slots map[*Line][]int // by the same, which ones were moved, counted from the first
}

// move puts a slot in another place.
func (m movedLines) move(g *ground, line *Line, slot int, to scalp.Vec) {
	if m.own[line] == nil {
		c := *line
		c.Slots = slices.Clone(line.Slots)
		m.own[line] = &c
	}
	on := m.own[line].At(slot)
	*on = Slot{Point: to, OnScalp: g.Zones.Hairline.Contains(to)}
	g.measureSlot(on)
	on.Hang = line.At(slot).Hang
	m.slots[line] = append(m.slots[line], slot-line.First)
}

// of is the line as it is now.
func (m movedLines) of(line *Line) *Line {
	if own := m.own[line]; own != nil {
		return own
	}
	return line
}

// moved is the ground with other lines in place of some.
func (t *ground) moved(m movedLines) *ground {
	t.mu.Lock()
	defer t.mu.Unlock()
	g := &ground{Head: t.Head, Zones: t.Zones, Spacing: t.Spacing, Begin: t.Begin, Gap: t.Gap, round: t.round, from: t.from, roots: t.roots,
		along: maps.Clone(t.along), gaps: make(map[linePair][]scalp.MM, len(t.gaps)), curves: make(map[*Line]scalp.Curve, len(t.curves))}
	for _, l := range t.Lines {
		g.Lines = append(g.Lines, m.of(l))
	}
	for at, l := range g.along {
		g.along[at] = m.of(l)
	}
	for l, c := range t.curves { // which goes by the line, wherever its slots are
		g.curves[m.of(l)] = c
	}
	for pair, gaps := range t.gaps {
		if moved := m.slots[pair.from]; moved != nil {
			gaps = slices.Clone(gaps)
			for _, i := range moved {
				gaps[i] = t.gapFrom(m.own[pair.from].Slots[i].Point, t.curve(pair.to))
			}
		}
		g.gaps[linePair{m.of(pair.from), m.of(pair.to)}] = gaps
	}
	return g
}

// moved is the hair over the bonds with other lines in place of some.
func (w *ways) moved(m movedLines) *ways {
	w.mu.Lock()
	defer w.mu.Unlock()
	all := &ways{of: make(map[Way]*Worn, len(w.of))}
	for way, worn := range w.of {
		all.of[way] = worn.moved(m)
	}
	return all
}

func (w *Worn) moved(m movedLines) *Worn {
	w.mu.Lock()
	defer w.mu.Unlock()
	c := &Worn{Style: w.Style, own: w.own, lines: make(map[*Line][]*fall.Cover, len(w.lines))}
	for line, covers := range w.lines {
		covers = slices.Clone(covers)
		for _, i := range m.slots[line] {
			covers[i] = nil // to be worked out where the slot is now
		}
		c.lines[m.of(line)] = covers
	}
	return c
}
