package sheetfile

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"example.org/underveil/internal/printable"
)

// reader reads the values of a document and keeps what is wrong with them.
type reader struct {
	*document
	places  places
	errs    Errors
	notices []Notice
	heads   *Heads // fitted already; nil remembers none
}

// open reads a text as far as its keys and values, before what they mean: the table is the file itself. remark is where
// the first remark is that saving loses, or -1.
func open(kind *schema, name string, data []byte) (t table, remark int, bad *Error) {
	doc, bad := newDocument(kind, name, data)
	if bad != nil {
		return table{}, -1, bad
	}
	found, remark, wrong := doc.locate()
	var values map[string]any
	if wrong == nil {
		values, wrong = doc.parse()
	}
	if wrong != nil {
		return table{}, -1, doc.fault(wrong.at, wrong.problem, wrong.remedy)
	}
	return table{reader: &reader{document: doc, places: found}, path: root, values: values}, remark, nil
}

func (r *reader) fail(at span, problem, remedy string) {
	if len(r.errs) < mostErrors {
		r.errs = append(r.errs, r.fault(at, problem, remedy))
	}
}

// table is one table of the file, or the file itself.
type table struct {
	*reader
	name   string // as in keysIn
	path   path
	values map[string]any
}

// has reports whether a key is there, whatever its value.
func (t table) has(key string) bool { return t.values[key] != nil }

// at is where a key or its value stands.
func (t table) at(key string) place { return t.places.find(t.path.key(key)) }

// fail reports an error about the value of a key.
func (t table) fail(key, problem, remedy string) { t.reader.fail(t.at(key).value, problem, remedy) }

// failHere reports an error about the table as a whole.
func (t table) failHere(problem, remedy string) {
	t.reader.fail(t.places.find(t.path).value, problem, remedy)
}

// of is the part of a text that a span is.
func (s span) of(text string) string { return text[s.from:s.to] }

// written is a text of the file and where it stands.
type written struct {
	place
	text string
}

// failInside reports an error about one character of a text, given by its byte.
func (r *reader) failInside(w written, at int, problem, remedy string) {
	_, size := utf8.DecodeRuneInString(w.text[at:])
	r.failWithin(w, span{at, at + size}, problem, remedy)
}

// failWithin reports an error about a part of a text.
func (r *reader) failWithin(w written, part span, problem, remedy string) {
	where := w.value
	if w.plain {
		begin := where.from + 1 // behind the quotation mark
		where = span{begin + part.from, begin + part.to}
	}
	r.fail(where, problem, remedy)
}

// need reports keys that are not there, unless there is an unknown one for them, which is reported anyway.
func (t table) need(keys ...string) bool {
	missing := slices.DeleteFunc(slices.Clone(keys), t.has)
	if len(missing) == 0 {
		return true
	}
	for key := range t.values {
		if known := t.keysIn[t.name]; !slices.Contains(known, key) {
			near := cmp.Or(t.otherwise[t.name][key], nearest(key, known))
			missing = slices.DeleteFunc(missing, func(k string) bool { return k == near })
		}
	}
	if len(missing) == 0 {
		return false
	}
	shown := make([]string, len(missing))
	for i, k := range missing {
		shown[i] = t.sample(t.name, k)
	}
	t.failHere(fmt.Sprintf("%s has no %s", t.heading(t.name), orList(missing)), "add "+strings.Join(shown, ", "))
	return false
}

// checkKeys reports keys that no file of the kind has.
func (t table) checkKeys() {
	known := t.keysIn[t.name]
	for _, key := range slices.Sorted(maps.Keys(t.values)) {
		if slices.Contains(known, key) {
			continue
		}
		problem := fmt.Sprintf("%s has no key %s%s", t.heading(t.name), printable.Quote(key), aside(key))
		t.reader.fail(t.at(key).key, problem, t.meant(key, known))
	}
}

// meant is what to do about an unknown key.
func (t table) meant(key string, known []string) string {
	near := nearest(key, known)
	elsewhere, ok := t.tableOf(key)
	switch {
	case t.name != "" && t.isTable(key):
		return fmt.Sprintf("%s belongs at %s: write %s on a line of its own and its keys below, or move this above the first line in brackets",
			key, t.heading(""), t.heading(key))
	case t.otherwise[t.name][key] != "":
		return t.calledElse(key, t.otherwise[t.name][key])
	case t.name != "" && slices.Contains(t.keysIn[""], key) && !t.isTable(key):
		return key + " belongs at " + t.heading("") + ", above the first line in brackets"
	case near != "" && t.isTable(near) && t.name == "":
		return "did you mean " + t.heading(near) + "?"
	case near != "":
		return "did you mean " + quoteKey(near) + "?"
	case ok && elsewhere != t.name:
		return key + " belongs under " + t.heading(elsewhere)
	}
	return "take it out; here may stand " + orList(known)
}

// calledElse is what to do about a key that goes by another name. Left is a right below zero.
func (t table) calledElse(key, name string) string {
	switch {
	case t.isTable(name) && t.name == "":
		return "write " + t.heading(name)
	case key != "left":
		return "the key is " + name
	}
	if v, ok := asNumber(t.values[key]); ok && !math.IsNaN(v) {
		return "write right = " + plain(0-v) + "; left of the middle is below zero"
	}
	return "the key is right, and left of the middle is below zero"
}

// failLike reports an error about the value of a key and shows how it is written.
func (t table) failLike(key, problem string) {
	t.fail(key, problem, "write it like "+t.sample(t.name, key))
}

// wrong reports a value of another kind than is needed.
func (t table) wrong(key, needed string) {
	t.failLike(key, fmt.Sprintf("%s is %s, and should be %s", inWords(key), kindOf(t.values[key]), needed))
}

func kindOf(v any) string {
	switch v.(type) {
	case string:
		return "text"
	case int64, float64:
		return "a number"
	case bool:
		return "true or false"
	case time.Time:
		return "a date or time"
	case []any:
		return "a list"
	}
	return "a table"
}

// flag reads true or false.
func (t table) flag(key string, to *bool) {
	if !t.has(key) {
		return
	}
	v, ok := t.values[key].(bool)
	if s, text := t.values[key].(string); text {
		t.fail(key, inWords(key)+" is text, and should be true or false", howFlag(key, s))
		return
	}
	if !ok {
		t.wrong(key, "true or false")
		return
	}
	*to = v
}

// date reads a date without a time, as ISO 8601.
func (t table) date(key string, to *string) {
	if !t.has(key) {
		return
	}
	v, ok := t.values[key].(time.Time)
	switch {
	case ok && v.Location().String() == localDate:
		*to = v.Format(time.DateOnly)
	case ok:
		t.failLike(key, inWords(key)+" has a time, and should be a date alone")
	default:
		if s, text := t.values[key].(string); text && isDate(s) {
			t.fail(key, "a date is written without quotation marks", "write it like "+key+" = "+s)
			return
		}
		if _, text := t.values[key].(string); text {
			t.fail(key, inWords(key)+" is text, and should be a date", howDate(key))
			return
		}
		t.wrong(key, "a date")
	}
}

// localDate is how the TOML reader marks a date without a time.
const localDate = "date-local"

func isDate(s string) bool {
	_, err := time.Parse(time.DateOnly, s)
	return err == nil
}
