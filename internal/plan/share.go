package plan

import (
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
)

// share gives the bonds of rows for length and volume their shades, so that over the whole head there are as many strands of
// each as in the repeat. Every row that begins the repeat anew from its centre would have too many of the first. A slot and
// its partner on the other side are alike. Where shades differ in weight or length, or the rules would have something to
// say, the rows stay as they are.
func (p *planner) share(rows []*choice) []*choice {
	if !p.alike() {
		return rows
	}
	planned := p.with(rows)
	wanted, laid, all := map[byte]float64{}, map[byte]float64{}, 0.0
	for _, key := range []byte(p.main) {
		wanted[key] += 1 / float64(len(p.main))
	}
	next := planned
	for _, c := range rows {
		if c.row.Look == sheet.Highlights {
			continue
		}
		changes := map[int]sheet.Bond{}
		for out := 0; out <= max(-c.row.First(), c.row.Last()); out++ {
			pair := []int{out, -out}
			if out == 0 {
				pair = pair[:1]
			}
			strands := 0.0
			for _, slot := range pair {
				if b := c.row.Bond(slot); b.Placed() {
					changes[slot] = b
					strands += b.Strands()
				}
			}
			if strands == 0 {
				continue
			}
			all += strands
			key := p.scarcest(wanted, laid, all)
			laid[key] += strands
			for _, slot := range pair {
				if b, ok := changes[slot]; ok {
					b.Shade = key
					changes[slot] = b
				}
			}
		}
		next = next.WithRow(c.row.With(changes))
	}
	if grave(rule.Check(next, p.table)) > grave(rule.Check(planned, p.table)) {
		return rows
	}
	return p.remade(rows, next)
}

// grave is how many stops and cautions there are.
func grave(rep *rule.Report) int { return rep.Stops + rep.Cautions }

// scarcest is the shade of the repeat of which most is wanting, when so many strands are laid in all; of two the one that comes
// first.
func (p *planner) scarcest(wanted, laid map[byte]float64, all float64) byte {
	best := p.main[0]
	for _, key := range []byte(p.main) {
		if wanted[key]*all-laid[key] > wanted[best]*all-laid[best]+same {
			best = key
		}
	}
	return best
}

// alike reports whether the shades of the repeat are strands of one length and weight, so that one can stand for another.
func (p *planner) alike() bool {
	first, _ := p.base.Shade(p.main[0])
	for _, key := range []byte(p.main) {
		h, _ := p.base.Shade(key)
		if h.Length != first.Length || h.Grams != first.Grams || h.Ends != first.Ends {
			return false
		}
	}
	return true
}
