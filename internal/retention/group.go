package retention

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// trait is a thing by which bonds are parted into groups.
type trait struct {
	name string
	// names are the groups in the order in which they are shown; one that is not among them comes after, as it turns up
	// along the map.
	names []string
	of    func(*life) string
}

// elsewhere is the group of bonds whose slot this head does not have.
const elsewhere = "elsewhere"

// traits are all the ways in which bonds are parted.
func traits(s *sheet.Sheet, t *slots.Table) []trait {
	shades, shadeOf := shadeNames(s)
	return []trait{
		{"panel", []string{"back", "left side", "right side", "top", elsewhere}, func(l *life) string {
			line, slot := find(t, l.Spot)
			if slot == nil {
				return elsewhere
			}
			return slots.PanelOf(line, slot).String()
		}},
		{"nearest edge", []string{"nape", "ear", "temple", "front", "parting", elsewhere}, func(l *life) string {
			_, slot := find(t, l.Spot)
			if slot == nil {
				return elsewhere
			}
			return nearestEdge(slot)
		}},
		{"row", nil, func(l *life) string { return l.At.String() }},
		{"side", []string{"left", "middle", "right"}, sideOf},
		{"shade", shades, shadeOf},
		{"bond", []string{"whole", "split", "trimmed", "split, trimmed"}, func(l *life) string { return l.Bond.String() }},
	}
}

// find is where a bond lies on a head; the slot is nil where the head does not have it.
func find(t *slots.Table, at sheet.Spot) (*slots.Line, *slots.Slot) {
	if t == nil {
		return nil, nil
	}
	line, err := t.Line(at.At)
	if err != nil {
		return nil, nil
	}
	return line, line.At(at.Slot)
}

// nearestEdge is the part of the hairline, or the parting, that is nearest to a slot.
func nearestEdge(p *slots.Slot) string {
	name, least := elsewhere, scalp.MM(math.Inf(1))
	for _, edge := range []struct {
		name string
		away scalp.MM
	}{{"nape", p.Nape}, {"ear", p.Ear}, {"temple", p.Temple}, {"front", p.Front}, {"parting", p.Part}} {
		if edge.away < least {
			name, least = edge.name, edge.away
		}
	}
	return name
}

// sideOf is the client's side of a bond, by its slot, or for a row front to back by where that lies.
func sideOf(l *life) string {
	side := l.Slot
	if l.At.Along {
		side = cmp.Compare(l.At.At, 0)
	}
	switch {
	case side < 0:
		return "left"
	case side > 0:
		return "right"
	}
	return "middle"
}

// shadeNames are the shades of a sheet as groups, each by its letter and its name; strands used again have a letter of
// their own.
func shadeNames(s *sheet.Sheet) (names []string, of func(*life) string) {
	by := map[byte]string{}
	for _, h := range s.Shades {
		by[h.Key] = fmt.Sprintf("%c %s", h.Key, h.Name)
		names = append(names, by[h.Key])
	}
	return names, func(l *life) string { return cmp.Or(by[l.Shade], fmt.Sprintf("%c, not on the sheet", l.Shade)) }
}

// group parts bonds; groups without a bond are left out.
func (by trait) group(all []*life) Grouping {
	g := Grouping{Name: by.name}
	for _, name := range by.names {
		g.Groups = append(g.Groups, Group{Name: name})
	}
	for _, l := range all {
		name := by.of(l)
		i := slices.IndexFunc(g.Groups, func(have Group) bool { return have.Name == name })
		if i < 0 {
			i = len(g.Groups)
			g.Groups = append(g.Groups, Group{Name: name})
		}
		g.Groups[i].add(l)
	}
	g.Groups = slices.DeleteFunc(g.Groups, func(have Group) bool { return have.Made == 0 })
	return g
}

// Odd is a group of which more or fewer bonds were kept than of the rest of its grouping, beyond what chance would do.
type Odd struct {
	Grouping, Group string
	Count                   // of the group
	Rest            Count   // of all others of the grouping
	Low, High       float64 // where the difference of the shares lies, the group's less that of the rest
}

// Difference is the share of the group less that of the rest.
func (o Odd) Difference() float64 { return o.Share() - o.Rest.Share() }

// pair is a comparison of a group with the rest of its grouping.
type pair struct {
	grouping int
	group    int
	rest     Count
}

// compare finds the groups that stand out. Each of those compared could do so by chance, so the intervals are drawn wider by
// Bonferroni's rule: all of them together hold about 95 times of 100.
func (r *Report) compare() {
	pairs := r.pairs()
	r.Comparisons = len(pairs)
	if len(pairs) == 0 {
		return
	}
	z := reachOf((1 - sure) / float64(len(pairs)))
	for _, p := range pairs {
		in := &r.Groupings[p.grouping]
		g := &in.Groups[p.group]
		low, high := Newcombe(g.Kept, g.Known, p.rest.Kept, p.rest.Known, z)
		if low <= 0 && high >= 0 {
			continue
		}
		g.Odd = true
		r.Odd = append(r.Odd, Odd{in.Name, g.Name, g.Count, p.rest, low, high})
	}
	slices.SortStableFunc(r.Odd, func(a, b Odd) int {
		return cmp.Compare(math.Abs(b.Difference()), math.Abs(a.Difference()))
	})
}

// pairs are the groups that can be compared with a rest: both have bonds of which something is known. Of two groups alone each is
// the rest of the other, so only the one is compared of which fewer were kept.
func (r *Report) pairs() []pair {
	var list []pair
	for k, g := range r.Groupings {
		var some []pair
		for i, one := range g.Groups {
			rest := Count{r.All.Made - one.Made, r.All.Known - one.Known, r.All.Kept - one.Kept, r.All.Slipped - one.Slipped}
			if one.Known > 0 && rest.Known > 0 {
				some = append(some, pair{k, i, rest})
			}
		}
		if len(some) == 2 {
			fewer := 0
			if g.Groups[some[1].group].Share() < g.Groups[some[0].group].Share() {
				fewer = 1
			}
			some = some[fewer : fewer+1]
		}
		list = append(list, some...)
	}
	return list
}
