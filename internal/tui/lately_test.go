package tui

import (
	"slices"
	"testing"
	"time"
)

// What comes late must not undo what was done meanwhile.

// A sheet that takes its time to load does not throw away what was done while it did.
func TestASheetThatArrivesLate(t *testing.T) {
	kept, d := t.TempDir(), folder2(t)
	e := opened(t, d, "one.toml", kept)
	arriving := e.m.Open("two.toml")
	msg := arriving() // it has been read, and the editor does not know yet
	e.press("space")
	mine := e.encoded()
	e.send(msg)
	e.says("not saved")
	if e.encoded() != mine || e.m.doc.path != "one.toml" {
		t.Fatal("what was done is gone")
	}
	wantLogs(t, kept, 1)
	e.press("Esc")
	if d.holds["two.toml"] != 0 || d.holds["one.toml"] != 1 {
		t.Errorf("held: %v", d.holds)
	}
	e.send(e.m.Open("two.toml")())
	e.says("sheet two.toml") // asked for again, there is nothing to wait for
}

// A save that hung does not take the sheet back to the file that it was given up for.
func TestASaveThatComesLate(t *testing.T) {
	e := start(t, setup{disk: folder2(t)})
	e.send(e.m.Open("one.toml")())
	d := e.disk
	e.press("space")
	hanging := e.deliver(mustKey(t, "ctrl+s"))
	e.press("S")
	e.write("near.toml")
	e.press("Enter", "Up", "space", "ctrl+s")
	e.says("saved to near.toml")
	e.run(hanging)
	e.says("saved to one.toml as well")
	if e.m.doc.path != "near.toml" || e.m.doc.changed() {
		t.Errorf("the sheet belongs to %s, changed %v", e.m.doc.path, e.m.doc.changed())
	}
	if d.holds["near.toml"] != 1 || d.holds["one.toml"] != 0 {
		t.Errorf("held: %v", d.holds)
	}
	e.press("Up", "space", "ctrl+s")
	if string(d.held["near.toml"]) != e.encoded() {
		t.Error("it is saved elsewhere")
	}
}

// What something else writes is not taken in unasked where that would end what can be made again, or drop what was left unfinished.
func TestNothingIsTakenInOverWhatCanBeMadeAgain(t *testing.T) {
	e := watched(t)
	e.press("space", "u")
	e.elsewhere("theirs")
	e.says("what can be made again here")
	e.press("k", "U")
	if len(e.steps()) != 1 {
		t.Errorf("steps: %q", e.steps())
	}
	e.press("u", "q") // as the file was, and it is no longer so
	e.says("not saved")

	kept, d := t.TempDir(), folder(t, "one.toml")
	e = opened(t, d, "one.toml", kept)
	e.press("space")
	e.crash()
	e = opened(t, d, "one.toml", kept)
	e.press("t", "u")
	e.elsewhere("theirs")
	e.says("the file has changed")
	wantLogs(t, kept, 1)
}

// A file that is there and can't be read is not saved over unasked: nobody knows what is in it.
func TestAFileThatCantBeRead(t *testing.T) {
	e := watched(t)
	files := e.m.opts.Files
	e.m.opts.Files.Stamp = func(string) string { return "" }
	e.press("space", "ctrl+s")
	e.says("that file has changed")
	e.press("Esc")
	e.m.opts.Files = files
	e.press("ctrl+s")
	e.says("saved to one.toml")
}

// When it is told that a sheet is saved it stands among those open lately: whoever reads that may leave at once.
func TestWhatIsSavedIsOpenLately(t *testing.T) {
	e := start(t, setup{disk: folder(t, "one.toml")})
	e.send(e.m.Open("one.toml")())
	e.press("space")
	e.disk.opened = nil
	saved := e.deliver(mustKey(t, "ctrl+s"))()
	if !slices.Equal(e.disk.opened, []string{"one.toml"}) {
		t.Errorf("open lately: %q", e.disk.opened)
	}
	if after := e.deliver(saved); after != nil {
		t.Error("something is left to do")
	}
	e.says("saved to one.toml")
	if e.m.doc.changed() || len(e.m.doc.saving) > 0 {
		t.Error("it is not done")
	}
}

// A hand-in that would replace a file asks whoever is still at that exercise, and nobody else.
func TestAHandInThatComesLate(t *testing.T) {
	e := practising(t, "place", setup{})
	e.press("r")
	e.disk.held["ml.toml"] = []byte("theirs")
	late := e.m.handInTo("ml.toml", false)()
	e.practises("find")
	e.send(late)
	e.says("is there already, and was left as it is")
	e.press("r", "Esc")
	if string(e.disk.held["ml.toml"]) != "theirs" {
		t.Errorf("ml.toml is\n%s", e.disk.held["ml.toml"])
	}
}

// Leaving that waits for a hand-in has not left when that fails.
func TestLeavingThatWaits(t *testing.T) {
	e := practising(t, "place", setup{})
	e.press("r")
	handing := e.m.handInTo("ml.toml", false)
	e.press("q")
	path := e.m.opts.Lessons.Progress.File("ML", e.m.doc.practice.x)
	if e.quit || e.disk.holds[path] != 1 {
		t.Fatalf("left %v, held %d times", e.quit, e.disk.holds[path])
	}
	e.disk.held["ml.toml"] = []byte("theirs")
	e.run(handing)
	if e.quit || e.disk.holds[path] != 1 {
		t.Errorf("left %v, held %d times", e.quit, e.disk.holds[path])
	}
}

// A key that was typed for the map as a question comes up by itself does not answer it.
func TestAKeyForSomethingElse(t *testing.T) {
	e := watched(t)
	e.m.opts.Grace = time.Hour
	e.press("space")
	mine := e.encoded()
	e.elsewhere("theirs")
	theirs := string(e.disk.held["one.toml"])
	e.press("t", "k", "b")
	e.says("the file has changed")
	e.press("Esc", "ctrl+s", "r")
	e.says("that file has changed")
	if e.encoded() != mine || string(e.disk.held["one.toml"]) != theirs {
		t.Error("it was answered")
	}
	e.m.opts.Grace = 0
	e.press("r")
	e.says("saved to one.toml")
	e.m.opts.Grace = time.Hour // what a key has led to is answered at once
	e.press("u", "q", "l")
	if !e.quit {
		t.Error("leaving is not answered")
	}
}
