package sheetfile

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Word processors and web pages put other characters for the minus and the blank of the keyboard, which look the same
// and mean nothing in TOML. A message has to name them, since the reader sees nothing wrong.

// minusName names a character that looks like a minus, and is empty for any other.
func minusName(r rune) string {
	switch r {
	case '\u2212':
		return "a typographic minus"
	case '\u2013':
		return "an en dash"
	case '\u2014':
		return "an em dash"
	case '\u2010', '\u2011':
		return "a typographic hyphen"
	case '\uFE63', '\uFF0D':
		return "a wide minus"
	}
	return ""
}

// blankName names a blank of any kind, and is empty for any other character.
func blankName(r rune) string {
	switch {
	case r == ' ':
		return "a blank"
	case r == '\t':
		return "a tab"
	case r == '\n' || r == '\r':
		return "a line break"
	case r == '\u00A0' || r == '\u202F':
		return "a no-break space"
	case unicode.Is(unicode.Zs, r):
		return "a special blank"
	}
	return ""
}

// oddBlank reports whether r looks like the blank of the keyboard and is another.
func oddBlank(r rune) bool { return r > unicode.MaxASCII && unicode.Is(unicode.Zs, r) }

// lookalike is the trouble with the character at an offset, or nil if it is what it looks like.
func (l *locator) lookalike(at int) *trouble {
	r, size := utf8.DecodeRuneInString(l.text[at:])
	if problem, remedy := explainLookalike(r); problem != "" {
		return &trouble{span{at, at + size}, problem, remedy}
	}
	return nil
}

// explainLookalike names a character that is not what it looks like, and is empty for any other.
func explainLookalike(r rune) (problem, remedy string) {
	switch {
	case oddBlank(r):
		return fmt.Sprintf("this is %s (%U), not the blank of the keyboard", blankName(r), r), "put an ordinary blank in its place, or nothing"
	case minusName(r) != "":
		return fmt.Sprintf("this is %s (%U), not the - of the keyboard", minusName(r), r), "type a - in its place"
	}
	return "", ""
}

// lookalikeIn is the trouble with a bare word that would be a number, a date or another value but for such a
// character; nil for any other word.
func (l *locator) lookalikeIn(at span) *trouble {
	word := l.text[at.from:at.to]
	first := strings.IndexFunc(word, func(r rune) bool { return oddBlank(r) || minusName(r) != "" })
	if first < 0 {
		return nil
	}
	r, _ := utf8.DecodeRuneInString(word[first:])
	if first > 0 || !oddBlank(r) {
		if plain := strings.TrimSpace(strings.Map(keyboard, word)); !numeral.MatchString(plain) && !isWord(plain) {
			return nil
		}
	}
	return l.lookalike(at.from + first)
}

// keyboard is the character of the keyboard that r looks like.
func keyboard(r rune) rune {
	switch {
	case oddBlank(r):
		return ' '
	case minusName(r) != "":
		return '-'
	}
	return r
}

// aside points out a blank that is not what it looks like, within a word that is not known for no visible reason.
func aside(s string) string {
	for _, r := range s {
		if oddBlank(r) {
			return fmt.Sprintf(", with %s (%U) in it", blankName(r), r)
		}
	}
	return ""
}
