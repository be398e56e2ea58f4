package tui

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/underveil/internal/hold"
	"example.org/underveil/internal/progress"
	"example.org/underveil/internal/sheetfile"
)

// nowhereToKeep is an editor with an exercise, on a machine where nothing that learners make can be kept.
func nowhereToKeep(t testing.TB) *editor {
	t.Helper()
	folder := filepath.Join(t.TempDir(), "learners")
	e := start(t, setup{})
	e.m.opts.Lessons.Progress = progress.Folder(folder)
	e.practises("place")
	if err := os.WriteFile(folder, nil, 0o600); err != nil { // where a folder would be made
		t.Fatal(err)
	}
	return e
}

// What is kept nowhere is not left unasked, and can be handed in.
func TestLeavingWhatCantBeKept(t *testing.T) {
	e := nowhereToKeep(t)
	e.press("q")
	if !e.quit {
		t.Fatal("nothing was done, and leaving asks")
	}
	for _, keys := range []string{"q", "ctrl+n", "ctrl+o"} {
		e = nowhereToKeep(t)
		e.press("r")
		e.says("can't be kept on this machine")
		e.press(keys)
		e.says("not kept")
		if e.quit {
			t.Fatalf("%s has left it", keys)
		}
		e.press("Esc")
		if e.m.doc.practice == nil {
			t.Fatalf("%s has closed it", keys)
		}
	}
	e.press("q", "l")
	if !e.quit {
		t.Error("it can't be left all the same")
	}

	e = nowhereToKeep(t)
	e.press("r", "q", "h", "Enter")
	e.says("handed in as")
	e.press("q")
	if !e.quit {
		t.Error("what was handed in is asked about")
	}

	e = nowhereToKeep(t)
	e.press("r", "q", "h", "Enter", "u", "q")
	e.says("not kept")
}

// So it is with what goes on from work that can't be read, which stays as it is.
func TestLeavingWhatGoesOnFromNothing(t *testing.T) {
	folder := progress.Folder(t.TempDir())
	path := folder.File("ML", exerciseOf(t, "place"))
	if err := os.MkdirAll(path, 0o700); err != nil { // no file, and no nothing
		t.Fatal(err)
	}
	e := start(t, setup{})
	e.m.opts.Lessons.Progress = folder
	e.practises("place")
	e.press("r", "q")
	e.says("not kept")
}

// Nor does the dialogue end as if nothing were lost.
func TestTheInputEndsOverWhatCantBeKept(t *testing.T) {
	e := nowhereToKeep(t)
	var said strings.Builder
	p := newPlain(&said, e.m.opts)
	p.begin(&Opened{Practice: true, Exercise: exerciseOf(t, "place"), Learner: "ML"})
	p.line("paint")
	if err := p.ended("the input ended"); !errors.Is(err, ErrNotSaved) || !strings.Contains(said.String(), "can't be kept on this machine, and was not handed in") {
		t.Errorf("%v, said\n%s", err, said.String())
	}
}

// Once it can be kept, leaving does not ask any more.
func TestKeptAtLast(t *testing.T) {
	e := nowhereToKeep(t)
	e.press("r")
	folder := e.m.opts.Lessons.Progress
	if err := os.Remove(string(folder)); err != nil {
		t.Fatal(err)
	}
	e.press("u", "r", "q")
	if !e.quit {
		t.Fatalf("leaving asks:\n%s", e.m.Screen())
	}
	a, err := folder.Take(exerciseOf(t, "place"), "ML")
	if err != nil || len(a.Sheet.Rows) != 1 {
		t.Errorf("kept: %+v, %v", a, err)
	}
}

// An exercise that another window has open goes on there: here nothing is kept, and what is kept there is not written over.
func TestAnExerciseInTwoWindows(t *testing.T) {
	first := practising(t, "place", setup{})
	first.press("r")
	folder := first.m.opts.Lessons.Progress
	x := exerciseOf(t, "place")
	want, err := folder.Take(x, "ML")
	if err != nil {
		t.Fatal(err)
	}
	second := start(t, setup{})
	second.m.opts.Lessons.Progress = folder
	second.disk.elsewhere[folder.File("ML", x)] = &hold.Taken{}
	second.practises("place")
	second.says("open in another window")
	second.press("u", "Up", "Up", "r", "q")
	second.says("not kept")
	second.press("l")
	if got, err := folder.Take(x, "ML"); err != nil || !second.quit || string(sheetfile.Encode(got.Sheet)) != string(sheetfile.Encode(want.Sheet)) {
		t.Errorf("left %v; kept: %+v, %v", second.quit, got, err)
	}
}
