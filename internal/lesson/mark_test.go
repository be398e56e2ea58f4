package lesson_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// ordinary is an empty sheet for an ordinary head, worn down, on which every question was answered.
func ordinary() *sheet.Sheet {
	s := sheet.New(scalp.Measures{Circumference: 560, EarToEar: 340, FrontToNape: 355, NapeWidth: 108})
	return s.With(func(c *sheet.Sheet) {
		c.Asked.PatchTest, c.Asked.Agreed = "2026-03-01", "2026-03-01"
		c.Asked.Answers = map[sheet.QuestionID]sheet.Answer{}
		for _, q := range sheet.Questions {
			c.Asked.Answers[q.ID] = sheet.No
		}
	})
}

// rowOf is a row of whole bonds in some slots.
func rowOf(at scalp.MM, slots ...int) sheet.Row {
	bonds := map[int]sheet.Bond{}
	for _, slot := range slots {
		bonds[slot] = sheet.Bond{Shade: 'a'}
	}
	return sheet.NewRow(sheet.Place{At: at}, bonds)
}

func every(step, last int) []int {
	var all []int
	for k := -last; k <= last; k++ {
		if k%step == 0 {
			all = append(all, k)
		}
	}
	return all
}

func mark(t *testing.T, x *lesson.Exercise, s *sheet.Sheet) lesson.Mark {
	t.Helper()
	j := &lesson.Judge{Exercise: x}
	m, err := j.Mark(lesson.AttemptOf(x, s))
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// points writes the points of a mark, a sign and what was asked for.
func points(m lesson.Mark) string {
	var all []string
	for _, p := range m.Points {
		sign := "-"
		switch {
		case p.Off:
			sign = "!"
		case p.Met:
			sign = "+"
		}
		all = append(all, sign+" "+p.What)
	}
	return strings.Join(all, "; ")
}

// What counts is counted: rules that are clear, targets of the whole sheet, of a row and of a shade, and the most strands.
func TestPlacedIsMarked(t *testing.T) {
	at60 := sheet.Place{At: 60}
	start := ordinary()
	x := &lesson.Exercise{Task: lesson.Place, Start: start, May: []lesson.Part{lesson.Rows}, Clear: []string{"nape", lesson.AllStops}, MostStrands: 12,
		Targets: []lesson.Target{{Of: lesson.FigureBonds, Row: &at60, Least: 5, Most: 7}, {Of: lesson.FigureGrams, Shade: 'a', Least: 4, Most: math.Inf(1)}}}
	cases := []struct {
		name  string
		sheet *sheet.Sheet
		want  string
		met   int
		pass  bool
	}{
		{"nothing placed", start, "- nape: clear; - stops: clear; - height 60: 5 to 7 bonds; - at least 4 grams of shade a; - at most 12 strands", 0, false},
		{"all met", start.WithRow(rowOf(60, every(2, 6)...)), "+ nape: clear; + stops: clear; + height 60: 5 to 7 bonds; + at least 4 grams of shade a; + at most 12 strands", 5, true},
		{"one too many in the row", start.WithRow(rowOf(60, every(2, 8)...)), "+ nape: clear; + stops: clear; - height 60: 5 to 7 bonds; + at least 4 grams of shade a; + at most 12 strands", 4, false},
		{"too near the nape besides", start.WithRow(rowOf(60, every(2, 6)...)).WithRow(rowOf(10, 0)), "- nape: clear; - stops: clear; + height 60: 5 to 7 bonds; + at least 4 grams of shade a; + at most 12 strands", 3, false},
		{"too many strands", start.WithRow(rowOf(60, every(2, 6)...)).WithRow(rowOf(80, every(2, 6)...)), "+ nape: clear; + stops: clear; + height 60: 5 to 7 bonds; + at least 4 grams of shade a; - at most 12 strands", 4, false},
		{"something else was touched", start.WithRow(rowOf(60, every(2, 6)...)).WithLimit(sheet.LimitNape, 5), "! only what may be touched is changed; + nape: clear; + stops: clear; + height 60: 5 to 7 bonds; + at least 4 grams of shade a; + at most 12 strands", 4, false},
	}
	for _, c := range cases {
		m := mark(t, x, c.sheet)
		if got := points(m); got != c.want {
			t.Errorf("%s:\n%s\nwant\n%s", c.name, got, c.want)
		}
		if m.Met != c.met || m.Of != 5 || m.Passed != c.pass {
			t.Errorf("%s: %d of %d, passed %v; want %d of 5, %v", c.name, m.Met, m.Of, m.Passed, c.met, c.pass)
		}
		if c.pass != (m.Next == "") {
			t.Errorf("%s: to try next: %q", c.name, m.Next)
		}
	}
}

// An accepted finding is settled where acceptances are the learner's, and takes a point off where they are not.
func TestAcceptedIsSettled(t *testing.T) {
	start := ordinary()
	low := start.WithRow(rowOf(60, every(2, 6)...)).WithRow(rowOf(10, 0)).WithAccepted(sheet.Accepted{
		Concern: sheet.Concern{Rule: "nape", Row: sheet.Place{At: 10}, On: sheet.OnSlot}, Reason: "shown on a model only", By: "JK"})
	x := &lesson.Exercise{Task: lesson.Place, Start: start, May: []lesson.Part{lesson.Rows, lesson.Acceptances}, Clear: []string{"nape"}}
	if m := mark(t, x, low); !m.Passed {
		t.Errorf("accepted: %s", points(m))
	}
	for _, a := range []sheet.Accepted{{Reason: "ok", By: "JK"}, {Reason: "shown on a model only"}} {
		a.Concern = low.Accepted[0].Concern
		if m := mark(t, x, low.WithAccepted(a)); m.Passed || !strings.Contains(m.Next, "reason") {
			t.Errorf("accepted with %+v: %s, to try next: %s", a, points(m), m.Next)
		}
	}
	x.May = []lesson.Part{lesson.Rows}
	if m := mark(t, x, low); m.Passed || m.Met != 0 {
		t.Errorf("acceptances are not the learner's: %d of %d, %s", m.Met, m.Of, points(m))
	}
}

// The faults found, missed and accused wrongly are told apart, and what else the rules report may be marked without harm.
func TestFoundIsMarked(t *testing.T) {
	clean := ordinary().WithRow(rowOf(60, every(2, 6)...))
	faulty := clean.WithRow(rowOf(10, 0, 2))
	fault := func(rule string, at scalp.MM, slot int) sheet.Concern {
		return sheet.Concern{Rule: rule, Row: sheet.Place{At: at}, On: sheet.OnSlot, Slot: slot}
	}
	x := &lesson.Exercise{Task: lesson.Find, Start: faulty, Answer: clean, Faults: []sheet.Concern{fault("nape", 10, 0)}}
	cases := []struct {
		name   string
		found  []sheet.Concern
		points string
		met    int
		pass   bool
	}{
		{"none", nil, "- nape, height 10, slot 0, the centre", 0, false},
		{"found", []sheet.Concern{fault("nape", 10, 0)}, "+ nape, height 10, slot 0, the centre", 1, true},
		{"the wrong rule is one mistake", []sheet.Concern{fault("load", 10, 0)}, "- nape, height 10, slot 0, the centre", 0, false},
		{"one accused wrongly", []sheet.Concern{fault("nape", 10, 0), fault("ear", 60, 2)}, "+ nape, height 10, slot 0, the centre; ! ear, height 60, slot 2 right", 0, false},
		{"another that the rules report too", []sheet.Concern{fault("nape", 10, 0), fault("nape", 10, 2)}, "+ nape, height 10, slot 0, the centre", 1, true},
	}
	for _, c := range cases {
		m := mark(t, x, faulty.With(func(s *sheet.Sheet) { s.Tried.Marked = c.found }))
		if got := points(m); got != c.points || m.Met != c.met || m.Passed != c.pass {
			t.Errorf("%s: %d of %d, passed %v: %s; want %d, %v: %s", c.name, m.Met, m.Of, m.Passed, got, c.met, c.pass, c.points)
		}
	}
}

// Of two bonds that are too near each other either may be pointed at.
func TestEitherOfTwoNeighbours(t *testing.T) {
	clean := ordinary().With(func(c *sheet.Sheet) { c.HoleSpacing = 5 }).WithRow(rowOf(60, every(2, 6)...))
	near := clean.WithBond(sheet.Place{At: 60}, 3, sheet.Bond{Shade: 'a'})
	table, err := slots.For(near, nil)
	if err != nil {
		t.Fatal(err)
	}
	var fault rule.Finding
	for _, f := range rule.Check(near, table).Findings {
		if f.Rule == "bond-gap" {
			fault = f
		}
	}
	if len(fault.Near) == 0 {
		t.Fatalf("bond-gap names no neighbour: %+v", fault)
	}
	x := &lesson.Exercise{Task: lesson.Find, Start: near, Answer: clean, Faults: []sheet.Concern{fault.Concern}}
	for _, at := range append(fault.Near, fault.Concern) {
		m := mark(t, x, near.With(func(s *sheet.Sheet) {
			s.Tried.Marked = []sheet.Concern{{Rule: "bond-gap", Row: at.Row, On: sheet.OnSlot, Slot: at.Slot}}
		}))
		if !m.Passed {
			t.Errorf("marked at %s: %s", rule.Where(at), points(m))
		}
	}
}

// A college's own limit is what an attempt is marked by.
func TestLimitsOfACollege(t *testing.T) {
	s := ordinary().WithRow(rowOf(40, 0))
	x := &lesson.Exercise{Task: lesson.Place, Start: ordinary(), May: []lesson.Part{lesson.Rows}, Clear: []string{"nape"}}
	for limit, pass := range map[float64]bool{20: true, 60: false} {
		j := &lesson.Judge{Exercise: x, Limits: map[sheet.LimitName]float64{sheet.LimitNape: limit}}
		if m, err := j.Mark(lesson.AttemptOf(x, s)); err != nil || m.Passed != pass {
			t.Errorf("nape %g: passed %v (%v)", limit, m.Passed, err)
		}
	}
}

// Each part of a sheet is guarded by itself: a change of one is told as that part and no other.
func TestEachPartIsGuarded(t *testing.T) {
	start := ordinary().WithRow(rowOf(60, 0))
	changes := []struct {
		part   lesson.Part
		change func(*sheet.Sheet)
	}{
		{lesson.Rows, func(c *sheet.Sheet) { c.Rows = nil }},
		{lesson.Shades, func(c *sheet.Sheet) { c.Shades = append(c.Shades[:1:1], sheet.Shade{Key: 'b'}) }},
		{lesson.Strip, func(c *sheet.Sheet) { c.Aside = true }},
		{lesson.Strip, func(c *sheet.Sheet) { c.HoleSpacing++ }},
		{lesson.Strip, func(c *sheet.Sheet) { c.LineGap++ }},
		{lesson.Head, func(c *sheet.Sheet) { c.Measures.NapeWidth++ }},
		{lesson.Head, func(c *sheet.Sheet) { c.Moved = map[scalp.Landmark]scalp.Shift{scalp.Landmarks()[0]: {Up: 2}} }},
		{lesson.Head, func(c *sheet.Sheet) { c.Turns = map[sheet.Turn]scalp.Shift{sheet.Whorl: {Up: 2}} }},
		{lesson.HairPart, func(c *sheet.Sheet) { c.Hair.Length++ }},
		{lesson.Wishes, func(c *sheet.Sheet) { c.Amounts.Volume = 30 }},
		{lesson.Wishes, func(c *sheet.Sheet) { c.Wish = nil }},
		{lesson.Worn, func(c *sheet.Sheet) { c.Partings = nil }},
		{lesson.Worn, func(c *sheet.Sheet) { c.Worn = []sheet.Wear{sheet.WornHighTail} }},
		{lesson.Patches, func(c *sheet.Sheet) { c.KeepOff = []sheet.KeepOff{{Radius: 9}} }},
		{lesson.LimitsPart, func(c *sheet.Sheet) { c.Limits = map[sheet.LimitName]float64{sheet.LimitEar: 9} }},
		{lesson.Consultation, func(c *sheet.Sheet) { c.Asked.Agreed = "2026-03-02" }},
		{lesson.Acceptances, func(c *sheet.Sheet) { c.Accepted = []sheet.Accepted{{Reason: "so"}} }},
		{lesson.Visits, func(c *sheet.Sheet) { c.Visits = []sheet.Visit{{Kind: sheet.Fitting}} }},
	}
	for _, part := range lesson.Parts() {
		if !slices.ContainsFunc(changes, func(c struct {
			part   lesson.Part
			change func(*sheet.Sheet)
		}) bool {
			return c.part == part
		}) {
			t.Errorf("%s: no change is tried", part)
		}
	}
	for _, c := range changes {
		part, change := c.part, c.change
		if got := lesson.Changed(start, start.With(change)); len(got) != 1 || got[0] != part {
			t.Errorf("a change of %s is told as %v", part, got)
		}
		for _, may := range lesson.Parts() {
			x := &lesson.Exercise{Start: start, May: []lesson.Part{may}}
			if err := x.Allows(start.With(change)); (err == nil) != (may == part) {
				t.Errorf("%s changed, %s may be: %v", part, may, err)
			}
		}
	}
	if got := lesson.Changed(start, start.With(func(c *sheet.Sheet) { c.Title, c.Client, c.Date, c.Notes = "t", "c", "2026-01-01", "n" })); got != nil {
		t.Errorf("title, client, date and notes are told as %v", got)
	}
}

// A mark is the same on any day and in any studio: the judge looks at a sheet on the day of the exercise, by the college's limits alone.
func TestMarkKeepsItsDay(t *testing.T) {
	start := ordinary().With(func(c *sheet.Sheet) { c.Date = "2026-03-02" })
	j := &lesson.Judge{Exercise: &lesson.Exercise{Start: start}, Limits: map[sheet.LimitName]float64{sheet.LimitNape: 30}, LimitsOf: "Ashgrove College"}
	s := j.Under(ordinary().With(func(c *sheet.Sheet) {
		c.Today, c.House = "2031-01-01", map[sheet.LimitName]float64{sheet.LimitEar: 1}
	}))
	if nape, source := s.Limit(sheet.LimitNape); nape != 30 || !strings.Contains(source, "Ashgrove College") {
		t.Errorf("nape %g, %s", nape, source)
	}
	ear, _ := s.Limit(sheet.LimitEar)
	if usual, _ := ordinary().Limit(sheet.LimitEar); ear != usual || s.Today != "2026-03-02" {
		t.Errorf("ear %g on %s", ear, s.Today)
	}
}

// A hint speaks of the work as it is, while it is true of that; then of the start, and says so.
func TestHintsOfNow(t *testing.T) {
	x := &lesson.Exercise{Task: lesson.Place, Start: ordinary(), Targets: []lesson.Target{{Of: lesson.FigureBonds, Least: 7, Most: 9}},
		Hints: []lesson.Hint{{Text: "{value} bonds of {limit}", Target: 1}}}
	j := &lesson.Judge{Exercise: x}
	for bonds, want := range map[int]string{0: "0 bonds of 7 to 9", 3: "3 bonds of 7 to 9", 7: "(at the start) 0 bonds of 7 to 9"} {
		s := ordinary()
		if bonds > 0 {
			s = s.WithRow(rowOf(60, every(2, bonds-1)...))
		}
		if got, err := j.HintText(0, s); got != want || err != nil {
			t.Errorf("with %d bonds: %q, %v; want %q", s.Bonds(), got, err, want)
		}
	}
}

// What to try next is a change that meets more of what is asked for, never one that meets less; on an empty sheet it says so.
func TestNextHelps(t *testing.T) {
	at60 := sheet.Place{At: 60}
	x := &lesson.Exercise{Task: lesson.Place, Start: ordinary(), May: []lesson.Part{lesson.Rows}, Clear: []string{"balance"},
		Targets: []lesson.Target{{Of: lesson.FigureBonds, Row: &at60, Least: 10, Most: 12}}}
	lopsided := ordinary().WithRow(rowOf(60, -14, -12, -10, -8, -6, -4, -2, 0, 2, 4)) // lifting the surplus would leave too few
	if m := mark(t, x, lopsided); m.Met != 1 || strings.Contains(m.Next, "One way") || !strings.HasPrefix(m.Next, "balance") {
		t.Errorf("%d met, to try next: %s", m.Met, m.Next)
	}
	more := ordinary().WithRow(rowOf(60, every(2, 10)...)).WithRow(rowOf(80, -4, -2))
	if m := mark(t, x, more); m.Passed || !strings.Contains(m.Next, "One way") {
		t.Errorf("%d met, to try next: %s", m.Met, m.Next)
	}
	if m := mark(t, x, ordinary()); m.Next != "nothing is placed yet" {
		t.Errorf("of an empty sheet: %s", m.Next)
	}
}
