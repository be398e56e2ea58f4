package printable

import "github.com/mattn/go-runewidth"

// widths counts the runes that are wide in some East Asian fonts only as one cell,
// whatever the locale: the marks of the map and the frames are such runes, and a grid
// has no room for a second cell. Who has such a font has the ASCII marks.
var widths = runewidth.Condition{StrictEmojiNeutral: true}

// RuneWidth is how many cells of a terminal a printable rune takes.
func RuneWidth(r rune) int {
	if r < 0x80 {
		return 1
	}
	return widths.RuneWidth(r)
}

// Width is how many cells of a terminal a text takes, as Line has it.
func Width(text string) int {
	n := 0
	for _, r := range Line(text) {
		n += RuneWidth(r)
	}
	return n
}
