package sheetfile

import (
	"strconv"
	"strings"
)

// part is one name of a dotted key.
type part struct {
	name string
	at   span
}

// keyParts reads a key with its dots, and the blanks after it.
func (l *locator) keyParts() ([]part, *trouble) {
	var parts []part
	for {
		p, err := l.keyPart()
		if err != nil {
			return nil, err
		}
		if parts = append(parts, p); len(parts) > maxParts {
			return nil, &trouble{p.at, "this key has far too many dots", "is it another file?"}
		}
		l.space()
		if l.peek() != '.' {
			return parts, nil
		}
		l.at++
		l.space()
	}
}

func (l *locator) keyPart() (part, *trouble) {
	start := l.at
	var name string
	if c := l.peek(); c == '"' || c == '\'' {
		if strings.HasPrefix(l.text[start+1:], strings.Repeat(string(c), 2)) {
			return part{}, &trouble{span{start, start + 3}, "a key has one quotation mark on each side", `write it like "temple point left"`}
		}
		if _, err := l.quoted(); err != nil {
			return part{}, err
		}
		name = unquoted(l.text[start:l.at])
	} else {
		for isBare(l.peek()) {
			l.at++
		}
		name = l.text[start:l.at]
	}
	at := span{start, l.at}
	switch {
	case start == l.at:
		return part{}, &trouble{span{start, start + 1}, "a key is missing here",
			`write it like circumference = 560; a key with blanks or accents stands in "..."`}
	case l.at-start > maxKey:
		return part{}, &trouble{at, "this key is far too long", "is it another file?"}
	}
	return part{name, at}, nil
}

func isBare(c byte) bool {
	return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || isDigit(c) || c == '_' || c == '-'
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// unquoted is the name that a key in quotation marks stands for. One with an escape that Go does not have in the same
// meaning is not found again, and a message then points at what it lies in.
func unquoted(s string) string {
	if name, err := strconv.Unquote(s); err == nil && s[0] == '"' {
		return name
	}
	return s[1 : len(s)-1]
}
