package lesson

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// busySheet has everything that zones are measured from.
func busySheet() *sheet.Sheet {
	return sheet.New(scalp.Sizes[1].Measures).With(func(c *sheet.Sheet) {
		c.Partings = []scalp.Parting{{Right: 32, Length: 110}, {Right: -20, Length: 70}}
		c.KeepOff = []sheet.KeepOff{{Height: 70, Right: -45, Radius: 12}, {Height: 260, Right: 30, Radius: 8}}
	})
}

// A bond that lies as far along its line as the next hole is has all that is measured from that hole. The table's own measures
// say what that is, so nothing here is worked out by the code that is tested.
func TestWhereTheyLieAgainstTheNextHole(t *testing.T) {
	rng := fitSeeded(20)
	base := busySheet()
	before, err := slots.For(base, nil)
	if err != nil {
		t.Fatal(err)
	}
	for range fitFewer(8, 2) {
		made, off := base, []Off(nil)
		for i, place := range fitPlaces {
			slot := rng.IntN(9) - 4
			if _, last := lineOf(t, before, place).HairEnds(); i%2 == 0 && slotOf(t, before, place, last+1) != nil {
				slot = last // and so out of the hair
			}
			made = made.WithBond(place, slot, whole)
			off = append(off, offBy(place, slot, 8, 0))
		}
		j := &Judge{Exercise: fitting(base)}
		_, moved, err := j.reportWhere(made, off)
		if err != nil {
			t.Fatal(err)
		}
		for _, o := range off {
			got, want := slotOf(t, moved, o.At, o.Slot), slotOf(t, before, o.At, o.Slot+1)
			if !sameSlot(got, want) {
				t.Errorf("%s, slot %d, moved one hole along:\n%+v, want\n%+v", o.At, o.Slot, got, want)
			}
			if other, same := slotOf(t, moved, o.At, o.Slot-1), slotOf(t, before, o.At, o.Slot-1); !sameSlot(other, same) {
				t.Errorf("%s: slot %d was moved as well", o.At, o.Slot-1)
			}
			if kept := slotOf(t, j.table, o.At, o.Slot); !sameSlot(kept, slotOf(t, before, o.At, o.Slot)) {
				t.Errorf("%s: the judge's own table has slot %d elsewhere", o.At, o.Slot)
			}
		}
	}
}

func slotOf(t *testing.T, table *slots.Table, at sheet.Place, slot int) *slots.Slot {
	t.Helper()
	return lineOf(t, table, at).At(slot)
}

func lineOf(t *testing.T, table *slots.Table, at sheet.Place) *slots.Line {
	t.Helper()
	line, err := table.Line(at)
	if err != nil {
		t.Fatal(err)
	}
	return line
}

// sameSlot reports whether two slots are one, to a hundredth of a millimetre, and within a few where distances are estimates.
func sameSlot(a, b *slots.Slot) bool {
	near := func(a, b scalp.MM) bool {
		most := 0.01
		if float64(min(a, b)) > float64(scalp.FarReach)-5 {
			most = 5
		}
		return a == b || math.Abs(float64(a-b)) < most
	}
	same := apart(a.Point, b.Point) < 1e-3 && a.OnScalp == b.OnScalp && len(a.KeepOff) == len(b.KeepOff) &&
		near(a.Nape, b.Nape) && near(a.Ear, b.Ear) && near(a.Temple, b.Temple) && near(a.Front, b.Front) &&
		near(a.Fringe, b.Fringe) && near(a.Part, b.Part)
	for i := range a.KeepOff {
		same = same && near(a.KeepOff[i], b.KeepOff[i])
	}
	return same
}

// On the midline the way straight up from a line is the midline, along which heights are measured: a bond 15 mm below height 30
// lies at height 15, and the rules say of it what they say of a bond placed there.
func TestFittedRulesWhereItLies(t *testing.T) {
	base := busySheet().With(func(c *sheet.Sheet) { c.LineGap = 5; c.Worn = []sheet.Wear{sheet.WornDown} })
	for _, c := range []struct{ from, to scalp.MM }{{30, 15}, {30, 5}, {250, 270}, {270, 250}, {290, 275}, {265, 300}} {
		x := fitting(base.WithBond(at(c.from), 0, whole))
		x.Tolerance = 50
		j := &Judge{Exercise: x}
		rep, _, err := j.reportWhere(x.Answer, []Off{offBy(at(c.from), 0, 0, float64(c.to-c.from))})
		if err != nil {
			t.Fatal(err)
		}
		want, _, err := j.Report(base.WithBond(at(c.to), 0, whole))
		if err != nil {
			t.Fatal(err)
		}
		if got, want := findingsOf(rep), findingsOf(want); !slices.Equal(got, want) || c.to != 250 && len(got) == 0 {
			t.Errorf("height %v, put to %v: %q\nplaced there: %q", float64(c.from), float64(c.to), got, want)
		}
	}
}

// findingsOf are the findings about a bond with what they measured.
func findingsOf(rep *rule.Report) []string {
	var all []string
	for _, f := range rep.Findings {
		if f.On == sheet.OnSlot {
			all = append(all, fmt.Sprintf("%s %.1f", f.Rule, f.Value))
		}
	}
	return all
}

// A bond planned clear of the nape and made too near it is marked, though it is within the tolerance; and so are two that were planned
// with room between them and made without.
func TestFittedClearWhereItLies(t *testing.T) {
	plan := mediumSheet(map[sheet.Place][]int{at(40): {0}, at(60): {0, 1}}).WithLimit(sheet.LimitNape, 38)
	x := fitting(plan)
	x.Clear = []string{"nape", "bond-gap"}
	if m := markOf(t, x, plan); !m.Passed {
		t.Fatalf("as planned: %s", unmet(m))
	}
	m := markOf(t, x, plan, offBy(at(40), 0, 0, -2.5))
	if f := onlyFinding(t, m); f.Rule != "nape" || f.Row != at(40) || f.Value > 38 || !strings.HasPrefix(m.Next, "nape, height 40") {
		t.Errorf("too low: %s: %s\nnext %q", f.Where(), f.Message(), m.Next)
	}
	narrow := fitting(plan.With(func(c *sheet.Sheet) { c.HoleSpacing = 6 }))
	narrow.Clear = x.Clear
	if m = markOf(t, narrow, narrow.Answer); !m.Passed {
		t.Fatalf("with narrow holes: %s", unmet(m))
	}
	m = markOf(t, narrow, narrow.Answer, offBy(at(60), 0, 0.5, 0), offBy(at(60), 1, -0.5, 0))
	if f := onlyFinding(t, m); f.Rule != "bond-gap" || math.Abs(f.Value-5) > 0.01 { // 6 mm apart, each half a mm nearer
		t.Errorf("too near each other: %s: %s", f.Where(), f.Message())
	}
	if m = markOf(t, x, plan, offBy(at(60), 5, 0, 40)); !m.Passed {
		t.Errorf("a slot without a bond is said to be off: %s", unmet(m))
	}
}

// onlyFinding is the finding that the one point not met speaks of.
func onlyFinding(t *testing.T, m Mark) *rule.Finding {
	t.Helper()
	var found []*rule.Finding
	for _, p := range m.Points {
		if !p.Met {
			found = append(found, p.About)
		}
	}
	if len(found) != 1 || found[0] == nil {
		t.Fatalf("not met: %s", unmet(m))
	}
	return found[0]
}
