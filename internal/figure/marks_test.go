package figure

import (
	"testing"

	"github.com/mattn/go-runewidth"
	"github.com/muesli/termenv"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/ptytest"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
)

// cellOf is what is drawn where a slot of a row is.
func cellOf(t *testing.T, v View, scr *cells.Screen, at sheet.Place, slot int) cells.Cell {
	t.Helper()
	w, h := Size(v.Ground.Table, v.Wide)
	x, y, ok := begin(nil, cells.Rect{W: w, H: h}, v).place(at, slot)
	if !ok {
		t.Fatalf("%s, slot %d is not on the map", at, slot)
	}
	return scr.At(x, y)
}

func TestBondsAndMarks(t *testing.T) {
	v := viewOf(t, sample(t), reportOf())
	scr := drawn(v)
	for _, c := range []struct {
		what string
		at   sheet.Place
		slot int
		want cells.Cell
	}{
		{"a whole bond", level(30), 8, cells.Cell{Rune: '●', Ink: Shade(0)}},
		{"a whole bond of the second shade", level(30), 4, cells.Cell{Rune: '●', Ink: Shade(1)}},
		{"a split bond", level(50), -8, cells.Cell{Rune: '◐', Ink: Shade(1)}},
		{"a trimmed bond", level(80), -14, cells.Cell{Rune: '◒', Ink: Shade(0)}},
		{"a split and trimmed bond", level(100), 13, cells.Cell{Rune: '◔', Ink: Shade(0)}},
		{"a bond of a row front to back", along(-24), 2, cells.Cell{Rune: '●', Ink: Shade(0)}},
		{"usable scalp", level(80), 1, cells.Cell{Rune: '·', Ink: Scalp}},
		{"the nape", level(20), 1, cells.Cell{Rune: '░', Ink: NapeInk}},
		{"the parting", level(260), 3, cells.Cell{Rune: '╱', Ink: PartInk}},
		{"the patch", level(110), -7, cells.Cell{Rune: '×', Ink: KeepOffInk}},
		{"beside the hair", level(0), 2, cells.Cell{Rune: ' '}},
		{"a stop", level(10), 3, cells.Cell{Rune: '╳', Ink: StopInk}},
		{"a caution", along(-24), 7, cells.Cell{Rune: '◇', Ink: CautionInk}},
		{"an accepted stop", level(30), 0, cells.Cell{Rune: '●', Ink: Shade(0)}},
		{"a note", level(50), 0, cells.Cell{Rune: '●', Ink: Shade(1)}},
	} {
		if got := cellOf(t, v, scr, c.at, c.slot); got != c.want {
			t.Errorf("%s is drawn as %q in ink %d, want %q in ink %d", c.what, got.Rune, got.Ink, c.want.Rune, c.want.Ink)
		}
	}
	_, y, _ := begin(nil, cells.Rect{W: 100, H: 100}, v).place(level(50), 0)
	if got := scr.At(Gutter-1, y); got != (cells.Cell{Rune: '◇', Ink: CautionInk}) {
		t.Errorf("a caution about a row is drawn as %q in ink %d", got.Rune, got.Ink)
	}
}

// Of two findings about a slot the graver shows.
func TestTheGraverFindingShows(t *testing.T) {
	at := sheet.Concern{Row: level(30), On: sheet.OnSlot, Slot: 4}
	// As a report has them, the gravest first.
	report := &rule.Report{Findings: []rule.Finding{{Severity: rule.Stop, Concern: at}, {Severity: rule.Caution, Concern: at}, {Severity: rule.Note, Concern: at}}}
	v := viewOf(t, sample(t), report)
	if got := cellOf(t, v, drawn(v), level(30), 4); got.Rune != Unicode.Stop {
		t.Errorf("%q is drawn, want the stop", got.Rune)
	}
}

// Neither the cursor nor a selection hides a stop, wherever they are.
func TestAStopIsNeverHidden(t *testing.T) {
	s := sample(t)
	report := &rule.Report{}
	for _, r := range s.Rows {
		for slot := range r.All() {
			report.Findings = append(report.Findings, rule.Finding{Severity: rule.Stop, Concern: sheet.Concern{Row: r.Place, On: sheet.OnSlot, Slot: slot}})
		}
	}
	v := viewOf(t, s, report)
	v.Picked = func(_ sheet.Place, slot int) bool { return slot%2 == 0 }
	for _, l := range v.Ground.Table.Lines {
		for slot := l.First; slot <= l.Last(); slot++ {
			v.Focus = &Spot{At: l.Place(), Slot: slot}
			scr := drawn(v)
			for _, f := range report.Findings {
				if got := cellOf(t, v, scr, f.Row, f.Slot); got.Rune != Unicode.Stop {
					t.Fatalf("with the cursor on slot %d at %s, the stop in slot %d at %s is drawn as %q", slot, l.Place(), f.Slot, f.Row, got.Rune)
				}
			}
		}
	}
}

func TestSelectionAndCursor(t *testing.T) {
	v := viewOf(t, sample(t), reportOf())
	v.Picked = func(at sheet.Place, slot int) bool {
		return at == level(30) && slot > 0 || at == along(-24) && slot == 2
	}
	v.Focus = &Spot{At: level(80), Slot: 2}
	scr := drawn(v)
	for _, c := range []struct {
		at   sheet.Place
		slot int
		want cells.Ink
	}{
		{level(30), 2, pickedShade(Shade(0))}, {level(30), 1, Picked}, {level(30), -2, Shade(0)}, {along(-24), 2, pickedShade(Shade(0))},
		{level(80), 2, Cursor}, {level(80), 4, Shade(0)},
	} {
		if got := cellOf(t, v, scr, c.at, c.slot); got.Ink != c.want {
			t.Errorf("slot %d at %s is in ink %d, want %d", c.slot, c.at, got.Ink, c.want)
		}
	}
	x, y, _ := begin(nil, cells.Rect{W: 100, H: 100}, v).place(level(80), 2)
	if scr.CursorX != x || scr.CursorY != y {
		t.Errorf("the terminal's cursor is at %d,%d, want %d,%d", scr.CursorX, scr.CursorY, x, y)
	}
	if got := scr.At(Gutter-1, y).Rune; got != Unicode.Here {
		t.Errorf("beside the cursor's line stands %q, want %q", got, Unicode.Here)
	}
}

// Every mark is one cell wide, and no two marks of the map are the same.
func TestGlyphs(t *testing.T) {
	narrow := runewidth.Condition{}
	for name, g := range map[string]Glyphs{"unicode": Unicode, "ascii": ASCII} {
		seen := map[rune]bool{}
		for _, r := range []rune{g.Whole, g.Split, g.Trimmed, g.SplitTrimmed, g.Scalp, g.Hatch, g.PartHatch, g.KeepOff, g.Stop, g.Caution, g.Here, ' '} {
			if seen[r] {
				t.Errorf("%s: %q is there twice", name, r)
			}
			seen[r] = true
		}
		all := append([]rune{g.Across, g.Down, g.Dots}, g.Corners[:]...)
		for r := range seen {
			all = append(all, r)
		}
		for _, r := range append(all, []rune(g.Dash)...) {
			if narrow.RuneWidth(r) != 1 || name == "ascii" && (r < ' ' || r > '~') {
				t.Errorf("%s: %q is %d cells wide", name, r, narrow.RuneWidth(r))
			}
		}
	}
}

// Without colour, what is selected, where the cursor is and what is being typed in still differ from all else.
func TestStatesShowWithoutColour(t *testing.T) {
	states := map[cells.Ink]bool{Picked: true, Cursor: true, Field: true, FieldOn: true}
	for _, dark := range []bool{false, true} {
		styles := Styles(dark)
		scr := cells.NewScreen(len(styles), 1)
		for i := range styles {
			scr.Put(i, 0, cells.Ink(i), 'x')
		}
		term := ptytest.NewTerminal(len(styles), 1)
		if err := cells.NewWriter(term, cells.NewPalette(termenv.Ascii, styles)).Show(scr); err != nil {
			t.Fatal(err)
		}
		for i := range styles {
			if c := term.Cell(i, 0); c.FG != "" || c.BG != "" {
				t.Errorf("dark %v: ink %d has a colour", dark, i)
			}
			for state := range states {
				if selected := state == Picked && i >= int(pickedShade(Shade(0))); selected { // a bond is told by its glyph
					continue
				}
				if int(state) != i && term.Cell(int(state), 0) == term.Cell(i, 0) {
					t.Errorf("dark %v: ink %d, a state, looks like ink %d: %+v", dark, state, i, term.Cell(i, 0))
				}
			}
		}
		for n := range 30 {
			if int(Shade(n)) >= len(styles) || !styles[Shade(n)].Bold {
				t.Errorf("dark %v: shade %d has no ink, or one that is not bold", dark, n)
			}
		}
	}
}
