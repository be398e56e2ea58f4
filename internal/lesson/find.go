package lesson

import (
	"slices"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
)

// markFound marks what was found of the faults on a sheet: found, missed, falsely accused. What the rules do report
// besides the faults, notes for instance, may be marked without harm.
func (j *Judge) markFound(m *Mark, a *Attempt) error {
	rep, _, err := j.Report(j.Exercise.Start)
	if err != nil {
		return err
	}
	used := make([]bool, len(a.Found))
	for _, fault := range j.Exercise.Faults {
		p := Point{What: fault.Rule + ", " + rule.Where(fault), Why: "missed", Spots: []sheet.Spot{{At: fault.Row, Slot: fault.Slot}}, Concern: &fault}
		f := findingOf(rep, fault)
		for i, marked := range a.Found {
			if speaksOf(f, fault, marked) {
				p.Met, used[i] = true, true
			}
		}
		switch i := slices.IndexFunc(a.Found, func(c sheet.Concern) bool { return c.Row == fault.Row && c.Slot == fault.Slot }); {
		case p.Met:
			p.Why = "found"
		case i >= 0:
			p.Why = "marked, but as " + a.Found[i].Rule
			used[i] = true // it is one mistake, not two
		}
		if !p.Met && f != nil {
			p.About = f
		}
		m.Points = append(m.Points, p)
	}
	for i, marked := range a.Found {
		if used[i] || slices.ContainsFunc(rep.Findings, func(f rule.Finding) bool { return speaksOf(&f, f.Concern, marked) }) {
			continue
		}
		m.Points = append(m.Points, Point{What: marked.Rule + ", " + rule.Where(marked), Why: "nothing is wrong there by " + marked.Rule,
			Spots: []sheet.Spot{{At: marked.Row, Slot: marked.Slot}}, Off: true, Concern: &marked})
	}
	m.Next = nextToFind(m.Points, len(a.Found))
	return nil
}

// nextToFind is what to try next. It names no place and no rule, which are the hints' to give.
func nextToFind(points []Point, named int) string {
	left, off := 0, 0
	for _, p := range points {
		switch {
		case p.Off:
			off++
		case !p.Met:
			left++
		}
	}
	switch {
	case named == 0:
		return "nothing is named yet: go round the sheet and name what you think is wrong, and by which rule"
	case left > 0:
		return printable.Count(left, "fault") + " to go: look along every row to its ends, and at each bond for its weight and for the hair over it. A hint says more"
	case off > 0:
		return "take back what is in order"
	}
	return ""
}

// findingOf is the finding about a concern, or nil.
func findingOf(rep *rule.Report, c sheet.Concern) *rule.Finding {
	for i := range rep.Findings {
		if rep.Findings[i].Concern == c {
			return &rep.Findings[i]
		}
	}
	return nil
}

// speaksOf reports whether somebody who marked a slot meant a finding: the same rule, and its slot, its row, or one of the
// other places that it speaks of, since of two bonds too near each other either may be pointed at.
func speaksOf(f *rule.Finding, c, marked sheet.Concern) bool {
	if c.Rule != marked.Rule {
		return false
	}
	at := []sheet.Concern{c}
	if f != nil {
		at = append(at, f.Near...)
	}
	return slices.ContainsFunc(at, func(c sheet.Concern) bool {
		return c.Row == marked.Row && (c.On == sheet.OnRow || c.On == sheet.OnSlot && c.Slot == marked.Slot)
	})
}
