package plan

import (
	"cmp"
	"math"
	"slices"

	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
)

// way is one way of having come to a choice: the rows below it, what they come to and what they cost.
type way struct {
	amounts
	at   int // index in choices
	from *way
	cost float64
	fill bool // a row for volume is among them, so that none for length may come above
}

// level is the amounts of a way, coarsely: of two ways to one choice with the same level only the cheaper is followed.
type level struct {
	reaching, hairs, bonds, side int8
	fill                         bool
}

// stepsFor is how many levels there are up to what is wished for, by how many amounts are wished for. Finer levels find a
// plan nearer to the best and take longer.
var stepsFor = [...]float64{1, 24, 14, 9}

// sideStep is how far apart levels of the difference between left and right lie, as a share of all grams.
const sideStep = 0.04

func (p *planner) levelOf(a *way) level {
	steps := stepsFor[len(p.base.Wish)]
	of := func(got, wanted, steps float64) int8 {
		if wanted <= 0 {
			return 0
		}
		return int8(math.Max(-100, math.Min(steps*got/wanted, 100)))
	}
	return level{of(a.reaching, p.aim.reaching, steps), of(a.hairs, p.aim.enough, steps), of(a.bonds, p.aim.bonds, steps),
		of(math.Round((a.left-a.right)/sideStep/p.aim.grams), 1, 1), a.fill}
}

// ways are the ways to one choice, the best for each level, in the order in which they were found.
type ways struct {
	index map[level]int
	list  []*way
}

// search finds the sets of rows worth most, from the nape up: of those that end with the same choice the best that balances, and the
// best if nobody asks for balance, of which some bonds will have to go.
func (p *planner) search() (plans [][]*choice) {
	if len(p.choices) == 0 {
		return nil
	}
	to := make([]ways, len(p.choices))
	var ends []best
	for i, c := range p.choices {
		to[i].index = map[level]int{}
		if p.mayBegin(c) {
			p.arrive(&to[i], i, nil)
		}
		for k := range i {
			if !p.mayFollow(p.choices[k], c) {
				continue
			}
			for _, w := range to[k].list {
				if p.wants(w.amounts, c) && !(w.fill && c.row.Look == sheet.Length) {
					p.arrive(&to[i], i, w)
				}
			}
		}
		var balanced, any best
		for _, w := range to[i].list {
			value := p.met(w.amounts) - w.cost - p.toTop(c)
			any.take(w, value)
			if p.balanced(w.amounts) {
				balanced.take(w, value)
			}
		}
		for _, end := range []best{balanced, any} {
			if end.way != nil && !slices.Contains(ends, end) {
				ends = append(ends, end)
			}
		}
	}
	slices.SortStableFunc(ends, func(a, b best) int { return -cmp.Compare(a.value, b.value) })
	for _, end := range ends[:min(len(ends), followed)] {
		plans = append(plans, p.along(end.way))
	}
	return plans
}

// followed is how many of the plans found are mended and improved, to see which is worth most in the end.
const followed = 6

// best is the way worth most of those seen.
type best struct {
	way   *way
	value float64
}

func (b *best) take(w *way, value float64) {
	if b.way == nil || value > b.value+same || value > b.value-same && earlier(w, b.way) {
		b.way, b.value = w, value
	}
}

// along are the choices along a way, from the nape up.
func (p *planner) along(w *way) []*choice {
	var rows []*choice
	for ; w != nil; w = w.from {
		rows = append(rows, p.choices[w.at])
	}
	slices.Reverse(rows)
	return rows
}

// same is how near two values may be for the order of the choices to decide: nearer, only the last digits of the
// arithmetic would.
const same = 1e-9

// arrive adds the way that goes on from another to a choice, or begins with it.
func (p *planner) arrive(to *ways, at int, from *way) {
	c := p.choices[at]
	next := way{amounts: c.amounts, at: at, from: from, fill: c.row.Look == sheet.Volume}
	if from == nil {
		next.cost = p.step(nil, c)
	} else {
		next.amounts = next.amounts.plus(from.amounts)
		next.cost = from.cost + p.step(p.choices[from.at], c)
		next.fill = next.fill || from.fill
	}
	if next.grams > p.aim.most {
		return
	}
	l := p.levelOf(&next)
	switch have, ok := to.index[l]; {
	case !ok:
		to.index[l] = len(to.list)
		to.list = append(to.list, &next)
	case p.better(&next, to.list[have]):
		to.list[have] = &next
	}
}

// better reports whether one of two ways to the same choice is worth more, were it the end.
func (p *planner) better(a, b *way) bool {
	va, vb := p.met(a.amounts)-a.cost, p.met(b.amounts)-b.cost
	if math.Abs(va-vb) > same {
		return va > vb
	}
	return earlier(a, b)
}

// earlier orders ways that are worth the same, so that the last digits of the arithmetic do not decide.
func earlier(a, b *way) bool {
	for a != nil && b != nil {
		if a.at != b.at {
			return a.at < b.at
		}
		a, b = a.from, b.from
	}
	return a == nil && b != nil
}

// mayBegin reports whether a row may be the lowest: strands for length and volume begin under the occipital bone, or
// at the lowest line above it that takes any.
func (p *planner) mayBegin(c *choice) bool {
	return c.row.Look == sheet.Highlights || c.line == p.choices[0].line
}

// wants reports whether any of what a row adds is still wanted.
func (p *planner) wants(have amounts, c *choice) bool {
	switch c.row.Look {
	case sheet.Highlights:
		return have.bonds < p.aim.bonds
	case sheet.Length:
		return have.reaching < p.aim.reaching || have.hairs < p.aim.hairs
	}
	return have.hairs < p.aim.hairs
}

// mayFollow reports whether a row may be the next above another: far enough from it, and for volume rather
// than for length where that one is for volume, since the length is laid lowest.
func (p *planner) mayFollow(below, above *choice) bool {
	if above.line <= below.line || below.row.Look == sheet.Volume && above.row.Look == sheet.Length {
		return false
	}
	pair := [2]int{below.line, above.line}
	apart, ok := p.apart[pair]
	if !ok {
		apart = p.farEnough(below, above)
		p.apart[pair] = apart
	}
	return apart
}

// farEnough asks the rule whether two rows lie far enough from each other. What lies on either side of the round of
// the head meets bond by bond at most, and settle looks after that.
func (p *planner) farEnough(below, above *choice) bool {
	lower, upper := p.table.Lines[below.line], p.table.Lines[above.line]
	least, _ := p.base.Limit(sheet.LimitRowGap)
	if lower.ID.Kind != upper.ID.Kind || float64(upper.ID.At-lower.ID.At) > 2*least {
		return true
	}
	rep := rule.Check(p.with([]*choice{below, above}), p.table)
	return !slices.ContainsFunc(rep.Findings, func(f rule.Finding) bool { return f.Rule == "row-gap" })
}
