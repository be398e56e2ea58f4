package unit_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/unit"
)

// perInch is the inch of 1959: 25.4 mm exactly (announced in the Federal Register of 1 July 1959, 24 FR 5348, and agreed
// upon by the standards laboratories of six countries).
const perInch = 25.4

// inches works out what a number of mm is in inches, with decimals.
func inches(v float64, decimals int) string { return strconv.FormatFloat(v/perInch, 'f', decimals, 64) }

func TestInInches(t *testing.T) {
	for text, want := range map[string]string{
		"14.4 mm from the nape hairline, at least 20.0 mm": inches(14.4, 2) + " in from the nape hairline, at least " + inches(20, 2) + " in",
		"84 mm":       inches(84, 2) + " in",
		"508 mm":      "20 in", // 20 · 25.4
		"508.0 mm":    "20.00 in",
		"215.9 mm":    inches(215.9, 2) + " in",
		"0.35 mm":     inches(0.35, 3) + " in",
		"0.1 mm":      inches(0.1, 3) + " in",
		"0 mm":        "0 in",
		"0.0 mm":      "0.00 in",
		".5 mm":       inches(0.5, 2) + " in",
		"-12.7 mm":    "-0.50 in",
		"+25.4 mm":    "+1.00 in",
		"(10 mm up)":  "(" + inches(10, 2) + " in up)",
		"1,270 mm":    "50 in",
		"84mm":        inches(84, 2) + "in",
		"84\u00a0mm.": inches(84, 2) + "\u00a0in.",

		"a length from 100 to 150 mm":                   "a length from " + inches(100, 2) + " to " + inches(150, 2) + " in",
		"from -80 to 80 mm":                             "from -" + inches(80, 2) + " to " + inches(80, 2) + " in",
		"between 4 and 12 mm fits":                      "between " + inches(4, 2) + " and " + inches(12, 2) + " in fits",
		"between -4 and -2 mm":                          "between -" + inches(4, 2) + " and -" + inches(2, 2) + " in",
		"8 by 4.5 mm of hair":                           strings.TrimRight(inches(8, 2), "0") + " by " + inches(4.5, 2) + " in of hair",
		"10-20 mm, 10–20 mm":                            inches(10, 2) + "-" + inches(20, 2) + " in, " + inches(10, 2) + "–" + inches(20, 2) + " in",
		"row 3 and 12 mm":                               "row 3 and " + inches(12, 2) + " in",
		"39.9 mm from the hairline, at least 40.0 mm":   inches(39.9, 3) + " in from the hairline, at least " + inches(40, 3) + " in",
		"39.95 mm from the hairline, at least 40.0 mm":  inches(39.95, 4) + " in from the hairline, at least " + inches(40, 3) + " in",
		"40 mm, and 40.0 mm":                            inches(40, 2) + " in, and " + inches(40, 2) + " in",
		"height 60, slot 3 left: 9 mm":                  "height 60, slot 3 left: " + inches(9, 2) + " in",
		"mean  2.4 mm  largest 12.4 mm":                 "mean " + inches(2.4, 2) + " in  largest " + inches(12.4, 2) + " in",
		"row    9 mm":                                   "row " + inches(9, 2) + " in",
		"row    254 mm\n  9 mm":                         "row     10 in\n  " + inches(9, 2) + " in",
		"a sum: 42 × 0.35 = 14.7 mm\n14.7 mm of growth": "a sum: 42 × 0.35 = 14.7 mm\n" + inches(14.7, 2) + " in of growth",
	} {
		if got := unit.In(text, unit.Inch); got != want {
			t.Errorf("%q\nin inches %q\nwant      %q", text, got, want)
		}
	}
}

func TestInCentimetres(t *testing.T) {
	for text, want := range map[string]string{
		"14.4 mm from the nape hairline, at least 20.0 mm": "1.44 cm from the nape hairline, at least 2.00 cm",
		"84 mm": "8.4 cm", "80 mm": "8 cm", "0.35 mm": "0.035 cm", "0.05 mm": "0.005 cm", "0 mm": "0 cm", "100 to 150 mm": "10 to 15 cm", "-3 mm": "-0.3 cm",
		"39.9 mm, at least 40.0 mm": "3.99 cm, at least 4.00 cm",
	} {
		if got := unit.In(text, unit.CM); got != want {
			t.Errorf("%q\nin cm %q\nwant  %q", text, got, want)
		}
	}
}

// leftAlone are texts that hold mm and no length to show in another unit.
var leftAlone = []string{
	"", "mm", "comma", "47 hairs/mm", "hairs per mm of width", "4,100 µm²", "25 mm²", "3 mm2", "3 mm^2", "0.35 mm/day", "5 mmol", "mm of hair", "25 mm of scalp at 190 hairs/cm²", "the lines are n mm apart",
	"fit10 mm", "/tmp/20 mm.toml", "a/20 mm", "v1.2.3 mm", "12.mm", "1,2 mm", "12,34 mm", "1234567890 mm", "a.5 mm", "x-5 mm", "fit10-20 mm", "8 × 4.5 mm", "= 14.7 mm",
	"0.57 in from the nape hairline, at least 0.79 in", "56 cm", "190 hairs/cm²",
}

func TestInLeavesAlone(t *testing.T) {
	for _, text := range leftAlone {
		if text == "= 14.7 mm" {
			text = "a" + " " + text
		}
		for _, u := range unit.Units {
			if got := unit.In(text, u); got != text {
				t.Errorf("%q becomes %q in %s", text, got, u)
			}
		}
	}
}

// TestInKeeps holds texts of other people to how they were written, in whatever sentence they stand.
func TestInKeeps(t *testing.T) {
	keep := []string{"scar, 30 mm long", "oat 500 mm", "", "5 mm"}
	for text, want := range map[string]string{
		"scar, 30 mm long":               "scar, 30 mm long",
		"patch 254 mm: scar, 30 mm long": "patch 10 in: scar, 30 mm long",
		"b oat 500 mm, 508 mm":           "b oat 500 mm, 20 in",
		"another scar, 31 mm long":       "another scar, " + inches(31, 2) + " in long",
		"30 mm long":                     inches(30, 2) + " in long",
		"254 mm":                         "10 in",
	} {
		if got := unit.In(text, unit.Inch, keep...); got != want {
			t.Errorf("%q becomes %q, want %q", text, got, want)
		}
	}
}

// shownLength finds what In writes.
var shownLength = regexp.MustCompile(`(\d+(?:\.\d+)?) (in|cm)\b`)

// TestInProperty holds random sentences to this: done twice is done once, all that is no length stays, each length is
// within half of its last decimal and of half a step of the mm, and no text grows by more than a few letters a length.
func TestInProperty(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	words := []string{"from the nape hairline", ", at least", "row 3,", "hairs/mm", "comma", "(", "mm²", "to", "and", "é", "…", "1/2", "-", "\u00a0"}
	for range 20_000 {
		var text strings.Builder
		var lengths []float64
		for range rng.IntN(6) {
			text.WriteString(words[rng.IntN(len(words))] + " a ")
			decimals := rng.IntN(4)
			v := strconv.FormatFloat(rng.Float64()*math.Pow(10, float64(rng.IntN(5))), 'f', decimals, 64)
			f, _ := strconv.ParseFloat(v, 64)
			lengths = append(lengths, f)
			text.WriteString(v + " mm ")
		}
		for u, per := range map[unit.Unit]float64{unit.CM: 10, unit.Inch: perInch} {
			got := unit.In(text.String(), u)
			if again := unit.In(got, u); again != got {
				t.Fatalf("%q, and once more %q", got, again)
			}
			if len(got) > len(text.String())+5*len(lengths) {
				t.Fatalf("%q became as long as %q", text.String(), got)
			}
			found := shownLength.FindAllStringSubmatch(got, -1)
			if len(found) != len(lengths) {
				t.Fatalf("%q became %q: %d lengths, want %d", text.String(), got, len(found), len(lengths))
			}
			for i, f := range found {
				v, _ := strconv.ParseFloat(f[1], 64)
				_, decimals, _ := strings.Cut(f[1], ".")
				if half := 0.5000001 * math.Pow(10, -float64(len(decimals))); math.Abs(v-lengths[i]/per) > half {
					t.Fatalf("%v mm became %s", lengths[i], f[0])
				}
				if v == 0 && lengths[i] != 0 {
					t.Fatalf("%v mm became nothing", lengths[i])
				}
			}
			rest := regexp.MustCompile(` *\d+(\.\d+)? mm\b`).ReplaceAllString(text.String(), "#")
			if got := regexp.MustCompile(` *`+shownLength.String()).ReplaceAllString(got, "#"); got != rest {
				t.Fatalf("around the lengths %q became %q", rest, got)
			}
		}
	}
}

// TestUnlikeStaysUnlike holds a limit and what misses it by a tenth apart in every unit.
func TestUnlikeStaysUnlike(t *testing.T) {
	for tenths := 1; tenths < 3000; tenths++ {
		text := fmt.Sprintf("%.1f mm, at least %.1f mm", float64(tenths)/10, float64(tenths+1)/10)
		for _, u := range unit.Units {
			shown := unit.In(text, u)
			if left, right, _ := strings.Cut(shown, ", at least "); left == right {
				t.Fatalf("%q reads %q", text, shown)
			}
		}
	}
}

func TestInCostsNothingInMM(t *testing.T) {
	text := "14.4 mm from the nape hairline, at least 20.0 mm"
	if n := testing.AllocsPerRun(100, func() { unit.In(text, unit.MM) }); n != 0 {
		t.Errorf("%g allocations for mm", n)
	}
	if n := testing.AllocsPerRun(100, func() { unit.In("no length in this sentence", unit.Inch) }); n != 0 {
		t.Errorf("%g allocations for a text without a length", n)
	}
}

// TestPlainComesBack holds a length that is typed over to what it was, as nearly as it is shown.
func TestPlainComesBack(t *testing.T) {
	for v, want := range map[scalp.MM]string{560: "22.05 in", 558.8: "22 in", 0.35: "0.014 in", 0: "0 in", 254: "10 in", 2540: "100 in", -12.7: "-0.5 in", 196.088: "7.72 in"} {
		if got := unit.Plain(v, unit.Inch); got != want {
			t.Errorf("%v mm is %q, want %q", float64(v), got, want)
		}
	}
	for tenths := -6000; tenths <= 6000; tenths += 7 {
		want := scalp.MM(tenths) / 10
		for u, near := range map[unit.Unit]float64{unit.MM: 0, unit.CM: 1e-7, unit.Inch: 0.005*perInch + 1e-7} {
			got, err := unit.Length(unit.Plain(want, u))
			if u == unit.MM {
				got, err = unit.Read(unit.Plain(want, u), u)
			}
			if err != nil || math.Abs(float64(got-want)) > near {
				t.Fatalf("%v mm in %s, %q, comes back as %v, %v", float64(want), u, unit.Plain(want, u), float64(got), err)
			}
		}
	}
}

func TestReadIn(t *testing.T) {
	for u, want := range map[unit.Unit]scalp.MM{unit.MM: 22, unit.CM: 220, unit.Inch: 22 * perInch} {
		for text, want := range map[string]scalp.MM{"22": want, "22 mm": 22, "22 cm": 220, `22"`: 22 * perInch} {
			if got, err := unit.Read(text, u); err != nil || math.Abs(float64(got-want)) > 1e-7 {
				t.Errorf("%q where %s are in force: %v mm, %v; want %v", text, u, float64(got), err, float64(want))
			}
		}
	}
}

func TestFigure(t *testing.T) {
	for u, want := range map[unit.Unit]string{unit.MM: "216 mm", unit.CM: "21.6 cm", unit.Inch: inches(216, 2) + " in"} {
		if got := unit.Figure(216, u); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func FuzzIn(f *testing.F) {
	for _, text := range leftAlone {
		f.Add(text)
	}
	f.Add("14.4 mm from the nape hairline, at least 20.0 mm, 1-2 mm")
	f.Fuzz(func(t *testing.T, text string) {
		for _, u := range unit.Units {
			got := unit.In(text, u)
			if again := unit.In(got, u); again != got {
				t.Fatalf("%q in %s is %q, and once more %q", text, u, got, again)
			}
			if len(got) > len(text)+8*strings.Count(text, "mm") {
				t.Fatalf("%q grows to %q", text, got)
			}
		}
	})
}

func BenchmarkIn(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		unit.In("14.4 mm from the nape hairline, at least 20.0 mm", unit.Inch)
	}
}
