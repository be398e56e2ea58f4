package tui

import (
	"fmt"
	"strings"
	"testing"

	"example.org/underveil/internal/figure"
)

// demonstrationViews are the screens of demonstrations, by name.
var demonstrationViews = []struct {
	name string
	show func(t testing.TB, s setup) *editor
}{
	{"step-start", onStep("too-near-the-nape")},
	{"step-stop", onStep("too-near-the-nape", "space")},
	{"step-gone", onStep("too-near-the-nape", "space", "space")},
	{"step-many", onStep("too-near-the-nape", "space", "space", "space", "space", "n", "n")},
	{"step-shaded", onStep("what-a-ponytail-shows", "space", "space", "w")},
	{"step-trying", onStep("too-near-the-nape", "space", "e", "Up", "space", "Down")},
	{"step-keys", onStep("too-near-the-nape", "?")},
	{"step-last", onStep("a-row-too-close", "End", "space")},
	{"large-start", onStep("too-near-the-nape", "X", "Home")},
	{"large-stop", onStep("too-near-the-nape", "X", "space")},
	{"large-gone", onStep("too-near-the-nape", "X", "space", "space")},
	{"large-many", onStep("what-a-ponytail-shows", "X", "space", "space", "space", "space", "n")},
	{"large-shaded", onStep("what-a-ponytail-shows", "X", "space", "space", "w", "Right", "Left")},
	{"large-trying", onStep("too-near-the-nape", "X", "space", "e", "Up", "space", "Down")},
	{"large-editing", onDemo("X", "n")},
	{"large-reading", onDemo("X", "w", "n")},
	{"recording", onDemo("D", "space", "u", "Left")},
	{"recording-save", onDemo("D", "space", "D")},
	{"recording-leave", onDemo("D", "space", "ctrl+s", "q")},
}

func onStep(name string, keys ...string) func(testing.TB, setup) *editor {
	return func(t testing.TB, s setup) *editor { return showing(t, name, s, keys...) }
}

func TestDemonstrationScreens(t *testing.T) {
	for _, v := range demonstrationViews {
		for _, size := range [][2]int{{80, 24}, {120, 40}} {
			e := v.show(t, setup{w: size[0], h: size[1]})
			golden(t, fmt.Sprintf("%s-%dx%d.txt", v.name, size[0], size[1]), e.m.Screen().String())
		}
	}
}

// With the ASCII marks there is nothing else on any of them.
func TestDemonstrationScreensInASCII(t *testing.T) {
	for _, v := range demonstrationViews {
		for _, size := range sizes[:fewer(len(sizes), 1)] {
			e := v.show(t, setup{w: size[0], h: size[1], glyphs: &figure.ASCII})
			if i := strings.IndexFunc(e.m.Screen().String(), func(r rune) bool { return r > '~' }); i >= 0 {
				t.Errorf("%s at %v: %q in\n%s", v.name, size, e.m.Screen().String()[i:i+4], e.m.Screen())
			}
		}
	}
}
