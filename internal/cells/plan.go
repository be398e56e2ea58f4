package cells

// fewRuns is up to how many stretches an order is looked for. With more, moves count for little, and looking would take
// longer than it saves.
const fewRuns = 16

// planner finds in which order to write the stretches of a frame. Its fields are kept so that a frame allocates nothing.
type planner struct {
	n       int
	cost    [fewRuns + 1][fewRuns + 1]int // bytes from the end of one stretch to the beginning of another; see measure
	order   []int
	natural []byte // what the frame is when written from above to below
	planned []byte
	scrap   []byte
}

// write writes the stretches with a pen and brings the cursor to where the screen wants it, shown or not: a screen
// reader follows it either way. It returns the pen as that leaves it.
func (pl *planner) write(p pen, s *Screen, runs []run) pen {
	pl.order = pl.order[:0]
	for i := range runs {
		pl.order = append(pl.order, i)
	}
	best := p.written(s, runs, pl.order, pl.natural[:0])
	pl.natural = best.buf
	if len(runs) > 1 && len(runs) <= fewRuns && allRunsSteady(s, runs) {
		pl.measure(p, s, runs)
		pl.nearest()
		pl.improve()
		planned := p.written(s, runs, pl.order, pl.planned[:0])
		pl.planned = planned.buf
		if len(planned.buf) < len(best.buf) {
			best = planned
		}
	}
	best.buf = append(p.buf, best.buf...)
	return best
}

// allRunsSteady reports whether all terminals take the runes of the stretches for as wide. Where one does not, a rune may
// cover what is to the right of it, and that is whole again only if it is written later.
func allRunsSteady(s *Screen, runs []run) bool {
	for _, r := range runs {
		if !allSteady(s.cells[r.y*s.W+r.x : r.y*s.W+r.end]) {
			return false
		}
	}
	return true
}

// written is the pen after it has written the stretches in an order to a buffer.
func (p pen) written(s *Screen, runs []run, order []int, buf []byte) pen {
	p.buf = buf
	for _, i := range order {
		p.write(s, runs[i])
	}
	if s.has(s.CursorX, s.CursorY) {
		p.moveTo(s.CursorX, s.CursorY)
	}
	return p
}

// measure fills in cost. Its last row is from where the pen is now, its last column to where the cursor goes. A blank
// leaves the ink in force, which depends on what was written before it; here it counts as one in its own ink.
func (pl *planner) measure(p pen, s *Screen, runs []run) {
	pl.n = len(runs)
	for i := range pl.n + 1 {
		from := p
		from.buf = pl.scrap[:0]
		if i < pl.n {
			from.x, from.y, from.ink = runs[i].x, runs[i].y, int(runs[i].ink.Ink)
			from.write(s, runs[i])
		}
		for k := range pl.n + 1 {
			to := from
			if k < pl.n {
				to.reach(s, runs[k])
			} else if s.has(s.CursorX, s.CursorY) {
				to.moveTo(s.CursorX, s.CursorY)
			}
			pl.cost[i][k] = len(to.buf) - len(from.buf)
			pl.scrap = to.buf
		}
	}
}

// nearest makes an order that goes on with whatever is the fewest bytes away.
func (pl *planner) nearest() {
	at := pl.n
	for done := range pl.order {
		left := pl.order[done:]
		best := 0
		for i, k := range left {
			if pl.cost[at][k] < pl.cost[at][left[best]] {
				best = i
			}
		}
		// What is passed over keeps its order, so that a tie goes to what is further up.
		at = left[best]
		copy(left[1:best+1], left[:best])
		left[0] = at
	}
}

// improve moves one stretch at a time to where the order is shorter with it, as long as that helps.
func (pl *planner) improve() {
	for again := true; again; {
		again = false
		for i := range pl.order {
			again = pl.moveBest(i) || again
		}
	}
}

// moveBest moves the stretch in place i of the order to its best place, and reports whether that is another one.
func (pl *planner) moveBest(i int) bool {
	k := pl.order[i]
	before, after := pl.at(i-1), pl.at(i+1)
	saved := pl.cost[before][k] + pl.cost[k][after] - pl.cost[before][after]
	best, most := i, 0
	for gap := range pl.n + 1 { // into the gap before what stands there now
		if gap == i || gap == i+1 {
			continue
		}
		a, b := pl.at(gap-1), pl.at(gap)
		if gain := saved - pl.cost[a][k] - pl.cost[k][b] + pl.cost[a][b]; gain > most {
			best, most = gap, gain
		}
	}
	switch {
	case most == 0:
		return false
	case best > i:
		copy(pl.order[i:], pl.order[i+1:best])
		pl.order[best-1] = k
	default:
		copy(pl.order[best+1:], pl.order[best:i])
		pl.order[best] = k
	}
	return true
}

// at is the stretch in a place of the order; before the first it is where the pen is now, behind the last where the
// cursor goes.
func (pl *planner) at(i int) int {
	if i < 0 || i >= len(pl.order) {
		return pl.n
	}
	return pl.order[i]
}
