package class

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/printable"
)

// some is a class with one hand-in of each kind.
func some() *Class {
	first := Point{What: "nape: clear", Why: "2 findings; first height 40, slot 8 left: 22.1 mm from the nape hairline, at least 25.0 mm"}
	return &Class{ID: "first-row", Title: "The first row", LimitsOf: "Ashgrove College",
		HandIns: []HandIn{
			{File: "anna.toml", Learner: "AN", Date: "2026-03-02", State: Passed, Met: 9, Of: 9, Share: 100, Points: []Point{{What: "ear: clear", Why: "clear", Met: true}}},
			{File: "ben.toml", Learner: "BE", State: NotYet, Met: 7, Of: 9, Share: 700.0 / 9, Hints: 2, First: first, Next: "nape: move it", Points: []Point{first, {What: "ear: clear", Why: "clear", Met: true}},
				Assessor: "JK", Unsealed: "its seal does not fit: it was changed after it was signed"},
			{File: "cora.toml", State: NotRead, Why: "line 3: this is not a number"},
			{File: "dora.toml", State: NotYet, Met: 8, Of: 9, Share: 800.0 / 9, Plain: true, Like: "the worked answer",
				First: Point{What: "only what may be touched is changed", Why: "the limits: this exercise leaves that as it is", Off: true}},
			{File: "emil.toml", Learner: "=EM", State: Elsewhere, Why: `this is for another exercise, "ponytail"`, Hints: 4},
		},
		Missed: []Missed{{What: "nape: clear", By: 2}, {What: "ear, height 60, slot 3 left", By: 1, Wrongly: true}},
		Same:   []Same{{Files: []string{"anna.toml", "ben.toml"}}, {Like: "the start, untouched", Files: []string{"x.toml", "y.toml"}}},
	}
}

const someAsText = `The first row (first-row), by the limits of Ashgrove College

hand-in                                                  mark              hints
  anna.toml, AN                                        9 of 9      passed      0
  ben.toml, BE                                         7 of 9     not yet      2
    missed: nape: clear (2 findings; first height 40, slot 8 left: 22.1 mm from
      the nape hairline, at least 25.0 mm)
    its seal does not fit: it was changed after it was signed
  cora.toml                                                      not read
    line 3: this is not a number
  dora.toml                                            8 of 9     not yet
    taken off: only what may be touched is changed (the limits: this exercise
      leaves that as it is)
    the worked answer
  emil.toml, =EM                                               not marked
    this is for another exercise, "ponytail"

5 handed in: 1 passed, 2 not yet, 1 could not be read, 1 for another exercise;
mean mark 89 %

missed most often
  nape: clear                                                          by 2 of 3
  ear, height 60, slot 3 left: named, and nothing is wrong there       by 1 of 3

the same content, which honest work may have too
  anna.toml, ben.toml
  the start, untouched: 2 of them
`

func TestText(t *testing.T) {
	if got := some().Text(80); got != someAsText {
		t.Errorf("%s\nwant\n%s", got, someAsText)
	}
	got := (&Class{ID: "first-row", Title: "The first row"}).Text(80)
	if got != "The first row (first-row)\n\nNothing was handed in: there is no file in the folder that ends in .toml.\n" {
		t.Errorf("%q", got)
	}
}

// What an assessor has to know stands in the text: who signed, what was changed after that, who handed in twice, what was not looked at, and
// that limits are no fair measure by which the exercise's own answer does not pass.
func TestTextWarns(t *testing.T) {
	c := some()
	c.Task, c.Others, c.Unsolved = lesson.Fit, 3, "not yet: 5 of 6"
	c.HandIns[0].Assessor, c.HandIns[0].Unsealed = "Ruth", "its seal does not fit: it was changed after it was signed"
	c.HandIns[3].Learner = "an"
	text := strings.Join(strings.Fields(c.Text(80)), " ")
	for _, want := range []string{"own answer does not pass (not yet: 5 of 6)", "signed by Ruth its seal", "the worked answer not signed", "1 passed (1 changed after signing)",
		"not looked at: 3", "handed in more than once AN: anna.toml, dora.toml"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not said:\n%s", want, c.Text(80))
		}
	}
	plain := some().Text(80)
	for _, not := range []string{"own answer", "signed by", "not signed", "changed after signing", "not looked at", "more than once"} {
		if strings.Contains(plain, not) {
			t.Errorf("%q is said without cause:\n%s", not, plain)
		}
	}
}

func TestManyMissed(t *testing.T) {
	c := some()
	for i := range 20 {
		c.Missed = append(c.Missed, Missed{What: fmt.Sprintf("point %d", i), By: 1})
	}
	got := c.Text(80)
	if !strings.Contains(got, "point 9 ") || strings.Contains(got, "point 10 ") || !strings.Contains(got, "\n  and 10 more, no more often\n") {
		t.Errorf("%s", got)
	}
}

// Whatever the files and learners are called, no line is wider than the page, and all is safe to show.
func TestTextKeepsToThePage(t *testing.T) {
	rng := seeded(3)
	bits := []string{"oat ", "\x1b[31m", "山田 ", "a-very-long-name-without-a-blank-that-goes-on-and-on-", "=1+1", "\n", "\u202e", "Zoë "}
	text := func() string { // as the marker leaves them
		var b strings.Builder
		for range rng.IntN(9) {
			b.WriteString(bits[rng.IntN(len(bits))])
		}
		return printable.Line(b.String())
	}
	for range fewer(200, 40) {
		c := &Class{ID: text(), Title: text(), LimitsOf: text()}
		for range rng.IntN(8) {
			h := HandIn{File: text(), Learner: text(), State: []State{Passed, NotYet, Elsewhere, NotRead}[rng.IntN(4)], Why: text(), Met: rng.IntN(100), Of: 100, Hints: rng.IntN(1000)}
			h.First = Point{What: text(), Why: text(), Off: rng.IntN(2) == 0}
			c.HandIns = append(c.HandIns, h)
			c.Missed = append(c.Missed, Missed{What: text(), By: rng.IntN(9)})
			c.Same = append(c.Same, Same{Like: text(), Files: []string{text(), text()}})
		}
		for _, width := range []int{60, 80} {
			for line := range strings.Lines(c.Text(width)) {
				line = strings.TrimSuffix(line, "\n")
				if printable.Width(line) > width || !printable.Clean(line) {
					t.Fatalf("%q", line)
				}
			}
		}
	}
}

func TestCSV(t *testing.T) {
	var b strings.Builder
	if err := some().CSV(&b); err != nil {
		t.Fatal(err)
	}
	r := csv.NewReader(strings.NewReader(b.String()))
	rows, err := r.ReadAll()
	if err != nil || len(rows) != 6 {
		t.Fatal(rows, err)
	}
	cell := func(row int, column string) string {
		for i, name := range rows[0] {
			if name == column {
				return rows[row][i]
			}
		}
		t.Fatalf("no column %s", column)
		return ""
	}
	for _, want := range []struct {
		row          int
		column, text string
	}{
		{1, "file", "anna.toml"}, {1, "learner", "AN"}, {1, "date", "2026-03-02"}, {1, "state", "passed"}, {1, "met", "9"}, {1, "of", "9"}, {1, "share", "100.0"}, {1, "hints", "0"},
		{2, "share", "77.8"}, {2, "hints", "2"}, {2, "first_missed", "nape: clear"}, {2, "found", some().HandIns[1].First.Why}, {2, "assessor", "JK"},
		{2, "seal", "its seal does not fit: it was changed after it was signed"},
		{3, "state", "not read"}, {3, "met", ""}, {3, "hints", ""}, {3, "reason", "line 3: this is not a number"},
		{4, "hints", ""}, {4, "like", "the worked answer"}, {4, "met", "8"},
		{5, "learner", "'=EM"}, {5, "state", "not marked"}, {5, "of", ""}, {5, "hints", ""},
	} {
		if got := cell(want.row, want.column); got != want.text {
			t.Errorf("row %d, %s: %q, want %q", want.row, want.column, got, want.text)
		}
	}
	if strings.Count(b.String(), "\r\n") != len(rows) {
		t.Error("the lines do not end as RFC 4180 has it")
	}
}

func TestJSON(t *testing.T) {
	var b strings.Builder
	if err := some().JSON(&b); err != nil {
		t.Fatal(err)
	}
	var all map[string]any
	if err := json.Unmarshal([]byte(b.String()), &all); err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]any{"format": 1.0, "exercise": "first-row", "title": "The first row", "limits_of": "Ashgrove College", "handed_in": 5.0,
		"passed": 1.0, "not_yet": 2.0, "not_read": 1.0, "other_exercise": 1.0} {
		if got := all[name]; got != want {
			t.Errorf("%s: %v, want %v", name, got, want)
		}
	}
	if mean := all["mean_share"].(float64); math.Abs(mean-(100+700.0/9+800.0/9)/3) > 1e-9 {
		t.Errorf("mean share %v", mean)
	}
	hand := func(i int) map[string]any { return all["hand_ins"].([]any)[i].(map[string]any) }
	for i, keys := range []string{"date file hints learner met of points share state", "assessor file hints learner met next of points seal share state",
		"file reason state", "file like met of points share state", "file learner reason state"} {
		var names []string
		for _, name := range strings.Fields(keys) {
			if _, there := hand(i)[name]; there {
				names = append(names, name)
			}
		}
		if got := strings.Join(names, " "); got != keys || len(hand(i)) != len(names) {
			t.Errorf("hand-in %d: %v", i, hand(i))
		}
	}
	points := hand(1)["points"].([]any)
	if len(points) != 2 || points[0].(map[string]any)["met"] != false || points[0].(map[string]any)["why"] != some().HandIns[1].First.Why || hand(1)["met"] != 7.0 {
		t.Errorf("%v", points)
	}
	if missed := all["missed"].([]any)[1].(map[string]any); missed["by"] != 1.0 || missed["of"] != 3.0 || missed["wrongly"] != true {
		t.Errorf("%v", missed)
	}
	if same := all["same"].([]any); len(same) != 2 || len(same[0].(map[string]any)["files"].([]any)) != 2 {
		t.Errorf("%v", same)
	}
	var none strings.Builder
	if err := (&Class{}).JSON(&none); err != nil || !strings.Contains(none.String(), `"hand_ins": []`) || strings.Contains(none.String(), "mean_share") {
		t.Errorf("%s, %v", none.String(), err)
	}
}
