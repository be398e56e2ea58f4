package tui

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
)

// exerciseOf reads an exercise of testdata/editor.
func exerciseOf(t testing.TB, name string) *lesson.Exercise {
	t.Helper()
	path := fixtures + "/exercises/" + name + ".toml"
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	x, _, err := sheetfile.DecodeExercise(path, data)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// practises opens an exercise of testdata/editor for a learner.
func (e *editor) practises(name string) {
	e.t.Helper()
	e.m.beginPractice(exerciseOf(e.t, name), "ML")
	e.send(nil)
}

// practising is an editor in which an exercise is open.
func practising(t testing.TB, name string, s setup) *editor {
	e := start(t, s)
	e.practises(name)
	return e
}

// The exercises that the fixtures use can be solved, as those can that come with the program.
func TestFixtureExercisesAreSound(t *testing.T) {
	for _, name := range []string{"place", "asked", "find", "fit"} {
		j := &lesson.Judge{Exercise: exerciseOf(t, name)}
		for _, problem := range j.Check() {
			t.Errorf("%s: %s", name, problem)
		}
	}
}

// What was made is there again in another session, step by step, with hints and marks; and steps can be taken back then.
func TestPracticeGoesOn(t *testing.T) {
	for _, c := range []struct{ name, keys string }{{"place", "Up r A h Esc space A m Esc"}, {"find", "Right Right Right J n a Enter A m Esc"}, {"fit", "F space d 2 Enter x Esc"}} {
		name := c.name
		disk, folder := newDisk(), t.TempDir()
		begin := func() *editor {
			e := start(t, setup{disk: disk})
			e.m.opts.Lessons = disk.lessons(folder)
			e.practises(name)
			return e
		}
		first := begin()
		first.press(strings.Fields(c.keys)...)
		p, d := first.m.doc.practice, first.m.doc
		second := begin()
		q, again := second.m.doc.practice, second.m.doc
		if first.encoded() != second.encoded() {
			t.Errorf("%s: the sheet is another one:\n%s\nwant\n%s", name, second.encoded(), first.encoded())
		}
		if q.hints != p.hints || len(q.marks) != len(p.marks) {
			t.Errorf("%s: %d hints and %d marks, want %d and %d", name, q.hints, len(q.marks), p.hints, len(p.marks))
		}
		if want, got := d.sheet().Tried, again.sheet().Tried; !got.Same(want) || !want.Any() && name != "place" {
			t.Errorf("%s: marked, seen and off are %v, want %v", name, got, want)
		}
		for i := range p.marks {
			if q.marks[i] != p.marks[i] {
				t.Errorf("%s: mark %d is %v, want %v", name, i, q.marks[i], p.marks[i])
			}
		}
		if got, want := again.history.Steps(), d.history.Steps(); !slices.Equal(got, want) {
			t.Errorf("%s: the steps are %q, want %q", name, got, want)
		}
		for len(d.history.Steps()) > 0 { // and each of them can be taken back
			first.press("u")
			second.press("u")
			if first.encoded() != second.encoded() || !again.sheet().Tried.Same(d.sheet().Tried) {
				t.Fatalf("%s: after a step back it is\n%s%v\nwant\n%s%v", name, second.encoded(), again.sheet().Tried, first.encoded(), d.sheet().Tried)
			}
		}
	}
}

// Where findings are hidden no key and no page tells them, and asking or marking shows them until something changes.
func TestHiddenFindings(t *testing.T) {
	e := practising(t, "asked", setup{})
	e.at(height(10), 0)
	e.press("space")
	if got := e.m.Screen().String(); strings.Contains(got, "nape hairline") || !strings.Contains(got, "the rules are silent") {
		t.Errorf("a hidden finding shows:\n%s", got)
	}
	e.press("n", "e", "f")
	if len(e.m.dialogs) > 0 || e.m.doc.sheet().Bonds() != 1 {
		t.Errorf("a key works on findings that are hidden:\n%s", e.m.Screen())
	}
	e.press("G")
	e.says("nape hairline")
	e.press("Right")
	e.says("1 stop")
	e.press("space")
	e.says("the rules are silent")
	e.press("A", "m")
	e.press("Esc")
	e.says("stop")
}

// An exercise that takes no key leaves its sheet as it is, whatever is tried.
func TestExerciseIsGuarded(t *testing.T) {
	e := practising(t, "place", setup{})
	before := e.encoded()
	for _, keys := range [][]string{{"z", "Right"}, {"P", "Enter"}, {"R"}, {"k", "Tab", "x", "Enter"}, {"F"}} {
		e.press(keys...)
		e.press("Esc", "Esc")
		e.m.dialogs = nil
		if got := e.encoded(); got != before {
			t.Fatalf("%v changes what the exercise leaves as it is:\n%s", keys, got)
		}
	}
}

// The mark on the page is that of the judge for what would be handed in.
func TestMarkIsTheJudges(t *testing.T) {
	e := practising(t, "place", setup{})
	e.press("Up", "r", "A", "m")
	page, ok := e.m.dialogs[0].(*markPage)
	if !ok {
		t.Fatalf("%T is in front", e.m.dialogs[0])
	}
	e.press("s")
	e.press("Enter")
	data := e.disk.held["ml-place.toml"]
	if data == nil {
		t.Fatalf("nothing was handed in: %v\n%s", e.disk.held, e.m.Screen())
	}
	a, _, err := sheetfile.DecodeAttempt("handed.toml", data)
	if err != nil {
		t.Fatal(err)
	}
	if a.Learner != "ML" || a.Exercise != "place" || len(a.Steps) > 0 {
		t.Errorf("handed in: %+v", a)
	}
	mark, err := (&lesson.Judge{Exercise: exerciseOf(t, "place")}).Mark(a)
	if err != nil || mark.Summary() != page.mark.Summary() || mark.Next != page.mark.Next {
		t.Errorf("the judge says %s, %s (%v), the page %s, %s", mark.Summary(), mark.Next, err, page.mark.Summary(), page.mark.Next)
	}
}

// A signature holds for the work as it was signed, and goes when that changes.
func TestSignatureGoesWithChanges(t *testing.T) {
	e := practising(t, "fit", setup{})
	e.press("F", "r", "Enter", "g")
	e.write("JK")
	e.press("Enter")
	p := e.m.doc.practice
	if p.signed.Assessor != "JK" || p.signed.Seal == "" {
		t.Fatalf("signed: %+v\n%s", p.signed, e.m.Screen())
	}
	e.m.opts.Today = func() time.Time { return today.AddDate(0, 0, 3) } // it is handed in later
	a := p.attempt(e.m.doc, e.m.opts.Today())
	if sheetfile.Seal(a) != a.Seal {
		t.Error("the seal does not fit what would be handed in")
	}
	again := start(t, setup{}) // and it is still signed when the work is taken up again
	again.m.opts.Lessons = e.m.opts.Lessons
	again.practises("fit")
	again.press("Right")
	if a := again.m.doc.practice.attempt(again.m.doc, again.m.opts.Today().AddDate(0, 0, 5)); a.Assessor != "JK" || sheetfile.Seal(a) != a.Seal {
		t.Errorf("taken up again: %+v", a.Signed)
	}
	for _, keys := range [][]string{{"u"}, {"A", "h", "Esc"}} {
		signed := *p
		e.press(keys...)
		e.says("signature of JK is gone")
		if p.signed != (lesson.Signed{}) || p.attempt(e.m.doc, today).Date != "2026-04-07" {
			t.Errorf("%v: still signed after a change: %+v", keys, p.signed)
		}
		p.signed, p.sealed, p.date, p.sealedHints = signed.signed, e.m.doc.sheet(), signed.date, p.hints
	}
}

// Whoever leaves while a hand-in is being written waits for it; and is told where it did not come to be.
func TestLeavingWaitsForTheHandIn(t *testing.T) {
	for _, trouble := range []error{nil, errors.New("the disk is full")} {
		e := practising(t, "place", setup{})
		e.disk.trouble = trouble
		e.press("ctrl+s")
		msg, err := keyMsg("Enter")
		if err != nil {
			t.Fatal(err)
		}
		write := e.deliver(msg)
		e.press("q")
		if e.quit {
			t.Fatal("left before it was written")
		}
		e.run(write)
		if e.quit != (trouble == nil) {
			t.Errorf("with %v: left %v\n%s", trouble, e.quit, e.m.Screen())
		}
		if trouble != nil {
			e.says("the disk is full")
		}
	}
}

// Of two writings of the same work the later one stays, whichever comes to an end last; and leaving writes what no command has.
func TestTheLatestWorkIsKept(t *testing.T) {
	e := practising(t, "place", setup{})
	step := func() tea.Cmd {
		msg, err := keyMsg("space")
		if err != nil {
			t.Fatal(err)
		}
		return e.deliver(msg)
	}
	first := step()
	e.press("Right", "Right")
	second := step()
	e.run(second)
	e.run(first)
	kept := func() int {
		a, err := e.m.opts.Lessons.Progress.Take(exerciseOf(t, "place"), "ML")
		if err != nil || a == nil {
			t.Fatal(a, err)
		}
		return a.Sheet.Bonds()
	}
	if n := kept(); n != 2 {
		t.Errorf("%d bonds are kept, want 2", n)
	}
	e.press("Right", "Right")
	_ = step() // its command is never run
	e.press("q")
	if n := kept(); n != 3 {
		t.Errorf("%d bonds are kept after leaving, want 3", n)
	}
}

// It is kept, and handed in, that an answer was looked at before the exercise was passed.
func TestAnswerLeavesATrace(t *testing.T) {
	e := practising(t, "place", setup{})
	e.press("A", "w", "w", "Esc", "Up", "r", "A", "m", "Esc")
	a, err := e.m.opts.Lessons.Progress.Take(exerciseOf(t, "place"), "ML")
	if err != nil || a == nil || !a.Answered || len(a.Marks) != 1 || !a.Marks[0].Answered || !a.Marks[0].Passed {
		t.Errorf("kept: %+v, %v", a, err)
	}
	fit := practising(t, "fit", setup{}) // there the plan is what is worked from
	fit.press("A", "w", "Esc")
	if fit.m.doc.practice.answered {
		t.Error("the plan of a training head counts as an answer")
	}
}

// However often work is marked, it can be read again, and the best mark stays.
func TestManyMarks(t *testing.T) {
	p := &practice{}
	p.addMark(lesson.Marked{On: "2026-01-01", Met: 9, Of: 9, Passed: true})
	for i := range 3 * mostMarks {
		p.addMark(lesson.Marked{On: fmt.Sprintf("day %d", i), Met: i % 5, Of: 9})
	}
	if len(p.marks) != mostMarks || !p.marks[0].Passed || p.marks[mostMarks-1].On != fmt.Sprintf("day %d", 3*mostMarks-1) {
		t.Errorf("%d marks, the first %v, the last %v", len(p.marks), p.marks[0], p.marks[len(p.marks)-1])
	}
}

// A folder takes what is handed in under the name that was offered.
func TestHandInToAFolder(t *testing.T) {
	e := practising(t, "place", setup{})
	folder := t.TempDir()
	for _, typed := range []string{folder, folder + "/"} {
		e.press("ctrl+s")
		e.write(typed)
		e.press("Enter")
		want := filepath.Join(folder, "ml-place.toml")
		if e.disk.held[want] == nil {
			t.Fatalf("%s: nothing at %s:\n%s", typed, want, e.m.Screen())
		}
		delete(e.disk.held, want)
	}
}

// A hand-in is looked at as it was handed in, with its mark; it is signed and handed in again over its own file, and not kept as practice.
func TestLookAtAHandIn(t *testing.T) {
	x := exerciseOf(t, "fit")
	made := x.Answer.With(func(c *sheet.Sheet) {
		for _, r := range x.Answer.Rows {
			for slot := range r.All() {
				c.Tried = c.Tried.WithSeen(sheet.Spot{At: r.Place, Slot: slot})
			}
		}
	})
	a := lesson.AttemptOf(x, made)
	a.Learner, a.Hints = "EVA", 1
	e := start(t, setup{})
	e.m.lookAtHandIn(x, a, "class/eva.toml")
	e.send(nil)
	e.press("A", "m")
	e.says("passed")
	e.press("g")
	e.write("JK")
	e.press("Enter", "ctrl+s", "Enter")
	again, _, err := sheetfile.DecodeAttempt("eva.toml", e.disk.held["class/eva.toml"])
	if err != nil {
		t.Fatalf("%v\n%s", err, e.m.Screen())
	}
	if again.Learner != "EVA" || again.Hints != 1 || again.Assessor != "JK" || again.Seal != sheetfile.Seal(again) || len(again.Seen) != len(a.Seen) {
		t.Errorf("handed in again: %+v", again)
	}
	if known := e.m.opts.Lessons.Progress.Learners(); len(known) > 0 {
		t.Errorf("kept as the practice of %q", known)
	}
}

// Until all faults are found the mark does not tell where the others are, neither on its page nor on the map.
func TestFaultsAreNotGivenAway(t *testing.T) {
	e := practising(t, "find", setup{})
	e.press("A", "m")
	e.says("1 fault still to be found")
	e.press("Esc")
	if got := e.m.Screen().String(); strings.Contains(got, "nape,") || strings.Contains(got, "╳") {
		t.Errorf("a fault is given away:\n%s", got)
	}
	e.press("Right", "Right", "Right", "J", "n", "a", "Enter", "A", "m")
	e.says("passed")
	e.says("nape, height 10")
}

// The points beside the map, which go by what the document has found already, are those of a judge who looks for himself.
func TestPointsBesideTheMap(t *testing.T) {
	for _, name := range []string{"place", "asked"} {
		e := practising(t, name, setup{})
		for _, key := range []string{"r", "space", "Up", "r", "Right", "space", "u", "Down", "Down", "space", "u", "U", "Delete"} {
			e.press(key)
			if name == "asked" {
				e.press("G")
			}
			p, s := e.m.doc.practice, e.m.doc.sheet()
			got, err := p.markOf(e.m.doc)
			if err != nil {
				t.Fatal(err)
			}
			want, err := (&lesson.Judge{Exercise: exerciseOf(t, name)}).Points(lesson.AttemptOf(p.x, s))
			if err != nil || len(got.Points) != len(want.Points) || got.Met != want.Met {
				t.Fatalf("%s, after %s: %+v, want %+v (%v)", name, key, got, want, err)
			}
			for i := range got.Points {
				if g, w := got.Points[i], want.Points[i]; g.What != w.What || g.Met != w.Met || g.Why != w.Why {
					t.Errorf("%s, after %s: %+v, want %+v", name, key, g, w)
				}
			}
		}
	}
}
