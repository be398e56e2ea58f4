package printable

import (
	"unicode"
	"unicode/utf8"

	"github.com/mattn/go-runewidth"
)

// widths counts the runes that are wide in some East Asian fonts only as one cell,
// whatever the locale: the marks of the map and the frames are such runes, and a grid
// has no room for a second cell. Who has such a font has the ASCII marks.
var widths = runewidth.Condition{StrictEmojiNeutral: true}

// RuneWidth is how many cells of a terminal a printable rune takes: none for marks that are drawn on what stands before
// them. The library counts the marks of many scripts as one, and no terminal does.
func RuneWidth(r rune) int {
	switch {
	case r < 0x80:
		return 1
	case r >= combining && takesNone(r):
		return 0
	}
	return widths.RuneWidth(r)
}

// takesNone is after Markus Kuhn's wcwidth: marks that do not space, marks round a letter, and the vowels and final consonants
// of Hangul, which are drawn into the syllable begun before.
func takesNone(r rune) bool {
	return unicode.In(r, unicode.Mn, unicode.Me) || r >= 0x1160 && r <= 0x11FF || r >= 0xD7B0 && r <= 0xD7FB
}

// Steady reports whether all terminals take a rune for as wide as RuneWidth does, wherever it stands. Of pictures, flags,
// wide letters and marks that space some make one with what is beside them, or draw them wider.
func Steady(r rune) bool {
	switch {
	case r < combining:
		return true
	case r >= 0x2E80: // ideographs, of which some are wide since a few versions of Unicode, and pictures
		return r == '\uFFFD'
	}
	return RuneWidth(r) == 1 && !unicode.Is(unicode.Mc, r)
}

// Width is how many cells of a terminal a text takes, as Line has it.
func Width(text string) int {
	if isPlainASCII(text) {
		return len(text)
	}
	n := 0
	for _, r := range Line(text) {
		n += RuneWidth(r)
	}
	return n
}

// Front is a text, or as much of its front as fills more than so many cells of a line, so that what is drawn of a text
// does not take longer the longer it is.
func Front(text string, cells int) string {
	enough := (max(0, cells) + 2) * (1 + mostMarks) * utf8.UTFMax
	if len(text) <= enough {
		return text
	}
	for !utf8.RuneStart(text[enough]) && enough > 0 {
		enough--
	}
	return text[:enough]
}
