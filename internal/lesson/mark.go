package lesson

import (
	"fmt"
	"strings"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// Mark is how an attempt came out.
type Mark struct {
	Points []Point // in the order of the exercise
	Met    int     // points met, less those taken off; never below 0
	Of     int     // points that count
	Passed bool    // all are met, and none was taken off
	Next   string  // what to try next, or empty
}

// Point is one thing that counts.
type Point struct {
	What    string // what was asked for: "nape: clear"
	Met     bool
	Why     string         // what was found: "12 bonds", "3 findings: 12.4 mm from the nape hairline, at least 20.0 mm …"
	Spots   []sheet.Spot   // where, for the map
	Off     bool           // it takes a point off instead of adding one
	About   *rule.Finding  // the first finding that it speaks of, or nil
	Concern *sheet.Concern // the fault, or what was marked, in Find
}

// Share is the mark in %.
func (m Mark) Share() float64 {
	if m.Of == 0 {
		return 0
	}
	return 100 * float64(m.Met) / float64(m.Of)
}

// Summary is the mark in a line.
func (m Mark) Summary() string {
	taken := 0
	for _, p := range m.Points {
		if p.Off {
			taken++
		}
	}
	switch {
	case m.Passed:
		return fmt.Sprintf("passed: %d of %d", m.Met, m.Of)
	case taken > 0:
		return fmt.Sprintf("not yet: %d of %d, with %d taken off", m.Met, m.Of, taken)
	}
	return fmt.Sprintf("not yet: %d of %d", m.Met, m.Of)
}

// Judge is what attempts at an exercise are marked with: the exercise, and the limits of a college.
// It keeps slot tables, so that a folder of attempts on one head is marked quickly; one judge is for one goroutine.
type Judge struct {
	Exercise *Exercise
	Limits   map[sheet.LimitName]float64 // a college's own, or nil
	LimitsOf string                      // the college
	table    *slots.Table
	known    *sheet.Sheet // what the rules find on this sheet is known, by the table
	found    *rule.Report
}

// Know saves the judge from checking a sheet again that somebody has checked as the judge would: made by Under, with what was found
// by a table for it.
func (j *Judge) Know(s *sheet.Sheet, found *rule.Report, t *slots.Table) {
	j.known, j.found, j.table = s, found, t
}

// Under is a sheet as the judge looks at it: by the college's limits, and on no day, so that a mark never changes by itself.
// Where the exercise says when its sheet was made, that is the day.
func (j *Judge) Under(s *sheet.Sheet) *sheet.Sheet {
	return s.With(func(c *sheet.Sheet) { c.House, c.HouseOf, c.Today = j.Limits, j.LimitsOf, j.Exercise.Start.Date })
}

// Report is what the rules find on a sheet, as the judge looks at it. The error says what does not fit the head.
func (j *Judge) Report(s *sheet.Sheet) (*rule.Report, *slots.Table, error) {
	if s == j.known {
		return j.found, j.table, nil
	}
	s, j.known = j.Under(s), nil
	t, err := slots.For(s, j.table)
	if err != nil {
		return nil, nil, err
	}
	j.table = t
	return rule.Check(s, t), t, nil
}

// Mark marks an attempt. The error says what of its sheet does not fit the head.
func (j *Judge) Mark(a *Attempt) (Mark, error) {
	m, err := j.Points(a)
	if err == nil && j.Exercise.Task == Place { // its table is that of the attempt
		m.Next = j.nextStep(&m, j.table, a)
	}
	return m, err
}

// Points is the mark without what to try next where that takes long, which is trying out fixes.
func (j *Judge) Points(a *Attempt) (Mark, error) {
	var m Mark
	if err := j.Exercise.Allows(a.Sheet); err != nil {
		m.Points = append(m.Points, Point{What: "only what may be touched is changed", Why: err.Error(), Off: true})
	}
	var err error
	switch j.Exercise.Task {
	case Find:
		err = j.markFound(&m, a)
	case Fit:
		err = j.markFitted(&m, a)
	default:
		err = j.markPlaced(&m, a)
	}
	for _, p := range m.Points {
		switch {
		case p.Off:
			m.Met--
		case p.Met:
			m.Met++
			m.Of++
		default:
			m.Of++
		}
	}
	m.Passed = m.Of > 0 && m.Met == m.Of
	m.Met = max(m.Met, 0)
	return m, err
}

// markPlaced marks what was placed: rules that must be clear, targets, strands.
func (j *Judge) markPlaced(m *Mark, a *Attempt) error {
	rep, t, err := j.Report(a.Sheet)
	if err != nil {
		return err
	}
	x := j.Exercise
	for _, id := range x.Clear {
		m.Points = append(m.Points, clearPoint(id, rep, a.Sheet.Bonds() == 0 && len(a.Sheet.Visits) == 0))
	}
	m.Points = append(m.Points, j.targetPoints(a.Sheet, t)...)
	return nil
}

// clearPoint is the point for a rule, or for a severity, that may not report. With nothing placed it is not met.
func clearPoint(id string, rep *rule.Report, nothing bool) Point {
	p := Point{What: id + ": clear", Met: true, Why: "clear"}
	if nothing {
		p.Met, p.Why = false, "nothing is placed yet"
		return p
	}
	n := 0
	for i := range rep.Findings {
		f := &rep.Findings[i]
		if f.Accepted != nil && isOf(id, f) {
			p.Why = "accepted: " + f.Accepted.Reason
		}
		if !counts(id, f) {
			continue
		}
		if n++; n == 1 {
			p.About, p.Why = f, f.Where()+": "+f.Message()
		}
		if f.On == sheet.OnSlot {
			p.Spots = append(p.Spots, sheet.Spot{At: f.Row, Slot: f.Slot})
		}
	}
	if p.Met = n == 0; n > 1 {
		p.Why = fmt.Sprintf("%s; first %s", printable.Count(n, "finding"), p.Why)
	}
	return p
}

// counts reports whether a finding is one that an entry of Clear is about. One that was accepted with a reason is settled.
func counts(id string, f *rule.Finding) bool { return isOf(id, f) && !settled(f.Accepted) }

// settled reports whether a finding was accepted by somebody, with a reason that says something: in less than three words nobody says
// who decided what.
func settled(a *sheet.Accepted) bool {
	return a != nil && a.By != "" && len(strings.Fields(a.Reason)) >= 3
}

// isOf reports whether a finding is one that an entry of Clear is about, accepted or not.
func isOf(id string, f *rule.Finding) bool {
	switch {
	case id == AllStops:
		return f.Severity == rule.Stop
	case id == AllCautions:
		return f.Severity == rule.Caution
	}
	r, _ := rule.ByID(f.Rule)
	return f.Rule == id && (f.Severity > rule.Note || r.Severity == rule.Note) // a note is no fault, unless the rule has nothing graver
}

// nextStep is what to try next: the first fix of the first finding that counts, or the first target that is missed.
func (j *Judge) nextStep(m *Mark, t *slots.Table, a *Attempt) string {
	for _, p := range m.Points {
		switch {
		case p.Met:
		case p.Off:
			return "take back what was changed besides: " + p.Why
		case p.About != nil:
			r, _ := rule.ByID(p.About.Rule)
			if a := p.About.Accepted; a != nil {
				return fmt.Sprintf("%s was accepted, and the reason has to say in a few words who decided what; by has to say who accepted it", a.Rule)
			}
			text := fmt.Sprintf("%s, %s: %s", p.About.Rule, p.About.Where(), r.Title)
			if way := j.bestFix(m, t, a, *p.About); way != "" {
				text += ". One way: " + way
			}
			return text
		case a.Sheet.Bonds() == 0:
			return "nothing is placed yet"
		default:
			return fmt.Sprintf("%s are asked for, and there are %s", p.What, p.Why)
		}
	}
	return ""
}

// bestFix is the fix of a finding after which most points are met, if those are more than now; or nothing. A fix that mends one thing
// and breaks what was asked for is no advice.
func (j *Judge) bestFix(m *Mark, t *slots.Table, a *Attempt, f rule.Finding) string {
	best, way := m.Met, ""
	for _, fix := range rule.Fixes(j.Under(a.Sheet), t, f) {
		fixed := *a
		fixed.Sheet = fix.Do(a.Sheet)
		if after, err := j.Points(&fixed); err == nil && after.Met > best {
			best, way = after.Met, fix.Label
		}
	}
	return way
}
