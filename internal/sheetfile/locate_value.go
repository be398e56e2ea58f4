package sheetfile

import (
	"fmt"
	"regexp"
	"strings"
)

// peek is the next byte, or 0 at the end; the text itself has no zero byte.
func (l *locator) peek() byte {
	if l.at < len(l.text) {
		return l.text[l.at]
	}
	return 0
}

// space skips blanks within a line.
func (l *locator) space() {
	for l.peek() == ' ' || l.peek() == '\t' {
		l.at++
	}
}

// blank skips blanks, line breaks and remarks.
func (l *locator) blank() {
	for {
		switch l.peek() {
		case ' ', '\t', '\n', '\r':
			l.at++
		case '#':
			l.noteRemark()
			l.at += len(l.restOfLine())
		default:
			return
		}
	}
}

// noteRemark notes the first remark that saving the sheet loses.
func (l *locator) noteRemark() {
	before := l.text[:l.at]
	firstLine := !strings.Contains(before, "\n") && strings.TrimSpace(before) == ""
	if l.remark < 0 && !firstLine && l.restOfLine() != headRemark {
		l.remark = l.at
	}
}

// restOfLine is the text from here to the end of the line.
func (l *locator) restOfLine() string {
	rest, _, _ := strings.Cut(l.text[l.at:], "\n")
	return strings.TrimRight(rest, "\r")
}

// value reads one value. plain is as in place.
func (l *locator) value(p path, depth int) (at span, plain bool, err *trouble) {
	start := l.at
	if depth++; depth > maxDepth {
		return span{}, false, &trouble{span{start, start + 1}, "far too many brackets in one another", "is it another file?"}
	}
	switch l.peek() {
	case '"', '\'':
		plain, err = l.quoted()
	case '[':
		err = l.list(p, depth)
	case '{':
		err = l.inline(p, depth)
	default:
		err = l.bare(p)
	}
	return span{start, l.at}, plain, err
}

// list reads [a, b, c].
func (l *locator) list(p path, depth int) *trouble {
	open := l.at
	l.at++
	for i := 0; ; i++ {
		l.blank()
		switch l.peek() {
		case 0:
			return &trouble{span{open, open + 1}, "this list is not closed", "close it with ]"}
		case ']':
			l.at++
			return nil
		}
		if err := l.mostOf(p, i, span{l.at, l.at + 1}); err != nil {
			return err
		}
		at, plain, err := l.value(p.item(i), depth)
		if err == nil {
			err = l.record(p.item(i), place{key: at, value: at, plain: plain, firm: true})
		}
		if err == nil {
			err = l.comma(']')
		}
		if err != nil && l.ranOn(open, err.at.from) {
			return &trouble{span{open, open + 1}, "this list is not closed", "close it with ]"}
		}
		if err != nil {
			return err
		}
	}
}

// nextKey is a line that can only be a header or a key and its value.
var nextKey = regexp.MustCompile(`^\s*(\[+[\w\s".]+\]+|[\w".-]+\s*=)`)

// ranOn reports whether what is wrong in a list is that it was never closed, and took the lines after it for its own.
func (l *locator) ranOn(open, at int) bool {
	line := 1 + strings.LastIndexByte(l.text[:at], '\n')
	return line > open && nextKey.MatchString(l.text[line:])
}

// inline reads {a = 1, b = 2}.
func (l *locator) inline(p path, depth int) *trouble {
	open := l.at
	l.at++
	for {
		l.blank()
		switch l.peek() {
		case 0:
			return &trouble{span{open, open + 1}, "this table is not closed", "close it with }"}
		case '}':
			l.at++
			return nil
		}
		err := l.entry(p, depth)
		if err == nil {
			err = l.comma('}')
		}
		if err != nil {
			return err
		}
	}
}

// comma reads the comma after an element, which may be left out only before the end.
func (l *locator) comma(end byte) *trouble {
	l.blank()
	switch l.peek() {
	case ',':
		l.at++
	case end, 0:
	default:
		if err := l.lookalike(l.at); err != nil {
			return err
		}
		return &trouble{span{l.at, l.at + 1}, fmt.Sprintf("here should be a comma or %c", end), "put commas between the values"}
	}
	return nil
}

// quoted reads a string. plain is as in place.
func (l *locator) quoted() (plain bool, err *trouble) {
	start, mark := l.at, l.text[l.at]
	if strings.HasPrefix(l.text[l.at:], strings.Repeat(string(mark), 3)) {
		return false, l.quotedLines(mark)
	}
	plain = true
	for l.at++; l.at < len(l.text) && l.text[l.at] != '\n'; l.at++ {
		switch c := l.text[l.at]; {
		case c == mark:
			l.at++
			return plain, nil
		case c == '\\' && mark == '"':
			plain = false
			l.at++
		}
	}
	return false, &trouble{span{start, start + 1}, fmt.Sprintf("this %c is not closed on its line", mark),
		fmt.Sprintf("close the text with %c, or use three of them on both sides for a text of several lines", mark)}
}

// quotedLines reads a string of several lines, between three quotation marks; up to two more before the last three
// belong to the text.
func (l *locator) quotedLines(mark byte) *trouble {
	open := l.at
	for l.at += 3; l.at < len(l.text); l.at++ {
		switch c := l.text[l.at]; {
		case c == '\\' && mark == '"':
			l.at++
		case c == mark:
			run := len(l.text[l.at:]) - len(strings.TrimLeft(l.text[l.at:], string(mark)))
			if run > 5 {
				return &trouble{span{l.at, l.at + run}, "too many quotation marks in a row", "end the text with three"}
			}
			l.at += run
			if run >= 3 {
				return nil
			}
			l.at-- // the loop goes on behind the run
		}
	}
	l.at = len(l.text)
	return &trouble{span{open, open + 3}, "this text is not closed", fmt.Sprintf("close it with three %c", mark)}
}

// numeral holds all that a number or a date may look like; the TOML reader sees to the rest.
var numeral = regexp.MustCompile(`^[+-]?[0-9][0-9A-Fa-f_xobTtZz.:+\- ]*$`)

const (
	notNumber = "this is not a number"
	howNumber = "write numbers like 60 or 7.5, without a unit, dates like 2026-03-02, and text in quotation marks"
)

// isWord reports whether a value is one of the few words of TOML.
func isWord(s string) bool {
	sign := strings.TrimLeft(s, "+-")
	return s == "true" || s == "false" || sign == "inf" || sign == "nan"
}

// foreignDate is how dates are written elsewhere.
var foreignDate = regexp.MustCompile(`^[0-9]{1,4}[-./] ?[0-9]{1,2}[-./] ?[0-9]{1,4}$`)

// isoDate is how a date begins that is written right, be it in the calendar or not.
var isoDate = regexp.MustCompile(`^[0-9]{4}-[0-9]{2}-[0-9]{2}`)

const notDate = "this is not a date"

// howDate is how a key that is a date is written.
func howDate(key string) string {
	return "write year, month and day, without quotation marks: " + key + " = 2026-03-02"
}

// isDateKey, isFlag, isAnswer and isColour report what a key is by the example of its value.
func (s *schema) isDateKey(table, key string) bool { return isDate(s.value(table, key)) }
func (s *schema) isFlag(table, key string) bool    { return s.value(table, key) == "true" }
func (s *schema) isAnswer(table, key string) bool  { return s.value(table, key) == `"no"` }
func (s *schema) isColour(table, key string) bool {
	return strings.HasPrefix(s.value(table, key), `"#`)
}

// bare reads a value without quotation marks or brackets, of the key or the element p.
func (l *locator) bare(p path) *trouble {
	word := l.text[l.at:]
	if i := strings.IndexAny(word, "#\n,]}"); i >= 0 { // and no further: a list can have thousands of values on one line
		word = word[:i]
	}
	if end := l.at + len(word); end == len(l.text) || l.text[end] == '\n' {
		word = strings.TrimRight(word, "\r")
	}
	word = strings.TrimRight(word, " \t")
	at := span{l.at, l.at + len(word)}
	if err := l.lookalikeIn(at); err != nil {
		return err
	}
	l.at = at.to
	key := p.last()
	table, _ := l.tableAt(p.parent())
	switch {
	case word == "" && l.peek() == '#' && l.isColour(table, key):
		return &trouble{at, "a colour needs quotation marks: # begins a remark", "write it like " + l.sample(table, key)}
	case word == "":
		return &trouble{span{at.from, at.from + 1}, "a value is missing here", "give one, or take the key out"}
	case isWord(word):
		return nil
	case l.isDateKey(table, key) && foreignDate.MatchString(word) && !isoDate.MatchString(word):
		return &trouble{at, notDate, howDate(key)}
	case numeral.MatchString(word):
		return nil
	case strings.Contains(word, "="):
		return &trouble{at, "there are two values here", "begin a new line for each key; within {...} put commas between them"}
	case l.isDateKey(table, key):
		return &trouble{at, notDate, howDate(key)}
	case l.isAnswer(table, key):
		return &trouble{at, "an answer needs quotation marks", "write " + key + ` = "yes" or "no"`}
	case l.isFlag(table, key):
		return &trouble{at, inWords(key) + " is either true or false", howFlag(key, word)}
	case isDigit(word[0]):
		return &trouble{at, notNumber, howNumber}
	}
	return &trouble{at, "text needs quotation marks", `write it in "...", like ` + l.like.text}
}

// howFlag is how a key that is true or false is written, given how somebody wrote its value.
func howFlag(key, word string) string {
	value := "true or false"
	switch strings.ToLower(word) {
	case "true", "yes", "on", "y":
		value = "true"
	case "false", "no", "off", "n":
		value = "false"
	}
	return "write " + key + " = " + value + ", in small letters and without quotation marks"
}
