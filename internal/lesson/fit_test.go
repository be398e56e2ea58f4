package lesson

import (
	"slices"
	"strings"
	"testing"

	"example.org/underveil/internal/sheet"
)

// fitting is an exercise on a training head with a plan, to 3 mm.
func fitting(plan *sheet.Sheet) *Exercise {
	return &Exercise{ID: "fitting", Task: Fit, May: []Part{Rows}, Tolerance: 3,
		Start: plan.With(func(c *sheet.Sheet) { c.Rows = nil }), Answer: plan}
}

// twoRows is a plan of five and of three bonds, far from everything.
func twoRows() *sheet.Sheet {
	return mediumSheet(map[sheet.Place][]int{at(60): {-8, -4, 0, 4, 8}, at(90): {-4, 0, 4}})
}

// seenOf are all the planned slots.
func seenOf(plan *sheet.Sheet) []sheet.Spot {
	var all []sheet.Spot
	for _, row := range plan.Rows {
		for slot := range row.All() {
			all = append(all, sheet.Spot{At: row.Place, Slot: slot})
		}
	}
	return all
}

// markOf marks what was made of a plan, all of it looked at.
func markOf(t *testing.T, x *Exercise, made *sheet.Sheet, off ...Off) Mark {
	t.Helper()
	m, err := (&Judge{Exercise: x}).Mark(&Attempt{Sheet: made, Off: off, Seen: seenOf(x.Answer)})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// unmet are the points that are not met, with why.
func unmet(m Mark) string {
	var all []string
	for _, p := range m.Points {
		if !p.Met {
			all = append(all, p.What+": "+p.Why)
		}
	}
	return strings.Join(all, "\n")
}

func TestFittedAsPlanned(t *testing.T) {
	x := fitting(twoRows())
	x.Clear = []string{"nape", "part"}
	x.Targets = []Target{{Of: FigureBonds, Least: 8, Most: 8}}
	x.MostStrands = 8
	m := markOf(t, x, x.Answer)
	if !m.Passed || m.Next != "" || m.Of != 10 { // looked at, 2 rows, missing, besides, kinds, 2 rules, 2 targets
		t.Errorf("%s, next %q\n%s", m.Summary(), m.Next, unmet(m))
	}
	if p := m.Points[1]; p.What != "height 60: all 5 bonds within 3 mm" || p.Why != "5 of 5 within 3 mm; largest 0.0 mm" {
		t.Errorf("the point of the row: %+v", p)
	}
}

// With nothing made, or nothing looked at, an attempt is not finished, and what is not there is no merit.
func TestFittedNothingYet(t *testing.T) {
	x := fitting(twoRows())
	x.Clear, x.MostStrands = []string{"nape"}, 8
	if m := markOf(t, x, x.Start); m.Met != 1 { // for having looked
		t.Errorf("nothing made: %s\n%s", m.Summary(), unmet(m))
	}
	j := &Judge{Exercise: x}
	m, err := j.Mark(&Attempt{Sheet: x.Answer, Seen: seenOf(x.Answer)[1:]})
	if err != nil {
		t.Fatal(err)
	}
	if unmet(m) != "every planned bond was looked at: 7 of 8; next height 60, slot 8 left" || m.Passed ||
		m.Next != "look at the planned bonds that are still to come: 1, first height 60, slot 8 left" {
		t.Errorf("one not looked at: %s, next %q", unmet(m), m.Next)
	}
	if m, err = j.Mark(&Attempt{Sheet: x.Start}); err != nil || m.Met != 0 {
		t.Errorf("nothing at all: %s, %v\n%s", m.Summary(), err, unmet(m))
	}
}

// Each of the points falls by itself, and what to do next speaks of the worst.
func TestFittedPoints(t *testing.T) {
	plan := twoRows()
	split := sheet.Bond{Shade: 'a', Split: true}
	other := plan.With(func(c *sheet.Sheet) {
		c.Shades = append(slices.Clone(c.Shades), sheet.Shade{Key: 'b', Name: "shade b", Length: 500, Grams: 0.8})
	})
	pair := plan.WithBond(at(90), 0, sheet.Bond{})
	row := func(up float64) []Off {
		return []Off{offBy(at(90), -4, 0.5, up), offBy(at(90), 0, -0.5, up), offBy(at(90), 4, 0, up)}
	}
	for _, c := range []struct {
		name        string
		plan, made  *sheet.Sheet
		off         []Off
		unmet, next string
	}{
		{"at the tolerance", plan, plan, []Off{offBy(at(60), 4, 0, 3), offBy(at(90), 0, -2, 2)}, "", ""},
		{"beyond it", plan, plan, []Off{offBy(at(60), -4, 0, -5.2), offBy(at(60), 4, 4, 0.5)},
			"height 60: all 5 bonds within 3 mm: 3 of 5 within 3 mm; largest 5.2 mm",
			"height 60, slot 4 left: 5.2 mm too low; lay the strip again before the next bond"},
		{"along the row", plan, plan, []Off{offBy(at(60), -4, 4, 0)},
			"height 60: all 5 bonds within 3 mm: 4 of 5 within 3 mm; largest 4.0 mm",
			"height 60, slot 4 left: 4.0 mm too far right; measure where the holes lie before the next bond"},
		{"a whole row, though one bond of another lies worse", plan, plan, append(row(4), offBy(at(60), 4, 0, -9)),
			"height 60: all 5 bonds within 3 mm: 4 of 5 within 3 mm; largest 9.0 mm\nheight 90: all 3 bonds within 3 mm: 0 of 3 within 3 mm; largest 4.0 mm",
			"height 90: the whole row lies 4.0 mm too high; lay the strip again before the first bond"},
		{"two bonds are no row yet", pair, pair, []Off{offBy(at(90), -4, 0, 4), offBy(at(90), 4, 0, 4.5)},
			"height 90: all 2 bonds within 3 mm: 0 of 2 within 3 mm; largest 4.5 mm",
			"height 90, slot 4 right: 4.5 mm too high; lay the strip again before the next bond"},
		{"left out", plan, plan.WithBond(at(90), 0, sheet.Bond{}), nil,
			"height 90: all 3 bonds within 3 mm: 2 of 3 within 3 mm, 1 missing; largest 0.0 mm\nno planned bond is missing: height 90, slot 0",
			"height 90, slot 0: a bond is planned there, and none was made"},
		{"besides", plan, plan.WithBond(at(120), 3, whole).WithBond(at(120), -3, whole), nil,
			"nothing is made besides the plan: 2 bonds; first height 120, slot 3 left",
			"height 120, slot 3 left: a bond was made there, and none is planned"},
		{"of another kind", plan, plan.WithBond(at(60), 0, split), nil,
			"every bond is of the kind planned: height 60, slot 0: split, and whole was planned",
			"height 60, slot 0: split, and whole was planned; lay out the strands of a row before its first bond"},
		{"of another shade", other, other.WithBonds(at(60), map[int]sheet.Bond{0: {Shade: 'b'}, 4: {Shade: 'b'}}), nil,
			"every bond is of the kind planned: 2 bonds; first height 60, slot 0: shade b, and a was planned",
			"height 60, slot 0: shade b, and a was planned; lay out the strands of a row before its first bond"},
		{"in the next hole", plan, plan.WithBonds(at(60), map[int]sheet.Bond{0: {}, -1: whole}), nil,
			"height 60: all 5 bonds within 3 mm: 4 of 5 within 3 mm; largest 8.0 mm",
			"height 60, slot 0 (made in slot 1 left): 8.0 mm too far left; measure where the holes lie before the next bond"},
	} {
		m := markOf(t, fitting(c.plan), c.made, c.off...)
		if unmet(m) != c.unmet || m.Next != c.next || m.Passed != (c.unmet == "") {
			t.Errorf("%s: %s, not met:\n%s\nnext %q\nwant:\n%s\nnext %q", c.name, m.Summary(), unmet(m), m.Next, c.unmet, c.next)
		}
	}
}

// Rules and targets count as in any exercise, and what was changed besides comes first.
func TestFittedRulesAndTargets(t *testing.T) {
	plan := twoRows()
	x := fitting(plan)
	x.Clear = []string{"bond-gap"}
	x.Targets = []Target{{Of: FigureGrams, Least: 8, Most: 9}}
	x.MostStrands = 7
	m := markOf(t, x, plan)
	if got := unmet(m); got != "8 to 9 grams: 6.4\nat most 7 strands: 8" || !strings.Contains(m.Next, "8 to 9 grams") {
		t.Errorf("%s\nnext %q", got, m.Next)
	}
	m = markOf(t, x, plan.With(func(c *sheet.Sheet) { c.Hair.Length = 10 }))
	if !strings.HasPrefix(m.Next, "take back what was changed besides: the client's hair") || !m.Points[0].Off {
		t.Errorf("hair cut: next %q", m.Next)
	}
	if _, err := (&Judge{Exercise: x}).Mark(&Attempt{Sheet: plan.With(func(c *sheet.Sheet) { c.Measures.EarToEar = 1 })}); err == nil {
		t.Error("a sheet for no head is marked")
	}
}
