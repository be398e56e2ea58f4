package sheetfile

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"example.org/underveil/internal/printable"
)

// str reads text as it stands: for ids and words that mean something to the program, where any strange character is
// an error anyway.
func (t table) str(key string) (string, bool) {
	if !t.has(key) {
		return "", false
	}
	s, ok := t.values[key].(string)
	if !ok {
		t.wrong(key, "text")
	}
	return s, ok
}

// How long a free text may be, in characters: as long as a field of a form takes, and some pages. A text is drawn anew with
// every key, so that one of a megabyte would hold up each.
const (
	longestText  = 4000
	longestNotes = 20000
)

// text reads a line of free text and makes it safe to show.
func (t table) text(key string, to *string) bool {
	s, ok := t.str(key)
	if ok && t.notTooLong(key, s, longestText) {
		*to = t.clean(key, s)
	}
	return ok
}

// notTooLong refuses a text that is too long.
func (t table) notTooLong(key, s string, most int) bool {
	if len(s) <= most {
		return true
	}
	n := utf8.RuneCountInString(s)
	if n > most {
		t.fail(key, fmt.Sprintf("%s: %d characters, and at most %d are kept", inWords(key), n, most), "shorten it; was something pasted many times?")
	}
	return n <= most
}

// notes reads free text of several lines and makes it safe to show line by line.
func (t table) notes(key string, to *string) {
	s, ok := t.str(key)
	if !ok || !t.notTooLong(key, s, longestNotes) {
		return
	}
	lines := strings.Split(strings.ReplaceAll(s, "\r\n", "\n"), "\n")
	for i, line := range lines {
		lines[i] = printable.Line(line)
	}
	*to = strings.Join(lines, "\n")
	t.notice(key, strings.ReplaceAll(s, "\r\n", "\n"), *to)
}

func (t table) clean(key, s string) string {
	line := printable.Line(s)
	t.notice(key, s, line)
	return line
}

// notice tells what cleaning did, if it did anything.
func (t table) notice(key, was, is string) {
	if was == is {
		return
	}
	const mark = string(utf8.RuneError)
	text := inWords(key) + ": line breaks and tabs became blanks"
	switch n := strings.Count(is, mark) - strings.Count(was, mark); {
	case n == 1:
		text = inWords(key) + ": 1 character that cannot be shown was replaced"
	case n > 1:
		text = fmt.Sprintf("%s: %d characters that cannot be shown were replaced", inWords(key), n)
	}
	line, _ := t.lineAt(t.at(key).value.from)
	t.notices = append(t.notices, Notice{Line: line, Text: text})
}

// word reads a word out of a few.
func word[T ~string](t table, key string, of []T, to *T) {
	s, ok := t.str(key)
	if !ok {
		return
	}
	if i := slices.Index(of, T(s)); i >= 0 {
		*to = of[i]
		return
	}
	t.fail(key, fmt.Sprintf("%s: there is no %s%s", inWords(key), printable.Quote(s), aside(s)), oneOf(s, of))
}

// words reads a list of words out of a few.
func words[T ~string](t table, key string, of []T, to *[]T) {
	if !t.has(key) {
		return
	}
	list, ok := t.values[key].([]any)
	if !ok {
		t.wrong(key, "a list")
		return
	}
	var found []T
	for i, v := range list {
		at := t.places.find(t.path.key(key).item(i)).value
		s, ok := v.(string)
		switch {
		case !ok:
			t.reader.fail(at, fmt.Sprintf("%s: there is %s in the list, and should be text", inWords(key), kindOf(v)),
				"write it like "+t.sample(t.name, key))
		case !slices.Contains(of, T(s)):
			t.reader.fail(at, fmt.Sprintf("%s: there is no %s%s", inWords(key), printable.Quote(s), aside(s)), oneOf(s, of))
		case slices.Contains(found, T(s)):
			t.reader.fail(at, fmt.Sprintf("%s: %s is listed twice", inWords(key), printable.Quote(s)), "take one of the two out")
		default:
			found = append(found, T(s))
		}
	}
	*to = found
}

func oneOf[T ~string](typed string, of []T) string {
	known := make([]string, len(of))
	for i, w := range of {
		known[i] = string(w)
	}
	if near := nearest(typed, known); near != "" {
		return fmt.Sprintf("did you mean %q?", near)
	}
	return "write " + orList(quoteAll(of))
}

// sub is a table within a table.
func (t table) sub(key string) (table, bool) {
	if !t.has(key) {
		return table{}, false
	}
	switch v := t.values[key].(type) {
	case map[string]any:
		return t.child(key, t.path.key(key), v), true
	case []map[string]any:
		t.fail(key, fmt.Sprintf("there is one %s %s, and this makes it a list", inWords(key), t.on),
			"write "+t.heading(key)+", in single brackets")
	default:
		t.wrongTable(key)
	}
	return table{}, false
}

// list is the tables of a name.
func (t table) list(key string) []table {
	if !t.has(key) {
		return nil
	}
	var found []table
	switch v := t.values[key].(type) {
	case []map[string]any:
		for i, values := range v {
			found = append(found, t.child(key, t.path.key(key).item(i), values))
		}
	case []any:
		for i, values := range v {
			p := t.path.key(key).item(i)
			if values, ok := values.(map[string]any); ok {
				found = append(found, t.child(key, p, values))
				continue
			}
			t.reader.fail(t.places.find(p).value,
				fmt.Sprintf("%s: there is %s in the list, and should be a table", inWords(key), kindOf(values)),
				"write "+t.heading(key)+" and its keys on lines of their own")
		}
	case map[string]any:
		problem, remedy := t.oneOfSeveral(key)
		t.fail(key, problem, remedy)
	default:
		t.wrongTable(key)
	}
	return found
}

func (t table) child(name string, at path, values map[string]any) table {
	c := table{reader: t.reader, name: name, path: at, values: values}
	c.checkKeys()
	return c
}

func (t table) wrongTable(key string) {
	t.fail(key, fmt.Sprintf("%s is %s, and should be a table", inWords(key), kindOf(t.values[key])),
		"write "+t.heading(key)+" on a line of its own, and its keys below")
}
