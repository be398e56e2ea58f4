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
// (C0, DEL, C1), line and paragraph separators, format characters (marks that turn the writing direction, joiners,
// the byte order mark, the soft hyphen), private-use and unassigned code points. Each byte that is not UTF-8 becomes
// one U+FFFD. Line(Line(s)) == Line(s). Text that is already clean is returned as it is, without an allocation.
func Line(s string) string {
	if Clean(s) {
		return s
	}
	return strings.Map(safeRune, strings.ReplaceAll(s, "\r\n", "\n"))
}

// Clean reports whether Line would leave s as it is.
func Clean(s string) bool {
	return isPlainASCII(s) || utf8.ValidString(s) && strings.IndexFunc(s, unsafeRune) < 0
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

// unsafeRune reports whether r must not be shown. Graphic runes are exactly the assigned letters, marks, digits,
// punctuation, symbols and blanks (U+3000 and the no-break space among them), so whatever a later Unicode adds
// stays out until the standard library knows it.
func unsafeRune(r rune) bool {
	return !unicode.IsGraphic(r)
}

func safeRune(r rune) rune {
	switch {
	case r == '\n' || r == '\t':
		return ' '
	case unsafeRune(r):
		return utf8.RuneError
	}
	return r
}

// cut shortens s to at most most runes, the last of them an ellipsis if anything was left out.
func cut(s string, most int) string {
	if utf8.RuneCountInString(s) <= most {
		return s
	}
	return string([]rune(s)[:most-1]) + "…"
}

// Count is a number of things in words: "1 strand", "2 strands".
func Count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return strconv.Itoa(n) + " " + what + "s"
}
