package sheetfile

import (
	"strings"
	"unicode/utf8"

	"github.com/rivo/uniseg"

	"example.org/underveil/internal/printable"
)

// excerptCells is the widest excerpt of a line, in cells of the terminal.
const excerptCells = 100

// replaced is what stands in place of each character that cannot be shown.
const replaced = "\uFFFD"

// cell is one character as a reader sees it, with all its accents.
type cell struct {
	text  string
	runes int
	width int // in cells of the terminal
}

// excerpt is the part of a line round what is meant, which begins at a column and is some characters wide, and a line
// of carets to stand below it.
func excerpt(source string, col, width int) (line, carets string) {
	source, left, right := around(printable.Line(source), col-1)
	cells := cellsOf(source)
	first := cellAt(cells, col-1-left)
	last := max(first+1, cellAt(cells, col-1-left+width))
	lo, hi := window(cells, first)

	var b strings.Builder
	var at, wide int // cells left of the first caret, and under carets
	if lo > 0 || left > 0 {
		b.WriteString("…")
		at++
	}
	for i := lo; i < hi; i++ {
		b.WriteString(cells[i].text)
		switch {
		case i < first:
			at += cells[i].width
		case i < last:
			wide += cells[i].width
		}
	}
	if hi < len(cells) || right {
		b.WriteString("…")
	}
	// Where the line is cut, a joiner may have lost its neighbour.
	return strings.TrimRight(printable.Line(b.String()), " "), strings.Repeat(" ", at) + strings.Repeat("^", max(1, wide))
}

// longestAround is how many runes on each side of what is meant are looked at: more than an excerpt has room for, and far fewer than a line
// can have.
const longestAround = 8 * excerptCells

// around is the part of a line round its n-th rune that can come into an excerpt, how many runes before it are left out, and whether any after it are.
func around(line string, n int) (part string, left int, right bool) {
	if len(line) <= longestAround {
		return line, 0, false
	}
	for ; left < n-longestAround; left++ {
		_, size := utf8.DecodeRuneInString(line)
		line = line[size:]
	}
	end, runes := 0, 0
	for end < len(line) && runes < n-left+longestAround {
		_, size := utf8.DecodeRuneInString(line[end:])
		end += size
		runes++
	}
	return line[:end], left, end < len(line)
}

func cellsOf(line string) []cell {
	var cells []cell
	state := -1
	for line != "" {
		var c cell
		c.text, line, c.width, state = uniseg.FirstGraphemeClusterInString(line, state)
		c.runes = utf8.RuneCountInString(c.text)
		if n := len(cells); c.text == replaced && n > 0 && cells[n-1].text == replaced { // one stands for as many as there are
			cells[n-1].runes++
			continue
		}
		cells = append(cells, c)
	}
	return cells
}

// cellAt is the index of the cell that holds the n-th rune of the line, or the number of cells if it is past the end.
func cellAt(cells []cell, n int) int {
	for i, c := range cells {
		if n -= c.runes; n < 0 {
			return i
		}
	}
	return len(cells)
}

// window is the cells to show: the whole line if it fits, else as many on both sides of the middle as do.
func window(cells []cell, middle int) (lo, hi int) {
	total := 0
	for _, c := range cells {
		total += max(1, c.width)
	}
	if total <= excerptCells {
		return 0, len(cells)
	}
	room := excerptCells - 2 // for the marks of what is left out
	lo, hi = middle, middle
	for grown := true; grown; {
		grown = false
		if hi < len(cells) && max(1, cells[hi].width) <= room {
			room -= max(1, cells[hi].width)
			hi++
			grown = true
		}
		if lo > 0 && max(1, cells[lo-1].width) <= room {
			lo--
			room -= max(1, cells[lo].width)
			grown = true
		}
	}
	return lo, hi
}
