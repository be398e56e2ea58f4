// Package shade is colour: readings, the difference between two that the eye sees (CIEDE2000), and the blend
// of a few shades of stock that comes nearest to a reading.
package shade

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// Lab is a colour in CIE L*a*b* under D65, as seen by the 2° observer.
type Lab struct{ L, A, B float64 }

// Hex is the colour as a screen shows it, in sRGB: "#c9a26b". Where no screen can, each primary is as near as it
// comes.
func (c Lab) Hex() string {
	red, green, blue := c.light().rgb()
	return fmt.Sprintf("#%02x%02x%02x", red, green, blue)
}

// Reading is a colour as somebody measured it, in the one shape in which it is written: "#c9a26b" for sRGB, or
// "68.2 7.1 24.5" for L*, a*, b*. The empty Reading is none.
type Reading string

// howWritten ends every error about a reading.
const howWritten = `write a colour like "#c9a26b", or its L* a* b* like "68.2 7.1 24.5"`

var (
	// hexadecimal is a colour in sRGB. Its sign may be left out.
	hexadecimal = regexp.MustCompile(`^#?([0-9a-fA-F]{6})$`)
	// decimal is a number without exponent, with a point or a comma.
	decimal = regexp.MustCompile(`^[+-]?([0-9]+([.,][0-9]*)?|[.,][0-9]+)$`)
	// between is what separates the numbers. A comma that touches digits on both sides is that of a decimal.
	between = regexp.MustCompile(` ?; ?| ?, | ,| `)
	// label is what may stand in front of the numbers.
	label = regexp.MustCompile(`^(?i:lab)\b ?`)
)

// bound is the range of one of the three numbers, for the error.
type bound struct {
	name        string
	least, most float64
}

// bounds are those of L*, which is 0 for black and 100 for white, and those of a* and b* as files of images have them:
// a byte with a sign.
var bounds = [3]bound{{"L*", 0, 100}, {"a*", -128, 127}, {"b*", -128, 127}}

// Read reads a colour as it is typed: six hexadecimal digits of sRGB, or L*, a* and b*, kept to two decimals. Between
// those are blanks, semicolons, or commas with a blank; they may stand in brackets or have "Lab" in front. No
// text at all is the empty Reading. The error says what is wrong and how a colour is written.
func Read(text string) (Reading, error) {
	tidy := strings.Join(strings.Fields(text), " ")
	if tidy == "" {
		return "", nil
	}
	if digits := hexadecimal.FindStringSubmatch(tidy); digits != nil {
		return Reading("#" + strings.ToLower(digits[1])), nil
	}
	numbers, err := readNumbers(tidy)
	if err != nil {
		return "", fmt.Errorf("%q is no colour: %w: %s", tidy, err, howWritten)
	}
	return Reading(short(numbers[0]) + " " + short(numbers[1]) + " " + short(numbers[2])), nil
}

// readNumbers reads L*, a* and b*.
func readNumbers(text string) (numbers [3]float64, err error) {
	if strings.HasPrefix(text, "#") {
		return numbers, fmt.Errorf("six hexadecimal digits go behind the #")
	}
	fields := between.Split(unbracket(label.ReplaceAllString(text, "")), -1)
	for i, field := range fields {
		field = strings.Replace(field, "−", "-", 1) // the minus of typesetters
		if !decimal.MatchString(field) {
			return numbers, fmt.Errorf("%q is no number", field)
		}
		if i < len(numbers) {
			numbers[i], _ = strconv.ParseFloat(strings.Replace(field, ",", ".", 1), 64)
		}
	}
	if len(fields) != len(numbers) {
		return numbers, fmt.Errorf("it has %d of the three numbers", len(fields))
	}
	for i, b := range bounds {
		if numbers[i] < b.least || numbers[i] > b.most {
			return numbers, fmt.Errorf("%s is from %g to %g", b.name, b.least, b.most)
		}
	}
	return numbers, nil
}

// unbracket takes away the brackets around a text.
func unbracket(text string) string {
	for _, pair := range []string{"()", "[]"} {
		if strings.HasPrefix(text, pair[:1]) && strings.HasSuffix(text, pair[1:]) {
			return strings.TrimSpace(text[1 : len(text)-1])
		}
	}
	return text
}

// short writes a number with at most two decimals, and zero without a sign.
func short(v float64) string {
	v = math.Round(v*100) / 100
	if v == 0 {
		v = 0 // which takes the sign off a negative zero
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// Lab is the reading in L*a*b*. That of the empty reading, or of one that Read did not make, is zero and means nothing.
func (r Reading) Lab() Lab {
	again, err := Read(string(r))
	switch {
	case err != nil || again != r || r == "":
		return Lab{}
	case r[0] == '#':
		digits, _ := strconv.ParseUint(string(r[1:]), 16, 32)
		return ofRGB(uint8(digits>>16), uint8(digits>>8), uint8(digits)).lab()
	}
	numbers, _ := readNumbers(string(r))
	return Lab{L: numbers[0], A: numbers[1], B: numbers[2]}
}

// Hex is the reading as a screen shows it, in sRGB: "#c9a26b". That of the empty reading means nothing.
func (r Reading) Hex() string { return r.Lab().Hex() }
