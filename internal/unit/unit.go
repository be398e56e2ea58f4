// Package unit reads lengths as people write them, and shows them in the unit that somebody works in.
package unit

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"example.org/underveil/internal/scalp"
)

// mm is how many millimetres each unit has. The inch is that of 1959, by agreement of the standards
// laboratories of the English-speaking countries: 25.4 mm exactly.
var mm = map[string]float64{"mm": 1, "cm": 10, "m": 1000, "in": 25.4, "inch": 25.4, "inches": 25.4, `"`: 25.4, "″": 25.4}

// Unit is a unit that lengths are shown in.
type Unit int

// The units there are. Whatever they are shown in, lengths are kept and reckoned with in mm.
const (
	MM Unit = iota
	CM
	Inch
)

// Units lists every unit.
var Units = []Unit{MM, CM, Inch}

// MM is how many millimetres the unit has.
func (u Unit) MM() float64 { return mm[u.String()] }

// String is the unit as it stands after a figure: "mm", "cm", "in".
func (u Unit) String() string { return [...]string{"mm", "cm", "in"}[u] }

// Word is the unit in a sentence, where no figure stands before it: "mm", "cm", "inches".
func (u Unit) Word() string {
	if u == Inch {
		return "inches"
	}
	return u.String()
}

// Length reads a length: "560", "56 cm", "22 in", `22.5"`. Without a unit it is in mm; the decimals may
// come after a comma. The error says what was not understood.
func Length(text string) (scalp.MM, error) { return Read(text, MM) }

// Read reads a length as Length does; without a unit it is in u.
func Read(text string, u Unit) (scalp.MM, error) {
	text = decimal(strings.TrimSpace(text))
	end := strings.IndexFunc(text, func(r rune) bool { return !strings.ContainsRune("+-0123456789.,", r) })
	if end < 0 {
		end = len(text)
	}
	number, name := text[:end], strings.ToLower(strings.TrimSpace(text[end:]))
	v, err := strconv.ParseFloat(strings.Replace(number, ",", ".", 1), 64)
	if err != nil || math.IsInf(v, 0) {
		return 0, fmt.Errorf("%q is no length: write it like 560, \"56 cm\" or \"22 in\"", text)
	}
	if name == "" {
		name = u.String()
	}
	per, ok := mm[name]
	if !ok {
		return 0, fmt.Errorf("%q is no unit of length that is known: mm, cm and in are", name)
	}
	return scalp.MM(tidy(v * per)), nil
}

var (
	fraction = regexp.MustCompile(`^([+-]?)(?:(\d{1,4})[ -])?(\d{1,2})/(\d{1,2})`)
	vulgar   = regexp.MustCompile(`^([+-]?)(\d{0,4}) ?([½¼¾⅛⅜⅝⅞])`)
	parts    = map[string]float64{"½": 0.5, "¼": 0.25, "¾": 0.75, "⅛": 0.125, "⅜": 0.375, "⅝": 0.625, "⅞": 0.875}
)

// decimal writes the fraction that a text begins with, as tapes in inches have them, as a decimal: "22 1/2 in", "22-1/2", "22½". Other texts stay as they are.
func decimal(text string) string {
	var sign, whole, rest string
	var part float64
	if m := fraction.FindStringSubmatch(text); m != nil {
		over, _ := strconv.ParseFloat(m[3], 64)
		under, _ := strconv.ParseFloat(m[4], 64)
		if under == 0 || over >= under {
			return text
		}
		sign, whole, part, rest = m[1], m[2], over/under, text[len(m[0]):]
	} else if m := vulgar.FindStringSubmatch(text); m != nil {
		sign, whole, part, rest = m[1], m[2], parts[m[3]], text[len(m[0]):]
	} else {
		return text
	}
	n, _ := strconv.ParseFloat("0"+whole, 64)
	return sign + strconv.FormatFloat(n+part, 'f', -1, 64) + rest
}

// tidy takes away what binary arithmetic adds far behind the point: 21.9 cm is 219 mm, not
// 218.99999999999997.
func tidy(v float64) float64 {
	if math.Abs(v) > 1e9 { // no length of anything here, and no room for the digits
		return v
	}
	return math.Round(v*1e7) / 1e7
}

// Plain is a length to be typed over: in mm a bare number, otherwise with its unit, "22.05 in". It has as many
// figures as the mm have, and no zeros at the end.
func Plain(v scalp.MM, u Unit) string {
	bare := strconv.FormatFloat(float64(v), 'f', -1, 64)
	if u == MM {
		return bare
	}
	number, name, _ := strings.Cut(In(bare+" mm", u), " ")
	if strings.Contains(number, ".") {
		number = strings.TrimRight(strings.TrimRight(number, "0"), ".")
	}
	return number + " " + name
}

// Figure is a length as it stands below others in a column: in whole mm, tenths of a cm or hundredths of an inch.
func Figure(v scalp.MM, u Unit) string {
	switch u {
	case CM:
		return fmt.Sprintf("%.1f cm", float64(v)/10)
	case Inch:
		return fmt.Sprintf("%.2f in", float64(v)/Inch.MM())
	}
	return fmt.Sprintf("%.0f mm", float64(v))
}
