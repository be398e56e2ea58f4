package rule_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// painted is the sheet with a row painted between the zones, offset against the row below.
func painted(t testing.TB, s *sheet.Sheet, at sheet.Place, hand sheet.Hand) *sheet.Sheet {
	t.Helper()
	line := lineOf(t, s, at)
	row := sheet.NewRow(at, hand.Lay(rule.Free(s, line), rule.OffsetPhase(s, tableOf(t, s), at, hand.Pattern)))
	row.Offset = true
	return s.WithRow(row)
}

// Painted from the nape up in every second slot, the rows alternate at the centre back, and for some slots to both
// sides none hangs straight down on one below.
func TestOffsetAlternates(t *testing.T) {
	for _, size := range scalp.Sizes {
		s := sheet.New(size.Measures)
		var rows []sheet.Place
		for _, l := range tableOf(t, s).Lines {
			if l.ID.Kind == scalp.Level && l.ID.At >= 40 && math.Mod(float64(l.ID.At), 20) == 0 {
				s = painted(t, s, l.Place(), sheet.Hand{Pattern: sheet.EverySecond, Shades: "a"})
				rows = append(rows, l.Place())
			}
		}
		if len(rows) < 5 {
			t.Fatalf("%s: only the rows %v", size.Name, rows)
		}
		for i, at := range rows {
			if s.Bond(at, 0).Placed() != (i%2 == 0) || s.Bond(at, 1).Placed() != (i%2 == 1) {
				t.Errorf("%s: the row at %s does not alternate with the one below: %s", size.Name, at, s.Rows[i].Text())
			}
		}
		for _, f := range of(check(t, s), "stacked") {
			if absInt(f.Slot) < 4 {
				t.Errorf("%s: %s", size.Name, told(f))
			}
		}
	}
}

// hangOn is how much the bonds that a phase would lay stand in line with those of the neighbouring rows: each that has one
// within half a slot counts for one at the centre, and for less the farther out it is.
func hangOn(s *sheet.Sheet, line *slots.Line, neighbours []*slots.Line, pattern sheet.Pattern, phase int) float64 {
	sum := 0.0
	for _, other := range neighbours {
		sum += inLine(s, line, other, pattern, phase)
	}
	return sum
}

func inLine(s *sheet.Sheet, line, lower *slots.Line, pattern sheet.Pattern, phase int) float64 {
	below, _ := s.Row(lower.Place())
	sum := 0.0
	for slot := range (sheet.Hand{Pattern: pattern, Shades: "a"}).Lay(rule.Free(s, line), phase) {
		foot, ok := slots.Below(line.At(slot), lower)
		if !ok {
			continue
		}
		for k := range below.All() {
			if math.Abs(foot-float64(k)) <= 0.5 {
				sum += 1 / float64(1+absInt(slot))
				break
			}
		}
	}
	return sum
}

// The offset chosen is never worse than another one, and the least of those that are as good.
func TestOffsetIsBest(t *testing.T) {
	chosen := map[int]int{}
	each(t, 11, 12, func(t *testing.T, rng *rand.Rand, s *sheet.Sheet, table *slots.Table, _ *rule.Report) {
		for range 4 {
			line := table.Lines[1+rng.IntN(table.Round()-1)]
			i, _ := slices.BinarySearchFunc(s.Rows, line.ID.At, func(r sheet.Row, at scalp.MM) int {
				if r.Along || r.At >= at {
					return 1
				}
				return -1
			})
			var neighbours []*slots.Line
			if i > 0 {
				neighbours = append(neighbours, lineOf(t, s, s.Rows[i-1].Place))
			}
			if i < len(s.Rows) && s.Rows[i].Place == line.Place() {
				i++
			}
			if i < len(s.Rows) && !s.Rows[i].Along {
				if above, err := table.Line(s.Rows[i].Place); err == nil && above.ID.Kind == scalp.Level {
					neighbours = append(neighbours, above)
				}
			}
			if neighbours == nil {
				continue
			}
			pattern := []sheet.Pattern{"x.", "x..", "x...", "xx.", "x", "xx...x.."}[rng.IntN(6)]
			got := rule.OffsetPhase(s, table, line.Place(), pattern)
			if got < 0 || got >= len(pattern) {
				t.Fatalf("%s: phase %d of %q", line.Place(), got, pattern)
			}
			chosen[got]++
			cost := hangOn(s, line, neighbours, pattern, got)
			for phase := range len(pattern) {
				other := hangOn(s, line, neighbours, pattern, phase)
				if other < cost-1e-9 || phase < got && other < cost+1e-9 {
					t.Errorf("%s, %q: phase %d costs %.3f, and %d costs %.3f", line.Place(), pattern, got, cost, phase, other)
				}
			}
		}
	})
	if chosen[0] < 20 || chosen[1] < 20 || chosen[2] < 5 {
		t.Errorf("chosen: %v", chosen)
	}
}

// Where there is nothing to offset against, a pattern begins at the centre.
func TestNoOffset(t *testing.T) {
	s := laid(medium(), level(60), 0)
	table := tableOf(t, s)
	for _, c := range []struct {
		at   sheet.Place
		want int
	}{
		{level(80), 1}, // over the bond at 60
		{level(60), 0}, // a row is not offset against itself,
		{level(50), 1}, // under it
		{level(200), 0},
		{along(24), 0},
		{level(85), 0},
		{level(1000), 0},
	} {
		if got := rule.OffsetPhase(s, table, c.at, sheet.EverySecond); got != c.want {
			t.Errorf("%s: phase %d, and not %d", c.at, got, c.want)
		}
	}
	s = s.WithRow(sheet.Row{Place: level(60)})
	for _, off := range []scalp.MM{65, 1000} { // rows that have no line, below and above
		s = laid(s, level(off), 0)
	}
	if got := rule.OffsetPhase(s, table, level(80), sheet.EverySecond); got != 0 {
		t.Errorf("over a row that has no line: phase %d", got)
	}
}
