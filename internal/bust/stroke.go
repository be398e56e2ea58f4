package bust

import (
	"math"

	"example.org/underveil/internal/scalp"
)

// stroke calls set for the dots of a line through points of the head, where shows says that it is
// seen.
func stroke(c *camera, line []scalp.Vec, shows func(scalp.Vec) bool, set func(x, y int)) {
	var x0, y0 float64
	before := false
	for _, p := range line {
		now := shows(p)
		x, y := c.dot(p)
		if now && !before {
			x0, y0 = x, y
		}
		if now {
			steps := max(math.Ceil(max(math.Abs(x-x0), math.Abs(y-y0))), 1)
			for k := 1.0; k <= steps; k++ {
				set(int(math.Floor(x0+(x-x0)*k/steps)), int(math.Floor(y0+(y-y0)*k/steps)))
			}
		}
		x0, y0, before = x, y, now
	}
}

// strokeCells calls set for the cells of such a line. The line is one cell thick: where it would turn
// within a cell, it goes straight from the cell before to the cell after.
func strokeCells(c *camera, line []scalp.Vec, shows func(scalp.Vec) bool, set func(x, y int)) {
	var run [][2]int
	stroke(c, line, shows, func(x, y int) {
		at := [2]int{x >> 1, y >> 2}
		n := len(run)
		switch {
		case n > 0 && run[n-1] == at:
		case n > 1 && meet(run[n-2], at):
			run[n-1] = at
		default:
			run = append(run, at)
		}
	})
	for _, at := range run {
		set(at[0], at[1])
	}
}

// meet reports whether two cells touch, if only in a corner.
func meet(a, b [2]int) bool {
	dx, dy := a[0]-b[0], a[1]-b[1]
	return dx >= -1 && dx <= 1 && dy >= -1 && dy <= 1
}
