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
// mark, the soft hyphen), private-use and unassigned code points, letters that are blanks, marks heaped on one letter or
// on nothing (see shows). Each byte that is not UTF-8 becomes one U+FFFD. The two joiners stay where names and composed
// pictures need them, see joins. Rune for rune there are as many as before, but for CR LF. Line(Line(s)) == Line(s). Text
// that is already clean is returned as it is, without an allocation.
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
	switch {
	case r < combining:
		return unicode.IsGraphic(r)
	case r == nonJoiner || r == joiner:
		return joins(s, i)
	case unicode.Is(unicode.Variation_Selector, r):
		return selects(s, i)
	case RuneWidth(r) == 0:
		return unicode.IsGraphic(r) && !unseen(r) && shows(s, i)
	}
	return unicode.IsGraphic(r) && !unseen(r)
}

// combining is the first mark of Unicode that takes no cell of its own.
const combining = '\u0300'

// mostMarks is how many runes that take no cell may follow one that does. Vietnamese letters have two, Hebrew ones with
// their accents five. More would be drawn over the lines above and below, and could make a text of any length that takes
// no room.
const mostMarks = 6

// shows reports whether the mark at byte i of s stands on something, and not on too many others. At the beginning of a
// text, and behind a blank at which a line may end, it would go to whatever is shown before it.
func shows(s string, i int) bool {
	for n := 0; i > 0; n++ {
		before, size := utf8.DecodeLastRuneInString(s[:i])
		if RuneWidth(before) > 0 || before == utf8.RuneError {
			return !unicode.IsSpace(before)
		}
		if n+1 == mostMarks {
			return false
		}
		i -= size
	}
	return false
}

// selects reports whether the variation selector at byte i of s directly follows what it can do something to: a picture,
// an ideograph, a digit in its key. One after another, or after Latin letters, they carry bytes that nobody sees.
func selects(s string, i int) bool {
	before, size := utf8.DecodeLastRuneInString(s[:i])
	switch {
	case size == 0 || before == utf8.RuneError || RuneWidth(before) == 0 && before >= combining:
		return false
	case before <= unicode.MaxASCII:
		return strings.ContainsRune("0123456789#*", before)
	}
	return (unicode.IsLetter(before) || unicode.IsSymbol(before) || unicode.IsPunct(before)) && safe(s, i-size, before)
}

// unseen reports whether a letter or a mark is one that nobody sees: the fillers of Hangul, which make a name of nothing,
// the joiner of graphemes, and two vowels of Khmer that are not written.
func unseen(r rune) bool {
	switch r {
	case '\u115F', '\u1160', '\u3164', '\uFFA0', '\u034F', '\u17B4', '\u17B5':
		return true
	}
	return false
}

// joins reports whether the joiner at byte i of s stands between two runes that it can do something to. Persian and
// Indic names are misspelt without it, and a composed picture falls apart. Anywhere else, between Latin letters too,
// it can only hide something.
func joins(s string, i int) bool {
	before, size := utf8.DecodeLastRuneInString(s[:i])
	next := i + len(string(joiner))
	after, _ := utf8.DecodeRuneInString(s[next:])
	return canJoin(before) && canJoin(after) && shows(s, i) && safe(s, i-size, before) && safe(s, next, after)
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
