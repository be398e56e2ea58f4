package tui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

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
	for _, c := range []struct{ name, keys string }{{"place", "Up r A h Esc space A m"}, {"find", "Right Right Right J n a Enter A m"}, {"fit", "F space d 2 Enter x"}} {
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
		if want, got := d.sheet().Tried, again.sheet().Tried; !sameTried(d.sheet(), again.sheet()) || len(want.Marked)+len(want.Seen)+len(want.Off) == 0 && name != "place" {
			t.Errorf("%s: marked, seen and off are %v, want %v", name, got, want)
		}
		if len(again.history.Steps()) == 0 {
			t.Errorf("%s: there is no step to take back", name)
		}
	}
}

// Where findings are hidden no key and no page tells them, and asking or marking shows them until something changes.
func TestHiddenFindings(t *testing.T) {
	e := practising(t, "asked", setup{})
	e.at(height(10), 0)
	e.press("space")
	if got := e.m.Screen().String(); strings.Contains(got, "nape hairline") || !strings.Contains(got, "findings hidden") {
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
	e.says("findings hidden")
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
	a := p.attempt(e.m.doc, today)
	if sheetfile.Seal(a) != a.Seal {
		t.Error("the seal does not fit what would be handed in")
	}
	e.press("u")
	if p.signed != (lesson.Signed{}) {
		t.Errorf("still signed after a change: %+v", p.signed)
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
