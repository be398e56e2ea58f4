package lesson

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// The lines say the whole, the rows in columns, and then what is wrong.
func TestComparisonText(t *testing.T) {
	plan := twoRows().WithBonds(sheet.Place{Along: true, At: 16}, map[int]sheet.Bond{-3: whole, 3: whole}).WithBond(at(250), -7, whole)
	made := plan.WithBonds(at(90), map[int]sheet.Bond{0: {}, 4: {Shade: 'b', Split: true}}).WithBond(at(130), 6, whole).WithBond(at(250), -7, sheet.Bond{})
	off := []Off{offBy(at(60), -8, 0, -5.2), offBy(at(60), 0, 4, 4), offBy(at(60), 4, -1, 0),
		offBy(sheet.Place{Along: true, At: 16}, -3, 0, 4), offBy(sheet.Place{Along: true, At: 16}, 3, -3.6, 0)}
	c := Compare(plan, made, off, fitTable(t, plan))
	got := strings.Join(c.Text(3, 3), "\n")
	mean, squares := 0.0, 0.0 // of nine bonds: so near are the paths to straight ones over these lengths
	for _, d := range []float64{5.2, math.Hypot(4, 4), 1, 4, 3.6} {
		mean, squares = mean+d/9, squares+d*d/9
	}
	for _, want := range []string{
		fmt.Sprintf("5 of 11 within 3 mm, 2 missing; largest 5.7 mm, mean %.1f mm, root mean square %.1f mm; 1 besides the plan", mean, math.Sqrt(squares)),
		"height 60                3 of 5  mean  2.4 mm  largest  5.7 mm",
		"height 90                2 of 3  mean  0.0 mm  largest  0.0 mm  1 missing",
		"height 250               0 of 1  1 missing",
		"front to back, 16 right  0 of 2  mean  3.8 mm  largest  4.0 mm",
		"farther than 3 mm\n  height 60, slot 0: 5.7 mm off, 4.0 mm too high and 4.0 mm too far right\n  height 60, slot 8 left: 5.2 mm too low\n" +
			"  front to back, 16 right, slot 3 back: 4.0 mm too far right\n  and 1 more",
		"missing\n  height 90, slot 0\n  height 250, slot 7 left",
		"made besides the plan\n  height 130, slot 6 right",
		"another kind than planned\n  height 90, slot 4 right: split of shade b, and whole of a was planned",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in\n%s", want, got)
		}
	}
	none := plan.With(func(c *sheet.Sheet) { c.Rows = nil })
	if got := Compare(none, none, nil, fitTable(t, none)).Text(3, 3); !slices.Equal(got, []string{"no bond is planned"}) {
		t.Errorf("%q", got)
	}
}

func TestOffWords(t *testing.T) {
	for _, c := range []struct {
		kind      scalp.LineKind
		right, up scalp.MM
		want      string
	}{
		{scalp.Level, 0, 0, "in its place"},
		{scalp.Level, 0, 4, "4.0 mm too high"},
		{scalp.Level, -4, 0.5, "4.0 mm too far left"},
		{scalp.Level, 3, -4, "5.0 mm off, 4.0 mm too low and 3.0 mm too far right"},
		{scalp.Across, 0, 4, "4.0 mm too far forward"},
		{scalp.Across, 0, -4, "4.0 mm too far back"},
		{scalp.Across, 4, 0, "4.0 mm too far right"},
		{scalp.Along, 4, 0, "4.0 mm too far forward"},
		{scalp.Along, -4, 3, "5.0 mm off, 4.0 mm too far back and 3.0 mm too far right"},
		{scalp.Along, 0, -4, "4.0 mm too far left"},
	} {
		if got := offWords(c.kind, scalp.MM(math.Hypot(float64(c.right), float64(c.up))), c.right, c.up); got != c.want {
			t.Errorf("%v right, %v up of kind %d: %q, want %q", float64(c.right), float64(c.up), c.kind, got, c.want)
		}
	}
}
