package slots

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

func TestLineOfEveryPlace(t *testing.T) {
	for _, s := range append(slices.Clone(heads()), raisedNape(medium())) {
		table := must(t, s)
		for i, l := range table.Lines {
			got, err := table.Line(l.Place())
			if err != nil || got != l {
				t.Fatalf("%s: another line, error %v", l.Place(), err)
			}
			if table.Index(l) != i {
				t.Fatalf("the line at %s has index %d, want %d", l.Place(), table.Index(l), i)
			}
			if got, err := table.Line(level(l.ID.At + 1e-9)); err != nil || got != l {
				t.Fatalf("%s and a little: error %v", l.Place(), err)
			}
		}
		for _, l := range table.alongs() {
			if got := table.line(t, l.Place()); got != l {
				t.Fatalf("%s: made again", l.Place())
			}
			if l.ID.Kind != scalp.Along || !l.Place().Along || table.Index(l) != -1 {
				t.Fatalf("%s: %v, index %d", l.Place(), l.ID, table.Index(l))
			}
		}
	}
}

// raisedNape is the sheet with the hairline of the nape so high that the lowest lines of the map have no hair.
func raisedNape(s *sheet.Sheet) *sheet.Sheet {
	for _, l := range []scalp.Landmark{
		{Name: scalp.NapeCentre}, {Name: scalp.NapeCorner, Side: scalp.Left}, {Name: scalp.NapeCorner, Side: scalp.Right},
		{Name: scalp.BehindEar, Side: scalp.Left}, {Name: scalp.BehindEar, Side: scalp.Right},
	} {
		s = s.WithLandmark(l, scalp.Shift{Up: 25})
	}
	return s
}

func TestMapBeginsWhereTheHairDoes(t *testing.T) {
	table := must(t, raisedNape(medium()))
	if low := table.Lines[0].ID.At; low < 20 || low > 40 {
		t.Errorf("the first line is at %v", low)
	}
	if _, err := table.Line(level(3)); err == nil || !strings.Contains(err.Error(), "the nearest is at height 30") {
		t.Errorf("error %v", err)
	}
	_, err := table.Line(level(0))
	if !errors.Is(err, ErrNoLine) || !strings.Contains(err.Error(), "from height 30 to") {
		t.Errorf("error %v", err)
	}
}

func TestNoLine(t *testing.T) {
	table := must(t, medium())
	for _, c := range []struct {
		at   sheet.Place
		off  bool // would be a line on a larger head
		want string
	}{
		{level(-10), true, "height -10: the lines go from height 0 to 350"},
		{level(-1e300), true, "the lines go from height 0 to 350"},
		{level(360), true, "height 360: the lines go from height 0 to 350"},
		{level(scalp.MM(math.Inf(1))), false, "no line"},
		{level(63), false, "height 63: the lines are 10 mm apart; the nearest is at height 60"},
		{level(66), false, "height 66: the lines are 10 mm apart; the nearest is at height 70"},
		{level(-2), false, "height -2: the lines are 10 mm apart; the nearest is at height 0"},
		{level(352), false, "height 352: the lines are 10 mm apart; the nearest is at height 350"},
		{level(65), false, "the nearest is at height 70"},
		{level(9999), false, "height 9999: the lines are 10 mm apart; the nearest is at height 350"},
		{level(-55), false, "height -55: the lines are 10 mm apart; the nearest is at height 0"},
		{level(60.01), false, "the nearest is at height 60"},
		{level(scalp.MM(math.NaN())), false, "no line"},
		{along(4), false, "4 mm from the midline: rows front to back lie a whole number of hole spacings (8 mm) from it"},
		{along(-8.1), false, "-8.1 mm from the midline: rows front to back lie a whole number"},
		{along(160), true, "160 mm from the midline: that is beside the top"},
		{along(-800), true, "-800 mm from the midline: that is beside the top"},
		{along(8e6), true, "beside the top"},
		{along(scalp.MM(math.NaN())), false, "no line"},
		{along(scalp.MM(math.Inf(-1))), false, "no line"},
	} {
		l, err := table.Line(c.at)
		if l != nil || !errors.Is(err, ErrNoLine) || errors.Is(err, ErrOffHead) != c.off || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v: %v, error %v, want %q", c.at, l, err, c.want)
		}
	}
}

// A front-to-back line is parallel to the midline, its slots are one spacing apart, and it is drawn on the top of the map.
func TestAlongLines(t *testing.T) {
	for _, s := range heads() {
		table := must(t, s)
		all := table.alongs()
		if len(all) < 15 {
			t.Fatalf("%d lines front to back", len(all))
		}
		for _, l := range all {
			if len(l.Drawn) != len(l.Slots) {
				t.Fatalf("%s: %d slots, %d drawn", l.Place(), len(l.Slots), len(l.Drawn))
			}
			hair := 0
			for k := range l.Slots {
				at := &l.Slots[k]
				if at.OnScalp {
					hair++
				}
				if math.Abs(at.Point.X-l.Slots[0].Point.X) > 1e-6 {
					t.Fatalf("%s: slot %d is %g mm from the midline, the first %g", l.Place(), l.First+k, at.Point.X, l.Slots[0].Point.X)
				}
				if k > 0 && at.Point.Y <= l.Slots[k-1].Point.Y {
					t.Fatalf("%s: slot %d is not in front of the one before", l.Place(), l.First+k)
				}
				table.checkDrawn(t, l, k)
			}
			if hair == 0 {
				t.Fatalf("%s has no hair", l.Place())
			}
		}
	}
}

// checkDrawn fails unless a slot of a front-to-back line is drawn, as seen from above, within half a line gap front to
// back and half a spacing sideways of where it is; where the lines end short of it, at their end.
func (t *Table) checkDrawn(tb testing.TB, l *Line, k int) {
	tb.Helper()
	spot, at := l.Drawn[k], &l.Slots[k]
	if spot.Line < t.Round() || spot.Line >= len(t.Lines) {
		tb.Fatalf("%s: slot %d is drawn on line %d, the top has %d to %d", l.Place(), l.First+k, spot.Line, t.Round(), len(t.Lines)-1)
	}
	on := t.Lines[spot.Line]
	drawn := on.At(spot.Slot)
	if drawn == nil {
		tb.Fatalf("%s: slot %d is drawn off the map, at %v", l.Place(), l.First+k, spot)
	}
	if !at.OnScalp {
		return // the margins may lie off the map
	}
	dx, dy := math.Abs(drawn.Point.X-at.Point.X), math.Abs(drawn.Point.Y-at.Point.Y)
	end := spot.Slot == on.First || spot.Slot == on.Last()
	most := t.Gap / 2
	if spot.Line == t.Round() || spot.Line == len(t.Lines)-1 {
		most = t.Gap // the hair may reach a little farther than the last line
	}
	if dy > float64(most) || dx > float64(t.Spacing/2) && !end {
		tb.Errorf("%s: slot %d is drawn %g mm aside and %g mm in front or behind", l.Place(), l.First+k, dx, dy)
	}
	if d := float64(t.Head.Distance(drawn.Point, at.Point)); d > math.Hypot(float64(t.Gap), float64(t.Spacing)) {
		tb.Errorf("%s: slot %d is drawn %g mm from where it is", l.Place(), l.First+k, d)
	}
}

func TestPanels(t *testing.T) {
	for _, s := range heads() {
		table := must(t, s)
		seen := map[Panel]int{}
		for _, l := range append(table.alongs(), table.Lines...) {
			for k := range l.Slots {
				at := &l.Slots[k]
				got := PanelOf(l, at)
				seen[got]++
				want := Back
				switch {
				case l.ID.Kind != scalp.Level:
					want = Top
				case math.Abs(at.Point.Azimuth()) <= sideFrom:
				case at.Point.X < 0:
					want = LeftSide
				default:
					want = RightSide
				}
				if got != want {
					t.Fatalf("%s, slot %d at azimuth %g is on the %s, want %s", l.Place(), l.First+k, at.Point.Azimuth(), got, want)
				}
			}
		}
		for _, p := range []Panel{Back, LeftSide, RightSide, Top} {
			if seen[p] == 0 {
				t.Errorf("no slot is on the %s", p)
			}
		}
	}
	for want, p := range map[string]Panel{"back": Back, "left side": LeftSide, "right side": RightSide, "top": Top} {
		if p.String() != want {
			t.Errorf("panel %d is %q", p, p)
		}
	}
}

// Lines over and back again end on the very line begun on, whatever the gap: 7.3 mm added up eleven times is not
// quite 80.3.
func TestOverAndBack(t *testing.T) {
	for _, gap := range []scalp.MM{7.3, 9.7, 10} {
		s := sheet.New(scalp.Sizes[1].Measures)
		s.LineGap, s.HoleSpacing = gap, gap
		table, err := Outline(s)
		if err != nil {
			t.Fatal(err)
		}
		for _, start := range []sheet.Place{table.Lines[2].Place(), {Along: true, At: -2 * gap}} {
			at := start
			for _, by := range []int{1, 1, 1, -2, 1, -2} {
				if at, err = table.Over(at, by); err != nil {
					t.Fatal(err)
				}
			}
			if at != start {
				t.Errorf("gap %v: from %v there and back is %v", gap, start, at)
			}
		}
		if at, err := table.Over(table.Lines[0].Place(), -1); err == nil {
			t.Errorf("gap %v: below the lowest line lies %v", gap, at)
		}
	}
}
