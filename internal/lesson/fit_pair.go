package lesson

import (
	"math"

	"example.org/underveil/internal/scalp"
)

// match is a made bond that a planned one may be paired with, by its number, and what the pair costs.
type match struct {
	made int
	cost int64
}

// Costs are whole micrometres, so that two ways that are as good are told apart by their order and not by the last digits of the
// arithmetic, and finer than that a pair of the wrong kind: of two ways as short, the one with fewer of those is taken.
const (
	perMM     = 1000 << 14
	wrongKind = 1 // at most 16,383 of them are less than a micrometre
)

// costOf is what a pair costs.
func costOf(d scalp.MM, wrong bool) int64 {
	c := int64(math.Round(float64(d)*1000)) * (perMM / 1000)
	if wrong {
		c += wrongKind
	}
	return c
}

// pairUp pairs planned bonds with made ones, each with at most one, so that the sum is least, and returns the made one of each planned
// one or -1. matches are those that may be made at all; a planned bond without a partner costs alone, which is thus the
// most that any pair may cost. So a row with one bond left out in the middle is not paired one hole along to its end.
//
// It adds the planned bonds one by one along the cheapest way of changing the pairs made so far (Kuhn 1955, "The Hungarian method",
// as shortest augmenting paths with the prices of Edmonds and Karp 1972). Nothing is looked at that is not within reach, so bonds
// that have nothing to do with each other cost each other no time.
func pairUp(matches [][]match, made int, alone int64) []int {
	g := grid{matches: matches, alone: alone, plan: make([]int, len(matches)), owner: make([]int, made),
		have: make([]int64, len(matches)), price: make([]int64, made), far: make([]int64, made), from: make([]int, made), state: make([]uint8, made)}
	for i := range g.plan {
		g.plan[i] = -1
	}
	for j := range g.owner {
		g.owner[j], g.far[j] = -1, math.MaxInt64
	}
	for i := range matches {
		g.add(i)
	}
	return g.plan
}

// grid is the state of pairUp. No match costs less than its two prices, and those that are pairs cost exactly that.
type grid struct {
	matches     [][]match
	alone       int64
	plan, owner []int   // of each planned bond its made one, and the other way round; -1 for none
	have, price []int64 // of planned, of made bonds

	// Of the way that is being looked for, by made bond; as new between two ways.
	far   []int64
	from  []int   // the planned bond that it is reached from
	state []uint8 // one of the next three
}

const (
	unreached uint8 = iota
	reached
	passed
)

// add finds the cheapest way from a new planned bond to a made one that is free or to a planned one left alone, and
// takes it.
func (g *grid) add(root int) {
	var seen []int // made bonds, in the order in which they were reached
	i, base := root, int64(0)
	lone, loneFar := -1, int64(math.MaxInt64)
	end, total := -1, int64(0)
	for {
		if d := base + g.alone - g.have[i]; d < loneFar {
			lone, loneFar = i, d
		}
		for _, m := range g.matches[i] {
			if g.state[m.made] == passed {
				continue
			}
			if d := base + m.cost - g.have[i] - g.price[m.made]; d < g.far[m.made] {
				if g.state[m.made] == unreached {
					seen, g.state[m.made] = append(seen, m.made), reached
				}
				g.far[m.made], g.from[m.made] = d, i
			}
		}
		next := g.nearest(seen)
		if next < 0 || loneFar < g.far[next] {
			total = loneFar
			break
		}
		if g.owner[next] < 0 {
			end, total = next, g.far[next]
			break
		}
		g.state[next] = passed
		i, base = g.owner[next], g.far[next]
	}
	g.have[root] += total
	for _, j := range seen {
		if g.state[j] == passed {
			g.have[g.owner[j]] += total - g.far[j]
			g.price[j] -= total - g.far[j]
		}
	}
	g.take(root, lone, end)
	for _, j := range seen {
		g.far[j], g.state[j] = math.MaxInt64, unreached
	}
}

// nearest is the made bond not passed yet that is reached most cheaply, the first of those; -1 where there is none.
func (g *grid) nearest(seen []int) int {
	next := -1
	for _, j := range seen {
		if g.state[j] == reached && (next < 0 || g.far[j] < g.far[next] || g.far[j] == g.far[next] && j < next) {
			next = j
		}
	}
	return next
}

// take changes the pairs along the way back to root: from a free made bond, or, where that is -1, from the planned one that is
// left alone.
func (g *grid) take(root, lone, end int) {
	if end < 0 {
		end, g.plan[lone] = g.plan[lone], -1
		if lone == root {
			return
		}
	}
	for {
		i := g.from[end]
		g.owner[end] = i
		end, g.plan[i] = g.plan[i], end
		if i == root {
			return
		}
	}
}
