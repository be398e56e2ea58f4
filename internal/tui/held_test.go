package tui

import (
	"errors"
	"strings"
	"testing"
	"time"

	"example.org/underveil/internal/hold"
)

// shared is an editor that has opened a sheet which another window has open.
func shared(t testing.TB) (*editor, *disk) {
	t.Helper()
	d := folder(t, "one.toml")
	d.elsewhere["one.toml"] = &hold.Taken{Since: today.Add(-time.Hour)}
	e := start(t, setup{disk: d})
	e.send(e.m.Open("one.toml")())
	e.says("open in another window")
	return e, d
}

func TestASheetIsHeldWhileItIsOpen(t *testing.T) {
	d := folder(t, "one.toml", "two.toml")
	e := start(t, setup{disk: d})
	want := func(after string, one, two int) {
		t.Helper()
		if d.holds["one.toml"] != one || d.holds["two.toml"] != two {
			t.Errorf("after %s: one is held %d times, two %d times; want %d and %d", after, d.holds["one.toml"], d.holds["two.toml"], one, two)
		}
	}
	e.send(e.m.Open("one.toml")())
	want("opening", 1, 0)
	e.send(e.m.Open("one.toml")())
	want("opening it again", 1, 0)
	e.press("space", "ctrl+s")
	want("saving", 1, 0)
	d.trouble = errors.New("there is no room on the disk")
	e.press("S")
	e.write("two.toml")
	e.press("Enter", "r", "Esc")
	want("a save to another file that failed", 1, 0)
	d.trouble = nil
	e.press("S")
	e.write("two.toml")
	e.press("Enter", "r")
	want("saving to another file", 0, 1)
	e.send(e.m.Open("one.toml")())
	want("opening another", 1, 0)
	d.held["one.toml"] = []byte("wrong")
	e.send(e.m.Open("one.toml")())
	e.press("Esc")
	want("opening what can't be read", 1, 0)
	e.press("q")
	want("leaving", 0, 0)
}

// A sheet that another window has open can be looked at and changed, and is not saved over unasked.
func TestOpenInAnotherWindow(t *testing.T) {
	e, d := shared(t)
	was := string(d.held["one.toml"])
	e.press("l", "space", "ctrl+s")
	e.says("open in another window")
	if string(d.held["one.toml"]) != was {
		t.Fatal("it was saved over unasked")
	}
	e.press("Esc", "q", "s")
	if e.quit || string(d.held["one.toml"]) != was {
		t.Fatal("leaving has saved over it unasked")
	}
	e.says("open in another window")
	e.press("Esc")
	now := e.encoded()
	delete(d.elsewhere, "one.toml") // that window was closed
	e.press("ctrl+s")
	e.says("saved to one.toml")
	if string(d.held["one.toml"]) != now || d.holds["one.toml"] != 1 {
		t.Errorf("held %d times, saved %v", d.holds["one.toml"], string(d.held["one.toml"]) == now)
	}
}

func TestSavedAllTheSame(t *testing.T) {
	e, d := shared(t)
	e.press("Esc", "space", "ctrl+s", "r")
	e.says("saved to one.toml")
	if string(d.held["one.toml"]) != e.encoded() || e.m.doc.changed() {
		t.Error("it was not saved")
	}
	e.press("Up", "space", "ctrl+s") // and is asked about again
	e.says("open in another window")
}

// Once the other window has saved and is closed, what it has saved is asked about as what any other program has written.
func TestTheOtherWindowHasSaved(t *testing.T) {
	e, d := shared(t)
	e.press("l", "space")
	delete(d.elsewhere, "one.toml")
	theirs := strings.Replace(string(d.held["one.toml"]), "sheet one.toml", "theirs", 1)
	d.held["one.toml"] = []byte(theirs)
	e.press("ctrl+s")
	e.says("that file has changed")
	if string(d.held["one.toml"]) != theirs {
		t.Error("it was saved over unasked")
	}
}

func TestACopy(t *testing.T) {
	e, _ := shared(t)
	e.press("c", "q")
	if !e.quit {
		t.Error("a copy that was not changed is asked about")
	}
	e, d := shared(t)
	e.press("c", "space", "ctrl+s")
	e.says("one-copy.toml")
	e.press("Enter")
	e.says("saved to one-copy.toml")
	if string(d.held["one-copy.toml"]) != e.encoded() || d.holds["one-copy.toml"] != 1 {
		t.Errorf("held %d times:\n%s", d.holds["one-copy.toml"], d.held["one-copy.toml"])
	}
}

// A save that takes its time is not begun twice, and another file can be saved to meanwhile.
func TestASaveThatHangs(t *testing.T) {
	e := edit(t, plainSheet(t), setup{})
	e.press("space")
	hanging := e.deliver(mustKey(t, "ctrl+s"))
	e.says("saving to sheet.toml")
	e.press("ctrl+s")
	e.says("still saving to sheet.toml")
	e.press("S")
	e.write("near.toml")
	e.press("Enter")
	e.says("saved to near.toml")
	e.run(hanging)
	if string(e.disk.held["near.toml"]) != e.encoded() || e.m.doc.changed() {
		t.Errorf("near.toml is\n%s", e.disk.held["near.toml"])
	}
}

// What the disk has to say about a save is told.
func TestWhatElseThereIsToSay(t *testing.T) {
	e := edit(t, plainSheet(t), setup{})
	e.disk.said = "the file has 1 other name"
	e.press("space", "ctrl+s")
	e.says("saved to sheet.toml; the file has 1 other name")
}
