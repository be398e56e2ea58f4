package cells

import (
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
