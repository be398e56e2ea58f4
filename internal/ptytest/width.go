package ptytest

import "unicode"

// cellsOf is how many cells a terminal gives a rune. The library gives marks of many scripts one, where the wcwidth of every C library
// gives them none: those that do not space, those round a letter, and the vowels and final consonants of Hangul.
func cellsOf(r rune) int {
	if r >= 0x300 && (unicode.In(r, unicode.Mn, unicode.Me) || r >= 0x1160 && r <= 0x11FF || r >= 0xD7B0 && r <= 0xD7FB) {
		return 0
	}
	return widths.RuneWidth(r)
}
