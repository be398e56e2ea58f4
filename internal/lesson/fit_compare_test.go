package lesson

import (
	"math"
	"slices"
	"testing"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// whole is a bond of the first shade.
var whole = sheet.Bond{Shade: 'a'}

// fitTable is the slot table of a sheet without its distances.
func fitTable(t testing.TB, s *sheet.Sheet) *slots.Table {
	t.Helper()
	table, err := slots.Outline(s)
	if err != nil {
		t.Fatal(err)
	}
	return table
}

// mediumSheet is a sheet for a medium head with whole bonds in some slots of some rows.
func mediumSheet(rows map[sheet.Place][]int) *sheet.Sheet {
	s := sheet.New(scalp.Sizes[1].Measures)
	for place, all := range rows {
		for _, slot := range all {
			s = s.WithBond(place, slot, whole)
		}
	}
	return s
}

func at(height scalp.MM) sheet.Place { return sheet.Place{At: height} }

// offBy is a bond that lies so far off the middle of its slot.
func offBy(at sheet.Place, slot int, right, up float64) Off {
	return Off{Spot: sheet.Spot{At: at, Slot: slot}, Right: scalp.MM(right), Up: scalp.MM(up)}
}

// onLine are those of some slots, 8 mm apart, that the line of a row has on a head.
func onLine(h *scalp.Head, at sheet.Place, slots ...int) []int {
	c, ok := courseOf(h, at)
	return slices.DeleteFunc(slots, func(slot int) bool { return !ok || math.Abs(8*float64(slot)) > float64(c.high) })
}

// A bond in another slot of its row is off by so many holes; one on the line above, by what the table measures between the lines.
func TestCompareOtherSlots(t *testing.T) {
	for _, aside := range []bool{false, true} {
		for _, place := range fitPlaces {
			plan := mediumSheet(map[sheet.Place][]int{place: {3}}).With(func(c *sheet.Sheet) { c.Aside = aside })
			table := fitTable(t, plan)
			made := plan.WithRow(sheet.NewRow(place, map[int]sheet.Bond{5: whole}))
			l := Compare(plan, made, nil, table).Bonds[0]
			if math.Abs(float64(l.Right)-16) > 1e-4 || math.Abs(float64(l.Up)) > 1e-4 || l.Distance > 16.0001 || l.Distance < 15.5 {
				t.Errorf("%s: two holes along: %+v", place, l)
			}
			over, err := table.Over(place, 1)
			if err != nil {
				t.Fatal(err)
			}
			made = plan.WithRow(sheet.Row{Place: place}).WithBond(over, 3, whole)
			if place.At == 150 && !place.Along {
				continue // the next line runs over the top
			}
			l = Compare(plan, made, nil, table).Bonds[0]
			if gap := gapAt(t, table, over, place, 3); math.Abs(float64(l.Up)-gap) > 0.01 || float64(l.Distance) < gap-0.01 {
				t.Errorf("%s: one line up, %.4f mm from it: %+v", place, gap, l)
			}
		}
	}
}

// gapAt is how far a slot of one line is from another line.
func gapAt(t *testing.T, table *slots.Table, from, to sheet.Place, slot int) float64 {
	t.Helper()
	a, err := table.Line(from)
	if err != nil {
		t.Fatal(err)
	}
	b, err := table.Line(to)
	if err != nil {
		t.Fatal(err)
	}
	return float64(table.Gaps(a, b)[slot-a.First])
}

// With the strip half a hole aside every bond lies half a hole to the right.
func TestCompareHalfAHoleAside(t *testing.T) {
	plan := mediumSheet(map[sheet.Place][]int{at(60): {-4, 0, 4}, {Along: true, At: 16}: {-4, 0}})
	made := plan.With(func(c *sheet.Sheet) { c.Aside = true })
	for _, l := range Compare(plan, made, nil, fitTable(t, made)).Bonds {
		if l.Planned != l.Made || math.Abs(float64(l.Right)-4) > 1e-4 || math.Abs(float64(l.Up)) > 1e-4 {
			t.Errorf("%+v", l)
		}
	}
}

// Within the reach a bond is the planned one in another place; beyond it, one is missing and one is there besides. A row with one left out in the
// middle and one too many at its end is not shifted along.
func TestCompareMissingAndExtra(t *testing.T) {
	plan := mediumSheet(map[sheet.Place][]int{at(60): {-6, 0, 6}})
	spot := func(slot int) sheet.Spot { return sheet.Spot{At: at(60), Slot: slot} }
	made := plan.WithBonds(at(60), map[int]sheet.Bond{6: {}, 8: whole})
	c := Compare(plan, made, nil, fitTable(t, plan))
	if len(c.Bonds) != 3 || c.Bonds[2].Made != spot(8) || c.Missing != nil || c.Extra != nil {
		t.Errorf("two holes along: %+v", c)
	}
	made = plan.WithBonds(at(60), map[int]sheet.Bond{6: {}, 9: whole})
	c = Compare(plan, made, nil, fitTable(t, plan))
	if len(c.Bonds) != 2 || !slices.Equal(c.Missing, []sheet.Spot{spot(6)}) || !slices.Equal(c.Extra, []sheet.Spot{spot(9)}) {
		t.Errorf("three holes along: %+v", c)
	}
	// Up the midline it is as far as was entered, and the chord is a hundredth shorter.
	if c := Compare(plan, plan, []Off{offBy(at(60), 0, 0, 20.005)}, fitTable(t, plan)); len(c.Missing) != 1 || len(c.Extra) != 1 {
		t.Errorf("20.005 mm up: %+v", c.Bonds)
	}
	if c := Compare(plan, plan, []Off{offBy(at(60), 0, 0, 19.99)}, fitTable(t, plan)); len(c.Bonds) != 3 || math.Abs(float64(c.Bonds[1].Distance)-19.99) > 1e-3 {
		t.Errorf("19.99 mm up: %+v", c)
	}
	c = Compare(plan, made, nil, fitTable(t, plan))
	if !slices.Equal(c.Rows[0].Missing, c.Missing) || c.Rows[0].Planned != 3 {
		t.Errorf("the row: %+v", c.Rows[0])
	}
	long := mediumSheet(map[sheet.Place][]int{at(60): {-5, -4, -3, -2, -1, 0, 1, 2, 3, 4, 5}})
	made = long.WithBonds(at(60), map[int]sheet.Bond{0: {}, 6: whole})
	c = Compare(long, made, nil, fitTable(t, long))
	if len(c.Bonds) != 10 || !slices.Equal(c.Missing, []sheet.Spot{spot(0)}) || !slices.Equal(c.Extra, []sheet.Spot{spot(6)}) || c.Summary(1).Largest != 0 {
		t.Errorf("one left out and one at the end: missing %v, extra %v", c.Missing, c.Extra)
	}
	none := plan.With(func(c *sheet.Sheet) { c.Rows = nil })
	if c := Compare(plan, none, nil, fitTable(t, plan)); len(c.Missing) != 3 || c.Summary(3).Within != 0 {
		t.Errorf("nothing made: %+v", c)
	}
	if c := Compare(none, plan, nil, fitTable(t, plan)); len(c.Extra) != 3 || c.Rows != nil {
		t.Errorf("nothing planned: %+v", c)
	}
	beyond := plan.WithBond(at(60), 60, whole).WithBond(at(4000), 0, whole)
	if c := Compare(plan, beyond, nil, fitTable(t, plan)); len(c.Extra) != 2 || len(c.Bonds) != 3 {
		t.Errorf("off the head: %+v", c)
	}
	if c := Compare(beyond, beyond, nil, fitTable(t, plan)); len(c.Missing) != 2 || len(c.Extra) != 2 {
		t.Errorf("planned off the head: %+v", c)
	}
}

// Of two made bonds as far off, the one of the right kind is taken, and of two of one kind the first.
func TestCompareTies(t *testing.T) {
	plan := mediumSheet(map[sheet.Place][]int{at(60): {0}})
	split := sheet.Bond{Shade: 'a', Split: true}
	for _, c := range []struct {
		left, right sheet.Bond
		want        int
	}{{whole, whole, -1}, {split, whole, 1}, {whole, split, -1}} {
		made := plan.WithBonds(at(60), map[int]sheet.Bond{0: {}, -1: c.left, 1: c.right})
		got := Compare(plan, made, nil, fitTable(t, plan))
		if got.Bonds[0].Made.Slot != c.want {
			t.Errorf("%v left, %v right: slot %d is taken", c.left, c.right, got.Bonds[0].Made.Slot)
		}
	}
}

// Against every pairing of all bonds, with distances asked of the head again: no other way is shorter.
func TestCompareAgainstBruteForce(t *testing.T) {
	rng := fitSeeded(12)
	head := fitHead(t, rng)
	for range fitFewer(150, 30) {
		draw := func(n int) *sheet.Sheet {
			s := sheet.New(head.Measures)
			for range n {
				s = s.WithBond(at(scalp.MM(60+10*rng.IntN(3))), rng.IntN(5)-2, whole)
			}
			return s
		}
		plan, made := draw(1+rng.IntN(6)), draw(1+rng.IntN(6))
		var off []Off
		for _, row := range made.Rows {
			for slot := range row.All() {
				off = append(off, offBy(row.Place, slot, 4*rng.NormFloat64(), 4*rng.NormFloat64()))
			}
		}
		c := Compare(plan, made, off, fitTable(t, plan))
		got := 20 * float64(len(c.Missing)) // two and a half holes of 8 mm
		for _, l := range c.Bonds {
			got += float64(l.Distance)
		}
		from, to := lay(plan, nil, head), lay(made, off, head)
		used := make([]bool, len(to))
		var least func(i int) float64
		least = func(i int) float64 {
			if i == len(from) {
				return 0
			}
			best := 20 + least(i+1)
			for j := range to {
				if d := float64(head.Distance(from[i].point, to[j].point)); !used[j] && d <= 20 {
					used[j] = true
					best = min(best, d+least(i+1))
					used[j] = false
				}
			}
			return best
		}
		if want := least(0); math.Abs(got-want) > 0.01 {
			t.Errorf("%.4f mm in all, and %.4f can be had", got, want)
		}
	}
}
