package cells

import "unicode/utf8"

// run is a stretch of one row that has to be written, in one ink but for blanks in which no ink shows.
type run struct {
	x, y, end int
	ink       Cell // the first cell that is not blank, whose ink it takes, or else a blank one
	erase     bool // to be blanked rather than written; up to the edge where nothing else follows in its row
}

// A stretch of blanks is erased where that is fewer bytes than to write it.
const (
	shortTail = 3 // erasing the rest of a row; or to write at the margin, behind which a move has to go by row and column
	shortGap  = 5 // erasing a stretch, with nothing to write right behind it
	jump      = 5 // more, to get over it
)

// changedRuns are the stretches in which a screen looks otherwise than the terminal, from above to below.
func (w *Writer) changedRuns(s *Screen) []run {
	runs := w.runs[:0]
	for y := range s.H {
		now, had := s.cells[y*s.W:(y+1)*s.W], w.shown[y*s.W:(y+1)*s.W]
		w.row = w.changedInRow(w.row[:0], y, now, had)
		runs = appendErasing(runs, w.row, now, &w.pen.palette)
	}
	w.runs = runs
	return runs
}

// changedInRow appends the stretches of one row. A stretch that begins with blanks takes the ink of what follows them.
func (w *Writer) changedInRow(runs []run, y int, now, had []Cell) []run {
	p := &w.pen.palette
	for x := 0; x < len(now); {
		if now[x] == had[x] {
			x++
			continue
		}
		if now[x].Rune == 0 && x > 0 { // half of a wide rune
			x--
		}
		end := x + 1
		for end < len(now) && now[end].Rune == 0 { // which goes whole
			end++
		}
		if now[x].Rune == 0 || p.allAlike(now[x:end], had[x:end]) {
			x = end
			continue
		}
		c := now[x]
		last := len(runs) - 1
		if last >= 0 && p.goesOn(runs[last], now, x) {
			runs[last].end = end
			if p.blank(runs[last].ink) {
				runs[last].ink = c
			}
		} else {
			runs = append(runs, run{x: x, y: y, end: end, ink: c})
		}
		x = end
	}
	return runs
}

// goesOn reports whether a stretch is better written on to a cell than ended, since it takes no other ink and what lies
// between, which is there already, is no longer than a jump over it.
func (p *Palette) goesOn(r run, now []Cell, x int) bool {
	if x-r.end > 4 || !p.sameRun(r.ink, now[x]) {
		return false
	}
	bytes := 0
	for _, c := range now[r.end:x] {
		if c.Rune == 0 || !steady(c.Rune) || !p.sameRun(r.ink, c) || !p.sameRun(c, now[x]) {
			return false
		}
		bytes += utf8.RuneLen(c.Rune)
	}
	return bytes <= 3 || bytes == 4 && x-r.end > 1
}

// appendErasing appends the stretches of one row, with long blanks at their ends taken off, to be erased.
func appendErasing(runs, row []run, now []Cell, p *Palette) []run {
	if len(row) == 0 {
		return runs
	}
	tail := len(now) // from here on the row is blank
	for tail > 0 && p.blank(now[tail-1]) {
		tail--
	}
	for i, r := range row {
		if r.end > tail && (changedFrom(row[i:], tail) > shortTail || row[len(row)-1].end == len(now)) {
			from := max(r.x, tail)
			return r.appendParts(runs, from, len(now))
		}
		from, long := r.end, shortGap
		for from > r.x && p.blank(now[from-1]) {
			from--
		}
		if i+1 < len(row) && row[i+1].x == r.end {
			long += jump
		}
		if r.end-from <= long {
			runs = append(runs, r)
			continue
		}
		runs = r.appendParts(runs, from, r.end)
	}
	return runs
}

// appendParts appends the stretch up to a column, if there is anything before it, and a stretch to be erased from there.
func (r run) appendParts(runs []run, from, end int) []run {
	if from > r.x {
		runs = append(runs, run{x: r.x, y: r.y, end: from, ink: r.ink})
	}
	return append(runs, run{x: from, y: r.y, end: end, ink: Cell{Rune: ' '}, erase: true})
}

// changedFrom is how many cells stretches of one row have from a column on.
func changedFrom(row []run, x int) int {
	n := 0
	for _, r := range row {
		n += max(0, r.end-max(r.x, x))
	}
	return n
}

// allAlike reports whether stretches of cells look the same.
func (p *Palette) allAlike(a, b []Cell) bool {
	for i := range a {
		if !p.alike(a[i], b[i]) {
			return false
		}
	}
	return true
}

// sameRun reports whether a cell can be written after another without a change of ink.
func (p *Palette) sameRun(a, b Cell) bool {
	if p.looks[a.Ink].whole == p.looks[b.Ink].whole {
		return true
	}
	return p.blank(a) && p.looks[b.Ink].seeThrough || p.blank(b) && p.looks[a.Ink].seeThrough
}
