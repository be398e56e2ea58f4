package lesson

import (
	"fmt"
	"math"
	"slices"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// markFitted marks an attempt on a training head: a point for having looked at every planned bond, one for each planned row, one each
// for nothing missing, nothing besides and the right kinds, and then rules and targets as in markPlaced. The rules look at what was
// really made, where it really lies.
func (j *Judge) markFitted(m *Mark, a *Attempt) error {
	rep, t, err := j.reportWhere(a.Sheet, a.Off)
	if err != nil {
		return err
	}
	x := j.Exercise
	c := Compare(x.Answer, a.Sheet, a.Off, t)
	looked := lookedPoint(c, a.Seen)
	m.Points = append(m.Points, looked)
	for _, r := range c.Rows {
		m.Points = append(m.Points, rowPoint(r, x.Tolerance))
	}
	m.Points = append(m.Points, missingPoint(c), extraPoint(c), kindsPoint(c))
	for _, id := range x.Clear {
		m.Points = append(m.Points, clearPoint(id, rep, a.Sheet.Bonds() == 0))
	}
	m.Points = append(m.Points, j.targetPoints(a.Sheet, t)...)
	if m.Next = nextFitted(m.Points, looked, c, x.Tolerance); m.Next == "" {
		m.Next = j.nextStep(m, t, a)
	}
	return nil
}

// targetPoints are the points for the targets of the exercise and for the most strands that it allows.
func (j *Judge) targetPoints(s *sheet.Sheet, t *slots.Table) []Point {
	x := j.Exercise
	targets := x.Targets
	if x.MostStrands > 0 {
		targets = append(slices.Clip(targets), Target{Of: FigureStrands, Least: 0, Most: float64(x.MostStrands)})
	}
	var points []Point
	for i, target := range targets {
		v := target.Value(j.Under(s), t)
		p := Point{What: target.String(), Met: target.Met(v), Why: number(v)}
		if i == len(x.Targets) && s.Bonds() == 0 { // no strand at all is no merit
			p.Met = false
		}
		points = append(points, p)
	}
	return points
}

// lookedPoint is the point for having looked at every planned bond; without it an attempt is not finished.
func lookedPoint(c Comparison, seen []sheet.Spot) Point {
	var all []sheet.Spot
	for _, l := range c.Bonds {
		all = append(all, l.Planned)
	}
	all = append(all, c.Missing...)
	slices.SortFunc(all, sheet.Spot.Compare)
	p := Point{What: "every planned bond was looked at"}
	for _, at := range all {
		if !slices.Contains(seen, at) {
			p.Spots = append(p.Spots, at)
		}
	}
	left := len(p.Spots)
	p.Met = left == 0
	p.Why = fmt.Sprintf("%d of %d", len(all)-left, len(all))
	if left > 0 {
		p.Why += fmt.Sprintf("; next %s", p.Spots[0])
	}
	return p
}

// rowPoint is the point for a planned row: all of its bonds are there, within the tolerance.
func rowPoint(r RowFit, tolerance scalp.MM) Point {
	s := r.Summary(tolerance)
	p := Point{What: rowWords(r.Place, s.Planned, tolerance), Met: s.Within == s.Planned, Why: s.words(tolerance)}
	for _, l := range r.Bonds {
		if !l.near(tolerance) {
			p.Spots = append(p.Spots, l.Made)
		}
	}
	p.Spots = append(p.Spots, r.Missing...)
	return p
}

// rowWords is what is asked for of a planned row.
func rowWords(at sheet.Place, bonds int, tolerance scalp.MM) string {
	if bonds == 1 {
		return fmt.Sprintf("%s: the bond within %s mm", at, number(float64(tolerance)))
	}
	return fmt.Sprintf("%s: all %s within %s mm", at, printable.Count(bonds, "bond"), number(float64(tolerance)))
}

// nothingMade is why a point is not met where nothing was made.
const nothingMade = "nothing is made yet"

func missingPoint(c Comparison) Point {
	return spotsPoint("no planned bond is missing", "all are there", c.Missing, len(c.Bonds)+len(c.Extra) == 0)
}

func extraPoint(c Comparison) Point {
	return spotsPoint("nothing is made besides the plan", "nothing is", c.Extra, len(c.Bonds)+len(c.Extra) == 0)
}

// spotsPoint is a point that is met where it is true of no place.
func spotsPoint(what, clear string, at []sheet.Spot, nothing bool) Point {
	p := Point{What: what, Met: len(at) == 0 && !nothing, Why: clear, Spots: at}
	switch {
	case nothing:
		p.Why = nothingMade
	case len(at) == 1:
		p.Why = at[0].String()
	case len(at) > 1:
		p.Why = fmt.Sprintf("%s; first %s", printable.Count(len(at), "bond"), at[0])
	}
	return p
}

// kindsPoint is the point for bonds made as planned: shade, whole or split, trimmed or not.
func kindsPoint(c Comparison) Point {
	p := Point{What: "every bond is of the kind planned", Met: len(c.Bonds) > 0, Why: "all are"}
	for _, l := range c.Bonds {
		if l.Wrong() {
			if p.Spots = append(p.Spots, l.Made); len(p.Spots) == 1 {
				p.Met, p.Why = false, l.Made.String()+": "+l.Kinds()
			}
		}
	}
	switch n := len(p.Spots); {
	case len(c.Bonds)+len(c.Extra) == 0:
		p.Why = nothingMade
	case len(c.Bonds) == 0:
		p.Why = "no planned bond is there"
	case n > 1:
		p.Why = fmt.Sprintf("%s; first %s", printable.Count(n, "bond"), p.Why)
	}
	return p
}

// nextFitted is what to try next so far as it is about the plan: what was left out of looking, then the row or the bond that lies
// worst, then what is missing, there besides or of another kind; empty where all of that is well.
func nextFitted(points []Point, looked Point, c Comparison, tolerance scalp.MM) string {
	if i := slices.IndexFunc(points, func(p Point) bool { return p.Off }); i >= 0 {
		return "take back what was changed besides: " + points[i].Why
	}
	if n := len(looked.Spots); n > 0 {
		return fmt.Sprintf("look at the planned bonds that are still to come: %d, first %s", n, looked.Spots[0])
	}
	if row := worstRow(c, tolerance); row != nil {
		right, up := row.Drift()
		together := scalp.MM(math.Hypot(float64(right), float64(up)))
		return fmt.Sprintf("%s: the whole row lies %s; %s", row.Place, offWords(row.kind(), together, right, up), advice(right, up, "first"))
	}
	if worst := c.Worst(tolerance); worst != nil {
		return fmt.Sprintf("%s; %s", worst[0], advice(worst[0].Right, worst[0].Up, "next"))
	}
	if c.Missing != nil {
		return fmt.Sprintf("%s: a bond is planned there, and none was made", c.Missing[0])
	}
	if c.Extra != nil {
		return fmt.Sprintf("%s: a bond was made there, and none is planned", c.Extra[0])
	}
	for _, l := range c.Bonds {
		if l.Wrong() {
			return fmt.Sprintf("%s: %s; lay out the strands of a row before its first bond", l.Made, l.Kinds())
		}
	}
	return ""
}

// worstRow is the row whose bonds all together lie farthest off, where that is more than the tolerance; a row needs three to
// say so. nil where there is none.
func worstRow(c Comparison, tolerance scalp.MM) *RowFit {
	var worst *RowFit
	most := tolerance + slackMM
	for i := range c.Rows {
		r := &c.Rows[i]
		right, up := r.Drift()
		if d := scalp.MM(math.Hypot(float64(right), float64(up))); len(r.Bonds) >= 3 && d > most {
			worst, most = r, d
		}
	}
	return worst
}

// advice is what to do about bonds that lie off along or away from their row, before another bond is made.
func advice(right, up scalp.MM, bond string) string {
	if math.Abs(float64(up)) >= math.Abs(float64(right)) {
		return fmt.Sprintf("lay the strip again before the %s bond", bond)
	}
	return fmt.Sprintf("measure where the holes lie before the %s bond", bond)
}
