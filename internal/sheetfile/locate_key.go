package sheetfile

import (
	"regexp"
	"slices"
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
			return part{}, &trouble{span{start, start + 3}, "a key has one quotation mark on each side", "write it like " + l.like.spaced}
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
	if start == l.at {
		if err := l.lookalike(l.at); err != nil {
			return part{}, err
		}
	}
	switch {
	case start == l.at:
		return part{}, &trouble{span{start, start + 1}, "a key is missing here",
			"write it like " + l.like.number + `; a key with blanks or accents stands in "..."`}
	case l.at-start > maxKey:
		return part{}, &trouble{at, "this key is far too long", "is it another file?"}
	}
	return part{name, at}, nil
}

// spacedNames is several names without quotation marks before the = of a key.
var spacedNames = regexp.MustCompile(`^([\w-]+(?:[ \t]+[\w-]+)+)[ \t]*=`)

// spacedKey is the trouble with a key that has blanks and no quotation marks, if it is known which one is meant.
func (l *locator) spacedKey(in path, start int) *trouble {
	match := spacedNames.FindStringSubmatch(l.text[start:])
	if match == nil {
		return nil
	}
	at := span{start, start + len(match[1])}
	names := strings.Fields(match[1])
	spaced, joined := strings.Join(names, " "), strings.Join(names, "_")
	table, known := l.tableAt(in)
	_, elsewhere := l.tableOf(joined)
	switch {
	case known && slices.Contains(l.keysIn[table], joined), elsewhere:
		return &trouble{at, "a key has no blanks", "write " + joined}
	case table == "hairline" || slices.Contains(l.keysIn["hairline"], spaced):
		return &trouble{at, "a key with blanks needs quotation marks", "write it like " + l.sample("hairline", spaced)}
	}
	return nil
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
