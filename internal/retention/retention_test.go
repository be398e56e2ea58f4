package retention

import (
	"math"
	"slices"
	"testing"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// Ten bonds followed by hand.
func TestWorkedByHand(t *testing.T) {
	fitted := rows(t, map[scalp.MM]string{60: "aaaa(a)aaaAb"}) // slots 4 left to 5 right
	seen := func(marks map[int]sheet.Mark) sheet.Marks {
		var m sheet.Marks
		for slot, mark := range marks {
			m = m.With(spot(60, slot), mark)
		}
		return m
	}
	s := blank().With(func(c *sheet.Sheet) {
		c.Visits = []sheet.Visit{
			{Kind: sheet.Fitting, Date: "2026-03-02", Fitted: fitted},
			// On the day itself: one fell out at once and was bonded again, one was taken out; of the rest this says nothing.
			{Kind: sheet.Inspection, Date: "2026-03-02", Seen: seen(map[int]sheet.Mark{-4: sheet.Lost.Mended(), -3: sheet.TakenOut, -2: sheet.Sealed}),
				Fitted: rows(t, map[scalp.MM]string{60: "a...(.)"})},
			// One lost, one slipped and one lost after it slipped; all others were looked at, since the visit is finished.
			{Kind: sheet.Inspection, Date: "2026-03-14", Seen: seen(map[int]sheet.Mark{0: sheet.Lost, 1: sheet.Slipped.Mended(), 2: sheet.Slipped})},
			{Kind: sheet.Inspection, Date: "2026-03-20", Open: true, Seen: seen(map[int]sheet.Mark{2: sheet.Lost, 3: sheet.Sealed})},
		}
	})
	r := Of(s, table(t))
	// 10 fitted and 1 in place of the first. Known: all but the one lost and the one taken out on the same day. Lost: 0, 2.
	if want := (Count{Made: 11, Known: 9, Kept: 7, Slipped: 2}); r.All != want {
		t.Errorf("%+v, want %+v", r.All, want)
	}
	if want := []Cycle{{Kind: sheet.Fitting, Date: "2026-03-02", Days: 18, Count: r.All}}; !slices.Equal(r.Cycles, want) {
		t.Errorf("%+v, want %+v", r.Cycles, want)
	}
	for _, c := range []struct {
		grouping, group string
		want            Count
	}{
		{"panel", "back", r.All},
		{"row", "height 60", r.All},
		{"side", "left", Count{Made: 5, Known: 3, Kept: 3}},
		{"side", "middle", Count{Made: 1, Known: 1}},
		{"side", "right", Count{Made: 5, Known: 5, Kept: 4, Slipped: 2}},
		{"shade", "a oat", Count{Made: 10, Known: 8, Kept: 6, Slipped: 2}},
		{"shade", "b rye crust", Count{Made: 1, Known: 1, Kept: 1}},
		{"bond", "split", Count{Made: 1, Known: 1, Kept: 1}},
		{"bond", "whole", Count{Made: 10, Known: 8, Kept: 6, Slipped: 2}},
	} {
		if got := groupOf(t, r, c.grouping, c.group); got.Count != c.want {
			t.Errorf("%s %s: %+v, want %+v", c.grouping, c.group, got.Count, c.want)
		}
	}
}

func groupOf(t *testing.T, r Report, grouping, group string) Group {
	t.Helper()
	for _, g := range r.Groupings {
		for _, one := range g.Groups {
			if g.Name == grouping && one.Name == group {
				return one
			}
		}
	}
	t.Fatalf("there is no %s %s", grouping, group)
	return Group{}
}

// A later refit begins a cycle of its own, and what it takes out was kept.
func TestCycles(t *testing.T) {
	fitted := rows(t, map[scalp.MM]string{60: "a.a.(a).a.a"})
	s := blank().With(func(c *sheet.Sheet) {
		c.Visits = []sheet.Visit{
			{Kind: sheet.Fitting, Date: "2026-03-02", Fitted: fitted},
			{Kind: sheet.Inspection, Date: "2026-03-16", Seen: sheet.Marks{spot(60, 0): sheet.Lost.Mended(), spot(60, 2): sheet.Lost},
				Fitted: rows(t, map[scalp.MM]string{60: "(b)"})},
			{Kind: sheet.Refit, Date: "2026-04-27", Fitted: fitted, Seen: sheet.Marks{spot(60, -4): sheet.TakenOut, spot(60, -2): sheet.TakenOut,
				spot(60, 0): sheet.TakenOut, spot(60, 4): sheet.Lost}},
			{Kind: sheet.Removal, Date: "2026-06-22", Open: true, Seen: sheet.Marks{spot(60, 4): sheet.TakenOut}},
		}
	})
	want := []Cycle{
		{Visit: 0, Kind: sheet.Fitting, Date: "2026-03-02", Days: 56, Count: Count{Made: 6, Known: 6, Kept: 3}},
		{Visit: 2, Kind: sheet.Refit, Date: "2026-04-27", Days: 56, Count: Count{Made: 5, Known: 1, Kept: 1}},
	}
	if got := Of(s, table(t)).Cycles; !slices.Equal(got, want) {
		t.Errorf("%+v\nwant %+v", got, want)
	}
}

// fate is what became of one bond, by looking at each later visit anew.
func fate(s *sheet.Sheet, made int, at sheet.Spot) (known, kept, slipped bool) {
	day := s.Visits[made].Date
	for n := made + 1; n < len(s.Visits); n++ {
		v := s.Visits[n]
		mark, marked := v.Seen[at]
		if v.Date > day && (marked || !v.Open) {
			known = true
		}
		if mark == sheet.Slipped || mark == sheet.Slipped.Mended() {
			slipped = true
		}
		if mark == sheet.Lost || mark == sheet.Lost.Mended() {
			return known, false, known && slipped
		}
		if mark == sheet.TakenOut || v.FittedRow(at.At).Bond(at.Slot).Placed() {
			break
		}
	}
	return known, known, known && slipped
}

// Whatever the visits record, the counts are those of following each bond by itself, and each grouping counts every bond once.
func TestAgainstEachBondByItself(t *testing.T) {
	table, rng := table(t), seeded(1)
	for range fewer(600, 60) {
		s := randomClient(rng)
		var want Count
		for n, v := range s.Visits {
			for _, r := range v.Fitted {
				for slot := range r.All() {
					want.Made++
					known, kept, slipped := fate(s, n, sheet.Spot{At: r.Place, Slot: slot})
					want.Known += number(known)
					want.Kept += number(kept)
					want.Slipped += number(slipped)
				}
			}
		}
		r := Of(s, table)
		if r.All != want {
			t.Fatalf("%+v, want %+v in\n%+v", r.All, want, s.Visits)
		}
		sums := map[string]Count{}
		for _, c := range r.Cycles {
			sums["cycles"] = plus(sums["cycles"], c.Count)
		}
		for _, g := range r.Groupings {
			names := map[string]bool{}
			for _, one := range g.Groups {
				sums[g.Name] = plus(sums[g.Name], one.Count)
				if names[one.Name] || one.Made == 0 {
					t.Fatalf("%s %s is there twice, or for nothing", g.Name, one.Name)
				}
				names[one.Name] = true
			}
		}
		for name, sum := range sums {
			if sum != r.All {
				t.Fatalf("%s: %+v in all, want %+v", name, sum, r.All)
			}
		}
	}
}

func number(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

func plus(a, b Count) Count {
	return Count{a.Made + b.Made, a.Known + b.Known, a.Kept + b.Kept, a.Slipped + b.Slipped}
}

// Where a bond lies, on a head of which the zones are known, and where there is no such slot.
func TestWhere(t *testing.T) {
	table := table(t)
	along := func(at scalp.MM) sheet.Place { return sheet.Place{Along: true, At: at} }
	for _, c := range []struct {
		at                sheet.Spot
		panel, edge, side string
	}{
		{spot(20, 0), "back", "nape", "middle"},
		{spot(100, -15), "left side", "ear", "left"},
		{spot(150, 17), "right side", "temple", "right"},
		{sheet.Spot{At: along(16), Slot: 3}, "top", "parting", "right"},
		{sheet.Spot{At: along(-16), Slot: 3}, "top", "parting", "left"},
		{sheet.Spot{At: along(0), Slot: -2}, "top", "parting", "middle"},
		{spot(60, 150), "elsewhere", "elsewhere", "right"},
		{spot(61, 0), "elsewhere", "elsewhere", "middle"},
		{spot(5000, -1), "elsewhere", "elsewhere", "left"},
	} {
		s := blank().With(func(s *sheet.Sheet) {
			v := sheet.Visit{Kind: sheet.Fitting, Date: "2026-03-02"}
			s.Visits = []sheet.Visit{v.WithFitted(c.at, sheet.Bond{Shade: 'a'})}
		})
		r := Of(s, table)
		for _, want := range [][2]string{{"panel", c.panel}, {"nearest edge", c.edge}, {"side", c.side}} {
			if got := groupOf(t, r, want[0], want[1]); got.Made != 1 {
				t.Errorf("%v: %+v", c.at, r.Groupings)
			}
		}
	}
	if r := Of(client(t), nil); groupOf(t, r, "panel", "elsewhere").Count != r.All {
		t.Error("without a table all bonds are elsewhere")
	}
}

// A group that holds far worse stands out, and is told with the rest of its grouping.
func TestStandsOut(t *testing.T) {
	r := Of(client(t), table(t))
	temple := groupOf(t, r, "nearest edge", "temple")
	i := slices.IndexFunc(r.Odd, func(o Odd) bool { return o.Group == "temple" })
	if i < 0 || !temple.Odd {
		t.Fatalf("the temples do not stand out: %+v", r)
	}
	o := r.Odd[i]
	if o.Count != temple.Count || plus(o.Count, o.Rest) != r.All || !(o.Low <= o.Difference() && o.Difference() <= o.High && o.High < 0) {
		t.Errorf("%+v of %+v", o, r.All)
	}
	z := reachOf(0.05 / float64(r.Comparisons))
	if low, high := Newcombe(temple.Kept, temple.Known, r.All.Kept-temple.Kept, r.All.Known-temple.Known, z); low != o.Low || high != o.High {
		t.Errorf("%g to %g, by hand %g to %g", o.Low, o.High, low, high)
	}
}

// The comparisons are those of groups with something known on both sides; of two groups one.
func TestComparisons(t *testing.T) {
	r := Report{All: Count{Made: 30, Known: 20, Kept: 15}, Groupings: []Grouping{
		{"two", []Group{{Name: "more", Count: Count{Made: 10, Known: 10, Kept: 9}}, {Name: "fewer", Count: Count{Made: 10, Known: 10, Kept: 6}}, {Name: "unknown", Count: Count{Made: 10}}}},
		{"three", []Group{{Name: "a", Count: Count{Known: 8, Kept: 5}}, {Name: "b", Count: Count{Known: 8, Kept: 6}}, {Name: "c", Count: Count{Known: 4, Kept: 4}}}},
		{"one", []Group{{Name: "all", Count: Count{Known: 20, Kept: 15}}}},
	}}
	pairs := r.pairs()
	var names []string
	for _, p := range pairs {
		names = append(names, r.Groupings[p.grouping].Groups[p.group].Name)
	}
	if want := []string{"fewer", "a", "b", "c"}; !slices.Equal(names, want) {
		t.Errorf("compared are %v, want %v", names, want)
	}
}

// Where all bonds hold alike, whatever stands out does so by chance, and that is about one sheet in twenty (6 % of 3,000 heads): here 400 heads
// with the same chance of a loss everywhere. Of as many, 36 is past what 5 % give once in a thousand times (binomial).
func TestChanceDoesNotStandOut(t *testing.T) {
	table, rng := table(t), seeded(9)
	fitted := client(t).Rows
	heads, odd := fewer(400, 60), 0
	for range heads {
		chance := 0.02 + 0.2*rng.Float64()
		look := sheet.Visit{Kind: sheet.Inspection, Date: "2026-03-14", Seen: sheet.Marks{}}
		for _, r := range fitted {
			for slot := range r.All() {
				if rng.Float64() < chance {
					look.Seen[sheet.Spot{At: r.Place, Slot: slot}] = sheet.Lost
				}
			}
		}
		r := Of(blank().With(func(c *sheet.Sheet) {
			c.Visits = []sheet.Visit{{Kind: sheet.Fitting, Date: "2026-03-02", Fitted: fitted}, look}
		}), table)
		if len(r.Odd) > 0 {
			odd++
		}
	}
	if most := 0.05*float64(heads) + 3.5*math.Sqrt(0.05*0.95*float64(heads)); float64(odd) > most {
		t.Errorf("something stands out on %d of %d heads on which all bonds hold alike", odd, heads)
	}
}
