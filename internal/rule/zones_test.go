package rule_test

import (
	"math"
	"slices"
	"testing"

	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// everySlot is the sheet with nothing but a bond in every slot of its map, and a few beyond the ends.
func everySlot(s *sheet.Sheet, table *slots.Table) *sheet.Sheet {
	lines := slices.Clone(table.Lines)
	for k := -5; k <= 5; k += 2 {
		if l, err := table.Line(along(scalp.MM(k) * table.Spacing)); err == nil {
			lines = append(lines, l)
		}
	}
	s = s.With(func(c *sheet.Sheet) { c.Rows, c.Accepted = nil, nil })
	for _, l := range lines {
		bonds := map[int]sheet.Bond{}
		for k := l.First - 2; k <= l.Last()+2; k++ {
			bonds[k] = sheet.Bond{Shade: 'a'}
		}
		s = s.WithRow(sheet.NewRow(l.Place(), bonds))
	}
	return s
}

// A slot is free where a bond is reported by no zone and has hair; in every other slot of the map it is reported. The
// zone that the map shows is one that reports it, and the one that it lies deepest in.
func TestFree(t *testing.T) {
	free, taken := 0, 0
	for _, head := range heads() {
		rng := seeded(7)
		table := tableOf(t, head)
		for range 3 {
			s := everySlot(filled(t, rng, head), table)
			zones := rule.ZonesOf(s)
			reports := map[sheet.Place]map[int][]string{}
			for _, f := range rule.Check(s, table).Findings {
				if slices.Contains(zoneRules, f.Rule) && f.Severity == rule.Stop { // the nape has notes on bonds outside of its zone
					if reports[f.Row] == nil {
						reports[f.Row] = map[int][]string{}
					}
					reports[f.Row][f.Slot] = append(reports[f.Row][f.Slot], f.Rule)
				}
			}
			for _, r := range s.Rows {
				line := lineOf(t, s, r.Place)
				open := rule.Free(s, line)
				if !slices.IsSorted(open) {
					t.Errorf("%s: %v is not in order", r.Place, open)
				}
				for slot := range r.All() {
					by := reports[r.Place][slot]
					if slices.Contains(open, slot) != (by == nil) {
						t.Errorf("%s, slot %d: free is %v, and it is reported by %v", r.Place, slot, open, by)
					}
					if by == nil {
						free++
					} else {
						taken++
					}
					on := line.At(slot)
					if on == nil || !on.OnScalp {
						if !slices.Equal(by, []string{"off-scalp"}) {
							t.Errorf("%s, slot %d has no hair, and is reported by %v", r.Place, slot, by)
						}
						continue
					}
					shown(t, &zones, r.Place, slot, on, by)
				}
			}
		}
	}
	if free < 3000 || taken < 3000 {
		t.Errorf("%d free slots and %d in zones show little", free, taken)
	}
}

func shown(t *testing.T, zones *rule.Zones, at sheet.Place, slot int, on *slots.Slot, by []string) {
	t.Helper()
	in := zones.In(on)
	nearest, d := zones.Nearest(on)
	switch {
	case in == rule.NoZone && by != nil, in != rule.NoZone && by == nil:
		t.Errorf("%s, slot %d: shown in %q, and reported by %v", at, slot, in, by)
	case in != rule.NoZone && (in != nearest || d >= 0):
		t.Errorf("%s, slot %d: shown in %q, the edge of %q is at %v", at, slot, in, nearest, d)
	case in == rule.NoZone && d < -0.05:
		t.Errorf("%s, slot %d: in no zone, and %v inside of %q", at, slot, d, nearest)
	case in == rule.FaceZone && (slices.Contains(by, "temple") || slices.Contains(by, "fringe")):
		// which speak for the face
	case in != rule.NoZone && !slices.Contains(by, in.String()):
		t.Errorf("%s, slot %d: shown in %q, and reported by %v", at, slot, in, by)
	}
}

// The nearest zone is the one whose edge is nearest; inside of several, the one reached deepest into.
func TestNearestZone(t *testing.T) {
	s := medium().With(func(c *sheet.Sheet) { c.KeepOff = []sheet.KeepOff{{Height: 80, Right: 0, Radius: 10}} })
	for _, c := range []struct {
		at   sheet.Place
		slot int
		zone rule.Zone
		name string
		d    float64
	}{ // 20, 15, 25, 35, 20, 25 mm
		{level(60), 0, rule.KeepOffZone, "keep-off", 10.0},
		{level(80), 0, rule.KeepOffZone, "keep-off", -10},
		{level(40), 0, rule.NapeZone, "nape", 19.4},
		{level(10), 0, rule.NapeZone, "nape", -10.2},
		{level(60), 12, rule.EarZone, "ear", -5.1}, // and 0.2 mm inside the nape
		{level(120), 19, rule.TempleZone, "temple", -7.6},
		{level(280), 7, rule.FringeZone, "fringe", -0.1},
		{along(0), 6, rule.PartZone, "part", -20},
		{along(0), 12, rule.FringeZone, "fringe", -50.4}, // deepest in the triangle
		{level(240), 0, rule.PartZone, "part", -20},
		{level(240), 4, rule.PartZone, "part", 12},
	} {
		zones := rule.ZonesOf(s)
		on := lineOf(t, s, c.at).At(c.slot)
		zone, d := zones.Nearest(on)
		if zone != c.zone || zone.String() != c.name || math.Abs(float64(d)-c.d) > 0.06 {
			t.Errorf("%s, slot %d: %q at %.2f, and not %q at %.1f", c.at, c.slot, zone, float64(d), c.name, c.d)
		}
		if in := zones.In(on); (in == rule.NoZone) != (c.d > 0) {
			t.Errorf("%s, slot %d: in zone %q", c.at, c.slot, in)
		}
	}
	if name := rule.NoZone.String(); name != "" {
		t.Errorf("no zone is called %q", name)
	}
	off := s.WithLimit(sheet.LimitFace, 60).WithLimit(sheet.LimitFringeDepth, 0)
	zones := rule.ZonesOf(off)
	if in := zones.In(lineOf(t, off, level(280)).At(5)); in != rule.FaceZone || in.String() != "face" {
		t.Errorf("42.6 mm from the hairline, with a limit of 60 at the face: in %q", in)
	}
}
