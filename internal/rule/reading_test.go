package rule_test

import (
	"math"
	"slices"
	"testing"

	"example.org/underveil/internal/fall"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// The readings of a sheet are the zones, each way of wearing the hair, load and density, each by a name of its own.
func TestReadings(t *testing.T) {
	s := medium().With(func(c *sheet.Sheet) { c.Partings = []scalp.Parting{{Right: 30, Length: 120}, {Right: -20, Length: 90}} })
	want := []string{"zones", "veil, parting 30 mm right", "veil, parting 20 mm left", "cover, half up", "cover, low ponytail",
		"cover, high ponytail", "load, whole strands", "density"}
	var names []string
	for _, r := range rule.Readings(s) {
		names = append(names, r.Name(s))
		if (r.Unit() == "") != (r.Kind == rule.ByZone) {
			t.Errorf("the unit of %s is %q", r.Name(s), r.Unit())
		}
	}
	if !slices.Equal(names, want) {
		t.Errorf("%q, and not %q", names, want)
	}
	bare := s.With(func(c *sheet.Sheet) { c.Partings = nil })
	if r := rule.Readings(bare); len(r) != len(want)-1 || r[1].Name(bare) != "veil, no parting" {
		t.Errorf("without a parting: %d readings, %q", len(r), r[1].Name(bare))
	}
	for _, head := range heads() {
		seen := map[string]bool{}
		for _, r := range rule.Readings(head) {
			if name := r.Name(head); seen[name] {
				t.Errorf("two readings are called %q", name)
			} else {
				seen[name] = true
			}
		}
	}
}

// A scale goes from the worst to the best, and a figure that gets better never falls back a step.
func TestScale(t *testing.T) {
	s := medium()
	table := tableOf(t, s)
	for _, r := range rule.Readings(s) {
		if r.Kind == rule.ByZone {
			continue
		}
		sc := rule.ScaleOf(r, s, table)
		bounds := sc.Bounds()
		better := func(a, b float64) bool { return a < b != sc.AtMost }
		if !better(bounds[0], bounds[1]) || !better(bounds[1], bounds[2]) || sc.Source == "" || sc.Limit <= 0 {
			t.Errorf("%s: bounds %v, limit %v from %q", r.Name(s), bounds, sc.Limit, sc.Source)
		}
		if r.Kind != rule.ByDensity && bounds[1] != sc.Limit {
			t.Errorf("%s: the limit %v is not the middle one of %v", r.Name(s), sc.Limit, bounds)
		}
		seen := map[int]bool{}
		before := sc.Step(0)
		for v := 0.0; v < 3*sc.Limit; v += sc.Limit / 50 {
			step := sc.Step(v)
			seen[step] = true
			if sc.AtMost && step > before || !sc.AtMost && step < before {
				t.Errorf("%s: step %d at %.1f, after %d", r.Name(s), step, v, before)
			}
			before = step
		}
		if len(seen) != rule.Steps {
			t.Errorf("%s: the steps %v of %d", r.Name(s), seen, rule.Steps)
		}
	}
	touching := rule.ScaleOf(rule.Reading{Kind: rule.ByLoad}, s, table)
	within := touching.Step(touching.Limit)
	if touching.Step(touching.Limit+0.04) != within || touching.Step(touching.Limit+0.06) == within {
		t.Error("a load that touches its limit is not within it, or one that misses it is")
	}
}

// The map shows a slot as missing the limit exactly where the rules report the bond in it, at the time at which they do.
func TestScaleAgreesWithRules(t *testing.T) {
	missing, enough := 0, 0
	for _, head := range []*sheet.Sheet{heads()[0], heads()[len(heads())-1]} {
		for _, worn := range sheet.Wears {
			s := everySlot(head, tableOf(t, head)).With(func(c *sheet.Sheet) {
				c.Worn = []sheet.Wear{worn}
				c.Hair = sheet.Hair{Length: 250, Count: 165}
				c.Shades = []sheet.Shade{{Key: 'a', Length: 500, Grams: 0.9, Pack: 25}}
			})
			table := tableOf(t, s)
			rep := rule.Check(s, table)
			reported := map[sheet.Concern]rule.Finding{}
			for _, f := range rep.Findings {
				reported[f.Concern] = f
			}
			id := "shows-up"
			if worn == sheet.WornDown {
				id = "thin-veil"
			}
			for _, row := range bondsOn(s, table) {
				for _, b := range row {
					if !b.on.OnScalp {
						continue
					}
					c := sheet.Concern{Rule: id, Row: b.at, On: sheet.OnSlot, Slot: b.slot}
					f, told := reported[c]
					time, step := missesFirst(s, table, worn, b)
					if told != (time >= 0) || told && f.Reading.Time != time || told && (f.Severity == rule.Stop) != (time == 0 && step == 0) {
						t.Errorf("%s, %s: reported is %v at %d, and the scale misses at %d in step %d", id, rule.Where(c), told, f.Reading.Time, time, step)
					}
					if told {
						missing++
					} else {
						enough++
					}
					load := rule.ScaleOf(rule.Reading{Kind: rule.ByLoad}, s, table)
					v, _ := load.At(b.line, b.slot)
					c.Rule = "load"
					_, heavy := reported[c]
					c.Rule = "split"
					_, halve := reported[c]
					if heavy && halve || (heavy || halve) != (load.Step(v) < 2) {
						t.Errorf("%s: load is %v, split is %v, and the scale has %.1f in step %d", rule.Where(c), heavy, halve, v, load.Step(v))
					}
				}
			}
		}
	}
	if missing < 300 || enough < 300 {
		t.Errorf("%d slots miss a limit and %d do not: that shows little", missing, enough)
	}
}

// missesFirst is the first time at which a reading of the way of wearing misses its limit, and the worst step then; -1
// where none does.
func missesFirst(s *sheet.Sheet, table *slots.Table, worn sheet.Wear, b put) (time, step int) {
	for time := range fall.Weeks {
		worst := rule.Steps
		for _, r := range rule.Readings(s) {
			if r.Kind != rule.ByCover || r.Way.Wear != worn {
				continue
			}
			r.Time = time
			sc := rule.ScaleOf(r, s, table)
			if v, ok := sc.At(b.line, b.slot); ok {
				worst = min(worst, sc.Step(v))
			}
		}
		if worst < 2 {
			return time, worst
		}
	}
	return -1, rule.Steps
}

// A scale has no figure where there is no hair, and its figures for slots of one head differ.
func TestScaleAt(t *testing.T) {
	s := medium()
	table := tableOf(t, s)
	for _, r := range rule.Readings(s)[1:] {
		sc := rule.ScaleOf(r, s, table)
		sc.Fill()
		low, high := math.Inf(1), math.Inf(-1)
		for _, line := range table.Lines {
			for k := line.First - 1; k <= line.Last()+1; k++ {
				v, ok := sc.At(line, k)
				on := line.At(k)
				if ok != (on != nil && on.OnScalp) {
					t.Errorf("%s, %s, slot %d: a figure is %v", r.Name(s), line.Place(), k, ok)
				}
				if ok {
					low, high = math.Min(low, v), math.Max(high, v)
				}
			}
		}
		if low < 0 || high < 1.5*low || math.IsNaN(high) {
			t.Errorf("%s: from %.1f to %.1f", r.Name(s), low, high)
		}
	}
}
