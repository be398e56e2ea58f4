package rule_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// unmade is a sheet with nothing said of the hair, worn in some ways.
func unmade(worn ...sheet.Wear) *sheet.Sheet {
	return medium().With(func(c *sheet.Sheet) { c.Hair, c.Partings, c.Wish, c.Worn = sheet.Hair{}, nil, nil, worn })
}

// Where the hair turns is moved on the head of a client, and bonds that were right are wrong, or the other way round.
func TestMovedTurns(t *testing.T) {
	all := []int{-5, -4, -2, 0, 2, 4, 5}
	for _, c := range []struct {
		turn   sheet.Turn
		by     scalp.Shift
		worn   sheet.Wear
		rule   string
		at     scalp.MM
		before []int // the slots reported
		after  []int
	}{
		// The whorl of this client lies 16 mm left of the middle, and with it the place where too little lies over a bond.
		{sheet.Whorl, scalp.Shift{Right: -16}, sheet.WornDown, "thin-veil", 200, []int{-4, -2, 0, 2, 4}, []int{-5, -4, -2, 0, 2}},
		// Of a section line 30 mm further up, the bonds at 120 are far enough below.
		{sheet.HalfUpSection, scalp.Shift{Up: 30}, sheet.WornHalfUp, "shows-up", 120, all, nil},
		// And 30 mm further down it lies close to those at 100.
		{sheet.HalfUpSection, scalp.Shift{Up: -30}, sheet.WornHalfUp, "shows-up", 100, nil, all},
	} {
		s := laid(unmade(c.worn), level(c.at), all...)
		slotsOf := func(s *sheet.Sheet) []int {
			var at []int
			for _, f := range of(check(t, s), c.rule) {
				at = append(at, f.Slot)
			}
			slices.Sort(at)
			return at
		}
		if got := slotsOf(s); !slices.Equal(got, c.before) {
			t.Errorf("%s: %v are reported, and not %v", c.turn, got, c.before)
		}
		if got := slotsOf(s.WithTurn(c.turn, c.by)); !slices.Equal(got, c.after) {
			t.Errorf("%s moved by %v: %v are reported, and not %v", c.turn, c.by, got, c.after)
		}
	}
}

// A tie that is moved to one side covers the one side less and the other more, and moved back it is as it was.
func TestTieAside(t *testing.T) {
	s := laid(unmade(sheet.WornHighTail), level(100), -14, -13, 13, 14)
	value := func(s *sheet.Sheet, slot int) float64 {
		line := lineOf(t, s, level(100))
		for _, r := range rule.Readings(s) {
			if r.Kind == rule.ByCover && r.Way.Wear == sheet.WornHighTail {
				sc := rule.ScaleOf(r, s, tableOf(t, s))
				v, _ := sc.At(line, slot)
				return v
			}
		}
		t.Fatal("there is no reading of a high ponytail")
		return 0
	}
	aside := s.WithTurn(sheet.HighTie, scalp.Shift{Right: 30})
	for _, slot := range []int{13, 14} {
		left, right := value(aside, -slot), value(aside, slot)
		if was := value(s, slot); math.Abs(value(s, -slot)-was) > 0.02 || !(min(left, right) < was-0.2 && max(left, right) > was+0.2) {
			t.Errorf("slot %d: %.1f, and with the tie to the right %.1f on the left and %.1f on the right", slot, was, left, right)
		}
	}
	if back := aside.WithTurn(sheet.HighTie, scalp.Shift{}); listed(check(t, back)) != listed(check(t, s)) {
		t.Errorf("with the tie put back:\n%s", listed(check(t, back)))
	}
}

// How thick the hair is, is known best from a count, next from the tape round a ponytail, and else by eye.
func TestDensityOf(t *testing.T) {
	s := laid(unmade(sheet.WornDown).With(func(c *sheet.Sheet) { c.Partings = []scalp.Parting{{Right: 0, Length: 120}} }), level(240), -3, 3)
	table := tableOf(t, s)
	usual := table.Roots().Hairs(190)
	// A ponytail 80 mm round holds 80²/4π = 509 mm², of which 60 % is hair of 54 µg/cm: at 1.32 g/cm³ a hair is 4091 µm² thick.
	tied := 0.60 * 80 * 80 / (4 * math.Pi) / 4090.9e-6
	for _, c := range []struct {
		hair    sheet.Hair
		density float64
		how     string
	}{
		{sheet.Hair{}, 190, "assumed"},
		{sheet.Hair{Density: "fine"}, 140, "fine by eye"},
		{sheet.Hair{Density: "thick"}, 240, "thick by eye"},
		{sheet.Hair{Ponytail: 80, Density: "thick"}, 190 * tied / usual, "ponytail 80 mm round"},
		{sheet.Hair{Count: 175, Ponytail: 80, Density: "thick"}, 175, "counted"},
	} {
		s := s.With(func(s *sheet.Sheet) { s.Hair = c.hair })
		h := rule.HairOf(s, tableOf(t, s))
		if math.Abs(float64(h.Density)-c.density) > 0.05 || !strings.Contains(h.How, c.how) {
			t.Errorf("%+v: %.2f hairs/cm², %s; and not %.2f", c.hair, float64(h.Density), h.How, c.density)
		}
		// 24 mm beside the parting 49.81 hairs/mm lie over a bond, of 190 hairs/cm²; 47 are asked for.
		want := 49.81 * c.density / 190
		found := of(check(t, s), "thin-veil")
		if (len(found) == 2) != (want < 46.95) || len(found) > 0 && math.Abs(found[0].Value-want) > 0.05 {
			t.Errorf("%+v: %d findings, and %.2f hairs/mm lie over the bonds", c.hair, len(found), want)
		}
	}
}
