package tui

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/sheet"
)

func demoSheet(t testing.TB) *sheet.Sheet {
	t.Helper()
	return readSheet(t, "../../assets/sheets/demo.toml")
}

var glyphSets = []struct {
	name   string
	glyphs *figure.Glyphs
}{{"", &figure.Unicode}, {"-ascii", &figure.ASCII}}

func TestDemoScreens(t *testing.T) {
	for _, size := range [][2]int{{80, 24}, {120, 40}, {200, 60}} {
		for _, g := range glyphSets {
			e := edit(t, demoSheet(t), setup{w: size[0], h: size[1], glyphs: g.glyphs})
			golden(t, fmt.Sprintf("demo-%dx%d%s.txt", size[0], size[1], g.name), e.m.Screen().String())
		}
	}
}

// views are the screens beside the map, by name, each as an editor that shows it.
var views = []struct {
	name string
	show func(t testing.TB, s setup) *editor
}{
	{"start", func(t testing.TB, s setup) *editor {
		s.disk, s.demos = folder(t, "visits/spring.toml", "first.toml"), []Demo{demo(t)}
		return start(t, s)
	}},
	{"new-sheet", onDemo("ctrl+n")},
	{"client", onDemo("i")},
	{"client-refused", onDemo("i", "Tab", "Tab", "Tab", "4", "8", "0", "Enter")},
	{"explanation", onDemo("n", "e")},
	{"accepting", onDemo("n", "a")},
	{"keys", onDemo("?")},
	{"keys-below", onDemo("?", "PgDn")},
	{"zones", onDemo("z")},
	{"hairline", onDemo("z", "PgDn*6", "Down*2")},
	{"hand", onDemo("b")},
	{"shades", onDemo("k")},
	{"pattern", onDemo("p")},
	{"open", func(t testing.TB, s setup) *editor {
		s.disk = folder(t, "visits/spring.toml", "first.toml")
		s.disk.here = []string{"first.toml", "second.toml"}
		return playDemo(t, s, "ctrl+o")
	}},
	{"question", onDemo("space", "q")},
	{"replace", func(t testing.TB, s setup) *editor {
		s.disk = folder(t, "first.toml")
		return playDemo(t, s, "S", "first.toml", "Enter")
	}},
	{"not-saved", func(t testing.TB, s setup) *editor {
		s.disk = newDisk()
		s.disk.trouble = fmt.Errorf("underveil: sheet.toml: there is no room on the disk; make some and save again, or save to another place with S")
		return playDemo(t, s, "space", "ctrl+s")
	}},
	{"selection", onDemo("PgUp", "PgUp", "shift+Up", "shift+Up", "shift+Right", "shift+Right", "shift+Right")},
	{"panel", onDemo("PgUp", "g")},
	{"rows", onDemo("Tab")},
	{"strands", onDemo("Tab", "Tab")},
	{"letters", onDemo("L")},
	{"veil", onDemo("w")},
	{"half-up", onDemo("w", "w")},
	{"load", onDemo("W", "W")},
	{"density", onDemo("W")},
	{"head", onDemo("H", ",", ",")},
	{"head-half-up", onDemo("w", "w", "H", ",", ",")},
	{"beside", onDemo("B")},
	{"why", onDemo("Y")},
	{"why-finding", onDemo("n", "n", "e", "Y")},
	{"explanation-cover", onDemo("n", "n", "e")},
	{"turns", onDemo("z", "PgDn*5")},
	{"consultation", onDemo("Q", "Down*3")},
	{"client-below", onDemo("i", "Up*4")},
	{"plan", onDemo("R")},
	{"plan-some", onDemo("R", "Up", "space", "Tab")},
	{"plan-held", onDemo("R", "?")},
	{"plan-refused", onDemo("i", "Tab*7", "60", "Enter", "Enter", "R", "?")},
	{"colour", onDemo("M")},
	{"match", onDemo("M", "Tab*2", "60 12 26", "Enter")},
	{"match-none", onDemo("M", "Tab*2", "25 4 -6", "Enter")},
	{"order", onDemo("E")},
	{"fitting", onDemo("F", "Enter", "r", "space*3", "x")},
	{"fitting-begin", onDemo("F", "Enter")},
	{"fitting-other", onDemo("F", "Enter", "r", "d")},
	{"fitting-done", onDemo("F", "Enter", "r*30")},
	{"inspection", onDemo("F", "Enter", "r*30", "Enter", "I", "Enter", "space*2", "m", "x", "p", "r", "e")},
	{"taking-out", onDemo("F", "Enter", "r*30", "Enter", "F", "Enter", "r", "space", "x")},
	{"came-out", onDemo("F", "Enter", "r*30", "Enter", "F", "Enter", "r*20", "Enter")},
	{"in-again", onDemo("F", "Enter", "r*30", "Enter", "F", "Enter", "r*20", "Enter", "Enter")},
	{"visits", onDemo("F", "Enter", "r*30", "Enter", "I", "Enter", "x", "p", "r*20", "Tab", "e*2", "Enter", "V")},
	{"practice", onExercise("place", "Up", "r")},
	{"practice-hidden", onExercise("asked", "Up", "r")},
	{"exercise", onExercise("place", "A", "h")},
	{"exercises", func(t testing.TB, s setup) *editor {
		s.disk = newDisk()
		s.disk.exercises = []Demo{{Name: "place", About: "A place of its own"}, {Name: "find", About: "What is wrong here"}}
		return playDemo(t, s, "A", "kim", "Enter")
	}},
	{"mark", onExercise("place", "Up", "r", "Right", "space", "A", "m")},
	{"try-again", onExercise("place", "Up", "r", "Right", "space", "A", "t")},
	{"answer", onExercise("place", "r", "A", "w", "w", "Esc")},
	{"fault", onExercise("find", "Right*3", "J", "n")},
	{"faults-marked", onExercise("find", "Right*3", "J", "n", "a", "Enter", "Up*5", "0", "J", "Enter", "A", "m", "Esc")},
	{"training", onExercise("fit", "F", "space", "d", "2.5", "Enter", "x")},
}

// onExercise presses keys on an exercise of testdata/editor.
func onExercise(name string, keys ...string) func(testing.TB, setup) *editor {
	return func(t testing.TB, s setup) *editor {
		e := practising(t, name, s)
		e.play(keys)
		return e
	}
}

func onDemo(keys ...string) func(testing.TB, setup) *editor {
	return func(t testing.TB, s setup) *editor { return playDemo(t, s, keys...) }
}

// playDemo presses keys on the demo; a key of more than one letter that is no name is text to type.
func playDemo(t testing.TB, s setup, keys ...string) *editor {
	e := edit(t, demoSheet(t), s)
	e.play(keys)
	return e
}

// play presses keys, some of them several times.
func (e *editor) play(keys []string) {
	for _, k := range keys {
		if name, n, ok := strings.Cut(k, "*"); ok {
			for range len(strings.Repeat(".", atoi(n))) {
				e.press(name)
			}
			continue
		}
		if _, err := keyMsg(k); err != nil {
			e.write(k)
			continue
		}
		e.press(k)
	}
}

func atoi(s string) (n int) {
	fmt.Sscan(s, &n)
	return n
}

func TestScreens(t *testing.T) {
	for _, v := range views {
		for _, size := range [][2]int{{80, 24}, {120, 40}} {
			e := v.show(t, setup{w: size[0], h: size[1]})
			golden(t, fmt.Sprintf("%s-%dx%d.txt", v.name, size[0], size[1]), e.m.Screen().String())
		}
	}
}

// With the ASCII marks there is nothing else on any screen.
func TestASCIIScreensAreASCII(t *testing.T) {
	for _, v := range views {
		for _, size := range sizes {
			e := v.show(t, setup{w: size[0], h: size[1], glyphs: &figure.ASCII})
			for y, line := range strings.Split(e.m.Screen().String(), "\n") {
				if i := strings.IndexFunc(line, func(r rune) bool { return r > '~' }); i >= 0 {
					t.Errorf("%s at %v, line %d: %s", v.name, size, y, line)
				}
			}
		}
	}
}

// Every dialog shows whole on the smallest terminal: its frame is closed, and it tells how to leave it.
func TestDialogsFit(t *testing.T) {
	g := figure.Unicode
	for _, v := range views {
		e := v.show(t, setup{w: minWidth, h: minHeight})
		if len(e.m.dialogs) == 0 || slices.Contains([]string{"zones", "hairline", "turns", "head", "head-half-up", "plan", "plan-some", "plan-held", "plan-refused"}, v.name) {
			continue // without a frame
		}
		if (e.m.chairOpen() != nil || e.m.trainingOpen() != nil) && len(e.m.dialogs) == 1 {
			continue // it lies over the side, as those do
		}
		text := e.m.Screen().String()
		for _, corner := range g.Corners {
			if strings.Count(text, string(corner)) != 1 {
				t.Errorf("%s: the frame is not whole:\n%s", v.name, text)
			}
		}
		if !strings.Contains(text, "Esc") && !strings.Contains(text, "key closes") {
			t.Errorf("%s does not tell how to leave:\n%s", v.name, text)
		}
	}
}
