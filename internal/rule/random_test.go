package rule_test

import (
	"math/rand/v2"
	"slices"
	"sync"
	"testing"

	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/shade"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// heads are empty sheets of the default heads, and of some more with a hairline, partings and patches that differ
// from side to side.
var heads = sync.OnceValue(func() []*sheet.Sheet {
	var all []*sheet.Sheet
	rng := seeded(1)
	for i, size := range scalp.Sizes {
		all = append(all, asked(sheet.New(size.Measures)).With(func(c *sheet.Sheet) {
			c.HoleSpacing = []scalp.MM{8, 8, 5, 10}[i]
			c.LineGap = []scalp.MM{10, 7, 8, 12}[i]
		}))
	}
	for len(all) < len(scalp.Sizes)+3 {
		s := asked(sheet.New(scalp.Sizes[rng.IntN(len(scalp.Sizes))].Measures)).With(func(c *sheet.Sheet) {
			c.HoleSpacing, c.LineGap = scalp.MM(5+rng.IntN(5)), scalp.MM(6+rng.IntN(9))
			c.Partings = nil
			for range rng.IntN(3) {
				c.Partings = append(c.Partings, scalp.Parting{Right: scalp.MM(rng.IntN(91) - 45), Length: scalp.MM(40 + rng.IntN(90))})
			}
			for range 1 + rng.IntN(3) {
				c.KeepOff = append(c.KeepOff, sheet.KeepOff{Height: scalp.MM(40 + rng.IntN(220)), Right: scalp.MM(rng.IntN(81) - 40),
					Radius: scalp.MM(10 + rng.IntN(20)), Why: "scar"})
			}
		})
		for _, l := range scalp.Landmarks() {
			s = s.WithLandmark(l, scalp.Shift{Right: scalp.MM(rng.IntN(13) - 6), Up: scalp.MM(rng.IntN(13) - 6)})
		}
		if _, err := slots.For(s, nil); err == nil {
			all = append(all, s)
		}
	}
	return all
})

// zoneLimits are the limits of the zones.
var zoneLimits = []sheet.LimitName{sheet.LimitNape, sheet.LimitNapeUp, sheet.LimitEar, sheet.LimitTemple,
	sheet.LimitFace, sheet.LimitFringe, sheet.LimitPart}

// filled is a head with random rows, limits, wishes and acceptances. The fringe triangle is left as it is, so that
// the slot table stays the same.
func filled(t testing.TB, rng *rand.Rand, head *sheet.Sheet) *sheet.Sheet {
	t.Helper()
	s := head.With(func(c *sheet.Sheet) {
		c.Worn = some(rng, sheet.Wears)
		c.Wish = some(rng, sheet.Looks)
		c.Shades = []sheet.Shade{{Key: 'a', Length: 400, Grams: 0.8, Pack: 25}, {Key: 'b', Length: 500, Grams: []float64{1, 1.4, 3}[rng.IntN(3)], Pack: 25}}
	})
	s = consulted(rng, grown(rng, s))
	for _, l := range append(slices.Clone(zoneLimits), sheet.LimitRowGap, sheet.LimitStacked, sheet.LimitTrim, sheet.LimitBalance,
		sheet.LimitVeil, sheet.LimitVeilUp, sheet.LimitTotalLoad, sheet.LimitBlend, sheet.FigureTip) {
		if rng.IntN(3) == 0 {
			s = s.WithLimit(l, float64(rng.IntN(41)))
		}
	}
	if rng.IntN(3) == 0 {
		s = s.WithLimit(sheet.LimitFace, float64(30+rng.IntN(40))) // or temple and fringe say it all
	}
	if rng.IntN(3) == 0 {
		s = s.WithLimit(sheet.LimitBondGap, float64(rng.IntN(2*int(s.HoleSpacing))))
	}
	if rng.IntN(4) > 0 { // or hardly anything falls aside
		s = s.WithLimit(sheet.LimitAside, float64(1+rng.IntN(14)))
	}
	if rng.IntN(3) == 0 {
		s = s.WithLimit(sheet.LimitLoad, float64(80+rng.IntN(200)))
	}
	table := tableOf(t, s)
	for range 2 + rng.IntN(12) {
		at := table.Lines[rng.IntN(len(table.Lines))].Place()
		if rng.IntN(3) == 0 {
			at = along(scalp.MM(rng.IntN(21)-10) * s.HoleSpacing)
		}
		line, err := table.Line(at)
		if err != nil {
			continue
		}
		r := sheet.NewRow(at, randomBonds(rng, s, line))
		r.Offset = rng.IntN(2) == 0
		if rng.IntN(2) == 0 {
			r.Look = sheet.Looks[rng.IntN(len(sheet.Looks))]
		}
		s = s.WithRow(r)
	}
	if rng.IntN(4) == 0 {
		s = laid(s, level(table.Lines[len(table.Lines)-1].ID.At+5*table.Gap), -1, 0, 1) // no line of this head
	}
	s = visited(rng, s)
	for _, f := range rule.Check(s, table).Findings {
		switch rng.IntN(8) {
		case 0:
			s = s.WithAccepted(sheet.Accepted{Concern: f.Concern, Reason: "agreed"})
		case 1:
			f.Rule = rule.All[rng.IntN(len(rule.All))].ID
			s = s.WithAccepted(sheet.Accepted{Concern: f.Concern, Reason: "agreed once"})
		}
	}
	return s
}

// visited is the sheet of a client who was fitted or not, looked at or not, on some day; sometimes with strands re-used, of which there
// may not be enough.
func visited(rng *rand.Rand, s *sheet.Sheet) *sheet.Sheet {
	if rng.IntN(3) == 0 || s.Bonds() == 0 {
		return s
	}
	fitted := sheet.Visit{Kind: sheet.Fitting, Date: "2026-03-02", Fitted: s.Rows}
	return s.With(func(c *sheet.Sheet) {
		c.Visits = []sheet.Visit{fitted}
		c.Today = []string{"2026-03-05", "2026-03-12", "2026-04-20", "2026-06-01"}[rng.IntN(4)]
		if rng.IntN(3) == 0 {
			c.Shades = slices.Clone(c.Shades)
			c.Shades[0].Used, c.Shades[0].Was = 1, 'b'
			c.Visits = append(c.Visits, sheet.Visit{Kind: sheet.Refit, Date: "2026-04-27", Open: true})
		}
	})
}

// consulted is the sheet of a client who was asked, or not, and whose colour was read, or not.
func consulted(rng *rand.Rand, s *sheet.Sheet) *sheet.Sheet {
	return s.With(func(c *sheet.Sheet) {
		c.Date = "2026-03-02"
		for _, q := range sheet.Questions {
			c.Asked = c.Asked.With(q.ID, []sheet.Answer{sheet.No, sheet.No, sheet.No, sheet.No, sheet.No, sheet.No, sheet.Yes, sheet.NotAsked}[rng.IntN(8)])
		}
		c.Asked.PatchTest = []string{"", "2026-03-01", "2026-02-27"}[rng.IntN(3)]
		if rng.IntN(2) == 0 {
			c.Asked = asked(medium()).Asked
		}
		colours := []shade.Reading{"", "45 9 18", "47 9 18", "70 5 20"}
		c.Hair.Mid, c.Hair.Texture = colours[rng.IntN(4)], []string{"", "wavy"}[rng.IntN(2)]
		for i := range c.Shades {
			c.Shades[i].Colour, c.Shades[i].Texture = colours[rng.IntN(4)], []string{"", "wavy", "straight"}[rng.IntN(3)]
		}
	})
}

// hairs are the hair of the random sheets: unknown, or short, or long; seen or counted. They are few, so that the covers of one
// head serve many sheets.
var hairs = []sheet.Hair{{}, {Length: 70, Density: "fine"}, {Length: 250, Density: "medium"}, {Length: 350, Count: 215}, {Length: 120, Ponytail: 70}}

// grown is the sheet with hair of its own, which on some sheets turns at places of its own.
func grown(rng *rand.Rand, s *sheet.Sheet) *sheet.Sheet {
	s = s.With(func(c *sheet.Sheet) { c.Hair = hairs[rng.IntN(len(hairs))] })
	if rng.IntN(3) > 0 {
		return s
	}
	for i, turn := range sheet.Turns {
		by := scalp.Shift{Right: scalp.MM(7*i - 14), Up: scalp.MM(9 - 4*i)}
		if turn == sheet.HalfUpSection {
			by.Right = 0
		}
		s = s.WithTurn(turn, by)
	}
	return s
}

// randomBonds are a pattern between the zones, a run of slots wherever it comes to lie, or some slots.
func randomBonds(rng *rand.Rand, s *sheet.Sheet, line *slots.Line) map[int]sheet.Bond {
	hand := sheet.Hand{Pattern: sheet.Patterns[rng.IntN(len(sheet.Patterns))], Split: rng.IntN(4) == 0, Trimmed: rng.IntN(4) == 0, Shades: "aab"}
	if rng.IntN(2) == 0 {
		return hand.Lay(rule.Free(s, line), rng.IntN(len(hand.Pattern)))
	}
	var in []int
	for range 1 + rng.IntN(4) {
		from := line.First - 2 + rng.IntN(len(line.Slots)+4)
		for k := range 1 + rng.IntN(6) {
			in = append(in, from+k)
		}
	}
	return hand.Lay(in, 0)
}

// some is a random choice out of a list, in random order.
func some[T any](rng *rand.Rand, of []T) []T {
	of = slices.Clone(of)
	rng.Shuffle(len(of), func(i, j int) { of[i], of[j] = of[j], of[i] })
	return of[:rng.IntN(len(of)+1)]
}

// each runs a test on many random sheets, with their slot tables and what is found on them.
func each(t *testing.T, seed uint64, n int, test func(*testing.T, *rand.Rand, *sheet.Sheet, *slots.Table, *rule.Report)) {
	t.Helper()
	for i, head := range heads() {
		rng := seeded(seed<<8 + uint64(i))
		for range n {
			s := filled(t, rng, head)
			table := tableOf(t, s)
			test(t, rng, s, table, rule.Check(s, table))
			if t.Failed() {
				t.Fatalf("head %d, spacing %g, gap %g", i, float64(s.HoleSpacing), float64(s.LineGap))
			}
		}
	}
}

// The random sheets are worth checking: every rule finds something on some of them, and something else on others.
func TestRandomSheets(t *testing.T) {
	sheets := map[string]int{}
	accepted, stale, all := 0, 0, 0
	each(t, 1, 12, func(t *testing.T, _ *rand.Rand, s *sheet.Sheet, _ *slots.Table, rep *rule.Report) {
		all++
		for _, r := range rule.All {
			if len(of(rep, r.ID)) > 0 {
				sheets[r.ID]++
			}
		}
		accepted += rep.Accepted
		stale += len(rep.Stale)
	})
	for _, r := range rule.All {
		if n := sheets[r.ID]; n < 3 || n > all-3 {
			t.Errorf("%s finds something on %d of %d sheets", r.ID, n, all)
		}
	}
	if accepted < 100 || stale < 100 {
		t.Errorf("%d findings are accepted and %d acceptances are stale", accepted, stale)
	}
}
