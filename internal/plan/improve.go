package plan

import (
	"slices"

	"example.org/underveil/internal/sheet"
)

// nearLines is how many lines up or down a row is tried elsewhere.
const nearLines = 3

// improve puts in, takes out and moves rows one at a time for as long as the rows are worth more for it. The
// levels of the search are coarse and the bonds have been mended since, so there may be a little to gain.
func (p *planner) improve(rows []*choice) []*choice {
	for range 50 { // each round gains; this many it never takes
		best, was := rows, p.worth(rows)
		value := was
		p.neighbours(rows, func(other []*choice) {
			if v := p.worth(other); v > value+same && p.feasible(other) {
				best, value = other, v
			}
		})
		if value <= was+same {
			return rows
		}
		rows = best
	}
	return rows
}

// neighbours yields the plans that differ in one row: without it, with one more, or with another in its place.
func (p *planner) neighbours(rows []*choice, yield func([]*choice)) {
	for i := range rows {
		yield(slices.Delete(slices.Clone(rows), i, i+1))
	}
	for _, c := range p.choices {
		if at, there := rowAt(rows, c.line); !there {
			yield(slices.Insert(slices.Clone(rows), at, c))
		}
		for i, r := range rows {
			if c.line-r.line > nearLines || r.line-c.line > nearLines || r == c {
				continue
			}
			other := append(slices.Delete(slices.Clone(rows), i, i+1), c)
			inOrder(other)
			yield(other)
		}
	}
}

// feasible reports whether rows may all be there, as far as can be said without asking the rules.
func (p *planner) feasible(rows []*choice) bool {
	if len(rows) > 0 && !p.mayBegin(rows[0]) {
		return false
	}
	length := true // what is laid so far is for length, or highlights
	for i, c := range rows {
		if i > 0 && !p.mayFollow(rows[i-1], c) || !length && c.row.Look == sheet.Length {
			return false
		}
		length = length && c.row.Look != sheet.Volume
	}
	got := sum(rows)
	return got.grams <= p.aim.most && p.balanced(got)
}
