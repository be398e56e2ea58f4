// Package unit reads lengths as people write them: in millimetres, or with a unit.
package unit

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.org/underveil/internal/scalp"
)

// mm is how many millimetres each unit has. The inch is that of 1959, by agreement of the standards
// laboratories of the English-speaking countries: 25.4 mm exactly.
var mm = map[string]float64{"": 1, "mm": 1, "cm": 10, "m": 1000, "in": 25.4, "inch": 25.4, "inches": 25.4, `"`: 25.4, "″": 25.4}

// Length reads a length: "560", "56 cm", "22 in", `22.5"`. Without a unit it is in mm; the decimals may
// come after a comma. The error says what was not understood.
func Length(text string) (scalp.MM, error) {
	text = strings.TrimSpace(text)
	end := strings.IndexFunc(text, func(r rune) bool { return !strings.ContainsRune("+-0123456789.,", r) })
	if end < 0 {
		end = len(text)
	}
	number, name := text[:end], strings.ToLower(strings.TrimSpace(text[end:]))
	v, err := strconv.ParseFloat(strings.Replace(number, ",", ".", 1), 64)
	if err != nil || math.IsInf(v, 0) {
		return 0, fmt.Errorf("%q is no length: write it like 560, \"56 cm\" or \"22 in\"", text)
	}
	per, ok := mm[name]
	if !ok {
		return 0, fmt.Errorf("%q is no unit of length that is known: mm, cm and in are", name)
	}
	return scalp.MM(tidy(v * per)), nil
}

// tidy takes away what binary arithmetic adds far behind the point: 21.9 cm is 219 mm, not
// 218.99999999999997.
func tidy(v float64) float64 {
	if math.Abs(v) > 1e9 { // no length of anything here, and no room for the digits
		return v
	}
	return math.Round(v*1e7) / 1e7
}
