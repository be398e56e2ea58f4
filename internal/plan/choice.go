package plan

import (
	"cmp"
	"math"
	"slices"

	"example.org/underveil/internal/fibre"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// choice is a row that a line could have: all of it keeps the rules as long as it is alone.
type choice struct {
	amounts
	row  sheet.Row
	line int // index in table.Lines
	step int // slots from bond to bond
}

// losses are how many bonds each rule has taken out, by the rule's id.
type losses map[string]int

// leastBonds is the fewest bonds that are worth a parting of their own. Common practice, no source.
const leastBonds = 4

// patternsFor are the patterns that serve a look, each with where it may begin.
func patternsFor(l sheet.Look) []sheet.Pattern {
	switch l {
	case sheet.Length:
		return []sheet.Pattern{sheet.EverySlot}
	case sheet.Volume:
		return []sheet.Pattern{sheet.EverySecond}
	default:
		return []sheet.Pattern{sheet.EveryThird, sheet.EveryFourth}
	}
}

// gather finds the choices of every line.
func (p *planner) gather() {
	p.lost = losses{}
	p.first = p.firstLine()
	p.last = p.first
	p.prepare()
	for i := p.first; i < len(p.table.Lines); i++ {
		for _, l := range p.base.Wish {
			if l == sheet.Highlights && p.table.Lines[i].ID.At < p.highlightsFrom() {
				continue
			}
			p.choose(i, l)
		}
	}
	if n := len(p.choices); n > 0 {
		p.last = p.choices[n-1].line
	}
	if !slices.ContainsFunc(p.choices, func(c *choice) bool { return c.row.Look == sheet.Length }) {
		p.aim.enough = p.aim.hairs // hair for a length that can't be had is of no use
	}
}

// firstLine is the highest line that lies under the occipital bone, or the lowest above it that has hair out of the
// zones.
func (p *planner) firstLine() int {
	bone, _ := p.base.Limit(sheet.FigureOcciput)
	first := 0
	for i, l := range p.table.Lines {
		if l.ID.Kind == scalp.Level && float64(l.ID.At) <= bone {
			first = i
		}
	}
	for first < len(p.table.Lines)-1 && len(rule.Free(p.base, p.table.Lines[first])) < leastBonds {
		first++
	}
	return first
}

// highlightsFrom is the height from which up rows for highlights are laid, so that they are seen: the widest level of
// the head. Common practice, no source.
func (p *planner) highlightsFrom() scalp.MM { return p.table.Head.HeightAtLevel(0) }

// prepare works out what covers every slot that may be looked at, on two goroutines.
func (p *planner) prepare() {
	s := p.base
	for i := p.first; i < len(p.table.Lines); i++ {
		line := p.table.Lines[i]
		all := map[int]sheet.Bond{}
		for _, slot := range rule.Free(p.base, line) {
			all[slot] = sheet.Bond{Shade: p.main[0]}
		}
		s = s.WithRow(sheet.NewRow(line.Place(), all))
	}
	rule.Prepare(s, p.table)
}

// choose tries a line with each pattern of a look, begun at each place where the rows beside it may want it.
func (p *planner) choose(line int, l sheet.Look) {
	free := rule.Free(p.base, p.table.Lines[line])
	for _, pattern := range patternsFor(l) {
		for phase := range len(pattern) {
			lost := losses{}
			row := p.lay(line, l, pattern, phase, free)
			c := p.choiceOf(row, line, len(pattern), lost)
			if phase == 0 && pattern == patternsFor(l)[0] { // or a slot would be counted for each pattern
				p.tried += row.Count()
				for id, n := range lost {
					p.lost[id] += n
				}
			}
			if c == nil {
				continue
			}
			p.choices = append(p.choices, c)
			if paired := p.paired(c); paired != nil {
				p.choices = append(p.choices, paired)
			}
		}
	}
}

// lay is a pattern on a line, whatever the rules say of it.
func (p *planner) lay(line int, l sheet.Look, pattern sheet.Pattern, phase int, free []int) sheet.Row {
	hand := sheet.Hand{Pattern: pattern, Shades: p.shadesFor(l)}
	row := sheet.NewRow(p.table.Lines[line].Place(), hand.Lay(free, phase))
	row.Look, row.Offset = l, len(pattern) > 1
	return row
}

// paired is a choice without the bonds that have no partner on the other side, or nil where it has none or nothing is left: a
// parting at the side may leave room on one side only, and all of it would be out of balance.
func (p *planner) paired(c *choice) *choice {
	alone := map[int]sheet.Bond{}
	for slot := range c.row.All() {
		if !c.row.Bond(-slot).Placed() {
			alone[slot] = sheet.Bond{}
		}
	}
	if len(alone) == 0 {
		return nil
	}
	return p.choiceOf(c.row.With(alone), c.line, c.step, losses{})
}

// choiceOf takes out, halves or trims what the rules say of a row, until they have nothing to say. Where what remains
// is no row for its look, it returns nil.
func (p *planner) choiceOf(row sheet.Row, line, step int, lost losses) *choice {
	for row.Count() >= leastBonds {
		changed, fits := p.obey(&row, lost)
		if !fits {
			return nil
		}
		if !changed {
			return &choice{p.amountsOf(row), row, line, step}
		}
	}
	return nil
}

// obey does what the rules say of a row alone. fits is false where a rule speaks of the row as a whole.
func (p *planner) obey(row *sheet.Row, lost losses) (changed, fits bool) {
	changes := map[int]sheet.Bond{}
	for _, f := range rule.Check(p.base.WithRow(*row), p.table).Findings {
		switch {
		case f.On == sheet.OnRow && f.Severity > rule.Note:
			lost[f.Rule]++
			return false, false
		case f.On != sheet.OnSlot:
			continue
		}
		b, ok := changes[f.Slot]
		if !ok {
			b = row.Bond(f.Slot)
		}
		switch {
		case !b.Placed():
			continue // another rule has taken it out
		case f.Rule == "split":
			b.Split = true
		case f.Rule == "trim":
			b.Trimmed = true
		case f.Severity == rule.Note:
			continue
		default:
			lost[f.Rule]++
			b = sheet.Bond{}
		}
		changes[f.Slot] = b
	}
	*row = row.With(changes)
	return len(changes) > 0, true
}

// shadesFor is the repeat of shades for a look.
func (p *planner) shadesFor(l sheet.Look) string {
	if l == sheet.Highlights {
		return p.highlights
	}
	return p.main
}

// amountsOf is what a row comes to.
func (p *planner) amountsOf(row sheet.Row) amounts {
	var a amounts
	linear, _ := p.base.Limit(sheet.FigureFibre)
	for slot, b := range row.All() {
		h, _ := p.base.Shade(b.Shade)
		grams := h.GramsOf(b)
		hairs := fibre.InStrand(grams, h.Length, linear)
		a.grams += grams
		switch {
		case slot < 0:
			a.left += grams
		case slot > 0:
			a.right += grams
		}
		if row.Look == sheet.Highlights {
			a.bonds++
			continue
		}
		a.hairs += hairs
		if row.Look == sheet.Length {
			a.reaching += hairs * p.reaching(h)
		}
	}
	return a
}

// stacked is the share of the bonds of a row that hang straight below one of the row above.
func (p *planner) stacked(below, above *choice) float64 {
	lower, upper := p.table.Lines[below.line], p.table.Lines[above.line]
	if below.step == 1 || above.step == 1 || lower.ID.Kind != scalp.Level || upper.ID.Kind != scalp.Level {
		return 0 // no beginning would be better than another
	}
	least, _ := p.base.Limit(sheet.LimitStacked)
	n := 0
	for slot := range below.row.All() {
		at, ok := slots.Below(lower.At(slot), upper)
		near := math.Round(at)
		if ok && above.row.Bond(int(near)).Placed() && math.Abs(at-near)*float64(p.table.Spacing) < least {
			n++
		}
	}
	return float64(n) / float64(below.row.Count())
}

// rowAt is where a row on a line is among rows, or would have to be put in.
func rowAt(rows []*choice, line int) (at int, there bool) {
	return slices.BinarySearchFunc(rows, line, func(c *choice, line int) int { return cmp.Compare(c.line, line) })
}

// inOrder sorts rows from the nape up.
func inOrder(rows []*choice) {
	slices.SortFunc(rows, func(a, b *choice) int { return cmp.Compare(a.line, b.line) })
}
