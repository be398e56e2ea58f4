package lesson

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// randomPlan is rows of every kind on a random head, with bonds of several kinds.
func randomPlan(t testing.TB, rng *rand.Rand) *sheet.Sheet {
	h := fitHead(t, rng)
	s := sheet.New(h.Measures)
	for _, place := range fitPlaces {
		if rng.IntN(3) == 0 {
			continue
		}
		var every []int
		for slot, step := -9, 1+rng.IntN(3); slot <= 9; slot += step {
			every = append(every, slot)
		}
		for _, slot := range onLine(h, place, every...) {
			s = s.WithBond(place, slot, sheet.Bond{Shade: byte('a' + rng.IntN(2)), Split: rng.IntN(3) == 0, Trimmed: rng.IntN(5) == 0})
		}
	}
	return s
}

// fittedBy is what somebody made of a plan who leaves some bonds out, makes some besides, one hole along or of another kind, and lays most
// of them a little off.
func fittedBy(rng *rand.Rand, plan *sheet.Sheet) (*sheet.Sheet, []Off) {
	made, aside := plan, map[sheet.Spot]Off{}
	for _, row := range plan.Rows {
		for slot, b := range row.All() {
			to := slot
			switch rng.IntN(12) {
			case 0:
				made = made.WithBond(row.Place, slot, sheet.Bond{})
				continue
			case 1:
				b.Split = !b.Split
			case 2:
				to++
			case 3:
				made = made.WithBond(sheet.Place{At: row.At + 10}, slot, b)
			}
			made = made.WithBonds(row.Place, map[int]sheet.Bond{slot: {}, to: b})
			if rng.IntN(3) > 0 {
				o := offBy(row.Place, to, 3*rng.NormFloat64(), 3*rng.NormFloat64())
				aside[o.Spot] = o
			}
		}
	}
	return made, slices.Collect(maps.Values(aside))
}

// What is made as it was planned lies in its place, all of it.
func TestCompareAsPlanned(t *testing.T) {
	rng := fitSeeded(10)
	for range fitFewer(20, 4) {
		plan := randomPlan(t, rng)
		c := Compare(plan, plan, nil, fitTable(t, plan))
		s := c.Summary(0)
		if s != (Summary{Planned: plan.Bonds(), Paired: plan.Bonds(), Within: plan.Bonds()}) || c.Missing != nil || c.Extra != nil {
			t.Errorf("%+v, missing %v, extra %v", s, c.Missing, c.Extra)
		}
		for _, l := range c.Bonds {
			if l.Planned != l.Made || l.Right != 0 || l.Up != 0 || l.Wrong() || l.Off() != "in its place" {
				t.Errorf("%+v", l)
			}
		}
		if len(c.Rows) != len(plan.Rows) {
			t.Errorf("%d rows of %d", len(c.Rows), len(plan.Rows))
		}
	}
}

// What is said of where a bond lies comes back; its distance is that on the head between its two places, and of a bond off along its
// line alone a little less than the way along the line, which is added up here from short pieces.
func TestCompareGivesWhatWasEntered(t *testing.T) {
	rng := fitSeeded(11)
	for range fitFewer(20, 4) {
		h := fitHead(t, rng)
		plan := sheet.New(h.Measures)
		var off []Off
		for _, place := range fitPlaces {
			for _, slot := range onLine(h, place, -6, 0, 6) { // farther from each other than the reach
				plan = plan.WithBond(place, slot, whole)
				o := offBy(place, slot, 12*rng.Float64()-6, 12*rng.Float64()-6)
				if slot == 6 {
					o.Up = 0
				}
				off = append(off, o)
			}
		}
		table := fitTable(t, plan)
		c := Compare(plan, plan, off, table)
		if len(c.Bonds) != plan.Bonds() {
			t.Fatalf("%d of %d are paired", len(c.Bonds), plan.Bonds())
		}
		for _, l := range c.Bonds {
			o := off[slices.IndexFunc(off, func(o Off) bool { return o.Spot == l.Made })]
			if l.Made != l.Planned { // rows front to back cross those over the top, and there another may be nearer
				continue
			}
			if math.Abs(float64(l.Right-o.Right)) > 1e-4 || math.Abs(float64(l.Up-o.Up)) > 1e-4 {
				t.Errorf("%v: entered %v and %v, read %v and %v", l.Planned, float64(o.Right), float64(o.Up), float64(l.Right), float64(l.Up))
			}
			if o.Up != 0 {
				continue
			}
			line, err := table.Line(l.Planned.At)
			if err != nil {
				t.Fatal(err)
			}
			along := pieces(line.Line, scalp.MM(l.Planned.Slot)*plan.HoleSpacing, o.Right)
			if math.Abs(along-math.Abs(float64(o.Right))) > 1e-3 || float64(l.Distance) > along+1e-3 || float64(l.Distance) < 0.97*along {
				t.Errorf("%v: %v mm off along the line, which is %.4f mm on it, is %.4f mm away", l.Planned, float64(o.Right), along, float64(l.Distance))
			}
		}
	}
}

// pieces is the length of a stretch of a line, added up from a thousand chords.
func pieces(l *scalp.Line, from, by scalp.MM) float64 {
	sum, before := 0.0, l.Point(from)
	for k := 1; k <= 1000; k++ {
		p := l.Point(from + by*scalp.MM(k)/1000)
		sum += apart(p, before)
		before = p
	}
	return sum
}

// Every bond is there once, the figures are those of the pairs, and the same comes out however the entries are ordered.
func TestCompareProperties(t *testing.T) {
	rng := fitSeeded(13)
	for range fitFewer(40, 8) {
		plan := randomPlan(t, rng)
		made, off := fittedBy(rng, plan)
		table := fitTable(t, plan)
		c := Compare(plan, made, off, table)
		planned, have := map[sheet.Spot]int{}, map[sheet.Spot]int{}
		largest, sum, squares, near := 0.0, 0.0, 0.0, 0
		for _, l := range c.Bonds {
			planned[l.Planned]++
			have[l.Made]++
			d := float64(l.Distance)
			largest, sum, squares = math.Max(largest, d), sum+d, squares+d*d
			if d <= 3.05 {
				near++
			}
			if d > 20 || l.Want != plan.Bond(l.Planned.At, l.Planned.Slot) || l.Have != made.Bond(l.Made.At, l.Made.Slot) {
				t.Errorf("%+v", l)
			}
			// In two steps at a right angle it is as far, but for how the head bends over 20 mm.
			if two := math.Hypot(float64(l.Right), float64(l.Up)); math.Abs(two-d) > 0.35*d+0.001 {
				t.Errorf("%v: %.3f mm, and %.3f and %.3f in two steps", l, d, float64(l.Right), float64(l.Up))
			}
		}
		for _, at := range c.Missing {
			planned[at]++
		}
		for _, at := range c.Extra {
			have[at]++
		}
		if !onceEach(plan, planned) || !onceEach(made, have) {
			t.Errorf("bonds of the plan %v, made %v", planned, have)
		}
		n := float64(len(c.Bonds))
		s := c.Summary(3)
		if s.Within != near || s.Planned != plan.Bonds() || math.Abs(float64(s.Largest)-largest) > 1e-9 ||
			math.Abs(float64(s.Mean)-sum/n) > 1e-9 || math.Abs(float64(s.RMS)-math.Sqrt(squares/n)) > 1e-9 {
			t.Errorf("%+v", s)
		}
		rng.Shuffle(len(off), func(i, j int) { off[i], off[j] = off[j], off[i] })
		if again := Compare(plan, made, off, fitTable(t, plan)); !reflect.DeepEqual(c, again) {
			t.Error("not the same twice")
		}
	}
}

// onceEach reports whether every bond of a sheet was counted once, and nothing else.
func onceEach(s *sheet.Sheet, count map[sheet.Spot]int) bool {
	for _, row := range s.Rows {
		for slot := range row.All() {
			if count[sheet.Spot{At: row.Place, Slot: slot}] != 1 {
				return false
			}
		}
	}
	return len(count) == s.Bonds()
}

// mirroredFit is a sheet and what is off on it with left and right changed.
func mirroredFit(s *sheet.Sheet, off []Off) (*sheet.Sheet, []Off) {
	m := s.With(func(c *sheet.Sheet) { c.Rows = nil })
	for _, row := range s.Rows {
		for slot, b := range row.All() {
			spot := mirroredSpot(sheet.Spot{At: row.Place, Slot: slot})
			m = m.WithBond(spot.At, spot.Slot, b)
		}
	}
	var turned []Off
	for _, o := range off {
		n := Off{Spot: mirroredSpot(o.Spot), Right: -o.Right, Up: o.Up}
		if o.At.Along {
			n.Right, n.Up = o.Right, -o.Up
		}
		turned = append(turned, n)
	}
	return m, turned
}

func mirroredSpot(s sheet.Spot) sheet.Spot {
	if s.At.Along {
		s.At.At = -s.At.At
	} else {
		s.Slot = -s.Slot
	}
	return s
}

// Mirror image in, mirror image out. Every bond is off by an amount of its own, so that no two ways are as good.
func TestCompareMirrorImage(t *testing.T) {
	rng := fitSeeded(14)
	for range fitFewer(30, 6) {
		plan := randomPlan(t, rng)
		made, _ := fittedBy(rng, plan)
		var off []Off
		for _, row := range made.Rows {
			for slot := range row.All() {
				off = append(off, offBy(row.Place, slot, 2*rng.NormFloat64(), 2*rng.NormFloat64()))
			}
		}
		mirrorPlan, _ := mirroredFit(plan, nil)
		mirrorMade, mirrorOff := mirroredFit(made, off)
		table := fitTable(t, plan)
		a, b := Compare(plan, made, off, table), Compare(mirrorPlan, mirrorMade, mirrorOff, table)
		if len(a.Bonds) != len(b.Bonds) || len(a.Extra) != len(b.Extra) {
			t.Fatalf("%d pairs and %d besides, in the mirror %d and %d", len(a.Bonds), len(a.Extra), len(b.Bonds), len(b.Extra))
		}
		for _, l := range a.Bonds {
			i := slices.IndexFunc(b.Bonds, func(m Lying) bool { return m.Planned == mirroredSpot(l.Planned) })
			if i < 0 || b.Bonds[i].Made != mirroredSpot(l.Made) {
				t.Fatalf("%v has another partner in the mirror", l)
			}
			m, right, up := b.Bonds[i], -l.Right, l.Up
			if l.Planned.At.Along {
				right, up = l.Right, -l.Up
			}
			if math.Abs(float64(m.Distance-l.Distance))+math.Abs(float64(m.Right-right))+math.Abs(float64(m.Up-up)) > 1e-4 {
				t.Errorf("%+v, in the mirror %+v", l, m)
			}
		}
	}
}

// A whole head, every bond of it a little off.
func BenchmarkCompare(b *testing.B) {
	for _, step := range []int{3, 1} {
		plan := sheet.New(scalp.Sizes[1].Measures)
		rng := fitSeeded(15)
		var off []Off
		for _, height := range []scalp.MM{40, 50, 60, 70, 80, 90, 100, 110, 120, 130, 180, 200, 220} {
			for slot := -12; slot <= 12; slot += step {
				plan = plan.WithBond(at(height), slot, whole)
				off = append(off, offBy(at(height), slot, 2*rng.NormFloat64(), 2*rng.NormFloat64()))
			}
		}
		table := fitTable(b, plan)
		b.Run(fmt.Sprintf("%d bonds", plan.Bonds()), func(b *testing.B) {
			for b.Loop() {
				Compare(plan, plan, off, table)
			}
		})
		b.Run(fmt.Sprintf("%d bonds as planned", plan.Bonds()), func(b *testing.B) {
			for b.Loop() {
				Compare(plan, plan, nil, table)
			}
		})
	}
}
