package lesson

import (
	"cmp"
	"math"
	"slices"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// Lying is a planned bond and the made one that stands for it.
type Lying struct {
	Planned, Made sheet.Spot
	Want, Have    sheet.Bond // what was planned and what was made

	Distance scalp.MM // along the scalp, from the middle of the planned slot to where the bond lies
	Right    scalp.MM // the same in two steps, along the line of the planned row and then straight away from it, as in Off
	Up       scalp.MM
	kind     scalp.LineKind
}

// Wrong reports whether another kind of bond was made than was planned.
func (l Lying) Wrong() bool { return l.Want != l.Have }

// RowFit is how a planned row was met.
type RowFit struct {
	sheet.Place
	Planned int // bonds
	Bonds   []Lying
	Missing []sheet.Spot
}

// Comparison is what was made on a head beside what was planned, in map order.
type Comparison struct {
	Rows    []RowFit // every planned one
	Bonds   []Lying  // of all rows
	Missing []sheet.Spot
	Extra   []sheet.Spot // made, and nothing was planned within reach that has no nearer one
}

// reachHoles is how many hole spacings a bond may lie from where it was planned and still be that bond. It is a matter of judgement.
const reachHoles = 2.5

// Compare pairs every planned bond with at most one made bond, none twice, so that the distances between them are least in all. What
// stands alone counts as much as a pair as far apart as there are any, two and a half hole spacings of the plan, so that one bond left
// out does not shift all others along. (The measure is that by which trackers of many targets are judged, GOSPA with p = 1 and α = 2:
// Rahmathullah, García-Fernández and Svensson 2017; from memory.) Of ways as good, to a thousandth of a millimetre, one with the fewest
// bonds of the wrong kind is taken, and of those always the same.
//
// off are made bonds that do not lie in the middle of their slots. The table gives the head, which is that of both sheets; each sheet
// has the strip that it was laid with. What lies on no line of that head cannot be paired.
func Compare(plan, made *sheet.Sheet, off []Off, t *slots.Table) Comparison {
	planned, have := lay(plan, nil, t.Head), lay(made, off, t.Head)
	far := reachHoles * plan.HoleSpacing
	matches := make([][]match, len(planned))
	for i := range planned {
		matches[i] = partners(&planned[i], have, far, t.Head)
	}
	paired := make([]bool, len(have))
	var c Comparison
	for i, j := range pairUp(matches, len(have), costOf(far, true)) {
		p := &planned[i]
		if n := len(c.Rows); n == 0 || c.Rows[n-1].Place != p.At {
			c.Rows = append(c.Rows, RowFit{Place: p.At})
		}
		row := &c.Rows[len(c.Rows)-1]
		row.Planned++
		if j < 0 {
			c.Missing, row.Missing = append(c.Missing, p.Spot), append(row.Missing, p.Spot)
			continue
		}
		paired[j] = true
		l := lie(p, &have[j], t.Head)
		c.Bonds, row.Bonds = append(c.Bonds, l), append(row.Bonds, l)
	}
	for j := range have {
		if !paired[j] {
			c.Extra = append(c.Extra, have[j].Spot)
		}
	}
	return c
}

// partners are the made bonds that lie no farther from a planned one than far. No path is shorter than its chord, so only near
// ones are measured.
func partners(p *lain, made []lain, far scalp.MM, h *scalp.Head) []match {
	var near []match
	for j := range made {
		m := &made[j]
		if !p.on || !m.on || m.point.Minus(p.point).Length() > float64(far) {
			continue
		}
		if d := h.Distance(p.point, m.point); d <= far {
			near = append(near, match{j, costOf(d, p.bond != m.bond)})
		}
	}
	return near
}

// lie is a pair with how far apart its two are.
func lie(p, m *lain, h *scalp.Head) Lying {
	l := Lying{Planned: p.Spot, Made: m.Spot, Want: p.bond, Have: m.bond, kind: p.course.kind}
	if p.point == m.point {
		return l
	}
	l.Distance = h.Distance(p.point, m.point)
	along, aside := p.course.of(m.point, p.slot)
	l.Right, l.Up = along-p.slot, aside
	return l
}

// Summary is how near to the plan some bonds lie.
type Summary struct {
	Planned int
	Paired  int // planned bonds that were made
	Within  int // of those, within the tolerance

	Mean, Largest, RMS scalp.MM // of the distances of those made; 0 where there are none
}

// slackMM is by how much a bond may miss the tolerance: half of the last digit shown, as with the limits of rules.
const slackMM scalp.MM = 0.05

// near reports whether a bond lies within a tolerance.
func (l Lying) near(tolerance scalp.MM) bool { return l.Distance <= tolerance+slackMM }

func summaryOf(planned int, bonds []Lying, tolerance scalp.MM) Summary {
	s := Summary{Planned: planned, Paired: len(bonds)}
	if s.Paired == 0 {
		return s
	}
	sum, squares := 0.0, 0.0
	for _, l := range bonds {
		d := float64(l.Distance)
		sum, squares = sum+d, squares+d*d
		s.Largest = max(s.Largest, l.Distance)
		if l.near(tolerance) {
			s.Within++
		}
	}
	n := float64(s.Paired)
	s.Mean, s.RMS = scalp.MM(sum/n), scalp.MM(math.Sqrt(squares/n))
	return s
}

// Summary is that of the row.
func (r RowFit) Summary(tolerance scalp.MM) Summary { return summaryOf(r.Planned, r.Bonds, tolerance) }

// Summary is that of the whole head.
func (c Comparison) Summary(tolerance scalp.MM) Summary {
	return summaryOf(len(c.Bonds)+len(c.Missing), c.Bonds, tolerance)
}

// Worst are the bonds that lie farther from where they were planned than the tolerance, the farthest first.
func (c Comparison) Worst(tolerance scalp.MM) []Lying {
	var far []Lying
	for _, l := range c.Bonds {
		if !l.near(tolerance) {
			far = append(far, l)
		}
	}
	slices.SortStableFunc(far, func(a, b Lying) int { return -cmp.Compare(a.Distance, b.Distance) })
	return far
}

// Drift is how far the bonds of a row lie off on the mean: what is wrong with where its strip lay, rather than with one bond.
func (r RowFit) Drift() (right, up scalp.MM) {
	if len(r.Bonds) == 0 {
		return 0, 0
	}
	for _, l := range r.Bonds {
		right, up = right+l.Right, up+l.Up
	}
	n := scalp.MM(len(r.Bonds))
	return right / n, up / n
}
