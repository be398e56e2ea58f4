package sheetfile

import (
	"cmp"
	"fmt"
	"math"
	"strconv"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/unit"
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
	var v float64
	if _, isLength := any(to).(*scalp.MM); isLength || b.unit == " mm" {
		length, problem := asLength(t.values[key])
		if problem != "" {
			t.failLike(key, inWords(key)+" "+problem)
			return false
		}
		v = length
	} else if bare, ok := asNumber(t.values[key]); ok {
		v = bare
	} else {
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

// asLength is a length in mm: a number, or a text with a unit. What is wrong with it goes on from its name.
func asLength(v any) (mm float64, problem string) {
	if bare, ok := asNumber(v); ok {
		return bare, ""
	}
	text, ok := v.(string)
	if !ok {
		return 0, fmt.Sprintf("is %s, and should be a number of mm", kindOf(v))
	}
	length, err := unit.Length(text)
	if err != nil {
		return 0, "is " + printable.Quote(text) + ": as a length that should be a number of mm, or a text like \"56 cm\" or \"22 in\""
	}
	return float64(length), ""
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
