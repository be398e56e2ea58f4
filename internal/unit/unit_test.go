package unit_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"example.org/underveil/internal/unit"
)

func TestLength(t *testing.T) {
	// 22 in is 558.8 mm by the inch of 1959.
	for text, want := range map[string]float64{
		"560": 560, " 560 mm ": 560, "56 cm": 560, "56cm": 560, "21.9 cm": 219, "56,5 cm": 565, "22 in": 558.8, `22"`: 558.8, "22.5″": 571.5,
		"22 Inches": 558.8, "1 inch": 25.4, "0.56 m": 560, "-3 mm": -3, "-0.5 in": -12.7, "+4": 4, "0": 0, ".5 cm": 5,
		// As tapes have them: 22 and a half inch are 571.5 mm.
		"22 1/2 in": 571.5, `22-1/2"`: 571.5, "22½ in": 571.5, "22 ½ in": 571.5, "1/4 in": 6.35, "-1/8 in": -3.175, "3/4 cm": 7.5, "¾": 0.75,
	} {
		got, err := unit.Length(text)
		if err != nil || float64(got) != want {
			t.Errorf("%q: %v mm, %v; want %v", text, float64(got), err, want)
		}
	}
}

func TestLengthRefused(t *testing.T) {
	for text, says := range map[string]string{
		"": "no length", "cm": "no length", "long": "no length", "12 ft": "no unit", "12 kg": "no unit", "1.2.3": "no length",
		"1e5": "no unit", "--3": "no length", "5 cm 3": "no unit", strings.Repeat("9", 400): "no length", "NaN": "no length",
		"22 1/0 in": "no unit", "22 5/4 in": "no unit", "221/2": "no unit", "1/2/3": "no unit",
	} {
		if got, err := unit.Length(text); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v, %v; want an error that says %q", text, got, err, says)
		}
	}
}

// TestUnitsAgree holds a length written in each unit to the same millimetres.
func TestUnitsAgree(t *testing.T) {
	for tenths := -6000; tenths <= 6000; tenths += 7 {
		want := float64(tenths) / 10
		for name, per := range map[string]float64{"mm": 1, "cm": 10, "in": 25.4, "m": 1000} {
			got, err := unit.Length(number(want/per) + " " + name)
			if err != nil || math.Abs(float64(got)-want) > 1e-7 {
				t.Fatalf("%g mm in %s comes back as %v, %v", want, name, float64(got), err)
			}
		}
	}
}

// number writes a number with all its digits and no exponent.
func number(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
