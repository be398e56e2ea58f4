package slots

import (
	"math"
	"sort"

	"example.org/underveil/internal/scalp"
)

type linePair struct{ from, to *Line }

// Gaps are the distances along the scalp from each slot of one line to another
// line, in the order of from.Slots; infinite where the other line has no slot
// abreast. They are measured the first time they are asked for.
func (t *Table) Gaps(from, to *Line) []scalp.MM {
	t.mu.Lock()
	defer t.mu.Unlock()
	pair := linePair{from, to}
	if g, ok := t.gaps[pair]; ok {
		return g
	}
	points := make([]scalp.Vec, len(to.Slots))
	for i := range to.Slots {
		points[i] = to.Slots[i].Point
	}
	line := t.Head.Curve(points)
	g := make([]scalp.MM, len(from.Slots))
	for i := range from.Slots {
		d, foot := t.Head.DistanceToCurve(from.Slots[i].Point, line)
		if foot == points[0] || foot == points[len(points)-1] {
			d = scalp.MM(math.Inf(1)) // past the end of the other line
		}
		g[i] = d
	}
	t.gaps[pair] = g
	return g
}

// Below is where on the lower line the hair of a slot hangs straight down to, as
// a slot number with a fraction; ok is false where the lower line does not
// reach. Both lines are level lines.
func Below(s *Slot, lower *Line) (slot float64, ok bool) {
	n := len(lower.Slots)
	i := sort.Search(n, func(i int) bool { return lower.Slots[i].Hang >= s.Hang })
	if i == 0 || i == n {
		return 0, false
	}
	a, b := lower.Slots[i-1].Hang, lower.Slots[i].Hang
	return float64(lower.First+i-1) + (s.Hang-a)/(b-a), true
}
