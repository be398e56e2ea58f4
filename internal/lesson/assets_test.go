package lesson_test

import (
	"bytes"
	"fmt"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"

	"example.org/underveil/assets"
	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
)

// shipped is an exercise that comes with the program.
type shipped struct {
	*lesson.Exercise
	file string
	data []byte
}

// judge marks attempts at it.
func (x shipped) judge() *lesson.Judge { return &lesson.Judge{Exercise: x.Exercise} }

// allShipped are the exercises that come with the program, in the order in which they are offered.
func allShipped(t *testing.T) []shipped {
	t.Helper()
	entries, err := assets.Exercises.ReadDir("exercises")
	if err != nil {
		t.Fatal(err)
	}
	var all []shipped
	for _, e := range entries {
		data, err := assets.Exercises.ReadFile(path.Join("exercises", e.Name()))
		if err != nil {
			t.Fatal(err)
		}
		x, notices, err := sheetfile.DecodeExercise(e.Name(), data)
		if err != nil || len(notices) > 0 {
			t.Fatalf("%s: %v %v", e.Name(), notices, err)
		}
		all = append(all, shipped{x, e.Name(), data})
	}
	return all
}

// those are the exercises of a task, each as a test of its own.
func those(t *testing.T, task lesson.Task, test func(*testing.T, shipped)) {
	n := 0
	for _, x := range allShipped(t) {
		if x.Task != task {
			continue
		}
		if n++; testing.Short() && n%3 != 1 {
			continue
		}
		t.Run(x.ID, func(t *testing.T) { test(t, x) })
	}
	if n == 0 {
		t.Errorf("there is no exercise to %s", task)
	}
}

// Every exercise stands in its file as it is written, and reads as the same sheets again.
func TestShippedExercisesAreWrittenAsTheyStand(t *testing.T) {
	for _, x := range allShipped(t) {
		again := sheetfile.EncodeExercise(x.Exercise)
		if !bytes.Equal(again, x.data) {
			t.Errorf("%s: written again it is another file", x.file)
		}
		y, _, err := sheetfile.DecodeExercise(x.file, again)
		if err != nil {
			t.Errorf("%s: %v", x.file, err)
			continue
		}
		for _, two := range [][2]*sheet.Sheet{{x.Start, y.Start}, {x.Answer, y.Answer}} {
			if !bytes.Equal(sheetfile.Encode(two[0]), sheetfile.Encode(two[1])) {
				t.Errorf("%s: read again its start or its answer is another sheet", x.file)
			}
		}
	}
}

// Every exercise can be solved: its answer passes, its start does not, and each hint is true of the start.
func TestShippedExercisesHold(t *testing.T) {
	for _, x := range allShipped(t) {
		for _, problem := range x.judge().Check() {
			t.Errorf("%s: %s", x.file, problem)
		}
	}
}

// There are enough of them, numbered without a gap, each under a name of its own, of every task; and what the rules find is
// seen all the time in the first, then when it is asked for, and in the last not before the mark.
func TestShippedExercisesMakeACourse(t *testing.T) {
	all := allShipped(t)
	if len(all) < 15 {
		t.Errorf("%d exercises are no course from the first row to a refit", len(all))
	}
	seen, tasks, latest := map[string]bool{}, map[lesson.Task]int{}, 0
	for i, x := range all {
		if number := fmt.Sprintf("%02d-", i+1); x.file != number+x.ID+".toml" {
			t.Errorf("%s is not named %s%s.toml", x.file, number, x.ID)
		}
		for _, name := range []string{"id " + x.ID, "title " + x.Title} {
			if seen[name] {
				t.Errorf("%s: %s is there twice", x.file, name)
			}
			seen[name] = true
		}
		tasks[x.Task]++
		if x.Task == lesson.Place {
			at := slices.Index(lesson.Showings, x.Findings)
			if at < latest {
				t.Errorf("%s: the rules are shown more freely than in the exercises before it", x.file)
			}
			latest = at
		}
		seen["findings "+string(x.Findings)] = true
	}
	if tasks[lesson.Find] < 3 || tasks[lesson.Fit] < 2 {
		t.Errorf("%d sheets with faults and %d training heads, at least 3 and 2", tasks[lesson.Find], tasks[lesson.Fit])
	}
	for _, showing := range lesson.Showings {
		if !seen["findings "+string(showing)] {
			t.Errorf("in no exercise findings are shown %s", showing)
		}
	}
}

// untaught are the rules that no exercise is about.
var untaught = map[string]string{
	"face":       "by the usual limits the zones of the temple and the fringe reach further",
	"total-load": "hair so short and thin that an ordinary plan is too heavy as a whole is rare",
}

// Every other rule is one that counts, one that a hint speaks of, or one to find.
func TestShippedExercisesTeachEveryRule(t *testing.T) {
	taught := map[string]bool{}
	for _, x := range allShipped(t) {
		for _, id := range x.Clear {
			taught[id] = true
		}
		for _, h := range x.Hints {
			taught[h.Rule] = true
		}
		for _, f := range x.Faults {
			taught[f.Rule] = true
		}
	}
	for _, r := range rule.All {
		if why, not := untaught[r.ID]; not == taught[r.ID] {
			t.Errorf("%s: taught: %v; left out: %q", r.ID, taught[r.ID], why)
		}
	}
}

// typed is a measure written into a text, which a limit or a change of the sheet would make wrong.
var typed = regexp.MustCompile(`\d\.\d|\d (mm|%|weeks|g)\b`)

// The figures in a hint are those of a finding, or of the target, at the start; none is typed.
func TestShippedHintsGiveFigures(t *testing.T) {
	for _, x := range allShipped(t) {
		j := x.judge()
		rep, table, err := j.Report(x.Start)
		if err != nil {
			t.Fatal(err)
		}
		for i, h := range x.Hints {
			text, err := j.HintText(i, j.Exercise.Start)
			if err != nil {
				t.Errorf("%s: hint %d: %v", x.file, i+1, err)
				continue
			}
			var could []string
			if h.Target > 0 {
				target := x.Targets[h.Target-1]
				could = append(could, filled(h.Text, fmt.Sprint(target.Value(j.Under(x.Start), table)), target.Range(), ""))
			}
			for _, f := range rep.Findings {
				here := h.On == nil && h.At == nil || h.On != nil && *h.On == f.Row || h.At != nil && *h.At == (sheet.Spot{At: f.Row, Slot: f.Slot})
				measured := f.Unit != "" || !strings.Contains(h.Text, "{value}")
				if f.Rule == h.Rule && here && measured {
					could = append(could, filled(h.Text, fmt.Sprintf("%.1f", f.Value), fmt.Sprintf("%.1f", f.Limit), f.Where()))
				}
			}
			if figure := typed.FindString(h.Text); figure != "" {
				t.Errorf("%s: hint %d has a figure of its own, %s", x.file, i+1, figure)
			}
			if !slices.Contains(could, text) {
				t.Errorf("%s: hint %d is %q, and true would be\n%s", x.file, i+1, text, strings.Join(could, "\n"))
			}
		}
	}
}

func filled(text, value, limit, where string) string {
	return strings.NewReplacer("{value}", value, "{limit}", limit, "{where}", where).Replace(text)
}
