package tui

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/muesli/termenv"

	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/ptytest"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
)

var profiles = []struct {
	name    string
	profile termenv.Profile
}{
	{"true colour", termenv.TrueColor},
	{"256 colours", termenv.ANSI256},
	{"16 colours", termenv.ANSI},
	{"no colour", termenv.Ascii},
}

// onEveryTerminal runs a test for each kind of terminal, on dark and on light, with each set of marks.
func onEveryTerminal(t *testing.T, test func(*testing.T, setup)) {
	for _, p := range profiles {
		for _, light := range []bool{false, true} {
			for _, g := range glyphSets {
				t.Run(fmt.Sprintf("%s, light %v%s", p.name, light, g.name), func(t *testing.T) {
					test(t, setup{profile: colours(p.profile), light: light, glyphs: g.glyphs})
				})
			}
		}
	}
}

// shape is a cell without its colours: what is left for whoever can't tell them apart.
func shape(c ptytest.Cell) ptytest.Cell {
	c.FG, c.BG = "", ""
	return c
}

func (e *editor) cellAt(at sheet.Place, slot int) ptytest.Cell {
	p := e.cellOf(at, slot)
	return e.term.Cell(p.x, p.y)
}

func TestCursorIsAShape(t *testing.T) {
	onEveryTerminal(t, func(t *testing.T, s setup) {
		e := edit(t, demoSheet(t), s)
		for _, slot := range []int{0, 1, -4, 4} { // empty in a zone, a stop, an accepted one
			e.at(height(20), slot)
			on := e.term.Cell(e.m.scr.CursorX, e.m.scr.CursorY)
			if !on.Reverse || !on.Underline {
				t.Errorf("on slot %d the cursor is %+v, want it reversed and underlined", slot, on)
			}
		}
		e.at(height(60), 1) // on a bond its mark stays
		if on := e.term.Cell(e.m.scr.CursorX, e.m.scr.CursorY); on.Rune != s.glyphs.Whole {
			t.Errorf("on a bond the cursor is %q, want %q", on.Rune, s.glyphs.Whole)
		}
		e.at(height(60), 2)
		if on := e.term.Cell(e.m.scr.CursorX, e.m.scr.CursorY); on.Rune != s.glyphs.Cross {
			t.Errorf("on an empty slot the cursor is %q, want %q", on.Rune, s.glyphs.Cross)
		}
		line := e.term.Row(e.m.scr.CursorY)
		if !strings.ContainsRune(line, s.glyphs.Here) {
			t.Errorf("nothing marks the line of the cursor: %s", line)
		}
	})
}

func TestSelectionIsAShape(t *testing.T) {
	onEveryTerminal(t, func(t *testing.T, s setup) {
		e := edit(t, demoSheet(t), s)
		var plain []ptytest.Cell
		for slot := range 4 {
			plain = append(plain, e.cellAt(height(60), slot))
		}
		e.at(height(60), 0)
		e.press("shift+Right", "shift+Right", "shift+Right")
		y := e.m.scr.CursorY
		for slot := range 3 {
			x := e.m.scr.CursorX - 3 + slot
			got, cursor := e.term.Cell(x, y), e.term.Cell(e.m.scr.CursorX, y)
			if got.Rune != plain[slot].Rune {
				t.Errorf("selected, slot %d is %q, want %q", slot, got.Rune, plain[slot].Rune)
			}
			if shape(got) == shape(plain[slot]) {
				t.Errorf("slot %d looks the same selected and not, but for colour: %+v", slot, got)
			}
			if cursor.Rune = got.Rune; shape(got) == shape(cursor) {
				t.Errorf("slot %d looks like the cursor, but for colour: %+v", slot, got)
			}
		}
	})
}

func TestFindingsAreMarks(t *testing.T) {
	onEveryTerminal(t, func(t *testing.T, s setup) {
		e := edit(t, demoSheet(t).WithRow(parseRow(t, "50 (a)")), s)
		g := s.glyphs
		for _, c := range []struct {
			what string
			slot int
			want rune
		}{
			{"a stop", -4, g.Stop}, {"an accepted stop", 4, g.Whole}, {"no bond", -3, g.Hatch},
		} {
			if got := e.cellAt(height(20), c.slot).Rune; got != c.want {
				t.Errorf("%s is drawn as %q, want %q", c.what, got, c.want)
			}
		}
		if !strings.ContainsRune(e.m.Screen().String(), g.Caution) {
			t.Errorf("rows too near each other show no caution:\n%s", e.m.Screen())
		}
		header := e.term.Row(0)
		if !strings.Contains(header, string(g.Stop)+" "+rule.Counted(e.m.doc.report.Stops, "stop")) || !strings.Contains(header, string(g.Caution)+" ") {
			t.Errorf("the header does not mark what it counts: %s", header)
		}
	})
}

// All marks of the map differ from each other, whatever the colours.
func TestMarksDiffer(t *testing.T) {
	for _, set := range glyphSets {
		g := reflect.ValueOf(*set.glyphs)
		seen := map[rune]string{}
		for _, name := range []string{"Whole", "Split", "Trimmed", "SplitTrimmed", "Scalp", "Hatch", "PartHatch", "KeepOff",
			"Stop", "Caution", "Here", "Cross"} {
			r := rune(g.FieldByName(name).Int())
			if other, taken := seen[r]; taken {
				t.Errorf("%s and %s are both drawn as %q", other, name, r)
			}
			seen[r] = name
		}
	}
}

func TestZonesAreMarks(t *testing.T) {
	onEveryTerminal(t, func(t *testing.T, s setup) {
		sh := demoSheet(t).With(func(c *sheet.Sheet) { c.KeepOff = []sheet.KeepOff{{Height: 100, Right: 0, Radius: 12}} })
		e := edit(t, sh, s)
		g := s.glyphs
		for _, c := range []struct {
			what string
			at   sheet.Place
			slot int
			want rune
		}{
			{"the nape", height(10), 3, g.Hatch}, {"an ear", height(90), 14, g.Hatch}, {"the part", height(250), 4, g.PartHatch},
			{"a patch to keep off", height(110), 0, g.KeepOff}, {"usable scalp", height(170), 2, g.Scalp},
		} {
			if got := e.cellAt(c.at, c.slot).Rune; got != c.want {
				t.Errorf("%s is drawn as %q, want %q", c.what, got, c.want)
			}
		}
	})
}

// The entry that is being filled in, and the line of a list that Enter takes, are marked.
func TestChosenLinesAreShapes(t *testing.T) {
	onEveryTerminal(t, func(t *testing.T, s setup) {
		s.disk = folder(t, "one.toml", "two.toml")
		for _, c := range []struct {
			what string
			show func() *editor
			text string
		}{
			{"a form", func() *editor { return playDemo(t, s, "i", "Tab") }, "client "},
			{"the start page", func() *editor { return start(t, s) }, "one.toml"},
			{"the list of sheets", func() *editor { return playDemo(t, s, "ctrl+o") }, "one.toml"},
			{"the zones", func() *editor { return playDemo(t, s, "z", "Down", "Down") }, "ear "},
		} {
			e := c.show()
			marked := 0
			for y := range e.m.scr.H {
				if row := e.term.Row(y); strings.Contains(row, string(s.glyphs.Here)+c.text) || strings.Contains(row, string(s.glyphs.Here)+" "+c.text) {
					marked++
				}
			}
			if marked != 1 {
				t.Errorf("in %s %q is marked %d times:\n%s", c.what, c.text, marked, e.m.Screen())
			}
		}
	})
}

// Only colours that the terminal has are asked for: none without colour, and names where there are 16.
func TestNoColourThatTheTerminalHasNot(t *testing.T) {
	names := map[string]bool{"": true}
	for _, n := range []string{"black", "red", "green", "yellow", "blue", "magenta", "cyan", "white"} {
		names[n], names["bright "+n] = true, true
	}
	right := map[termenv.Profile]func(string) bool{
		termenv.TrueColor: func(c string) bool { return c == "" || c[0] == '#' },
		termenv.ANSI256:   func(c string) bool { return names[c] || strings.HasPrefix(c, "index ") },
		termenv.ANSI:      func(c string) bool { return names[c] },
		termenv.Ascii:     func(c string) bool { return c == "" },
	}
	onEveryTerminal(t, func(t *testing.T, s setup) {
		if s.glyphs == &figure.ASCII {
			return // in the same colours
		}
		used := map[string]bool{}
		for _, v := range views {
			if !slices.Contains([]string{"start", "client-refused", "explanation", "zones", "selection", "panel"}, v.name) {
				continue
			}
			s.disk, s.demos = nil, nil
			e := v.show(t, s)
			for y := range e.m.scr.H {
				for x := range e.m.scr.W {
					c := e.term.Cell(x, y)
					used[c.FG], used[c.BG] = true, true
					if !right[*s.profile](c.FG) || !right[*s.profile](c.BG) {
						t.Fatalf("%s: cell %d,%d is %+v", v.name, x, y, c)
					}
				}
			}
		}
		if least := 8; *s.profile != termenv.Ascii && len(used) < least {
			t.Errorf("%d colours are used, want %d at least", len(used), least)
		}
	})
}

// In 16 colours the shades of bonds that stand beside each other still differ.
func TestShadesDifferInSixteenColours(t *testing.T) {
	for _, light := range []bool{false, true} {
		s := plainSheet(t)
		e := edit(t, s.WithRow(parseRow(t, "60 (a)b")), setup{profile: colours(termenv.ANSI), light: light})
		a, b := e.cellAt(height(60), 0), e.cellAt(height(60), 1)
		if a.FG == b.FG {
			t.Errorf("light %v: both shades are %s", light, a.FG)
		}
	}
	e := edit(t, plainSheet(t).WithRow(parseRow(t, "60 (a)bAB")), setup{profile: colours(termenv.Ascii)})
	e.press("L")
	got := ""
	for slot := range 4 {
		got += string(e.cellAt(height(60), slot).Rune)
	}
	if got != "abAB" {
		t.Errorf("as letters the bonds are %q, want abAB", got)
	}
}

// A swatch is the very colour on a terminal with true colour, and nothing on any other; name and numbers are there on all.
func TestSwatches(t *testing.T) {
	onEveryTerminal(t, func(t *testing.T, s setup) {
		e := playDemo(t, s, "M", "Tab", "Tab", "#8a5a32", "Enter")
		e.says("rye crust")
		e.says("42.7  15.5  30.8")
		e.says("0.00 close")
		want := map[string]bool{"#8a5a32": true, "#c9a26b": true, "#3a2a20": true}
		if *s.profile != termenv.TrueColor {
			want = map[string]bool{}
		}
		seen := map[string]bool{}
		for y := range e.m.scr.H {
			for x := range e.m.scr.W {
				if c := e.term.Cell(x, y); c.BG != "" && c.Rune == ' ' && strings.HasPrefix(c.BG, "#") {
					seen[strings.ToLower(c.BG)] = true
				}
			}
		}
		for colour := range want {
			if !seen[colour] {
				t.Errorf("no swatch of %s; there are %v", colour, seen)
			}
		}
		if len(want) == 0 && len(seen) > 0 {
			t.Errorf("swatches that this terminal can't show: %v", seen)
		}
	})
}

// A form with more fields than lines moves with the field in use, and marks that there is more.
func TestLongFormMoves(t *testing.T) {
	e := playDemo(t, setup{w: minWidth, h: minHeight}, "i")
	more := figure.Unicode.More
	first := e.m.Screen().String()
	if !strings.Contains(first, string(more[1])) || strings.Contains(first, string(more[0])) || strings.Contains(first, fOther) {
		t.Errorf("the form at its top:\n%s", first)
	}
	for range len(clientFields(e.m.doc.sheet())) {
		fm := e.m.dialogs[0].(*form)
		if f := fm.fields[fm.at]; !strings.Contains(e.m.Screen().String(), string(e.m.opts.Glyphs.Here)+f.name) {
			t.Errorf("the field %q in use can't be seen:\n%s", f.name, e.m.Screen())
		}
		e.press("Down")
	}
	e.press("Up")
	last := e.m.Screen().String()
	if strings.Contains(last, string(more[1])) || !strings.Contains(last, string(more[0])) || !strings.Contains(last, fOther) {
		t.Errorf("the form at its end:\n%s", last)
	}
}
