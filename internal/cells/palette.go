package cells

import (
	"strconv"
	"strings"

	"github.com/muesli/termenv"
)

// Style is how an ink looks. Colours are "#rrggbb" for terminals that can, with the
// nearest of fewer colours elsewhere, or empty for the terminal's own.
type Style struct {
	Fore, Back string
	Fore16     string // for 16 colours, where the nearest is a bad choice: "1" to "15"
	Bold       bool
	Faint      bool
	Under      bool
	Reverse    bool
}

// Palette is the sequence that switches to each ink.
type Palette struct{ prefix []string }

// NewPalette compiles styles for what a terminal can show. Without colour, bold,
// underline and reverse stay: they are not colours, and a cursor drawn in
// reverse must not vanish.
func NewPalette(profile termenv.Profile, styles []Style) Palette {
	p := Palette{prefix: make([]string, len(styles))}
	for i, s := range styles {
		p.prefix[i] = s.sequence(profile)
	}
	return p
}

// sequence is the whole SGR sequence of a style, from any other style.
func (s Style) sequence(profile termenv.Profile) string {
	codes := []string{"0"}
	add := func(on bool, code int) {
		if on {
			codes = append(codes, strconv.Itoa(code))
		}
	}
	add(s.Bold, 1)
	add(s.Faint, 2)
	add(s.Under, 4)
	add(s.Reverse, 7)
	fore := s.Fore
	if profile == termenv.ANSI && s.Fore16 != "" {
		fore = s.Fore16
	}
	if c := profile.Color(fore); fore != "" && c != nil {
		codes = append(codes, c.Sequence(false))
	}
	if c := profile.Color(s.Back); s.Back != "" && c != nil {
		codes = append(codes, c.Sequence(true))
	}
	kept := codes[:0]
	for _, c := range codes {
		if c != "" {
			kept = append(kept, c)
		}
	}
	if len(kept) == 1 {
		return "\x1b[m"
	}
	return "\x1b[" + strings.Join(kept, ";") + "m"
}
