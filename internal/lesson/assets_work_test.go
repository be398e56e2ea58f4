package lesson_test

import (
	"fmt"
	"iter"
	"slices"
	"testing"

	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// Half of the work does not pass: the answer without any one of its rows, one row of it alone, a single bond, or nothing.
func TestShippedExercisesWantAllOfTheWork(t *testing.T) {
	those(t, lesson.Place, func(t *testing.T, x shipped) {
		j := x.judge()
		fails := func(what string, s *sheet.Sheet) {
			if m, err := j.Points(lesson.AttemptOf(x.Exercise, s)); err != nil || m.Passed {
				t.Errorf("%s: passed %v, %v", what, m.Passed, err)
			}
		}
		bare := x.Answer.With(func(c *sheet.Sheet) { c.Rows = nil })
		fails("nothing", bare)
		for _, row := range x.Answer.Rows {
			fails("without "+row.String(), x.Answer.WithRow(sheet.Row{Place: row.Place}))
			if len(x.Answer.Rows) > 1 {
				fails("only "+row.String(), bare.WithRow(row))
			}
			for slot, b := range row.All() {
				fails(fmt.Sprintf("only slot %d of %s", slot, row.Place), bare.WithBond(row.Place, slot, b))
				break
			}
		}
	})
}

// Pressing for the first fix of every finding, until none is left, is not enough either.
func TestShippedExercisesWantMoreThanFixes(t *testing.T) {
	those(t, lesson.Place, func(t *testing.T, x shipped) {
		j, s := x.judge(), x.Start
		for range 3 * x.Start.Bonds() {
			rep, table, err := j.Report(s)
			if err != nil {
				t.Fatal(err)
			}
			next := (*sheet.Sheet)(nil)
			for _, f := range rep.Findings {
				if fixes := rule.Fixes(j.Under(s), table, f); len(fixes) > 0 && f.Accepted == nil {
					next = fixes[0].Do(s)
					break
				}
			}
			if next == nil {
				break
			}
			s = next
			if m, err := j.Points(lesson.AttemptOf(x.Exercise, s)); err != nil || m.Passed {
				t.Fatalf("passed %v, %v", m.Passed, err)
			}
		}
	})
}

// Whatever counts can be missed: for each point there is a sheet with all else that may be touched, that does not meet it.
func TestShippedPointsCanBeMissed(t *testing.T) {
	those(t, lesson.Place, func(t *testing.T, x shipped) {
		j := x.judge()
		_, table, err := j.Report(x.Answer)
		if err != nil {
			t.Fatal(err)
		}
		var missed []bool
		for s := range spoiled(x.Exercise, table) {
			m, err := j.Points(lesson.AttemptOf(x.Exercise, s))
			if err != nil {
				t.Fatal(err)
			}
			points := slices.DeleteFunc(m.Points, func(p lesson.Point) bool { return p.Off })
			if missed == nil {
				missed = make([]bool, len(points))
			}
			for i, p := range points {
				missed[i] = missed[i] || !p.Met
			}
			if !slices.Contains(missed, false) {
				return
			}
		}
		m, _ := j.Points(lesson.AttemptOf(x.Exercise, x.Answer))
		for i, p := range m.Points {
			if !missed[i] {
				t.Errorf("nothing that was tried misses it: %s", p.What)
			}
		}
	})
}

// spoiled are sheets with something in place, and something wrong: the answer changed in one way, mostly. A sheet without any bond is
// not among them, since it meets nothing.
func spoiled(x *lesson.Exercise, table *slots.Table) iter.Seq[*sheet.Sheet] {
	return func(yield func(*sheet.Sheet) bool) {
		try := func(s *sheet.Sheet) bool { return s.Bonds() == 0 || yield(s) }
		whole := x.Answer
		all := func(change func(slot int, b sheet.Bond) sheet.Bond) *sheet.Sheet {
			s := whole
			for _, row := range whole.Rows {
				for slot, b := range row.All() {
					s = s.WithBond(row.Place, slot, change(slot, b))
				}
			}
			return s
		}
		last := sheet.Bond{Shade: whole.Shades[len(whole.Shades)-1].Key}
		for _, s := range []*sheet.Sheet{
			all(func(_ int, b sheet.Bond) sheet.Bond { return sheet.Bond{Shade: b.Shade} }),
			all(func(int, sheet.Bond) sheet.Bond { return last }),
			all(func(_ int, b sheet.Bond) sheet.Bond { b.Split, b.Trimmed = true, true; return b }),
			all(func(slot int, b sheet.Bond) sheet.Bond {
				if slot < 0 {
					return sheet.Bond{}
				}
				return b
			}),
			lastFittedIn(whole, last), lastFittedIn(whole, sheet.Bond{}),
		} {
			if !try(s) {
				return
			}
		}
		for _, row := range whole.Rows {
			by := table.Spacing
			if !row.Along {
				by = x.Answer.LineGap
			}
			moved := row
			moved.At += by
			filled := map[int]sheet.Bond{}
			for slot := row.First(); slot <= row.Last(); slot++ {
				filled[slot] = row.Bond(row.First())
			}
			shifted, thinned := map[int]sheet.Bond{}, map[int]sheet.Bond{}
			n := 0
			for slot, b := range row.All() {
				shifted[slot+1] = b
				if n++; n%2 == 0 {
					thinned[slot] = sheet.Bond{}
				}
			}
			for _, s := range []*sheet.Sheet{
				whole.WithRow(sheet.Row{Place: row.Place}), whole.WithRow(moved), whole.WithRow(row.With(filled)), whole.WithRow(sheet.NewRow(row.Place, shifted)), whole.WithRow(row.With(thinned)),
			} {
				if !try(s) {
					return
				}
			}
		}
		if singly(whole, table, last, try) {
			try(x.Start)
		}
	}
}

// singly tries one bond more in every second slot of the lines of the map and of some rows front to back, and reports whether to go on.
func singly(s *sheet.Sheet, table *slots.Table, b sheet.Bond, try func(*sheet.Sheet) bool) bool {
	lines := slices.Clone(table.Lines)
	for k := -8; k <= 8; k++ {
		if l, err := table.Line(sheet.Place{Along: true, At: scalp.MM(k) * table.Spacing}); err == nil {
			lines = append(lines, l)
		}
	}
	for _, l := range lines {
		for i := range l.Slots {
			if i%2 == 0 && !try(s.WithBond(l.Place(), l.First+i, b)) {
				return false
			}
		}
	}
	return true
}

// lastFittedIn is a sheet whose last visit fitted nothing but such bonds, or none at all; the sheet itself where there was no visit.
func lastFittedIn(s *sheet.Sheet, b sheet.Bond) *sheet.Sheet {
	n := len(s.Visits) - 1
	if n < 0 {
		return s
	}
	v := s.Visits[n]
	for _, row := range v.Fitted {
		for slot := range row.All() {
			v = v.WithFitted(sheet.Spot{At: row.Place, Slot: slot}, b)
		}
	}
	return s.WithVisit(n, v)
}

// On a sheet with faults all of them have to be found, each by its own rule, and nothing else.
func TestShippedFaultsAreAllAskedFor(t *testing.T) {
	those(t, lesson.Find, func(t *testing.T, x shipped) {
		j := x.judge()
		passed := func(found []sheet.Concern) bool {
			m, err := j.Points(&lesson.Attempt{Sheet: x.Start, Found: found})
			if err != nil {
				t.Fatal(err)
			}
			return m.Passed
		}
		if !passed(x.Faults) {
			t.Error("with all faults found it does not pass")
		}
		rules := map[string]bool{}
		for i, fault := range x.Faults {
			rules[fault.Rule] = true
			rest := slices.Delete(slices.Clone(x.Faults), i, i+1)
			other := fault
			other.Rule = x.Faults[(i+1)%len(x.Faults)].Rule
			if passed(rest) || passed(append(rest, other)) {
				t.Errorf("it passes without %s, or with %s named there", fault.Rule, other.Rule)
			}
		}
		if len(rules) < len(x.Faults) {
			t.Errorf("%d rules for %d faults: each is to teach another", len(rules), len(x.Faults))
		}
		row := x.Answer.Rows[0]
		sound := sheet.Concern{Rule: x.Faults[0].Rule, Row: row.Place, On: sheet.OnSlot, Slot: row.Last()}
		if passed(append(slices.Clone(x.Faults), sound)) {
			t.Error("it passes with a sound bond accused")
		}
	})
}

// On a training head a bond that lies too far off, one that was not looked at and one of another kind are each missed.
func TestShippedHeadsAreMeasured(t *testing.T) {
	those(t, lesson.Fit, func(t *testing.T, x shipped) {
		j := x.judge()
		passed := func(change func(a *lesson.Attempt)) bool {
			a := *j.Answered()
			change(&a)
			m, err := j.Points(&a)
			if err != nil {
				t.Fatal(err)
			}
			return m.Passed
		}
		at := sheet.Spot{At: x.Answer.Rows[0].Place, Slot: x.Answer.Rows[0].First() + 2}
		off := func(by scalp.MM) func(a *lesson.Attempt) {
			return func(a *lesson.Attempt) { a.Off = []lesson.Off{{Spot: at, Up: by}} }
		}
		if !passed(off(x.Tolerance - 0.5)) {
			t.Error("a bond within the tolerance does not pass")
		}
		for what, change := range map[string]func(a *lesson.Attempt){
			"too far off":   off(x.Tolerance + 0.5),
			"not looked at": func(a *lesson.Attempt) { a.Seen = a.Seen[1:] },
			"not made":      func(a *lesson.Attempt) { a.Sheet = a.Sheet.WithBond(at.At, at.Slot, sheet.Bond{}) },
			"of another kind": func(a *lesson.Attempt) {
				b := a.Sheet.Bond(at.At, at.Slot)
				b.Split = !b.Split
				a.Sheet = a.Sheet.WithBond(at.At, at.Slot, b)
			},
		} {
			if passed(change) {
				t.Errorf("it passes with a bond %s", what)
			}
		}
	})
}
