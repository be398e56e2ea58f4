package sheetfile

import (
	"fmt"
	"path/filepath"
	"strings"

	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// LoadExercise reads the exercise in a file. Its error is as that of Load.
func LoadExercise(path string) (*lesson.Exercise, []Notice, error) {
	data, bad := read(&exerciseFile, path)
	if bad != nil {
		return nil, nil, Errors{bad}
	}
	return DecodeExercise(path, data)
}

// DecodeExercise reads an exercise. name is the name of the file, for messages and for its ID. Whether it can be solved is for
// lesson.Check to say. The error is an Errors with all that is wrong, each with its place.
func DecodeExercise(name string, data []byte) (*lesson.Exercise, []Notice, error) {
	t, bad := openLesson(&exerciseFile, name, data)
	if bad != nil {
		return nil, nil, Errors{bad}
	}
	x := &lesson.Exercise{ID: ExerciseID(name), Findings: lesson.Live}
	t.exercise(x)
	if err := t.finish(); err != nil {
		return nil, nil, err
	}
	return x, t.notices, nil
}

// ExerciseID is the ID of the exercise in a file: its name without the ending, and without a number before it that puts exercises
// in their order. It is safe to show.
func ExerciseID(path string) string {
	name := filepath.Base(filepath.ToSlash(path))
	if ending := filepath.Ext(name); ending != name {
		name = strings.TrimSuffix(name, ending)
	}
	name = printable.Line(name)
	if bare := strings.TrimLeft(name, "0123456789"); len(bare) > 1 && bare != name && bare[0] == '-' {
		return bare[1:]
	}
	return name
}

func (t table) exercise(x *lesson.Exercise) {
	if !t.isReadable("exercise") {
		return
	}
	t.checkKeys()
	t.needTop("exercise", "the exercise has no title")
	t.need("task", "brief")
	t.text("exercise", &x.Title)
	word(t, "task", lesson.Tasks, &x.Task)
	t.notes("brief", &x.Brief)
	t.notes("who", &x.Who)
	t.notes("ending", &x.Ending)
	word(t, "findings", lesson.Showings, &x.Findings)
	words(t, "may", lesson.Parts(), &x.May)
	words(t, "clear", clearWords(), &x.Clear)
	t.whole("most_strands", bounds{1, 2000, " strands"}, &x.MostStrands)
	number(t, "tolerance", bounds{0.5, 30, " mm"}, &x.Tolerance)
	t.countsFor(x.Task)
	x.Start = t.sheetIn("start")
	x.Answer = t.answer(x.Start)
	t.counted(x)
}

// clearWords are what may stand in clear.
func clearWords() []string {
	all := []string{lesson.AllStops, lesson.AllCautions}
	for _, r := range rule.All {
		all = append(all, r.ID)
	}
	return all
}

// countsFor reports what does not count for a task, and would be passed over.
func (t table) countsFor(task lesson.Task) {
	only := func(counts bool, remedy string, keys ...string) {
		for _, key := range keys {
			if !counts && t.has(key) {
				shown := inWords(key)
				if t.isTable(key) {
					shown = t.heading(key)
				}
				t.reader.fail(t.at(key).key, fmt.Sprintf("%s does not count where the task is %q", shown, task), remedy)
			}
		}
	}
	if task == "" {
		return // which is reported
	}
	only(task == lesson.Find, `write task = "find", or take it out`, "fault")
	only(task == lesson.Fit, `write task = "fit", or take it out`, "tolerance")
	only(task != lesson.Find, "take it out: what counts is each "+t.heading("fault"), "clear", "most_strands", "target")
}

// answer reads the sheet of the answer, which is the start where nothing is said; nil if it is not right.
func (t table) answer(start *sheet.Sheet) *sheet.Sheet {
	answer, ok := t.sub("answer")
	if !ok || start == nil {
		return start
	}
	from, wrong := draftOf(start)
	if wrong != nil {
		t.failHere("the start cannot be read again", "take the answer out")
		return nil
	}
	to, _, ok := answer.nestedChanges("changes", from)
	if !ok {
		return nil
	}
	return to.sheet
}

// counted reads what is counted, hints and faults.
func (t table) counted(x *lesson.Exercise) {
	on := x.Start
	if on == nil { // which is reported
		on = sheet.New(scalp.Measures{})
	}
	for _, t := range t.list("target") {
		target := t.target(on)
		x.Targets = append(x.Targets, target)
		t.knownShade(target, x)
	}
	for _, t := range t.list("hint") {
		x.Hints = append(x.Hints, t.hint(on, len(x.Targets)))
	}
	first := map[sheet.Concern]int{}
	for _, t := range t.list("fault") {
		if c, ok := t.onSlot(on); ok {
			again(t, "rule", c, first, "this fault is listed", "take one of the two out")
			x.Faults = append(x.Faults, c)
		}
	}
}

// again reports what was there before. first is the line of the file that has it, of all so far.
func again[T comparable](t table, key string, it T, first map[T]int, problem, remedy string) {
	line, _ := t.lineAt(t.at(key).value.from)
	if other, known := first[it]; known {
		t.fail(key, fmt.Sprintf("%s already, on line %d", problem, other), remedy)
		return
	}
	first[it] = line
}

// onSlot reads a rule and the slot that it is about.
func (t table) onSlot(on *sheet.Sheet) (sheet.Concern, bool) {
	c := sheet.Concern{On: sheet.OnSlot}
	ok := t.need("rule", "slot")
	ok = t.ruleID("rule", &c.Rule) && ok
	spot := t.spot(on)
	if spot == nil {
		t.needPlace()
		return c, false
	}
	c.Row, c.Slot = spot.At, spot.Slot
	return c, ok
}

// needPlace reports a table without the place of a row, where it is not reported that its slot has none.
func (t table) needPlace() {
	if !t.has("height") && !t.has("along") && !t.has("slot") {
		t.failHere(t.heading(t.name)+" does not say where it is", "add lines like "+t.sample(t.name, "height")+" and "+t.sample(t.name, "slot"))
	}
}
