package tui

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
	"example.org/underveil/internal/slots"
)

// shipped are the demonstrations that come with the program.
func shipped(t testing.TB) []Demo {
	t.Helper()
	paths, err := filepath.Glob("../../assets/demonstrations/*.toml")
	if err != nil || len(paths) == 0 {
		t.Fatalf("no demonstrations: %v", err)
	}
	var list []Demo
	for _, path := range paths {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, Demo{Name: strings.TrimSuffix(filepath.Base(path), ".toml"), About: "to step through", Data: data})
	}
	return list
}

// showing is an editor in a demonstration that comes with the program.
func showing(t testing.TB, name string, s setup, keys ...string) *editor {
	t.Helper()
	e := start(t, s)
	for _, d := range shipped(t) {
		if d.Name == name {
			e.m.openDemonstration(d)
		}
	}
	if e.m.stepping() == nil {
		t.Fatalf("%s does not open:\n%s", name, e.m.Screen())
	}
	e.send(nil)
	for _, k := range keys {
		e.press(k)
	}
	return e
}

// What a step says has come and gone is what is found after it and was not before, asked of the rules alone.
func TestNewsOfEveryStep(t *testing.T) {
	for _, d := range shipped(t) {
		e := showing(t, d.Name, setup{w: 120, h: 40})
		script := e.m.demo.script
		found := func(n int) map[sheet.Concern]bool {
			s := e.m.house(script.At(n))
			table, err := slots.For(s, nil)
			if err != nil {
				t.Fatal(err)
			}
			set := map[sheet.Concern]bool{}
			for _, f := range rule.Check(s, table).Findings {
				set[f.Concern] = true
			}
			return set
		}
		for n := 1; n <= len(script.Steps); n++ {
			e.press("space")
			before, after := found(n-1), found(n)
			came, went := 0, 0
			for c := range after {
				if !before[c] {
					came++
				}
			}
			for c := range before {
				if !after[c] {
					went++
				}
			}
			toldCame, toldWent := 0, 0
			for _, news := range e.m.demo.news {
				switch news.Turn {
				case lesson.Came:
					toldCame += 1 + news.More
				case lesson.Went:
					toldWent += 1 + news.More
				}
			}
			if came != toldCame || went != toldWent {
				t.Errorf("%s, step %d: %d came and %d went, told are %d and %d", d.Name, n, came, went, toldCame, toldWent)
			}
		}
	}
}

// On every screen size, in both layouts, a step shows its caption and the finding in view whole, and the cursor on the map; the map
// stays where it is from step to step.
func TestEveryStepIsReadable(t *testing.T) {
	for _, d := range shipped(t) {
		for _, size := range [][2]int{{80, 24}, {120, 40}, {160, 48}} {
			for _, large := range []bool{false, true} {
				e := showing(t, d.Name, setup{w: size[0], h: size[1]})
				if large {
					e.press("X")
				}
				area := e.m.layout().figure
				for n := 0; n <= e.m.demo.last(); n++ {
					what := fmt.Sprintf("%s, step %d, at %v, large %v", d.Name, n, size, large)
					if n > 0 {
						e.press("space")
					}
					l := e.m.layout()
					where := l.side
					if large {
						where = l.band
					}
					for i := range max(1, len(e.m.demo.news)) {
						if i > 0 {
							e.press("n")
						}
						wants := []string{e.m.demo.say()}
						if news, ok := e.m.demo.inView(); ok {
							wants = append(wants, news.Where(), news.Message())
						}
						text := flat(e.m.Screen(), where)
						for _, want := range wants {
							if !strings.Contains(text, plainWords(want)) {
								t.Errorf("%s: it does not say %q:\n%s", what, want, e.m.Screen())
							}
						}
					}
					if got := e.m.layout().figure; got != area {
						t.Errorf("%s: the map is at %v, and was at %v", what, got, area)
					}
					scr := e.m.Screen()
					if !area.Contains(scr.CursorX, scr.CursorY) || scr.At(scr.CursorX, scr.CursorY).Ink != figure.Cursor {
						t.Errorf("%s: the cursor can't be seen:\n%s", what, scr)
					}
				}
			}
		}
	}
}

// flat are the letters and figures of a part of the screen, so that a sentence is found there over several lines.
func flat(scr *cells.Screen, r cells.Rect) string {
	var text strings.Builder
	for y := r.Y; y < r.Y+r.H; y++ {
		for x := r.X; x < r.X+r.W; x++ {
			text.WriteRune(scr.At(x, y).Rune)
		}
	}
	return plainWords(text.String())
}

func plainWords(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return r
		}
		return -1
	}, text)
}

// The cursor goes where the step says; or to the first finding that came; or to what was changed.
func TestWhereToLook(t *testing.T) {
	plain := plainSheet(t)
	low := plain.WithRow(parseRow(t, "60 a.(a).a")).WithRow(parseRow(t, "10 a(.)"))
	spot := sheet.Spot{At: height(100), Slot: 7}
	off := sheet.Spot{At: height(5000), Slot: 7}
	for _, c := range []struct {
		name  string
		start *sheet.Sheet
		after *sheet.Sheet
		look  *sheet.Spot
		want  sheet.Spot
	}{
		{"as it says", plain, low, &spot, spot},
		{"there is no such line: at the finding", plain, low, &off, sheet.Spot{At: height(10), Slot: -1}},
		{"at the finding", plain, low, nil, sheet.Spot{At: height(10), Slot: -1}},
		{"at what was changed, not at what is gone", low, plain.WithRow(parseRow(t, "60 a.(a).a")).WithRow(parseRow(t, "100 (a)")), nil, sheet.Spot{At: height(100)}},
		{"at what was changed", plain, plain.WithRow(parseRow(t, "60 a(.)")), nil, sheet.Spot{At: height(60), Slot: -1}},
	} {
		e := start(t, setup{})
		e.m.demonstrate(&lesson.Script{Title: "look", Start: c.start, Steps: []lesson.Step{{Did: "all at once", Look: c.look, Sheet: c.after}}}, nil)
		e.press("space")
		if got := (sheet.Spot{At: e.m.doc.cursor.At, Slot: e.m.doc.cursor.Slot}); got != c.want {
			t.Errorf("%s: the cursor is at %v, want %v", c.name, got, c.want)
		}
	}
}

// Nothing that is pressed in a demonstration or while something is tried changes a step, writes a file or asks to save.
func TestDemonstrationStaysAsItIs(t *testing.T) {
	e := showing(t, "too-near-the-nape", setup{w: 120, h: 40}, "space", "space")
	want := e.encoded()
	for _, keys := range [][]string{
		{"r"}, {"f"}, {"u"}, {"U"}, {"Delete"}, {"ctrl+s"}, {"i"}, {"z"}, {"F"}, {"R"}, {"a"}, {"1"},
		{"w", "w"}, {"T"}, {"L", "L"}, {"C", "C"}, {"H", "Left", "Esc"}, {"?", "Esc"}, {"x", "x"}, {"X", "X"}, {"n", "N"}, {"Tab", "shift+Tab"},
		{"e", "r", "f", "D"}, {"e", "Delete", "u", "U", "q"}, {"Esc", "i", "late", "Enter", "Enter", "D"}, {"e", "z", "Right", "Right", "Esc", "D"},
		{"e", "X", "space", "D", "X"}, {"e", "m", "Up", "Enter", "D"},
	} {
		for _, k := range keys {
			if _, err := keyMsg(k); err != nil {
				e.write(k)
			} else {
				e.press(k)
			}
		}
		if p := e.m.stepping(); p == nil || p.at != 2 || len(e.m.dialogs) != 1 || e.encoded() != want {
			t.Fatalf("after %v:\n%s", keys, e.m.Screen())
		}
	}
	if len(e.disk.saved) > 0 || e.m.doc.changed() {
		t.Errorf("written: %v", e.disk.saved)
	}
	e.press("q")
	if e.quit || e.m.doc != nil {
		t.Error("q does not lead to the start page")
	}
	e.press("q")
	if !e.quit {
		t.Error("the start page can't be left")
	}
}

// What is tried leaves nothing behind for after a crash.
func TestTriedIsNotKept(t *testing.T) {
	e := showing(t, "too-near-the-nape", setup{})
	e.m.opts.Unsaved.Encode = sheetfile.Encode
	e.press("space", "e", "r", "Up", "Up", "r")
	if e.m.doc.kept.log != nil || e.m.doc.changed() {
		t.Error("what was tried would be offered after a crash")
	}
	e.press("D", "space", "q")
	if e.m.unkept {
		t.Error("it was tried to keep it")
	}
}

// A demonstration given to begin with is there before the first key, large where that is asked for.
func TestBeginWithDemonstration(t *testing.T) {
	script, _, err := newDisk().files().ParseScript("x", shipped(t)[0].Data)
	if err != nil {
		t.Fatal(err)
	}
	e := start(t, setup{})
	opts := e.m.opts
	opts.Script, opts.Large = script, true
	e.m = New(e.term, opts)
	e.resize(80, 24)
	e.run(e.m.Init())
	e.says(script.Title)
	if !e.m.enlargedNow() || e.m.stepping() == nil {
		t.Errorf("not large, or not there:\n%s", e.m.Screen())
	}
	e.press("space")
	e.says("step 1 of")
}

// What does not fit a head says so, and what was open stays open.
func TestBadDemonstration(t *testing.T) {
	e := edit(t, plainSheet(t), setup{disk: newDisk()})
	bad := plainSheet(t).With(func(c *sheet.Sheet) { c.Measures.Circumference = 900 })
	e.m.demonstrate(&lesson.Script{Title: "no head", Start: bad}, nil)
	e.send(nil)
	e.says("this can't be shown")
	e.press("Enter", "r")
	if e.m.demo != nil || e.m.doc.path != "sheet.toml" {
		t.Error("the sheet is gone")
	}
	e.m.demonstrate(&lesson.Script{Title: "later", Start: plainSheet(t), Steps: []lesson.Step{{Did: "grow", Sheet: bad}}}, nil)
	e.press("space")
	e.says("step 1 can't be shown")
	e.press("Enter")
	if p := e.m.stepping(); p == nil || p.at != 0 {
		t.Error("the step before is not shown any more")
	}
}

// No text of a demonstration reaches the terminal unless it is safe, and none breaks the screen, however long.
func TestHostileDemonstration(t *testing.T) {
	long := strings.Repeat("a rather long word about what to look at 山田 ", 60)
	for _, text := range []string{evil, long, "\n\n\n", "two\nlines"} {
		s := evilSheet(t)
		script := &lesson.Script{Title: text, About: text, Say: text, Start: s, Steps: []lesson.Step{
			{Did: text, Sheet: s.WithRow(parseRow(t, "10 aaa(a)aaa"))}, {Did: text, Say: text, Sheet: s}}}
		for _, size := range sizes[:fewer(len(sizes), 1)] {
			for _, g := range glyphSets {
				e := start(t, setup{w: size[0], h: size[1], glyphs: g.glyphs})
				e.m.demonstrate(script, []string{text})
				e.send(nil)
				e.press("space", "n", "X", "n", "space", "e", "X", "D", "b", "b", "?", "Esc", "q")
			}
		}
	}
}

// The mouse edits nothing while steps are gone through.
func TestMouseLeavesDemonstrationAlone(t *testing.T) {
	e := showing(t, "a-row-too-close", setup{w: 120, h: 40}, "space")
	want := e.encoded()
	e.button(tea.MouseButtonLeft, tea.MouseActionPress, point{30, 30})
	e.button(tea.MouseButtonWheelUp, tea.MouseActionPress, point{30, 30})
	if e.encoded() != want {
		t.Error("a click changed the step")
	}
}

// The demonstrations stand on the start page, and one is begun there.
func TestDemonstrationsOnTheStartPage(t *testing.T) {
	e := start(t, setup{disk: newDisk(), demos: []Demo{demo(t)}})
	e.m.opts.Demonstrations = shipped(t)
	e.m.lookForLeft()
	e.send(nil)
	e.says(fmt.Sprintf("d   %d, to be stepped through", len(shipped(t))))
	e.press("d", "Esc", "d", "Down", "Enter")
	e.says("Too near the nape")
	e.press("space", "q")
	e.says("a new sheet")
	if e.m.doc != nil || len(e.m.dialogs) > 0 {
		t.Error("it is not the start page")
	}
}

// What came and went is told without colours: a stop that came, and one that is gone.
func TestNewsAreTold(t *testing.T) {
	e := showing(t, "too-near-the-nape", setup{w: 80, h: 24}, "space")
	e.says("+ " + string(figure.Unicode.Stop) + " stop nape")
	e.press("space")
	e.says("gone: " + string(figure.Unicode.Stop) + " stop nape")
	e.press("b", "X")
	e.says("+ " + string(figure.Unicode.Stop) + " stop  a bond too near the nape hairline")
	e.press("space")
	e.says("gone: " + string(figure.Unicode.Stop) + " stop  a bond too near the nape hairline")
}
