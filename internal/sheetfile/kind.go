package sheetfile

import (
	"cmp"
	"slices"
	"strings"
)

// schema is what a kind of file may hold and how it is written. It drives the locator and the reader, so that every
// kind is read as strictly as any other, and says what is wrong in the same words.
type schema struct {
	called string // in messages about what the file is: "head sheet"
	short  string // in messages about what is in it: "sheet"
	on     string // where its tables are: "on a sheet"
	of     string // what one such file is about: "head"
	naming string // what to do where the name of a file is missing
	anew   string // what to do besides where there is no such file, with the words before it, or empty
	see    string // where to see how it is written

	like likes

	keysIn    map[string][]string          // the keys of each table in the order in which they are written; "" is the top
	most      map[string]int               // how often a table may come that comes more than once
	example   map[string]string            // a value of each key, for messages that say how it is written
	exampleIn map[string]map[string]string // by table, where it is another there; "" is for all other keys of the table
	otherwise map[string]map[string]string // what else people call a key, by the table that has it
}

// likes are pieces of such a file, for messages about its syntax.
type likes struct{ number, text, spaced, headers string }

// value is a value of a key, as an example.
func (s *schema) value(table, key string) string {
	if key == "" {
		return "" // an element of a list
	}
	return cmp.Or(s.exampleIn[table][key], s.exampleIn[table][""], s.example[key])
}

// sample is how a key is written, with its value.
func (s *schema) sample(table, key string) string {
	return quoteKey(key) + " = " + s.value(table, key)
}

// heading is how the header of a table is written; the top of the file has none.
func (s *schema) heading(table string) string {
	switch {
	case table == "":
		return "the top of the " + s.short
	case s.most[table] > 0:
		return "[[" + table + "]]"
	}
	return "[" + table + "]"
}

// isTable reports whether a key at the top is the name of a table.
func (s *schema) isTable(key string) bool { return key != "" && s.keysIn[key] != nil }

// tableOf is the first table, in the order of the file, that has the key.
func (s *schema) tableOf(key string) (table string, ok bool) {
	for _, t := range s.keysIn[""] {
		if slices.Contains(s.keysIn[t], key) {
			return t, true
		}
	}
	return "", false
}

// tableAt is the name, as in keysIn, of the table at a path, if it is one of those.
func (s *schema) tableAt(p path) (name string, ok bool) {
	if i := strings.LastIndex(string(p), itemMark); i >= 0 && p.parent() == p[:i] {
		p = p[:i]
	}
	if p == root {
		return "", true
	}
	return p.last(), p.parent() == root && s.isTable(p.last())
}

// oneOfSeveral is about single brackets where double ones belong.
func (s *schema) oneOfSeveral(name string) (problem, remedy string) {
	return "there may be several of " + inWords(name) + ", and this makes it one", "write " + s.heading(name) + ", in double brackets"
}

// inWords is a key as a person would say it.
func inWords(key string) string { return strings.ReplaceAll(key, "_", " ") }
