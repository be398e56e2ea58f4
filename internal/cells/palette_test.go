package cells

import (
	"fmt"
	"strconv"
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
			if got := seen(t, p.looks[1].whole); got != c.want {
				t.Errorf("%q looks like %+v, want %+v", p.looks[1].whole, got, c.want)
			}
		})
	}
}

var everyProfile = []termenv.Profile{termenv.TrueColor, termenv.ANSI256, termenv.ANSI, termenv.Ascii}

// A sequence has to bring about its style from any other, and the shortest from one to another the same.
func TestEveryChangeComesOutRight(t *testing.T) {
	for seed := range uint64(40) {
		styles := append(randomStyles(seeded(seed).IntN), testStyles...)
		for _, profile := range everyProfile {
			p := NewPalette(profile, styles)
			for to := range styles {
				whole := p.looks[to].whole
				if got := p.appendChange(nil, unknown, Ink(to)); string(got) != whole {
					t.Fatalf("from an ink that nobody knows %q, want %q", got, whole)
				}
				for from := range styles {
					change := string(p.appendChange(nil, from, Ink(to)))
					want := seen(t, whole)
					if got := seen(t, p.looks[from].whole+change); got != want {
						t.Errorf("%v: %q after %q looks like %+v, want %+v", profile, change, p.looks[from].whole, got, want)
					}
					if got := seen(t, p.looks[from].whole+whole); got != want {
						t.Errorf("%v: %q after %q looks like %+v, want %+v", profile, whole, p.looks[from].whole, got, want)
					}
					if len(change) > len(whole) {
						t.Errorf("%v: %q is longer than %q", profile, change, whole)
					}
				}
			}
		}
	}
}

// The Linux console shows the bright ones of the 16 colours by making the text bold, and a later colour leaves it so.
// There too a change has to come out as the whole sequence does.
func TestChangesOnTheLinuxConsole(t *testing.T) {
	for seed := range uint64(40) {
		styles := append(randomStyles(seeded(seed).IntN), testStyles...)
		p := NewPalette(termenv.ANSI, styles)
		for from := range styles {
			for to := range styles {
				before, whole := p.looks[from].whole, p.looks[to].whole
				change := string(p.appendChange(nil, from, Ink(to)))
				if got, want := consoleWeight(t, before+change), consoleWeight(t, before+whole); got != want {
					t.Errorf("%q after %q leaves weight %d, %q weight %d", change, before, got, whole, want)
				}
			}
		}
	}
}

// consoleWeight is how heavy the text of the Linux console is after sequences: 0 faint, 1 normal, 2 bold. It is what its
// drivers/tty/vt/vt.c does with the numbers for weight and the 16 colours.
func consoleWeight(t *testing.T, sequences string) int {
	t.Helper()
	weight := 1
	for sequence := range strings.SplitSeq(strings.TrimSuffix(sequences, "m"), "m") {
		numbers, ok := strings.CutPrefix(sequence, "\x1b[")
		if !ok && sequence != "" {
			t.Fatalf("%q is no change of ink", sequence)
		}
		for number := range strings.SplitSeq(numbers, ";") {
			switch n, _ := strconv.Atoi(number); {
			case n == 0 || n == 22:
				weight = 1
			case n == 1 || n >= 90 && n <= 97:
				weight = 2
			case n == 2:
				weight = 0
			}
		}
	}
	return weight
}

func TestNoColourHasNoColourNumbers(t *testing.T) {
	p := NewPalette(termenv.Ascii, testStyles)
	for from := range testStyles {
		for to := range testStyles {
			change := string(p.appendChange(nil, from, Ink(to)))
			for number := range strings.SplitSeq(strings.TrimSuffix(strings.TrimPrefix(change, "\x1b["), "m"), ";") {
				if !strings.Contains(" 0 1 2 4 7 22 24 27 ", " "+number+" ") && number != "" {
					t.Errorf("ink %d to %d: %q has %s", from, to, change, number)
				}
			}
		}
	}
}

// Two inks that come to the same on a terminal need nothing to change between them, nor anything painted again.
func TestInksThatLookTheSame(t *testing.T) {
	p := newStyledPair(t, 20, 1, termenv.Ascii, []Style{{}, {Fore: "#ff0000"}, {Fore: "#00ff00"}, {Bold: true}})
	p.scr.Text(0, 0, 9, 1, "height")
	p.scr.Text(7, 0, 9, 2, "20")
	p.show()
	for x := range 20 {
		p.scr.Tint(x, 0, Ink(x%3))
	}
	if n := p.show(); n != 0 {
		t.Errorf("%d bytes for what looks the same", n)
	}
	p.same("inks that look the same")
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
	if err := w.Show(s); err != nil || !strings.Contains(out.String(), "\x1b[48;2;138;90;50m  ") {
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
