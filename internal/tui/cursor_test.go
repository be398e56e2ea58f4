package tui

import (
	"fmt"
	"testing"

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
