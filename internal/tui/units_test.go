package tui

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/unit"
)

// unitsBesides are the units that a screen is tried in besides mm.
var unitsBesides = []unit.Unit{unit.CM, unit.Inch}

// TestScreensInOtherUnits draws three views in cm and in inches.
func TestScreensInOtherUnits(t *testing.T) {
	for _, u := range unitsBesides {
		for _, size := range [][2]int{{80, 24}, {120, 40}} {
			for name, show := range map[string]func(testing.TB, setup) *editor{"demo": onDemo(), "client": onDemo("i"), "zones": onDemo("z", "PgDn*5")} {
				e := show(t, setup{w: size[0], h: size[1], units: u})
				golden(t, fmt.Sprintf("%s-%dx%d-%s.txt", name, size[0], size[1], u), e.m.Screen().String())
			}
		}
	}
}

// sayMM are the texts that have mm in them in every unit: figures that are no length, and sums, which come out in what they are worked in.
var sayMM = regexp.MustCompile(`hairs/mm|mm²|mm of scalp|hairs per mm| × | = |passes over a mm`)

// aboutMM finds a length in mm, and mm as a word.
var aboutMM = regexp.MustCompile(`\bmm\b`)

// TestNoScreenSaysMM draws every screen in inches. None says mm of a length, and no text is cut that is whole in mm.
func TestNoScreenSaysMM(t *testing.T) {
	all := slices.Concat(views, demonstrationViews)
	for _, v := range all {
		for _, size := range [][2]int{{80, 24}, {120, 40}} {
			e := v.show(t, setup{w: size[0], h: size[1], units: unit.Inch})
			text := e.m.Screen().String()
			for _, line := range strings.Split(text, "\n") {
				if aboutMM.MatchString(line) && !sayMM.MatchString(line) {
					t.Errorf("%s at %v says mm: %s", v.name, size, line)
				}
			}
			inMM := v.show(t, setup{w: size[0], h: size[1]}).m.Screen().String()
			if got, want := strings.Count(text, "…"), strings.Count(inMM, "…"); got > want && (v.name != "turns" || size[0] > minWidth) { // "section thickness" loses a letter there
				t.Errorf("%s at %v: %d texts are cut, in mm %d\n%s", v.name, size, got, want, text)
			}
		}
	}
}

// TestNoFormSaysMM goes through the fields of each form with lengths in inches.
func TestNoFormSaysMM(t *testing.T) {
	for _, keys := range [][]string{{"i"}, {"ctrl+n"}, {"k"}, {"P"}, {"z", "2"}, {"z", "PgDn*5", "1"}} {
		e := playDemo(t, setup{w: 120, h: 40, units: unit.Inch}, keys...)
		fm := e.m.dialogs[len(e.m.dialogs)-1].(*form)
		for range fm.fields {
			for _, line := range strings.Split(e.m.Screen().String(), "\n") {
				if aboutMM.MatchString(line) && !sayMM.MatchString(line) {
					t.Errorf("%s, %s says mm: %s", keys, fm.fields[fm.at].name, line)
				}
			}
			e.press("Tab")
		}
	}
}

// oddly is a sheet with lengths of many digits, of which no other unit shows all.
func oddly(t testing.TB, rng *rand.Rand) *sheet.Sheet {
	odd := func(v scalp.MM) scalp.MM { return v + scalp.MM(rng.IntN(2000))/1000 }
	return demoSheet(t).With(func(c *sheet.Sheet) {
		c.Measures.Circumference, c.Measures.EarToEar = odd(c.Measures.Circumference), odd(c.Measures.EarToEar)
		c.Measures.FrontToNape, c.Measures.NapeWidth = odd(c.Measures.FrontToNape), odd(c.Measures.NapeWidth)
		c.Hair.Length, c.Hair.Ponytail, c.Amounts.Length = odd(300), odd(90), odd(480)
		c.Partings = slices.Clone(c.Partings)
		for i := range c.Partings {
			c.Partings[i].Right, c.Partings[i].Length = odd(c.Partings[i].Right), odd(c.Partings[i].Length)
		}
		c.Shades = slices.Clone(c.Shades)
		for i := range c.Shades {
			c.Shades[i].Length = odd(c.Shades[i].Length)
		}
		c.Limits = map[sheet.LimitName]float64{sheet.LimitNape: float64(odd(18)), sheet.FigureGrowth: 0.3456}
	})
}

// TestUntouchedStaysExactly opens forms in every unit and takes them with one field changed that is no length: no length on the sheet
// moves by the last of its digits.
func TestUntouchedStaysExactly(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	rounds := 12
	if testing.Short() {
		rounds = 2
	}
	for range rounds {
		s := oddly(t, rng)
		for _, u := range unit.Units {
			e := edit(t, s, setup{units: u})
			opened := e.m.doc.sheet()
			e.press("i", "Tab")
			e.write("another")
			e.press("Tab", "Enter") // from a field that was not typed in, Enter takes the form
			got := e.m.doc.sheet()
			if got.Client != "another" {
				t.Fatalf("in %s the form was not taken:\n%s", u, e.m.Screen())
			}
			same(t, u, "the client's form", opened.With(func(c *sheet.Sheet) { c.Client = "another" }), got)

			before := got
			e.press("k", "Tab")
			e.write("barley")
			e.press("Up", "Right", "Right", "Left", "Left", "Enter") // each shade is looked at, and none touched
			got = e.m.doc.sheet()
			if got.Shades[0].Name != "barley" {
				t.Fatalf("in %s the shades were not taken:\n%s", u, e.m.Screen())
			}
			same(t, u, "the form of the shades", before.With(func(c *sheet.Sheet) {
				c.Shades = slices.Clone(c.Shades)
				c.Shades[0].Name = "barley"
			}), got)

			before = got
			e.press("i", "Tab", "Tab", "Right", "Left", "Enter") // the tapes of a size and back
			if len(e.m.dialogs) > 0 {
				t.Fatalf("in %s the form was not taken:\n%s", u, e.m.Screen())
			}
			same(t, u, "the tapes after a look at a size", before, e.m.doc.sheet())
		}
	}
}

func same(t *testing.T, u unit.Unit, what string, want, got *sheet.Sheet) {
	t.Helper()
	a, b := *want, *got
	if !reflect.DeepEqual(a, b) {
		t.Errorf("in %s %s changes the sheet:\n%+v %+v %+v %+v\nwas\n%+v %+v %+v %+v", u, what, b.Measures, b.Hair, b.Partings, b.Shades, a.Measures, a.Hair, a.Partings, a.Shades)
	}
}

// TestTypedInTheUnitInForce types tapes with and without a unit.
func TestTypedInTheUnitInForce(t *testing.T) {
	// 22 in are 558.8 mm by the inch of 1959.
	for _, c := range []struct {
		in    unit.Unit
		typed string
		want  scalp.MM
	}{{unit.MM, "559", 559}, {unit.CM, "55.9", 559}, {unit.Inch, "22", 558.8}, {unit.Inch, "559 mm", 559}, {unit.CM, "22 in", 558.8}, {unit.Inch, "55,9 cm", 559}} {
		e := edit(t, plainSheet(t), setup{units: c.in})
		e.press("i", "Tab", "Tab", "Tab")
		e.write(c.typed)
		e.press("Enter", "Enter")
		if got := e.m.doc.sheet().Measures.Circumference; got != c.want {
			t.Errorf("%q where %s are in force is %v mm, want %v\n%s", c.typed, c.in, float64(got), float64(c.want), e.m.Screen())
		}
	}
}

// TestRefusedInTheUnitInForce holds the range that a form asks for to what it takes: both its ends, as it says them.
func TestRefusedInTheUnitInForce(t *testing.T) {
	ends := regexp.MustCompile(`from (-?[\d.]+) to ([\d.]+) (mm|cm|in)\b`)
	for _, u := range unit.Units {
		for _, name := range []sheet.LimitName{sheet.LimitNape, sheet.FigureGrowth, sheet.FigureThickness, sheet.FigureOcciput} {
			e := edit(t, plainSheet(t), setup{units: u})
			p := newZonePanel(e.m)
			e.m.push(p)
			for i, it := range p.items {
				if it.limit == name {
					p.at = i
				}
			}
			e.write("9999")
			e.press("Enter")
			fm := e.m.dialogs[len(e.m.dialogs)-1].(*form)
			said := ends.FindStringSubmatch(fm.problem)
			if said == nil || said[3] != u.String() {
				t.Fatalf("%s in %s: %q", name, u, fm.problem)
			}
			info, _ := name.Info()
			for i, end := range []float64{info.Low, info.High} {
				fm.fields[0].input.SetValue(said[i+1])
				v, err := fm.fields[0].number(info.Low, info.High)
				if err != nil || v-end > 0.3 || end-v > 0.3 {
					t.Errorf("%s in %s: %s is said to fit and is %v, %v", name, u, said[i+1], v, err)
				}
			}
		}
	}
}

// TestWordsForMM holds what is said about a field to the unit in force, where it says mm without a figure and where it says it with one.
func TestWordsForMM(t *testing.T) {
	e := edit(t, plainSheet(t), setup{units: unit.Inch})
	for text, want := range map[string]string{
		"mm, level, between the corners of the nape hairline, 254 mm up": "inches, level, between the corners of the nape hairline, 10 in up",
		"worn at times: mm to the right of the middle":                   "worn at times: inches to the right of the middle",
		"47 hairs/mm of own hair: 25 mm of scalp":                        "47 hairs/mm of own hair: 25 mm of scalp",
	} {
		if got := e.m.inWords(text); got != want {
			t.Errorf("%q is said as %q, want %q", text, got, want)
		}
	}
}

// TestTypedTextsStay holds what somebody typed to how it was written, beside sentences of the program's own that are shown in inches.
func TestTypedTextsStay(t *testing.T) {
	s := demoSheet(t).With(func(c *sheet.Sheet) {
		c.Title, c.Client = "lifted by 10 mm", "30 mm"
		c.Shades = slices.Clone(c.Shades)
		c.Shades[0].Name = "oat 508 mm"
		c.KeepOff = []sheet.KeepOff{{Height: 60, Radius: 20, Why: "12 mm"}}
	})
	e := edit(t, s, setup{w: 160, h: 60, units: unit.Inch})
	e.says("lifted by 10 mm")
	e.says("client 30 mm")
	e.says("oat 508 mm")
	for range e.m.doc.report.Findings {
		if e.press("n"); e.m.doc.finding().Rule == "keep-off" {
			break
		}
	}
	text := strings.Join(strings.Fields(e.m.Screen().String()), " ")
	if want := "in from the middle of the patch (12 mm)"; !strings.Contains(text, want) {
		t.Errorf("the screen does not say %q:\n%s", want, e.m.Screen())
	}
	f := e.m.doc.finding()
	e.press("a")
	e.write("5 mm more is too much")
	e.press("Enter")
	for range e.m.doc.report.Findings {
		if e.m.doc.finding().Concern == f.Concern {
			break
		}
		e.press("n")
	}
	e.says("accepted: 5 mm more is too much")
}
