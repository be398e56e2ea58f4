package tui

import (
	"strings"
	"testing"
)

// watched is an editor on a sheet whose file can be written by something else.
func watched(t testing.TB) *editor {
	t.Helper()
	e := start(t, setup{disk: folder(t, "one.toml")})
	e.send(e.m.Open("one.toml")())
	return e
}

// elsewhere writes the file of the sheet with another title, and lets the editor look.
func (e *editor) elsewhere(title string) {
	e.t.Helper()
	data := string(e.disk.held["one.toml"])
	i := strings.Index(data, "title = ")
	if i < 0 {
		e.t.Fatal("there is no title")
	}
	rest := data[i:]
	e.disk.held["one.toml"] = []byte(data[:i] + `title = "` + title + `"` + rest[strings.IndexByte(rest, '\n'):])
	e.send(watchMsg{})
}

func TestNothingHasChanged(t *testing.T) {
	e := watched(t)
	before := e.m.Screen().String()
	e.send(watchMsg{})
	if after := e.m.Screen().String(); after != before || len(e.steps()) > 0 {
		t.Errorf("a look has done something:\n%s", after)
	}
}

// A sheet that was not changed here follows its file, as a step that can be taken back.
func TestReadAgain(t *testing.T) {
	e := watched(t)
	was := e.encoded()
	e.elsewhere("theirs")
	e.says("it was read again")
	e.says(" theirs")
	if e.m.doc.changed() {
		t.Error("it counts as not saved")
	}
	e.send(watchMsg{})
	e.press("u")
	if e.encoded() != was || !e.m.doc.changed() {
		t.Error("what was here is not brought back, or counts as saved")
	}
	e.press("ctrl+s")
	e.says("saved to one.toml")
	if string(e.disk.held["one.toml"]) != was {
		t.Error("what was brought back can't be saved")
	}
}

func TestBothHaveChanged(t *testing.T) {
	begin := func() (e *editor, mine string) {
		e = watched(t)
		e.press("space")
		mine = e.encoded()
		e.elsewhere("theirs")
		e.says("the file has changed")
		e.says("It now has no bonds; here there are 1")
		if e.encoded() != mine {
			t.Fatal("something was done unasked")
		}
		return e, mine
	}
	t.Run("keep", func(t *testing.T) {
		e, mine := begin()
		e.press("k")
		e.send(watchMsg{})
		if len(e.m.dialogs) > 0 {
			t.Fatal("it is asked again")
		}
		e.press("ctrl+s")
		e.says("saved to one.toml")
		if string(e.disk.held["one.toml"]) != mine {
			t.Error("mine was not saved")
		}
		e.press("Z", "Enter")
		e.says(" theirs")
	})
	t.Run("take", func(t *testing.T) {
		e, mine := begin()
		e.press("t")
		e.says(" theirs")
		if e.m.doc.changed() {
			t.Error("it counts as not saved")
		}
		e.press("u")
		if e.encoded() != mine {
			t.Error("mine is gone")
		}
	})
	t.Run("beside", func(t *testing.T) {
		e, mine := begin()
		e.press("b")
		e.says("the file now: ")
		e.send(watchMsg{})
		e.press("ctrl+s")
		e.says("that file has changed")
		if e.encoded() != mine {
			t.Error("mine is gone")
		}
	})
	t.Run("no answer", func(t *testing.T) {
		e, mine := begin()
		e.press("Esc")
		e.send(watchMsg{})
		if len(e.m.dialogs) > 0 {
			t.Error("it is asked again without a new change")
		}
		e.elsewhere("theirs again")
		e.says("the file has changed")
		e.press("Esc", "ctrl+s", "r")
		if string(e.disk.held["one.toml"]) != mine {
			t.Error("mine was not saved")
		}
	})
}

// Whoever is in the midst of something is told afterwards.
func TestNobodyIsInterrupted(t *testing.T) {
	e := watched(t)
	e.press("i")
	e.elsewhere("theirs")
	e.says("circumference")
	e.press("Esc")
	e.send(watchMsg{})
	e.says("it was read again")
}

func TestTheFileIsGone(t *testing.T) {
	e := watched(t)
	was := e.disk.held["one.toml"]
	delete(e.disk.held, "one.toml")
	e.send(watchMsg{})
	e.says("one.toml is not there any more")
	e.press("space")
	e.send(watchMsg{}) // told once
	e.says("1 strand")
	if strings.Contains(e.m.Screen().String(), "not there any more") {
		t.Error("it is told again")
	}
	e.disk.held["one.toml"] = was
	e.send(watchMsg{})
	e.says("is there again")
	delete(e.disk.held, "one.toml")
	e.send(watchMsg{})
	e.press("ctrl+s")
	e.says("saved to one.toml")
	if string(e.disk.held["one.toml"]) != e.encoded() {
		t.Error("it was not written again")
	}
}

// A sheet whose file is gone is not left unasked, though nothing was changed.
func TestLeavingASheetWhoseFileIsGone(t *testing.T) {
	e := watched(t)
	was := e.disk.held["one.toml"]
	delete(e.disk.held, "one.toml")
	e.send(watchMsg{})
	e.press("Up")
	e.says("its file is gone")
	e.press("q")
	e.says("not saved")
	e.press("Esc")
	e.disk.held["one.toml"] = was
	e.send(watchMsg{})
	e.press("q")
	if !e.quit {
		t.Error("it is there again, and leaving asks")
	}
}

// Whoever looks at a sheet that another window has open gets it when that is closed.
func TestTheOtherWindowIsClosed(t *testing.T) {
	e, d := shared(t)
	e.press("l")
	e.says("open elsewhere")
	e.send(watchMsg{})
	if d.holds["one.toml"] != 0 {
		t.Fatal("it is held while the other window has it")
	}
	delete(d.elsewhere, "one.toml")
	e.send(watchMsg{})
	e.says("the other window is closed")
	if d.holds["one.toml"] != 1 || strings.Contains(e.m.Screen().String(), "open elsewhere") {
		t.Errorf("held %d times", d.holds["one.toml"])
	}
	e.press("space", "ctrl+s")
	e.says("saved to one.toml")
}

func TestTheFileIsBrokenByOthers(t *testing.T) {
	e := watched(t)
	e.disk.held["one.toml"] = []byte("title = \x1b[2J")
	e.send(watchMsg{})
	e.says("can't be read any more")
	e.press("space", "ctrl+s")
	e.says("that file has changed")
	e.press("r")
	e.says("saved to one.toml")
}

// A look that began before a save ends after it: that is no change from outside.
func TestALookAcrossASave(t *testing.T) {
	e := watched(t)
	e.press("space")
	looking := e.deliver(watchMsg{})
	msg := looking()
	e.press("ctrl+s")
	e.send(msg)
	e.says("saved to one.toml")
	if len(e.m.dialogs) > 0 || len(e.steps()) != 1 {
		t.Errorf("steps: %q", e.steps())
	}
	saving := e.deliver(mustKey(t, "ctrl+s"))
	written := saving() // to the disk, and the editor does not know yet
	e.send(watchMsg{})
	if len(e.m.dialogs) > 0 {
		t.Error("its own save is taken for another's")
	}
	e.send(written)
	e.says("saved to one.toml")
}

func TestAnOlderVersionIsBroughtBack(t *testing.T) {
	e := watched(t)
	e.press("Z")
	e.says("has not been saved over yet")
	first := e.encoded()
	e.press("space", "ctrl+s")
	second := e.encoded()
	e.press("r", "ctrl+s", "Z")
	e.says("saved before")
	e.says("saved today at")
	e.says("1 bond in 1 row")
	e.says("no bonds")
	e.press("Down", "Enter")
	if e.encoded() != first || !e.m.doc.changed() {
		t.Errorf("brought back:\n%s", e.encoded())
	}
	e.press("u", "Z", "b")
	e.says("beside it: saved ")
	if sum := e.m.other.sheet(); sum.Rows[0].Count() != 1 {
		t.Errorf("beside it are %d bonds", sum.Rows[0].Count())
	}
	e.press("Z", "Enter")
	if e.encoded() != second {
		t.Errorf("brought back:\n%s", e.encoded())
	}
	e.disk.before["one.toml"][0] = e.disk.version("one.toml", []byte("wrong"))
	e.press("Z")
	e.says("can't be read")
	e.press("Enter")
	e.says("this version can't be read")
	e.press("Esc", "Esc")
	if e.encoded() != second {
		t.Error("it was changed")
	}
}
