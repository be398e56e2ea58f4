package plan

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"

	"example.org/underveil/internal/fibre"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// Binding is what keeps a plan from meeting more of the wish.
type Binding struct {
	Rule string // the rule whose limit binds; empty where none does
	What string // in words, with figures
}

// mostly is the share of the bonds tried that a rule has to take out to be what binds, rather than the room that there is.
const mostly = 0.15

// binding finds what keeps the rows from being more: strands too short to add length, the grams in all, the balance of
// the sides, the rule that takes out most bonds, or the room that there is for rows.
func (p *planner) binding(rows []*choice, got amounts) Binding {
	if p.aim.reaching > 0 && p.reachingEach() == 0 {
		return Binding{"length-blend", fmt.Sprintf("strands of %g mm end where the own hair does, at %g mm: they add no length", float64(p.longestMain()), float64(p.base.Hair.Length))}
	}
	if short := p.tooShort(); short > 1-Enough {
		return Binding{"strands", fmt.Sprintf("the strands are %g mm long, and %g mm are wished for", float64(p.longestMain()), float64(p.base.Amounts.Wanted().Length))}
	}
	heavy, uneven := p.held(rows)
	worst, bonds := "", 0
	for _, id := range slices.Sorted(maps.Keys(p.lost)) {
		if n := p.lost[id]; n > bonds {
			worst, bonds = id, n
		}
	}
	switch {
	case heavy:
		return Binding{"total-load", fmt.Sprintf("%.0f g are added, and %.0f g are as much as the own hair is a match for", got.grams, p.aim.most)}
	case float64(bonds) > mostly*float64(p.tried):
		return Binding{worst, fmt.Sprintf("of %d bonds outside the zones %s takes out %d", p.tried, worst, bonds)}
	case uneven:
		return Binding{"balance", "what room is left is on one side only"}
	}
	least, _ := p.base.Limit(sheet.LimitRowGap)
	return Binding{"row-gap", fmt.Sprintf("no further row fits: from the first parting up, for highlights from the widest level up, rows lie at least %g mm apart and have at least %d bonds", least, leastBonds)}
}

// held reports whether there is a row with room between the others that only the grams in all keep out, or only the
// balance of the sides.
func (p *planner) held(rows []*choice) (heavy, uneven bool) {
	got := sum(rows)
	heavy = got.grams > Enough*p.aim.most
	for _, c := range p.choices {
		at, taken := rowAt(rows, c.line)
		if taken || !p.wants(got, c) || at > 0 && !p.mayFollow(rows[at-1], c) || at < len(rows) && !p.mayFollow(c, rows[at]) {
			continue
		}
		with := got.plus(c.amounts)
		heavy = heavy || with.grams > p.aim.most
		uneven = uneven || !p.balanced(with)
	}
	return heavy, uneven
}

// tooShort is the share by which the strands fall short of the length that is wished for; 0 where none is.
func (p *planner) tooShort() float64 {
	if !p.base.Wishes(sheet.Length) {
		return 0
	}
	return math.Max(0, 1-float64(p.longestMain()/p.base.Amounts.Wanted().Length))
}

// longestMain is the length of the longest strand for length and volume.
func (p *planner) longestMain() scalp.MM {
	longest := scalp.MM(0)
	for i := range len(p.main) {
		h, _ := p.base.Shade(p.main[i])
		longest = max(longest, h.Length)
	}
	return longest
}

// Remedy is something that would let more of the wish be met, and how much.
type Remedy struct {
	What string
	Met  float64 // the share of the whole wish that would be met
}

// Met is the share of the whole wish that the plan meets; none where it is refused.
func (m Proposal) Met() float64 {
	if m.Refused {
		return 0
	}
	return met(m.Looks)
}

// worthSaying is how much more of the wish a remedy has to bring.
const worthSaying = 0.05

// Loosen plans again for what might be otherwise, and is what would help, the most helpful first: another way of wearing the hair,
// shorter or lighter strands, and how thick or long the own hair would have to be. Nothing helps a plan that meets the wish.
func (m Proposal) Loosen() []Remedy {
	if m.Binding.Rule == "" {
		return nil
	}
	var found []Remedy
	for _, change := range m.changes() {
		table, err := slots.For(change.sheet, m.table)
		if err != nil {
			continue
		}
		if met := Make(change.sheet, table, Means{Repeat: m.Repeat}).Met(); met > m.Met()+worthSaying {
			found = append(found, Remedy{change.what, met})
		}
	}
	slices.SortStableFunc(found, func(a, b Remedy) int { return -cmp.Compare(a.Met, b.Met) })
	return found
}

// change is a sheet on which something is otherwise.
type change struct {
	what  string
	sheet *sheet.Sheet
}

// changes are what could be otherwise about the client and the strands.
func (m Proposal) changes() []change {
	s := m.base
	var list []change
	for _, w := range s.Worn {
		if w != sheet.WornDown {
			without := slices.DeleteFunc(slices.Clone(s.Worn), func(o sheet.Wear) bool { return o == w })
			list = append(list, change{"not worn " + worn(w), s.With(func(c *sheet.Sheet) { c.Worn = without })})
		}
	}
	for i, parting := range s.Partings {
		if len(s.Partings) > 1 {
			without := slices.Delete(slices.Clone(s.Partings), i, i+1)
			list = append(list, change{"without the " + parting.String(), s.With(func(c *sheet.Sheet) { c.Partings = without })})
		}
	}
	lighter := s.With(func(c *sheet.Sheet) { c.Shades = scaled(c.Shades, 1, 0.5) })
	list = append(list, change{"strands of half the weight", lighter})
	if own := s.Hair.Length; !s.Wishes(sheet.Length) || own > 0 && own < 300 {
		list = append(list, change{"strands three quarters as long", s.With(func(c *sheet.Sheet) { c.Shades = scaled(c.Shades, 0.75, 0.75) })})
	}
	for _, times := range []scalp.MM{1.5, 3} {
		if grown := times * s.Hair.Length; grown > 0 {
			list = append(list, change{fmt.Sprintf("own hair grown to %.0f mm", float64(grown)), s.With(func(c *sheet.Sheet) { c.Hair.Length = grown })})
		}
	}
	return append(list, m.thicker(s))
}

// thicker is the sheet with denser hair: what the hair would have to be, not what can be done.
func (m Proposal) thicker(s *sheet.Sheet) change {
	density, _ := m.table.Density(s)
	dense := math.Min(1.5*float64(density), float64(fibre.MostDensity))
	return change{fmt.Sprintf("hair of %.0f to the cm² instead of %.0f", dense, float64(density)), s.With(func(c *sheet.Sheet) { c.Hair.Count = dense })}
}

// scaled are the shades with strands of other length and weight.
func scaled(shades []sheet.Shade, length, grams float64) []sheet.Shade {
	other := slices.Clone(shades)
	for i := range other {
		other[i].Length *= scalp.MM(length)
		other[i].Grams *= grams
	}
	return other
}

// worn is a way of wearing the hair in words, after "worn".
func worn(w sheet.Wear) string {
	if w == sheet.WornHalfUp {
		return "half up"
	}
	return "in a " + string(w)
}
