package tui

import (
	"fmt"
	"testing"

	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// Going over lines and back, with the cursor or with a selection, has to end on the very lines that it began on: a
// hole spacing of 7.3 mm added up eleven times is not quite 80.3. The driver looks after every key.
func TestUnevenSpacingsAddUp(t *testing.T) {
	for _, mm := range []scalp.MM{7.3, 9.7, 10.1} {
		t.Run(fmt.Sprint(mm), func(t *testing.T) {
			s := plainSheet(t).With(func(c *sheet.Sheet) { c.HoleSpacing, c.LineGap = mm, mm })
			row, err := sheet.ParseBonds(height(tableOf(t, s).Lines[8].Place().At), "a.(a).a")
			if err != nil {
				t.Fatal(err)
			}
			e := edit(t, s.WithRow(row), setup{})
			e.at(row.Place, -2)
			e.press("shift+Right", "shift+Right", "shift+Right", "shift+Right", "m")
			for range 20 {
				e.press("Up")
			}
			for range 23 {
				e.press("Down")
			}
			e.press("Up", "Up", "Up", "Enter")
			if got, ok := e.m.doc.sheet().Row(row.Place); !ok || !got.Equal(row) {
				t.Errorf("up and down again the row is %v", e.m.doc.sheet().Rows)
			}
			e.at(e.m.doc.table.Lines[28].Place(), 0)
			e.press("d", "space")
			e.at(e.m.doc.table.Lines[28].Place(), 0)
			e.press("d")
			for range 12 {
				e.press("Left")
			}
			for range 20 {
				e.press("Right")
			}
			e.press("g", "m")
			for range 9 {
				e.press("Right")
			}
			for range 14 {
				e.press("Left")
			}
		})
	}
}

// A selection that is being moved is shown where it has got to, with the cursor.
func TestCarriedSelectionIsShownWhereItIs(t *testing.T) {
	e := edit(t, plainSheet(t).WithRow(parseRow(t, "60 a.a.(a).a.a")), setup{w: 80, h: 24})
	e.at(height(60), -4)
	e.press("shift+Right", "shift+Right", "m")
	for range 25 { // farther than the map shows at once
		e.press("Up")
	}
	if got := e.m.doc.cursor.At; got != height(310) {
		t.Errorf("the cursor is at %s", got)
	}
	x, y := e.m.scr.CursorX, e.m.scr.CursorY
	for k := range 3 {
		if c := e.term.Cell(x-2+k, y); !c.Underline && c.Rune != figure.Unicode.Stop {
			t.Errorf("slot %d is not shown as selected: %+v", k, c)
		}
	}
	if c := e.term.Cell(x-3, y); c.Underline {
		t.Errorf("the slot beside the selection is shown as selected: %+v", c)
	}
	e.press("Esc")
	if got := e.m.doc.cursor.At; got != height(60) {
		t.Errorf("taken back, the cursor is at %s", got)
	}
	e.rowIs("a.a.(a).a.a")
}
