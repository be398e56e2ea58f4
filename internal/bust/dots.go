package bust

// canvas is a picture of dots, eight to a cell: two across and four down, as in a braille cell.
type canvas struct {
	w, h  int // in cells
	cells []uint8
}

func newCanvas(w, h int) canvas { return canvas{w, h, make([]uint8, w*h)} }

// braille is the bit of each dot of a cell, by row and column, as Unicode numbers them.
var braille = [4][2]uint8{{0x01, 0x08}, {0x02, 0x10}, {0x04, 0x20}, {0x40, 0x80}}

// blankBraille is the braille cell without dots; a cell's bits are added to it.
const blankBraille = '\u2800'

func (c canvas) has(x, y int) bool { return x >= 0 && y >= 0 && x < 2*c.w && y < 4*c.h }

func (c canvas) set(x, y int) {
	if c.has(x, y) {
		c.cells[y/4*c.w+x/2] |= braille[y&3][x&1]
	}
}

func (c canvas) clear(x, y int) {
	if c.has(x, y) {
		c.cells[y/4*c.w+x/2] &^= braille[y&3][x&1]
	}
}

// ring calls f for a dot and those around it.
func ring(x, y int, f func(x, y int)) {
	for dy := -1; dy <= 1; dy++ {
		for dx := -1; dx <= 1; dx++ {
			f(x+dx, y+dy)
		}
	}
}

// rise is the order in which the dots of a tone come on: Bayer's matrix, whose patterns are the
// most even that a square of four can have. It repeats every second cell.
var rise = [4][4]float64{{0, 8, 2, 10}, {12, 4, 14, 6}, {3, 11, 1, 9}, {15, 7, 13, 5}}

// lit reports whether a dot is on where that share of the dots is to be.
func lit(x, y int, tone float64) bool { return tone*16 > rise[y&3][x&3]+0.5 }
