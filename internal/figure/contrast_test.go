package figure

import (
	"fmt"
	"math"
	"testing"

	"github.com/muesli/termenv"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/ptytest"
)

// luminance is the relative luminance of a colour, by the formula of WCAG 2.1.
func luminance(t *testing.T, colour string) float64 {
	t.Helper()
	var r, g, b int
	if _, err := fmt.Sscanf(colour, "#%02x%02x%02x", &r, &g, &b); err != nil {
		t.Fatalf("%q: %v", colour, err)
	}
	part := func(v int) float64 {
		c := float64(v) / 255
		if c <= 0.04045 {
			return c / 12.92
		}
		return math.Pow((c+0.055)/1.055, 2.4)
	}
	return 0.2126*part(r) + 0.7152*part(g) + 0.0722*part(b)
}

// contrast is the contrast ratio of two colours, from 1 to 21, by WCAG 2.1.
func contrast(t *testing.T, a, b string) float64 {
	la, lb := luminance(t, a), luminance(t, b)
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

// For a projector and where the settings ask for it, text has the contrast that WCAG 2.1 asks for at its highest level, 7, and every other mark the 4.5 of large text, on black or
// white and on backgrounds a little off that.
func TestContrast(t *testing.T) {
	text := map[cells.Ink]bool{Plain: true, Dim: true, Strong: true, Title: true, Key: true, Label: true, NoteInk: true, GoodInk: true, Scalp: true, Picked: true}
	for dark, backgrounds := range map[bool][]string{true: {"#000000", "#1e1e1e"}, false: {"#ffffff", "#f4f4f4"}} {
		styles := Contrast(dark)
		if len(styles) != len(Styles(dark)) {
			t.Fatalf("%d inks, and the ordinary ones are %d", len(styles), len(Styles(dark)))
		}
		for i, s := range styles {
			if s.Faint {
				t.Errorf("dark %v, ink %d is faint", dark, i)
			}
			least := 4.5
			if text[cells.Ink(i)] {
				least = 7
			}
			switch on := backgrounds; {
			case s.Fore == "" && s.Back == "":
			case s.Back != "":
				on = []string{s.Back}
				fallthrough
			default:
				for _, b := range on {
					if got := contrast(t, s.Fore, b); got < least {
						t.Errorf("dark %v, ink %d: %s on %s has a contrast of %.1f, at least %g is asked for", dark, i, s.Fore, b, got, least)
					}
				}
			}
		}
	}
}

// With any number of colours a stop and a caution stand out as blocks, and differ from each other and from the cursor.
func TestContrastBlocks(t *testing.T) {
	for _, profile := range []termenv.Profile{termenv.TrueColor, termenv.ANSI256, termenv.ANSI, termenv.Ascii} {
		for _, dark := range []bool{false, true} {
			scr := cells.NewScreen(4, 1)
			for i, ink := range []cells.Ink{StopInk, CautionInk, Cursor, Plain} {
				scr.Put(i, 0, ink, 'x')
			}
			term := ptytest.NewTerminal(4, 1)
			if err := cells.NewWriter(term, cells.NewPalette(profile, Contrast(dark))).Show(scr); err != nil {
				t.Fatal(err)
			}
			stop, caution, cursor := term.Cell(0, 0), term.Cell(1, 0), term.Cell(2, 0)
			for name, c := range map[string]ptytest.Cell{"stop": stop, "caution": caution} {
				if c.BG == "" && !c.Reverse {
					t.Errorf("profile %d, dark %v: a %s is no block: %+v", profile, dark, name, c)
				}
				if c == cursor {
					t.Errorf("profile %d, dark %v: a %s looks like the cursor", profile, dark, name)
				}
			}
			if profile != termenv.Ascii && stop == caution {
				t.Errorf("profile %d, dark %v: a stop looks like a caution: %+v", profile, dark, stop)
			}
		}
	}
}
