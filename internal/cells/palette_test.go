package cells

import (
	"fmt"
	"strings"
	"testing"

	"github.com/muesli/termenv"

	"example.org/underveil/internal/ptytest"
)

func TestPaletteByProfile(t *testing.T) {
	style := Style{Fore: "#ff0000", Back: "#000080", Bold: true, Faint: true, Under: true, Reverse: true}
	chosen := style
	chosen.Fore16 = "12"
	look := ptytest.Cell{Bold: true, Dim: true, Underline: true, Reverse: true}
	with := func(fore, back string) ptytest.Cell {
		c := look
		c.FG, c.BG = fore, back
		return c
	}
	for _, c := range []struct {
		name    string
		profile termenv.Profile
		style   Style
		want    ptytest.Cell
	}{
		{"true colour", termenv.TrueColor, style, with("#ff0000", "#000080")},
		{"true colour has no use for the sixteen", termenv.TrueColor, chosen, with("#ff0000", "#000080")},
		{"256 colours", termenv.ANSI256, style, with("index 196", "index 18")},
		{"256 colours have no use for the sixteen", termenv.ANSI256, chosen, with("index 196", "index 18")},
		{"16 colours, the nearest", termenv.ANSI, style, with("bright red", "blue")},
		{"16 colours, chosen", termenv.ANSI, chosen, with("bright blue", "blue")},
		{"no colour keeps the rest", termenv.Ascii, chosen, look},
		{"plain", termenv.TrueColor, Style{}, ptytest.Cell{}},
		{"only a colour, and none to be had", termenv.Ascii, Style{Fore: "#ff0000", Fore16: "1"}, ptytest.Cell{}},
		{"sixteen only", termenv.ANSI, Style{Fore16: "3"}, ptytest.Cell{FG: "yellow"}},
		{"reverse, as the cursor", termenv.Ascii, Style{Reverse: true, Bold: true}, ptytest.Cell{Reverse: true, Bold: true}},
		{"underlined, as a field", termenv.Ascii, Style{Under: true}, ptytest.Cell{Underline: true}},
		{"not a colour", termenv.TrueColor, Style{Fore: "#nonsense", Bold: true}, ptytest.Cell{Bold: true}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := NewPalette(c.profile, []Style{{}, c.style})
			if got := seen(t, p.prefix[1]); got != c.want {
				t.Errorf("%q looks like %+v, want %+v", p.prefix[1], got, c.want)
			}
		})
	}
}

// A prefix has to bring about its style from any other, without a step between.
func TestPrefixesStandAlone(t *testing.T) {
	for _, profile := range []termenv.Profile{termenv.TrueColor, termenv.ANSI256, termenv.ANSI, termenv.Ascii} {
		p := NewPalette(profile, testStyles)
		for i := range testStyles {
			for k := range testStyles {
				if got, want := seen(t, p.prefix[k]+p.prefix[i]), seen(t, p.prefix[i]); got != want {
					t.Errorf("%v: ink %d after %d looks like %+v, want %+v", profile, i, k, got, want)
				}
			}
		}
	}
}

func TestNoColourHasNoColourNumbers(t *testing.T) {
	for i, prefix := range NewPalette(termenv.Ascii, testStyles).prefix {
		for number := range strings.SplitSeq(strings.TrimSuffix(strings.TrimPrefix(prefix, "\x1b["), "m"), ";") {
			if !strings.Contains(" 0 1 2 4 7 ", " "+number+" ") && number != "" {
				t.Errorf("ink %d: %q has %s", i, prefix, number)
			}
		}
	}
}

// An ink for a swatch has just the colour that was asked for, the same ink again for the same colour, and there is none where
// the terminal can't show it, for what is no colour, or beyond what an ink can number.
func TestSwatch(t *testing.T) {
	var out strings.Builder
	w := NewWriter(&out, NewPalette(termenv.TrueColor, make([]Style, 3)))
	one, ok := w.Swatch("#8a5a32")
	two, ok2 := w.Swatch("#000000")
	again, ok3 := w.Swatch("#8a5a32")
	if !ok || !ok2 || !ok3 || one != 3 || two != 4 || again != one {
		t.Fatalf("inks %d %d %d, %v %v %v", one, two, again, ok, ok2, ok3)
	}
	s := NewScreen(4, 1)
	s.Text(1, 0, 2, one, "  ")
	if err := w.Show(s); err != nil || !strings.Contains(out.String(), "\x1b[0;48;2;138;90;50m  ") {
		t.Errorf("%v: %q", err, out.String())
	}
	for _, colour := range []string{"", "red", "8a5a32", "#8a5a"} {
		if _, ok := w.Swatch(colour); ok {
			t.Errorf("%q has an ink", colour)
		}
	}
	for _, p := range []termenv.Profile{termenv.ANSI256, termenv.ANSI, termenv.Ascii} {
		if _, ok := NewWriter(&out, NewPalette(p, nil)).Swatch("#8a5a32"); ok {
			t.Errorf("profile %v has an ink for it", p)
		}
	}
	n := 2
	for i := range 300 {
		if _, ok := w.Swatch(fmt.Sprintf("#00%02x%02x", i%256, i/256+1)); ok {
			n++
		}
	}
	if n != mostInks-3 {
		t.Errorf("%d swatches, want %d", n, mostInks-3)
	}
}
