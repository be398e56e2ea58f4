package plan

import (
	"math"

	"example.org/underveil/internal/fibre"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
)

// aim is what is wished for, in what can be counted. What is 0 is not wished for.
type aim struct {
	reaching float64 // for length: added hairs that go on where the own hair ends
	hairs    float64 // for volume: added hairs
	bonds    float64 // for highlights: bonds

	enough float64 // added hairs of length and volume together, beyond which more is of no use
	grams  float64 // what about all of it will weigh
	most   float64 // grams: what total-load allows; infinite where it does not ask
	uneven float64 // what balance allows between left and right, as a share of both
}

// amounts is what some rows come to.
type amounts struct {
	reaching float64 // hairs of rows for length where the own hair ends
	hairs    float64 // hairs of rows for length and volume
	bonds    float64 // bonds of rows for highlights
	grams    float64 // of all rows
	left     float64 // grams to the left of the middle
	right    float64 // and to the right
}

func (a amounts) plus(b amounts) amounts {
	return amounts{a.reaching + b.reaching, a.hairs + b.hairs, a.bonds + b.bonds, a.grams + b.grams, a.left + b.left, a.right + b.right}
}

// balanced reports whether left and right weigh alike, as far as the rule asks.
func (p *planner) balanced(a amounts) bool {
	return math.Abs(a.left-a.right) <= p.aim.uneven*(a.left+a.right)
}

func sum(rows []*choice) amounts {
	var total amounts
	for _, c := range rows {
		total = total.plus(c.amounts)
	}
	return total
}

// wanted puts the wish in figures.
func (p *planner) wanted() aim {
	s := p.base
	hair := rule.HairOf(s, p.table)
	own := p.table.Roots().Hairs(hair.Density)
	want := s.Amounts.Wanted()
	a := aim{most: math.Inf(1)}
	if s.Wishes(sheet.Length) {
		blend, _ := s.Limit(sheet.LimitBlend)
		blend = math.Max(blend, 1)               // who wishes for length wishes for some hair
		a.reaching = blend / (100 - blend) * own // so many hairs that they are that share of all that is there
		if each := p.reachingEach(); each > 0 {
			a.enough = a.reaching / each
		}
	}
	if s.Wishes(sheet.Volume) {
		a.hairs = want.Volume / 100 * own
		a.enough = math.Max(a.enough, a.hairs)
	}
	if s.Wishes(sheet.Highlights) {
		a.bonds = float64(want.Highlights)
	}
	uneven, _ := s.Limit(sheet.LimitBalance)
	a.uneven = uneven / 100
	main, _ := s.Shade(p.main[0])
	light, _ := s.Shade(p.highlights[0])
	a.grams = fibre.Grams(a.enough, main.Length, hair.Linear) + a.bonds*light.Grams
	if grams := hair.Grams(); grams > 0 {
		most, _ := s.Limit(sheet.LimitTotalLoad)
		a.most = most / 100 * grams
	}
	return a
}

// reachingEach is the share of the hairs of the strands for length that go on where the own hair ends.
func (p *planner) reachingEach() float64 {
	sum := 0.0
	for i := range len(p.main) {
		h, _ := p.base.Shade(p.main[i])
		sum += p.reaching(h)
	}
	return sum / float64(len(p.main))
}

// reaching is the share of a strand's hairs that go on where the own hair ends.
func (p *planner) reaching(h sheet.Shade) float64 {
	ends, _ := p.base.EndsOf(h)
	return fibre.Reaching(p.base.Hair.Length, h.Length, ends/100)
}

// The weights of what a plan is worth. They are a matter of taste: first the wish, then no hair to no purpose, then rows
// spread evenly over the head. Common practice, no source.
const (
	perSurplus = 0.1  // for as much again as was wished for
	perGap     = 0.5  // for all of the head in one gap
	perStacked = 0.02 // for a row all of whose bonds hang straight below another
)

// worth is what rows are worth: 1 for a wish that is met with nothing over by rows evenly spread, without
// end to the number of rows.
func (p *planner) worth(rows []*choice) float64 {
	cost, before := 0.0, (*choice)(nil)
	for _, c := range rows {
		cost += p.step(before, c)
		before = c
	}
	return p.met(sum(rows)) - cost - p.toTop(before)
}

// met is how far amounts meet the wish, less what goes beyond it.
func (p *planner) met(got amounts) float64 {
	met, looks := 0.0, 0.0
	for _, m := range [][2]float64{{got.reaching, p.aim.reaching}, {got.hairs, p.aim.hairs}, {got.bonds, p.aim.bonds}} {
		if m[1] > 0 {
			met, looks = met+served(share(m[0], m[1])), looks+1
		}
	}
	if looks == 0 {
		return 0
	}
	return met/looks - perSurplus*(beyond(got.hairs, p.aim.enough)+beyond(got.bonds, p.aim.bonds))
}

// served is what a share of a look is worth: the first half of it more than the second, so that no look is left out for the
// last strands of another.
func served(share float64) float64 { return share * (3 - share) / 2 }

// beyond is how much there is beyond what was wanted, as a share of that.
func beyond(got, wanted float64) float64 {
	if wanted <= 0 {
		return 0
	}
	return math.Max(0, got/wanted-1)
}

// share is how much of what is wanted there is, from 0 to 1.
func share(got, wanted float64) float64 {
	if wanted <= 0 {
		return 1
	}
	return math.Min(1, got/wanted)
}

// step is the cost of a row after another, or after none: of the gap between them, and of bonds hanging under bonds.
func (p *planner) step(before, c *choice) float64 {
	if before == nil {
		return perGap * square(p.gap(p.first, c.line))
	}
	pair := [2]*choice{before, c}
	cost, ok := p.costs[pair]
	if !ok {
		cost = perGap*square(p.gap(before.line, c.line)) + perStacked*p.stacked(before, c)
		p.costs[pair] = cost
	}
	return cost
}

// toTop is the cost of what is left above the last row.
func (p *planner) toTop(last *choice) float64 {
	if last == nil {
		return perGap
	}
	return perGap * square(p.gap(last.line, p.last))
}

// gap is how far one line lies above another, as a share of all that may have rows.
func (p *planner) gap(from, to int) float64 {
	lines := p.table.Lines
	all := lines[p.last].ID.At - lines[p.first].ID.At
	if all <= 0 {
		return 0
	}
	return float64((lines[to].ID.At - lines[from].ID.At) / all)
}

func square(v float64) float64 { return v * v }

// looks is how far amounts meet each look that is wished for.
func (p *planner) looks(got amounts) []Met {
	var list []Met
	for _, l := range p.base.Wish {
		m := Met{Look: l}
		if l == sheet.Length {
			m.Short = p.tooShort()
		}
		switch l {
		case sheet.Length:
			m.Wanted, m.Got, m.Unit = p.aim.reaching, got.reaching, "hairs where the own hair ends"
		case sheet.Volume:
			m.Wanted, m.Got, m.Unit = p.aim.hairs, got.hairs, "added hairs"
		case sheet.Highlights:
			m.Wanted, m.Got, m.Unit = p.aim.bonds, got.bonds, "bonds"
		}
		list = append(list, m)
	}
	return list
}
