package tui

import (
	"strconv"

	"example.org/underveil/internal/cells"
)

// large are letters to be read from a chair's length away, three dots wide and five high. Only those that a slot's name takes.
var large = map[rune][5]string{
	'0': {"###", "# #", "# #", "# #", "###"},
	'1': {" # ", "## ", " # ", " # ", "###"},
	'2': {"###", "  #", "###", "#  ", "###"},
	'3': {"###", "  #", " ##", "  #", "###"},
	'4': {"# #", "# #", "###", "  #", "  #"},
	'5': {"###", "#  ", "###", "  #", "###"},
	'6': {"###", "#  ", "###", "# #", "###"},
	'7': {"###", "  #", "  #", " # ", " # "},
	'8': {"###", "# #", "###", "# #", "###"},
	'9': {"###", "# #", "###", "  #", "###"},
	'L': {"#  ", "#  ", "#  ", "#  ", "###"},
	'R': {"## ", "# #", "## ", "# #", "# #"},
	'B': {"## ", "# #", "## ", "# #", "## "},
	'F': {"###", "#  ", "## ", "#  ", "#  "},
	' ': {"  ", "  ", "  ", "  ", "  "},
}

// largeHeight is how many rows large letters take.
const largeHeight = 5

// drawLarge writes a text in large letters, each dot two cells wide where there is room, and returns how wide it came out.
func (m *Model) drawLarge(r cells.Rect, ink cells.Ink, text string) int {
	dot := 2
	if largeWidth(text, dot) > r.W {
		dot = 1
	}
	x := r.X
	for _, letter := range text {
		shape := large[letter]
		for y, line := range shape {
			for i, c := range line {
				for k := range dot {
					if at := x + i*dot + k; c != ' ' && at < r.X+r.W && y < r.H {
						m.scr.Put(at, r.Y+y, ink, m.opts.Glyphs.Block)
					}
				}
			}
		}
		x += (len(shape[0]) + 1) * dot
	}
	return x - r.X
}

// largeWidth is how many columns a text takes in large letters.
func largeWidth(text string, dot int) int {
	w := 0
	for _, letter := range text {
		w += (len(large[letter][0]) + 1) * dot
	}
	return w - dot
}

// largeSlot is a slot as it is written large: 7L, 12R, 0; front to back 3B, 4F.
func largeSlot(along bool, slot int) string {
	minus, plus := "L", "R"
	if along {
		minus, plus = "B", "F"
	}
	switch {
	case slot < 0:
		return strconv.Itoa(-slot) + minus
	case slot > 0:
		return strconv.Itoa(slot) + plus
	}
	return "0"
}
