package slots

import (
	"fmt"
	"math"
	"strings"
	"sync"
	"testing"

	"example.org/underveil/internal/fall"
	"example.org/underveil/internal/fibre"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// anyCover is the cover of a slot well inside the hair.
func anyCover(t testing.TB, table *Table, w Way) fall.Cover {
	t.Helper()
	return *table.Cover(w, table.line(t, level(100)), 5)
}

// TestHairAlone changes what only the covers depend on: the distances are kept, and the covers are others.
func TestHairAlone(t *testing.T) {
	s := medium().With(func(c *sheet.Sheet) { c.Hair.Length = 150 })
	table := must(t, s)
	down, up, half := Way{sheet.WornDown, 0}, Way{sheet.WornHighTail, 0}, Way{sheet.WornHalfUp, 0}
	for name, c := range map[string]struct {
		next *sheet.Sheet
		way  Way
	}{
		"length":       {s.With(func(c *sheet.Sheet) { c.Hair.Length = 120 }), down},
		"growth":       {s.WithLimit(sheet.FigureGrowth, 0.6), down},
		"stand-off":    {s.WithLimit(sheet.FigureStandOff, 12), down},
		"reach":        {s.WithLimit(sheet.LimitReach, 60), down},
		"whorl radius": {s.WithLimit(sheet.FigureWhorl, 5), down},
		"whorl":        {s.WithTurn(sheet.Whorl, scalp.Shift{Right: 10}), down},
		"high tie":     {s.WithTurn(sheet.HighTie, scalp.Shift{Up: -10}), up},
		"section":      {s.WithTurn(sheet.HalfUpSection, scalp.Shift{Up: 10}), half},
	} {
		got, err := For(c.next, table)
		if err != nil || got == table {
			t.Errorf("%s: the same table, error %v", name, err)
			continue
		}
		if got.Lines[3] != table.Lines[3] || got.Zones != table.Zones {
			t.Errorf("%s: the distances were measured again", name)
		}
		if was, is := anyCover(t, table, c.way), anyCover(t, got, c.way); was == is {
			t.Errorf("%s: the cover is still %+v", name, is)
		}
	}
}

// TestCoverIsThatOfTheStyle holds what the table keeps to what the style works out, asked for in any order and by
// many at once.
func TestCoverIsThatOfTheStyle(t *testing.T) {
	s := medium().With(func(c *sheet.Sheet) { c.Partings = []scalp.Parting{{Right: 30, Length: 120}, {Right: -10, Length: 90}} })
	table := fresh(t, s)
	row, err := sheet.ParseBonds(level(60), "a.a.(a).a.a")
	if err != nil {
		t.Fatal(err)
	}
	var wg sync.WaitGroup
	for _, w := range Ways(s) {
		wg.Go(func() { table.Fill(w) })
		wg.Go(func() { table.FillRows([]sheet.Row{row}, Ways(s)) })
		wg.Go(func() {
			for _, l := range table.Lines {
				table.Cover(w, l, l.First+len(l.Slots)/2)
			}
		})
	}
	wg.Wait()
	for _, w := range Ways(s) {
		style := table.style(w)
		for i, l := range table.Lines {
			k := (i * 7) % len(l.Slots)
			if !l.Slots[k].OnScalp {
				continue
			}
			if got, want := *table.Cover(w, l, l.First+k), style.At(l.Slots[k].Point, table.Own()); got != want {
				t.Errorf("%s, height %g, slot %d: %+v, want %+v", w.In(s), float64(l.ID.At), l.First+k, got, want)
			}
		}
	}
}

// TestTurnsLieWhereTheyOrdinarilyDo holds the turns to their places on the midline, and moved ones to the shift.
func TestTurnsLieWhereTheyOrdinarilyDo(t *testing.T) {
	for _, size := range scalp.Sizes {
		table := must(t, sheet.New(size.Measures))
		head := table.Head
		for turn, want := range map[sheet.Turn]scalp.MM{
			sheet.Whorl:         head.TopHeight() - 62.5, // Park 2014: the mean behind the ear-to-ear line
			sheet.HighTie:       head.TopHeight() - 55,
			sheet.LowTie:        45,
			sheet.HalfUpSection: head.HeightAtLevel(30),
			sheet.HalfUpTie:     head.HeightAtLevel(30) + 45,
		} {
			if off := table.Turn(turn).Minus(head.LineAt(want).Point(0)).Length(); off > 1e-6 {
				t.Errorf("%s head: the %s lies %.3f mm from height %.1f on the midline", size.Name, turn, off, float64(want))
			}
		}
		order := []sheet.Turn{sheet.LowTie, sheet.HalfUpSection, sheet.HalfUpTie, sheet.HighTie}
		for i := 1; i < len(order); i++ {
			if table.Turn(order[i]).Z <= table.Turn(order[i-1]).Z {
				t.Errorf("%s head: the %s lies no higher than the %s", size.Name, order[i], order[i-1])
			}
		}
	}
	s := medium().WithTurn(sheet.HighTie, scalp.Shift{Right: 12, Up: -15})
	table := must(t, s)
	want := table.Head.LineAt(table.Head.TopHeight() - 55 - 15).Point(12)
	if off := table.Turn(sheet.HighTie).Minus(want).Length(); off > 1e-6 {
		t.Errorf("a tie moved 12 right and 15 down lies %.3f mm off", off)
	}
}

// TestTurnsOffTheHead are refused by For and by Outline alike, by name.
func TestTurnsOffTheHead(t *testing.T) {
	for _, c := range []struct {
		turn sheet.Turn
		by   scalp.Shift
		says string
	}{
		{sheet.LowTie, scalp.Shift{Up: -60}, "the low tie would lie at height"},
		{sheet.HighTie, scalp.Shift{Right: 500}, "the high tie would lie 500 mm right"},
		{sheet.Whorl, scalp.Shift{Up: 1000}, "the whorl would lie at height"},
		{sheet.HalfUpSection, scalp.Shift{Up: 200}, "the half up section would lie at height"},
		{sheet.LowTie, scalp.Shift{Right: scalp.MM(math.NaN())}, "the low tie would lie"},
		{sheet.LowTie, scalp.Shift{Right: 110, Up: 20}, "the low tie would lie outside the hairline"},
	} {
		s := medium().WithTurn(c.turn, c.by)
		_, err := For(s, nil)
		_, outline := Outline(s)
		if err == nil || outline == nil || err.Error() != outline.Error() || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s moved by %v: %v, and as an outline %v; want %q", c.turn, c.by, err, outline, c.says)
		}
	}
}

// TestDensity holds the density to the best that is known of it: a count, else a ponytail, else the eye.
func TestDensity(t *testing.T) {
	s := medium()
	table := must(t, s)
	hair := func(h sheet.Hair) *sheet.Sheet { return s.With(func(c *sheet.Sheet) { c.Hair = h }) }
	for _, c := range []struct {
		hair sheet.Hair
		want fibre.Density
		how  string
	}{
		{sheet.Hair{}, 190, "assumed"},
		{sheet.Hair{Density: "fine"}, 140, "by eye"},
		{sheet.Hair{Density: "thick", Count: 175}, 175, "counted"},
		{sheet.Hair{Density: "thick", Ponytail: 80, Count: 175}, 175, "counted"},
	} {
		if d, how := table.Density(hair(c.hair)); d != c.want || !strings.Contains(how, c.how) {
			t.Errorf("%+v: %g, %s; want %g, %s", c.hair, float64(d), how, float64(c.want), c.how)
		}
	}
	// A bundle of 8 cm has 509.3 mm²; at 60 % of 54 µg/cm and 1.32 g/cm³, which are 4,091 µm², it holds 74,698 hairs.
	d, how := table.Density(hair(sheet.Hair{Density: "thick", Ponytail: 80}))
	if got := table.Roots().Hairs(d); math.Abs(got-74698) > 5 || !strings.Contains(how, "ponytail 80 mm round") {
		t.Errorf("a ponytail 80 mm round: %.0f hairs, %s", got, how)
	}
	if half, _ := table.Density(hair(sheet.Hair{Ponytail: 40})); math.Abs(float64(d/half)-4) > 1e-9 {
		t.Errorf("twice as far round: %g times the density, want 4", float64(d/half))
	}
	// A tape that no head has is held to what one may have, and says what it would be.
	wrong := hair(sheet.Hair{Ponytail: 160})
	would := fmt.Sprintf("which would be %.0f", float64(table.OfTape(wrong)))
	if d, how := table.Density(wrong); d != fibre.MostDensity || !strings.Contains(how, would) {
		t.Errorf("a ponytail 160 mm round: %g, %s; want %g, %s", float64(d), how, float64(fibre.MostDensity), would)
	}
}

// BenchmarkForHair is a table for which only the hair has changed.
func BenchmarkForHair(b *testing.B) {
	s := medium()
	table := must(b, s)
	short := s.With(func(c *sheet.Sheet) { c.Hair.Length = 150 })
	for b.Loop() {
		if _, err := For(short, table); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkFill is the covers of the whole map, worn one way.
func BenchmarkFill(b *testing.B) {
	s := medium()
	for _, w := range Ways(s) {
		b.Run(w.In(s), func(b *testing.B) {
			for range b.N {
				b.StopTimer()
				table := fresh(b, s)
				b.StartTimer()
				table.Fill(w)
			}
		})
	}
}
