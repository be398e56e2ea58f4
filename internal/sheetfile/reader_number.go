package sheetfile

import (
	"cmp"
	"fmt"
	"math"
	"strconv"
)

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
	if problem, remedy := b.check(inWords(key), v); problem != "" {
		t.fail(key, problem, remedy)
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
func (b bounds) check(name string, v float64) (problem, remedy string) {
	switch {
	case math.IsNaN(v) || math.IsInf(v, 0):
		return name + " is not a number", "give one, in digits"
	case v < b.low || v > b.high:
		problem = fmt.Sprintf("%s %s%s: between %s and %s%s fits", name, plain(v), b.unit, plain(b.low), plain(b.high), b.unit)
		return problem, cmp.Or(b.ifCentimetres(v), "give a number in that range")
	}
	return "", ""
}

// ifCentimetres is what to do about a length that would fit if it were meant in centimetres, and else nothing.
func (b bounds) ifCentimetres(v float64) string {
	if mm := v * 10; b.unit == " mm" && v > 0 && mm >= b.low && mm <= b.high {
		return fmt.Sprintf("lengths are in mm: %s cm is %s", plain(v), plain(mm))
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
