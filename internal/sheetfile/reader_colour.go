package sheetfile

import (
	"fmt"
	"math"
	"strings"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/shade"
)

// colour reads a colour: a text in either way that a reading is written, or a list of L*, a* and b*. It reports whether
// it is there and right; if not, to stays as it is.
func (t table) colour(key string, to *shade.Reading) bool {
	if !t.has(key) {
		return false
	}
	var text string
	switch v := t.values[key].(type) {
	case string:
		text = v
	case []any:
		var ok bool
		if text, ok = coordinates(v); !ok {
			t.fail(key, inWords(key)+" needs three numbers: L*, a* and b*", t.howColour(key))
			return false
		}
	default:
		t.fail(key, fmt.Sprintf("%s is %s, and should be a colour", inWords(key), kindOf(v)), t.howColour(key))
		return false
	}
	read, err := shade.Read(text)
	switch {
	case err != nil && len(text) < longestColour:
		problem, how := err.Error(), t.howColour(key)
		if at := strings.LastIndex(problem, ": write "); at >= 0 { // as all of them end
			problem, how = problem[:at], problem[at+2:]
		}
		t.fail(key, inWords(key)+" "+problem, how)
		return false
	case err != nil || read == "":
		t.fail(key, fmt.Sprintf("%s %s is no colour", inWords(key), printable.Quote(text)), t.howColour(key))
		return false
	}
	*to = read
	return true
}

// longestColour is the length of a text, in bytes, that a message about it repeats.
const longestColour = 60

// coordinates is a list of three numbers as the text of a reading.
func coordinates(list []any) (text string, ok bool) {
	if len(list) != 3 {
		return "", false
	}
	parts := make([]string, len(list))
	for i, v := range list {
		n, ok := asNumber(v)
		if !ok || math.IsNaN(n) || math.IsInf(n, 0) {
			return "", false
		}
		parts[i] = decimal(n)
	}
	return strings.Join(parts, " "), true
}

// howColour is how a colour is written.
func (t table) howColour(key string) string {
	return "write it like " + t.sample(t.name, key) + `, or as L*, a* and b* like "68.2 7.1 24.5"`
}
