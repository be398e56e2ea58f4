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

// put is a bond where it lies on the head.
type put struct {
	at   sheet.Place
	slot int
	line *slots.Line
	on   *slots.Slot
}

// bondsOn are the bonds of the sheet that lie on a line of the head, row by row.
func bondsOn(s *sheet.Sheet, table *slots.Table) [][]put {
	var rows [][]put
	for _, r := range s.Rows {
		line, err := table.Line(r.Place)
		if err != nil {
			continue
		}
		var row []put
		for slot := range r.All() {
			if on := line.At(slot); on != nil {
				row = append(row, put{r.Place, slot, line, on})
			}
		}
		rows = append(rows, row)
	}
	return rows
}

// least keeps the lesser of what is there and a value that is below the limit.
func least(found map[sheet.Concern]float64, c sheet.Concern, value, limit float64) {
	if was, ok := found[c]; value < limit-0.05 && (!ok || value < was) {
		found[c] = value
	}
}

// same compares the findings of a rule with what they should be.
func same(t *testing.T, rep *rule.Report, id string, want map[sheet.Concern]float64) {
	t.Helper()
	got := map[sheet.Concern]float64{}
	for _, f := range of(rep, id) {
		got[f.Concern] = f.Value
		if v, ok := want[f.Concern]; !ok || math.Abs(v-f.Value) > 1e-6 {
			t.Errorf("%s: it should be %.6f, and to be reported is %v", told(f), v, ok)
		}
	}
	for c, v := range want {
		if _, ok := got[c]; !ok {
			t.Errorf("%s: %s, %.3f is not reported", id, rule.Where(c), v)
		}
	}
}

// bond-gap finds what comparing every bond with every other one finds.
func TestBondGapAgainstAllPairs(t *testing.T) {
	meet := 0
	each(t, 8, 12, func(t *testing.T, _ *rand.Rand, s *sheet.Sheet, table *slots.Table, rep *rule.Report) {
		limit, _ := s.Limit(sheet.LimitBondGap)
		want := map[sheet.Concern]float64{}
		compare := func(a, b put) {
			p, q := a.on.Point, b.on.Point
			if math.Hypot(math.Hypot(p.X-q.X, p.Y-q.Y), p.Z-q.Z) > limit {
				return // and the way along the scalp is longer
			}
			c := sheet.Concern{Rule: "bond-gap", Row: b.at, On: sheet.OnSlot, Slot: b.slot}
			least(want, c, float64(table.Head.Distance(p, q)), limit)
			if a.at != b.at {
				meet++
			}
		}
		rows := bondsOn(s, table)
		for i, row := range rows {
			for k, b := range row {
				for _, a := range row[:k] { // in a row, the one farther from the centre is to move
					if absInt(a.slot) > absInt(b.slot) {
						compare(b, a)
					} else {
						compare(a, b)
					}
				}
				for _, other := range rows[:i] {
					for _, a := range other {
						if a.line.ID.Kind != b.line.ID.Kind {
							compare(a, b)
						}
					}
				}
			}
		}
		same(t, rep, "bond-gap", want)
	})
	if meet < 20 {
		t.Errorf("bonds of different rows met %d times", meet)
	}
}

func absInt(n int) int { return max(n, -n) }

// stacked finds what looking at every bond of the row above finds.
func TestStackedAgainstAllPairs(t *testing.T) {
	found := 0
	each(t, 9, 20, func(t *testing.T, _ *rand.Rand, s *sheet.Sheet, table *slots.Table, rep *rule.Report) {
		limit, _ := s.Limit(sheet.LimitStacked)
		want := map[sheet.Concern]float64{}
		for i := 1; i < len(s.Rows); i++ {
			lower, err := table.Line(s.Rows[i-1].Place)
			upper, other := table.Line(s.Rows[i].Place)
			if err != nil || other != nil || !s.Rows[i].Offset || lower.ID.Kind != scalp.Level || upper.ID.Kind != scalp.Level {
				continue
			}
			for above := range s.Rows[i].All() {
				on := upper.At(above)
				if on == nil {
					continue
				}
				foot, ok := slots.Below(on, lower)
				if !ok {
					continue
				}
				for below := range s.Rows[i-1].All() {
					if lower.At(below) == nil {
						continue
					}
					if _, ok := slots.Below(lower.At(below), upper); !ok {
						continue // it hangs from beyond the end of the upper line
					}
					d := math.Abs(foot-float64(below)) * float64(table.Spacing)
					least(want, sheet.Concern{Rule: "stacked", Row: s.Rows[i-1].Place, On: sheet.OnSlot, Slot: below}, d, limit)
				}
			}
		}
		same(t, rep, "stacked", want)
		found += len(want)
	})
	if found < 100 {
		t.Errorf("%d bonds were stacked", found)
	}
}

// row-gap finds what comparing every row with every other one finds: which are too near, though not how near,
// for of several rows it tells of the nearest.
func TestRowGapAgainstAllPairs(t *testing.T) {
	found := 0
	each(t, 10, 30, func(t *testing.T, _ *rand.Rand, s *sheet.Sheet, table *slots.Table, rep *rule.Report) {
		limit, _ := s.Limit(sheet.LimitRowGap)
		near := map[[2]sheet.Place]float64{}
		rows := bondsOn(s, table)
		if slices.ContainsFunc(rows, func(row []put) bool { return len(row) == 0 }) {
			return // a row beside which there is a parting, and on it no bond
		}
		for _, row := range rows {
			for _, other := range rows {
				if gap, ok := gapOf(s, table, row, other); ok && gap < limit-0.05 {
					near[[2]sheet.Place{row[0].at, other[0].at}] = gap
				}
			}
		}
		tooNear := map[sheet.Place]bool{}
		for pair := range near {
			tooNear[pair[0]] = true
		}
		reported := map[sheet.Place]bool{}
		for _, f := range of(rep, "row-gap") {
			reported[f.Row] = true
			gap, ok := near[[2]sheet.Place{f.Row, f.Near[0].Row}]
			if !ok || math.Abs(gap-f.Value) > 1e-9 {
				t.Errorf("%s: it should be %v, and to be reported is %v", told(f), gap, ok)
			}
		}
		for at := range tooNear {
			if !reported[at] {
				t.Errorf("the row at %s is too near another, and not reported", at)
			}
		}
		found += len(near)
	})
	if found < 50 {
		t.Errorf("%d rows were too near", found)
	}
}

// gapOf is the least distance from the bonds of a row to the line of one that was laid before it, along the stretch
// where that one has bonds.
func gapOf(s *sheet.Sheet, table *slots.Table, row, other []put) (least float64, ok bool) {
	if len(row) == 0 || len(other) == 0 || row[0].line.ID.Kind != other[0].line.ID.Kind {
		return 0, false
	}
	a, b := other[0].at.At, row[0].at.At
	if row[0].at.Along && max(a, -a) != max(b, -b) {
		a, b = max(a, -a), max(b, -b)
	}
	if a >= b {
		return 0, false
	}
	line := other[0].line
	gaps := table.Gaps(row[0].line, line)
	earlier, _ := s.Row(other[0].at)
	least = math.Inf(1)
	for _, p := range row {
		at := float64(p.slot)
		if line.ID.Kind == scalp.Level {
			if at, ok = slots.Below(p.on, line); !ok {
				continue
			}
		}
		if at > float64(earlier.First()-1) && at < float64(earlier.Last()+1) {
			least = math.Min(least, float64(gaps[p.slot-p.line.First]))
		}
	}
	return least, !math.IsInf(least, 1)
}
