package card

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
	"example.org/underveil/internal/slots"
	"example.org/underveil/internal/unit"
)

// demo is the sheet that comes with the program.
func demo(t *testing.T) (*sheet.Sheet, *slots.Table) {
	t.Helper()
	s, _, err := sheetfile.Load("../../assets/sheets/demo.toml")
	if err != nil {
		t.Fatal(err)
	}
	table, err := slots.For(s, nil)
	if err != nil {
		t.Fatal(err)
	}
	return s, table
}

// TestCardInOtherUnits holds what is cut and measured on a card in cm and in inches, by the inch of 1959, to the card in mm, row by row; nothing
// else on it changes but the lengths in its sentences.
func TestCardInOtherUnits(t *testing.T) {
	s, table := demo(t)
	inMM := Of(s, table, Options{})
	for u, per := range map[unit.Unit]float64{unit.CM: 10, unit.Inch: 25.4} {
		c := Of(s, table, Options{Units: u})
		if len(c.lines) != len(inMM.lines) || len(c.lines) == 0 {
			t.Fatalf("%d rows in %s, %d in mm", len(c.lines), u, len(inMM.lines))
		}
		near := 0.51 * per / map[unit.Unit]float64{unit.CM: 10, unit.Inch: 100}[u] // half of the last decimal
		for i, l := range c.lines {
			was := inMM.lines[i]
			for what, pair := range map[string][2]string{"strip": {l.strip, was.strip}, "first hole": {l.first, was.first}} {
				got, mm := leading(pair[0]), leading(pair[1])
				if d := got*per - mm; d > near || d < -near {
					t.Errorf("in %s the %s of row %d is %s, in mm %s", u, what, i+1, pair[0], pair[1])
				}
			}
			if l.holes != was.holes || l.pattern != was.pattern || l.kinds != was.kinds || l.strands != was.strands {
				t.Errorf("in %s row %d is %+v, in mm %+v", u, i+1, l, was)
			}
			if !strings.HasPrefix(l.place, strings.TrimSuffix(was.place, " mm")) {
				t.Errorf("in %s row %d lies at %q, in mm at %q", u, i+1, l.place, was.place)
			}
		}
		text := c.Text(false)
		if found := regexp.MustCompile(`[0-9] mm\b`).FindString(text); found != "" {
			t.Errorf("in %s the card says %q", u, found)
		}
		for n, line := range strings.Split(text, "\n") {
			if len([]rune(line)) > textWidth {
				t.Errorf("in %s line %d is too wide: %s", u, n+1, line)
			}
		}
	}
}

// leading is the number that a text begins with; 0 for the centre.
func leading(text string) float64 {
	number, _, _ := strings.Cut(text, " ")
	v, _ := strconv.ParseFloat(number, 64)
	return v
}

// TestTypedStaysOnTheCard holds what somebody typed to how it was written.
func TestTypedStaysOnTheCard(t *testing.T) {
	s, table := demo(t)
	s = s.With(func(c *sheet.Sheet) {
		c.Title = "lifted by 10 mm"
		c.Shades = append(c.Shades[:0:0], c.Shades...)
		c.Shades[0].Name = "oat 508 mm"
	})
	text := Of(s, table, Options{Units: unit.Inch}).Text(false)
	for _, want := range []string{"lifted by 10 mm", "oat 508 mm 19.69 in"} {
		if !strings.Contains(text, want) {
			t.Errorf("the card does not say %q:\n%s", want, text)
		}
	}
}
