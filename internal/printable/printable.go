// Package printable makes any text safe to put on a terminal or a page.
//
// A sheet, a file name or an error message may hold anything: a terminal escape that answers as if keys had been
// pressed, a mark that turns the rest of the line round, a carriage return that overwrites what stands before it.
// Nothing of that kind survives [Line], and it leaves a visible mark so that the reader sees that something was there.
package printable

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// quoteRunes is the longest text, in runes, that Quote shows between its quotation marks.
const quoteRunes = 60

// Line returns s as one line of text that is safe to show. A newline (LF, or CR LF together) or a tab becomes one
// space. Every other rune that no reader can see or that a terminal might obey becomes U+FFFD: control characters
// (C0, DEL, C1), line and paragraph separators, format characters (marks that turn the writing direction, the byte order
// mark, the soft hyphen), private-use and unassigned code points. Each byte that is not UTF-8 becomes one U+FFFD. The
// two joiners stay where names and composed pictures need them, see joins. Line(Line(s)) == Line(s). Text that is
// already clean is returned as it is, without an allocation.
func Line(s string) string {
	if Clean(s) {
		return s
	}
	s = strings.ReplaceAll(s, "\r\n", "\n")
	var line strings.Builder
	line.Grow(len(s))
	for i, r := range s {
		line.WriteRune(safeRune(s, i, r))
	}
	return line.String()
}

// Clean reports whether Line would leave s as it is.
func Clean(s string) bool {
	if isPlainASCII(s) {
		return true
	}
	if !utf8.ValidString(s) {
		return false
	}
	for i, r := range s {
		if !safe(s, i, r) {
			return false
		}
	}
	return true
}

// Shows reports whether Line leaves the rune that begins at byte i of s as it is.
func Shows(s string, i int) bool {
	r, _ := utf8.DecodeRuneInString(s[i:])
	return safe(s, i, r)
}

// Quote returns s cleaned and in double quotation marks, for a message that repeats what somebody typed or what a
// file holds. Text of more than 60 runes is cut to its first 59 and an ellipsis. Quotation marks and backslashes
// within s stay as they are, so that a file name reads as its owner writes it; nothing may parse the result.
func Quote(s string) string {
	return `"` + cut(Line(s), quoteRunes) + `"`
}

// isPlainASCII spares the common case a decode of every rune.
func isPlainASCII(s string) bool {
	for i := 0; i < len(s); i++ {
		if s[i] < ' ' || s[i] > '~' {
			return false
		}
	}
	return true
}

// The joiners: the first keeps two letters apart that would run together, the second joins what would stand apart.
const (
	nonJoiner = '\u200C'
	joiner    = '\u200D'
	joiners   = string(nonJoiner) + string(joiner)
)

// safe reports whether the rune r at byte i of s may be shown. Graphic runes are exactly the assigned letters, marks,
// digits, punctuation, symbols and blanks (U+3000 and the no-break space among them), so whatever a later Unicode adds
// stays out until the standard library knows it.
func safe(s string, i int, r rune) bool {
	if r == nonJoiner || r == joiner {
		return joins(s, i)
	}
	return unicode.IsGraphic(r)
}

// joins reports whether the joiner at byte i of s stands between two runes that it can do something to. Persian and
// Indic names are misspelt without it, and a composed picture falls apart. Anywhere else, between Latin letters too,
// it can only hide something.
func joins(s string, i int) bool {
	before, _ := utf8.DecodeLastRuneInString(s[:i])
	after, _ := utf8.DecodeRuneInString(s[i+len(string(joiner)):])
	return canJoin(before) && canJoin(after)
}

func canJoin(r rune) bool {
	return r > unicode.MaxASCII && r != utf8.RuneError && (unicode.IsLetter(r) || unicode.IsMark(r) || unicode.IsSymbol(r))
}

func safeRune(s string, i int, r rune) rune {
	switch {
	case r == '\n' || r == '\t':
		return ' '
	case !safe(s, i, r):
		return utf8.RuneError
	}
	return r
}

// cut shortens s to at most most runes, the last of them an ellipsis if anything was left out. A joiner before the
// ellipsis would join nothing.
func cut(s string, most int) string {
	if utf8.RuneCountInString(s) <= most {
		return s
	}
	return strings.TrimRight(string([]rune(s)[:most-1]), joiners) + "…"
}

// Count is a number of things in words: "1 strand", "2 strands".
func Count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return strconv.Itoa(n) + " " + what + "s"
}

// ASCII spells the signs of units, which a plain terminal may not have, in letters. Other text stays as it is.
func ASCII(s string) string { return inASCII.Replace(s) }

var inASCII = strings.NewReplacer("²", "2", "³", "3", "µ", "u", " °", " deg", "°", " deg", "×", "x", "π", "pi", "Δ", "d")
