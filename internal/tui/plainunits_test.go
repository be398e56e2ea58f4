package tui

import (
	"math"
	"strings"
	"testing"

	"example.org/underveil/internal/unit"
)

// A limit that is said without a unit is in the unit in force, as in the form; with one it is what was said.
func TestLimitsBySayingThem(t *testing.T) {
	for _, c := range []struct {
		units unit.Unit
		says  string
		want  float64 // mm, by the inch of 25.4 mm
	}{
		{unit.MM, "nape 25", 25}, {unit.Inch, "nape 1", 25.4}, {unit.CM, "nape 2.5", 25}, {unit.Inch, "nape 25 mm", 25}, {unit.MM, "nape 1 in", 25.4},
		{unit.Inch, "nape 1 1/4", 31.75}, {unit.MM, "nape  ½ in", 12.7},
	} {
		e := edit(t, plainSheet(t), setup{})
		e.m.opts.Units = c.units
		var said strings.Builder
		p := newPlain(&said, e.m.opts)
		p.begin(&Opened{Path: "sheet.toml", Sheet: plainSheet(t)})
		p.line("limits")
		p.line(c.says)
		if got, _ := p.m.doc.sheet().Limit("nape"); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s in %s: %g mm, want %g; said\n%s", c.says, c.units, got, c.want, said.String())
		}
	}
}
