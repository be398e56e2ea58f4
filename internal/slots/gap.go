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
func (t *ground) Gaps(from, to *Line) []scalp.MM {
	t.mu.Lock()
	defer t.mu.Unlock()
	pair := linePair{from, to}
	if g, ok := t.gaps[pair]; ok {
		return g
	}
	line := t.curve(to)
	g := make([]scalp.MM, len(from.Slots))
	for i := range from.Slots {
		g[i] = t.gapFrom(from.Slots[i].Point, line)
	}
	t.gaps[pair] = g
	return g
}

// gapFrom is the distance from a point to a line; infinite past its ends.
func (t *ground) gapFrom(p scalp.Vec, line scalp.Curve) scalp.MM {
	points := line.Points()
	d, foot := t.Head.DistanceToCurve(p, line)
	if atEnd(foot, points[0]) || atEnd(foot, points[len(points)-1]) {
		return scalp.MM(math.Inf(1))
	}
	return d
}

// atEnd reports whether the nearest point of a curve is its end, as near as the search
// for it comes.
func atEnd(foot, end scalp.Vec) bool {
	return math.Hypot(math.Hypot(foot.X-end.X, foot.Y-end.Y), foot.Z-end.Z) < 0.02*float64(piece)
}

// piece is the longest piece between the vertices of the curve of a line. Slots lie
// too far apart for it: between holes 8 mm apart the line bends away by 0.2 mm
// where the head slopes, between holes 25 mm apart by more than a millimetre.
const piece scalp.MM = 2.5

// curve is a line as a curve to measure distances to, from its first slot to its
// last. The caller holds the lock.
func (t *ground) curve(l *Line) scalp.Curve {
	c, ok := t.curves[l]
	if !ok {
		n := int(math.Ceil(float64(t.Spacing / piece)))
		c = t.Head.Curve(l.Walk(t.Begin, t.Spacing/scalp.MM(n), l.First*n, l.Last()*n))
		t.curves[l] = c
	}
	return c
}

// Below is where on the lower line the hair of a slot hangs straight down to, as
// a slot number with a fraction; ok is false where the lower line does not
// reach. Both lines are level lines.
func Below(s *Slot, lower *Line) (slot float64, ok bool) {
	n := len(lower.Slots)
	i := sort.Search(n, func(i int) bool { return lower.Slots[i].Hang >= s.Hang })
	if i == 0 && s.Hang == lower.Slots[0].Hang {
		return float64(lower.First), true
	}
	if i == 0 || i == n {
		return 0, false
	}
	a, b := lower.Slots[i-1].Hang, lower.Slots[i].Hang
	return float64(lower.First+i-1) + (s.Hang-a)/(b-a), true
}
