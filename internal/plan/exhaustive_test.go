package plan

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// On heads with few wide slots every set of rows can be tried, one after another, with the rules themselves to say which of
// them may be. The plan is worth at least 97 % of the best of them.
func TestPlanAgainstEverySetOfRows(t *testing.T) {
	heads := 60
	if testing.Short() {
		heads = 4
	}
	least, tried, sets := 1.0, 0, 0
	for i := range heads {
		p, s := smallHead(t, rand.New(rand.NewPCG(uint64(i), 5)))
		best, n := p.bestOfAll()
		if best <= 0.2 {
			continue // hardly anything fits, and a share of that says nothing
		}
		made := Make(s, p.table, Means{})
		if made.Refused {
			continue
		}
		share := made.Value / best
		if share < 0.97 {
			t.Errorf("head %d, %v: the plan is worth %.4f, and the best of %d sets of rows %.4f", i, s.Wish, made.Value, n, best)
		}
		least, tried, sets = math.Min(least, share), tried+1, sets+n
	}
	t.Logf("%d heads, %d sets of rows: at least %.2f %% of the best", tried, sets, 100*least)
	if tried < heads/2 {
		t.Errorf("only %d of %d heads have room for a plan", tried, heads)
	}
}

// smallHead is a planner that has found its choices, on a head with wide holes and lines.
func smallHead(t *testing.T, rng *rand.Rand) (*planner, *sheet.Sheet) {
	t.Helper()
	s := sheet.New(scalp.Sizes[rng.IntN(len(scalp.Sizes))].Measures).With(func(c *sheet.Sheet) {
		c.HoleSpacing, c.LineGap = scalp.MM(14+rng.IntN(6)), scalp.MM(22+rng.IntN(8))
		c.Wish = [][]sheet.Look{{sheet.Volume}, {sheet.Length}, {sheet.Highlights}, {sheet.Length, sheet.Volume}, {sheet.Volume, sheet.Highlights}}[rng.IntN(5)]
		c.Amounts = sheet.Amounts{Volume: float64(2 + rng.IntN(9)), Highlights: 6 + rng.IntN(15)}
		c.Hair.Length = scalp.MM(200 + rng.IntN(250))
		c.Partings = []scalp.Parting{{Right: scalp.MM(15 * (rng.IntN(5) - 2)), Length: 110}}
	})
	s = s.WithLimit(sheet.LimitBlend, float64(3+rng.IntN(6)))
	table, err := slots.For(s, nil)
	if err != nil {
		t.Fatal(err)
	}
	p := newPlanner(s, table, Means{})
	p.gather()
	return p, s
}

// bestOfAll goes through every set of rows, one choice a line, and is what the best of those is worth on which the rules find
// nothing that is not there without any of its rows; and how many sets there are.
func (p *planner) bestOfAll() (best float64, sets int) {
	var rows []*choice
	var from func(i int)
	from = func(i int) {
		sets++
		if len(rows) > 0 && p.mayBegin(rows[0]) {
			if value := p.worth(rows); value > best && p.allowed(rows) {
				best = value
			}
		}
		if len(rows) > 0 && !p.wants(sum(rows), rows[len(rows)-1]) && len(p.base.Wish) == 1 {
			return // whatever more there is costs more than it brings
		}
		for k := i; k < len(p.choices); k++ {
			c := p.choices[k]
			if n := len(rows); n > 0 && rows[n-1].line == c.line {
				continue
			}
			rows = append(rows, c)
			from(k + 1)
			rows = rows[:len(rows)-1]
		}
	}
	from(0)
	return best, sets
}

// allowed reports whether the rules have nothing against some rows.
func (p *planner) allowed(rows []*choice) bool {
	volume := false
	for _, c := range rows {
		if c.row.Look == sheet.Length && volume {
			return false // the length lies lowest
		}
		volume = volume || c.row.Look == sheet.Volume
	}
	for _, f := range rule.Check(p.with(rows), p.table).Findings {
		if f.Severity > rule.Note && !(f.On == sheet.OnSheet && (f.Rule == "wish" || f.Rule == "length-blend")) {
			return false
		}
	}
	return true
}
