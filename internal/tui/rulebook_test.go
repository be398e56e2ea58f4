package tui

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/rulebook"
)

func TestRuleScreens(t *testing.T) {
	for name, keys := range map[string][]string{
		"rule":        {"n", "e", "r"},
		"rule-below":  {"n", "e", "r", "PgDn"},
		"rule-shaded": {"n", "n", "e", "r"},
	} {
		for _, size := range [][2]int{{80, 24}, {120, 40}} {
			e := playDemo(t, setup{w: size[0], h: size[1]}, keys...)
			golden(t, fmt.Sprintf("%s-%dx%d.txt", name, size[0], size[1]), e.m.Screen().String())
		}
	}
}

// The page of a rule opens from the explanation of each of its findings, can be read to its end on the smallest terminal, and
// leads back to the explanation; it changes nothing.
func TestRulePage(t *testing.T) {
	for _, g := range glyphSets {
		e := edit(t, demoSheet(t), setup{w: minWidth, h: minHeight, glyphs: g.glyphs})
		before, read := e.encoded(), 0
		seen := map[string]bool{}
		for range len(e.m.doc.report.Findings) {
			e.press("n")
			f := e.m.doc.finding()
			if seen[f.Rule] {
				continue
			}
			seen[f.Rule] = true
			e.press("e", "r")
			r, _ := rule.ByID(f.Rule)
			page, err := rulebook.Of(r, e.m.doc.sheet())
			if err != nil {
				t.Fatal(err)
			}
			want := strings.Split(strings.TrimRight(page.Screen(rulebook.Width, *g.glyphs).String(), "\n"), "\n")
			want = slices.DeleteFunc(want, func(l string) bool { return strings.TrimSpace(l) == "" })
			for range 60 {
				text := e.m.Screen().String()
				want = slices.DeleteFunc(want, func(l string) bool { return strings.Contains(text, l) })
				e.press("Down")
			}
			if len(want) > 0 {
				t.Errorf("%s%s: never seen: %q", f.Rule, g.name, want)
			}
			e.press("Esc")
			if _, ok := e.m.dialogs[len(e.m.dialogs)-1].(*explanation); !ok || len(e.m.dialogs) != 1 {
				t.Fatalf("%s: after the page there is\n%s", f.Rule, e.m.Screen())
			}
			e.press("Esc")
			read++
		}
		if read < 4 || e.encoded() != before {
			t.Errorf("%d rules read; the sheet is as it was: %v", read, e.encoded() == before)
		}
	}
}

// What is set for the client, and that it is, stands on the page.
func TestRulePageShowsWhatIsInForce(t *testing.T) {
	e := edit(t, demoSheet(t).WithLimit("nape_up", 77), setup{w: 120, h: 60})
	e.press("n")
	for e.m.doc.finding().Rule != "nape" {
		e.press("n")
	}
	e.press("e", "r")
	e.says("here 77 mm: set for this client")
}

// The pictures are in colour: the wrong bond in the ink of what is wrong with it, the zones in theirs.
func TestRulePageIsInColour(t *testing.T) {
	e := playDemo(t, setup{w: 120, h: 40}, "n", "e", "r")
	scr := e.m.Screen()
	found := map[any]int{}
	for y := range scr.H {
		for x := range scr.W {
			switch c := scr.At(x, y); {
			case c.Rune == figure.Unicode.Stop && c.Ink == figure.StopInk:
				found["stop"]++
			case c.Rune == figure.Unicode.Hatch && c.Ink == figure.NapeInk:
				found["nape"]++
			case c.Rune == figure.Unicode.Whole && c.Ink == figure.Shade(0):
				found["bond"]++
			}
		}
	}
	if found["stop"] < 2 || found["nape"] < 20 || found["bond"] < 20 {
		t.Errorf("%v in\n%s", found, scr)
	}
}
