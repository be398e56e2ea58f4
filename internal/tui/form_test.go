package tui

import (
	"strings"
	"testing"
)

// TestFormsTellAll goes through every field of every form on the smallest terminal: the field in use is in sight, its
// hint is there in full, and the keys stand below.
func TestFormsTellAll(t *testing.T) {
	for _, key := range []string{"i", "ctrl+n", "k", "b", "P", "p"} {
		e := playDemo(t, setup{w: minWidth, h: minHeight}, key)
		fm := e.m.dialogs[0].(*form)
		for range fm.fields {
			f := fm.fields[fm.at]
			text := e.m.Screen().String()
			for _, line := range wrap(f.hint, 72) {
				if !strings.Contains(text, line) {
					t.Errorf("%s, %s: the screen does not say %q:\n%s", key, f.name, line, text)
				}
			}
			if !strings.Contains(text, "›"+f.name) || !strings.Contains(text, fm.foot()) {
				t.Errorf("%s, %s: the field or the keys are not in sight:\n%s", key, f.name, text)
			}
			e.press("Tab")
		}
	}
}

// The longest thing that can be wrong leaves room for the fields and the keys.
func TestProblemFitsTheSmallestTerminal(t *testing.T) {
	e := playDemo(t, setup{w: minWidth, h: minHeight}, "i", "Tab*3", "480", "Enter", "Enter")
	e.says("again takes them as they are")
	e.says("circumference")
	if strings.Contains(e.m.Screen().String(), "A sheet is a plan") {
		t.Errorf("half of the note is left:\n%s", e.m.Screen())
	}
	e.says("Tab next   Enter after typing next, else done   Esc leave")
}

// TestLengthsEcho holds what stands beside a length to what it is in mm, for as long as it has another unit.
func TestLengthsEcho(t *testing.T) {
	e := edit(t, plainSheet(t), setup{w: minWidth, h: minHeight})
	e.press("i", "Tab", "Tab", "Tab")
	row := func() string {
		for _, line := range strings.Split(e.m.Screen().String(), "\n") {
			if _, rest, ok := strings.Cut(line, "circumference"); ok {
				return strings.Join(strings.Fields(strings.TrimSuffix(rest, "│")), " ")
			}
		}
		return ""
	}
	for _, step := range []struct{ typed, want string }{
		{"2", "2"}, {"2", "22"}, {" ", "22"}, {"i", "22 i"}, {"n", "22 in = 558.8 mm"}, {"x", "22 inx"},
	} {
		if e.write(step.typed); row() != step.want {
			t.Errorf("after %q the line is %q, want %q", step.typed, row(), step.want)
		}
	}
	e.press("Backspace", "Enter", "Enter", "i")
	if got := row(); got != "558.8" {
		t.Errorf("opened again the line is %q", got)
	}
	e.press("Tab", "Tab", "Tab")
	e.write("56 cm")
	if got := row(); got != "56 cm = 560 mm" {
		t.Errorf("in centimetres the line is %q", got)
	}
	e.press("Backspace", "Backspace")
	e.write("mm")
	if got := row(); got != "56 mm" {
		t.Errorf("in millimetres the line is %q", got)
	}
}
