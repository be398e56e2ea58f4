package cells

import (
	"fmt"
	"strings"

	"github.com/muesli/termenv"
)

// Style is how an ink looks. Colours are "#rrggbb" for terminals that can, with the
// nearest of fewer colours elsewhere, or empty for the terminal's own.
type Style struct {
	Fore, Back string
	Fore16     string // for 16 colours, where the nearest is a bad choice: "0" to "15"
	Back16     string
	Bold       bool
	Faint      bool
	Under      bool
	Reverse    bool
}

// Palette is the sequences that switch to each ink.
type Palette struct {
	profile termenv.Profile
	prefix  []string // from any other ink
	short   []string // from an ink without attributes, for inks that are a colour and nothing more
	bare    []bool   // whether the ink has no attributes and no background
}

// NewPalette compiles styles for what a terminal can show. Without colour, bold,
// underline and reverse stay: they are not colours, and a cursor drawn in
// reverse must not vanish.
func NewPalette(profile termenv.Profile, styles []Style) Palette {
	p := Palette{profile, make([]string, len(styles)), make([]string, len(styles)), make([]bool, len(styles))}
	for i, s := range styles {
		if profile == termenv.Ascii && s.Back != "" {
			s.Reverse = true // what a background says has to be said somehow
		}
		attributes, colours := s.attributes(), s.colours(profile)
		p.prefix[i] = sgr(append(append([]string{"0"}, attributes...), colours...))
		p.bare[i] = attributes == nil && s.Back == ""
		if p.bare[i] && colours != nil {
			p.short[i] = sgr(colours)
		}
	}
	return p
}

// mostInks is how many inks there can be: an Ink is a byte.
const mostInks = 256

// dyed is the palette with one more ink, whose background is a colour "#rrggbb"; ok is false on a terminal that can't show
// just that colour, and where there is no room for another.
func (p Palette) dyed(colour string) (more Palette, ink Ink, ok bool) {
	if p.profile != termenv.TrueColor || len(p.prefix) >= mostInks {
		return p, 0, false
	}
	var red, green, blue uint8
	if _, err := fmt.Sscanf(colour, "#%02x%02x%02x", &red, &green, &blue); err != nil {
		return p, 0, false
	}
	// Not by the colour library, which goes by way of floats and may miss a step.
	codes := []string{"0", fmt.Sprintf("48;2;%d;%d;%d", red, green, blue)}
	p.prefix, p.short, p.bare = append(p.prefix, sgr(codes)), append(p.short, ""), append(p.bare, false)
	return p, Ink(len(p.prefix) - 1), true
}

// change is the sequence that switches from one ink to another; from is -1 when
// nobody knows.
func (p Palette) change(from int, to Ink) string {
	if from >= 0 && p.bare[from] && p.short[to] != "" {
		return p.short[to]
	}
	return p.prefix[to]
}

// blankAlike reports whether a blank looks the same in both inks; now is -1 when
// nobody knows which ink is in force.
func (p Palette) blankAlike(now int, want Ink) bool { return now >= 0 && p.bare[now] && p.bare[want] }

func sgr(codes []string) string {
	if len(codes) == 1 && codes[0] == "0" {
		return "\x1b[m"
	}
	return "\x1b[" + strings.Join(codes, ";") + "m"
}

func (s Style) attributes() []string {
	var codes []string
	for _, a := range []struct {
		on   bool
		code string
	}{{s.Bold, "1"}, {s.Faint, "2"}, {s.Under, "4"}, {s.Reverse, "7"}} {
		if a.on {
			codes = append(codes, a.code)
		}
	}
	return codes
}

func (s Style) colours(profile termenv.Profile) []string {
	fore, back := s.Fore, s.Back
	if profile == termenv.ANSI && s.Fore16 != "" {
		fore = s.Fore16
	}
	if profile == termenv.ANSI && s.Back16 != "" {
		back = s.Back16
	}
	var codes []string
	for _, c := range []struct {
		colour     string
		background bool
	}{{fore, false}, {back, true}} {
		if found := profile.Color(c.colour); c.colour != "" && found != nil && found.Sequence(c.background) != "" {
			codes = append(codes, found.Sequence(c.background))
		}
	}
	return codes
}
