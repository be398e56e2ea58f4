package sheetfile

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
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
}

func (r *reader) fail(at span, problem, remedy string) {
	if len(r.errs) < mostErrors {
		r.errs = append(r.errs, r.fault(at, problem, remedy))
	}
}

// table is one table of the sheet, or the sheet itself.
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

// failInside reports an error about one character of a text, given by its byte.
func (t table) failInside(key, text string, at int, problem, remedy string) {
	stands := t.at(key)
	where := stands.value
	if stands.plain {
		where.from += 1 + at // behind the quotation mark
		_, size := utf8.DecodeRuneInString(text[at:])
		where.to = where.from + size
	}
	t.reader.fail(where, problem, remedy)
}

// need reports keys that are not there.
func (t table) need(keys ...string) bool {
	missing := slices.DeleteFunc(slices.Clone(keys), t.has)
	if len(missing) == 0 {
		return true
	}
	shown := make([]string, len(missing))
	for i, k := range missing {
		shown[i] = sample(t.name, k)
	}
	t.failHere(fmt.Sprintf("%s has no %s", heading(t.name), orList(missing)), "add "+strings.Join(shown, ", "))
	return false
}

// checkKeys reports keys that no sheet has.
func (t table) checkKeys() {
	known := keysIn[t.name]
	for _, key := range slices.Sorted(maps.Keys(t.values)) {
		if slices.Contains(known, key) {
			continue
		}
		problem := fmt.Sprintf("%s has no key %s", heading(t.name), printable.Quote(key))
		t.reader.fail(t.at(key).key, problem, t.meant(key, known))
	}
}

// meant is what to do about an unknown key.
func (t table) meant(key string, known []string) string {
	near := nearest(key, known)
	elsewhere, ok := tableOf(key)
	switch {
	case t.name != "" && slices.Contains(keysIn[""], key) && !isTable(key):
		return key + " belongs at the top of the sheet, above the first line in brackets"
	case near != "" && isTable(near) && t.name == "":
		return "did you mean " + heading(near) + "?"
	case near != "":
		return "did you mean " + quoteKey(near) + "?"
	case ok && elsewhere != t.name:
		return key + " belongs under " + heading(elsewhere)
	}
	return "take it out; here may stand " + orList(known)
}

// failLike reports an error about the value of a key and shows how it is written.
func (t table) failLike(key, problem string) {
	t.fail(key, problem, "write it like "+sample(t.name, key))
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

// bounds is what a number may be.
type bounds struct {
	low, high float64
	unit      string // with the blank before it, as " mm"
}

// anyNumber is for a number that is checked later, against what it depends on.
var anyNumber = bounds{-math.MaxFloat64, math.MaxFloat64, ""}

// number reads a number. It reports whether it is there and right; if not, to stays as it is.
func number[T ~float64](t table, key string, b bounds, to *T) bool {
	if !t.has(key) {
		return false
	}
	v, ok := asNumber(t.values[key])
	if !ok {
		t.wrong(key, "a number")
		return false
	}
	if problem := b.check(inWords(key), v); problem != "" {
		t.failLike(key, problem)
		return false
	}
	*to = T(v + 0) // no negative zero
	return true
}

func asNumber(v any) (float64, bool) {
	switch v := v.(type) {
	case int64:
		return float64(v), true
	case float64:
		return v, true
	}
	return 0, false
}

// check says what is wrong with a number, or nothing.
func (b bounds) check(name string, v float64) string {
	switch {
	case math.IsNaN(v) || math.IsInf(v, 0):
		return name + " is not a number"
	case v < b.low || v > b.high:
		return fmt.Sprintf("%s %s%s: between %s and %s%s fits", name, plain(v), b.unit, plain(b.low), plain(b.high), b.unit)
	}
	return ""
}

// plain is a number as short as can be, without an exponent unless it is very large or small.
func plain(v float64) string {
	if a := math.Abs(v); a != 0 && (a >= 1e9 || a < 1e-4) {
		return strconv.FormatFloat(v, 'g', -1, 64)
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// whole reads a whole number.
func (t table) whole(key string, b bounds, to *int) bool {
	v := float64(*to)
	if !number(t, key, b, &v) {
		return false
	}
	if v != math.Trunc(v) {
		t.failLike(key, fmt.Sprintf("%s %s: a whole number is needed", inWords(key), plain(v)))
		return false
	}
	*to = int(v)
	return true
}

// flag reads true or false.
func (t table) flag(key string, to *bool) {
	if !t.has(key) {
		return
	}
	v, ok := t.values[key].(bool)
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
		t.wrong(key, "a date")
	}
}

// localDate is how the TOML reader marks a date without a time.
const localDate = "date-local"

func isDate(s string) bool {
	_, err := time.Parse(time.DateOnly, s)
	return err == nil
}
