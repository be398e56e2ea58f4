package tui

import (
	"fmt"
	"strings"
	"testing"

	"github.com/muesli/termenv"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/ptytest"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// The parts of the large layout lie inside the screen and apart, and the map has at least half of it.
func TestProjectedPartsStayInsideAndApart(t *testing.T) {
	for _, spacing := range []scalp.MM{4, 8, 25} {
		table := tableOf(t, plainSheet(t).With(func(s *sheet.Sheet) { s.HoleSpacing, s.LineGap = spacing, spacing }))
		one, _ := figure.Size(table, false)
		two, _ := figure.Size(table, true)
		for w := minWidth; w <= 240; w += 16 {
			for h := minHeight; h <= 90; h += 8 {
				for caption := 0; caption <= mostCaption; caption++ {
					l := projected(w, h, mapSize{one, two}, caption, false)
					scr := cells.NewScreen(w, h)
					for _, r := range []cells.Rect{l.header, l.figure, l.band, l.keys} {
						if r.X < 0 || r.Y < 0 || r.W <= 0 || r.H <= 0 || r.X+r.W > w || r.Y+r.H > h {
							t.Fatalf("at %d x %d a part is %+v", w, h, r)
						}
						for y := r.Y; y < r.Y+r.H; y++ {
							for x := r.X; x < r.X+r.W; x++ {
								if scr.At(x, y).Rune != ' ' {
									t.Fatalf("at %d x %d parts overlap at %d,%d", w, h, x, y)
								}
							}
						}
						scr.Fill(r, figure.Plain, 'x')
					}
					if caption <= 3 && 2*l.figure.H < h {
						t.Errorf("at %d x %d with %d lines of caption the map has %d lines", w, h, caption, l.figure.H)
					}
					if l.wide != (two <= w) {
						t.Errorf("at %d x %d two cells a slot, %d wide: %v", w, h, two, l.wide)
					}
				}
			}
		}
	}
}

// Wherever the cursor is and whatever lies over the map, the large layout shows it; the driver looks after every key.
func TestLargeEverywhere(t *testing.T) {
	for _, size := range sizes[:fewer(len(sizes), 1)] {
		for _, g := range glyphSets {
			e := edit(t, demoSheet(t), setup{w: size[0], h: size[1], glyphs: g.glyphs})
			e.press("X")
			for _, keys := range [][]string{
				{"n", "n", "N"}, {"PgUp*9"}, {"Home"}, {"End"}, {"PgDn*9"}, {"d", "PgUp", "d"}, {"w", "w", "w", "W"}, {"C", "C"}, {"L", "L"},
				{"z", "Down", "Esc"}, {"e", "Esc"}, {"i", "Esc"}, {"b", "Esc"}, {"?", "PgDn", "Esc"}, {"H", "Left", "Esc"}, {"B", "B"}, {"T"}, {"g", "Esc"},
				{"F", "Enter", "space", "Esc"}, {"R", "Esc"}, {"Y", "Esc"}, {"V", "Esc"}, {"E", "Esc"}, {"Tab", "Tab", "Tab"}, {"m", "Up", "Esc"}, {"X", "X"},
			} {
				for _, k := range keys {
					if name, n, many := strings.Cut(k, "*"); many {
						for range atoi(n) {
							e.press(name)
						}
						continue
					}
					e.press(k)
				}
			}
			if !e.m.enlargedNow() {
				t.Errorf("at %v it is not large any more:\n%s", size, e.m.Screen())
			}
		}
	}
}

// A click in the large layout places a bond where it is.
func TestMouseInTheLargeLayout(t *testing.T) {
	e := edit(t, plainSheet(t), setup{w: 120, h: 40})
	e.press("X")
	e.at(height(60), 3)
	p := e.cellOf(height(60), 5)
	e.click(p)
	e.rowIs("(.)....a")
}

// The inks of the projector are on the terminal as long as the large layout is, and nothing of the ordinary ones.
func TestLargeInks(t *testing.T) {
	for _, light := range []bool{false, true} {
		e := edit(t, demoSheet(t), setup{w: 80, h: 24, light: light})
		contrast := cells.NewPalette(termenv.TrueColor, figure.Contrast(!light))
		e.m.opts.Contrast = &contrast
		e.send(nil)
		ordinary, strong := looks(t, figure.Styles(!light)), looks(t, figure.Contrast(!light))
		inks := func(looks []ptytest.Cell, where string) {
			t.Helper()
			for y := range e.m.scr.H {
				for x := range e.m.scr.W {
					c := e.m.scr.At(x, y)
					want := looks[c.Ink]
					want.Rune = c.Rune
					if got := e.term.Cell(x, y); c.Rune > ' ' && got != want {
						t.Fatalf("light %v, %s: cell %d,%d in ink %d is %+v on the terminal, want %+v", light, where, x, y, c.Ink, got, want)
					}
				}
			}
		}
		inks(ordinary, "to begin with")
		e.press("X")
		inks(strong, "large")
		e.press("n", "w", "i", "Esc", "z", "Esc", "Down")
		inks(strong, "after some keys")
		e.press("X")
		inks(ordinary, "back again")
	}
}

// looks are what a cell in each ink looks like on a terminal.
func looks(t *testing.T, styles []cells.Style) []ptytest.Cell {
	t.Helper()
	scr, term := cells.NewScreen(len(styles), 1), ptytest.NewTerminal(len(styles), 1)
	for i := range styles {
		scr.Put(i, 0, cells.Ink(i), 'x')
	}
	if err := cells.NewWriter(term, cells.NewPalette(termenv.TrueColor, styles)).Show(scr); err != nil {
		t.Fatal(err)
	}
	list := make([]ptytest.Cell, len(styles))
	for i := range list {
		list[i] = term.Cell(i, 0)
	}
	return list
}

// One finding at a time, in plain words, and the one before it is gone from the screen.
func TestOneFindingAtATime(t *testing.T) {
	e := edit(t, demoSheet(t), setup{w: 80, h: 24})
	e.press("X", "n")
	for range len(e.m.doc.report.Findings) {
		f := e.m.doc.finding()
		known, _ := rule.ByID(f.Rule)
		text := flat(e.m.Screen(), e.m.layout().band)
		text = strings.Replace(text, plainWords(fmt.Sprintf("%d of %d", e.m.doc.shown+1, len(e.m.doc.report.Findings))), "", 1)
		for _, want := range []string{known.Title, f.Where(), f.Message()} {
			if !strings.Contains(text, plainWords(want)) {
				t.Errorf("it does not say %q:\n%s", want, e.m.Screen())
			}
		}
		if n := strings.Count(e.m.Screen().String(), f.Message()[:8]); n > 1 {
			t.Errorf("there are %d findings on the screen:\n%s", n, e.m.Screen())
		}
		e.press("n")
	}
}
