package cells

import (
	"fmt"
	"slices"
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

// Palette is how each ink is switched on.
type Palette struct {
	profile termenv.Profile
	looks   []look
}

// look is what an ink comes to on a terminal: codes, empty for none.
type look struct {
	whole          string // the sequence that brings it about from any other
	weight         string // bold, faint or both
	under, reverse string
	fore, back     string // the colours
	seeThrough     bool   // whether a blank in it is like any other; not in bold, out of which terminals let letters reach into it
	lit            bool   // a bright one of the 16 colours, which the Linux console shows by making it bold
}

// NewPalette compiles styles for what a terminal can show. Without colour, bold,
// underline and reverse stay: they are not colours, and a cursor drawn in
// reverse must not vanish.
func NewPalette(profile termenv.Profile, styles []Style) Palette {
	p := Palette{profile, make([]look, len(styles))}
	for i, s := range styles {
		if profile == termenv.Ascii && s.Back != "" {
			s.Reverse = true // what a background says has to be said somehow
		}
		p.looks[i] = s.look(profile)
	}
	return p
}

// mostInks is how many inks there can be: an Ink is a byte.
const mostInks = 256

// dyed is the palette with one more ink, whose background is a colour "#rrggbb"; ok is false on a terminal that can't show
// just that colour, and where there is no room for another.
func (p Palette) dyed(colour string) (more Palette, ink Ink, ok bool) {
	if p.profile != termenv.TrueColor || len(p.looks) >= mostInks {
		return p, 0, false
	}
	var red, green, blue uint8
	if _, err := fmt.Sscanf(colour, "#%02x%02x%02x", &red, &green, &blue); err != nil {
		return p, 0, false
	}
	// Not by the colour library, which goes by way of floats and may miss a step.
	// Clipped, or two palettes of one origin would write into one array.
	p.looks = append(slices.Clip(p.looks), look{back: fmt.Sprintf("48;2;%d;%d;%d", red, green, blue)}.compiled())
	return p, Ink(len(p.looks) - 1), true
}

// alike reports whether two cells look the same on the terminal.
func (p *Palette) alike(a, b Cell) bool {
	if a.Rune != b.Rune {
		return false
	}
	return a.Ink == b.Ink || p.looks[a.Ink].whole == p.looks[b.Ink].whole || p.blank(a) && p.blank(b)
}

// blank reports whether nothing shows in a cell, so that it may be written in whichever such ink is in force.
func (p *Palette) blank(c Cell) bool { return c.Rune == ' ' && p.looks[c.Ink].seeThrough }

// appendChange appends the shortest sequence that switches from one ink to another; from is unknown where nobody knows.
func (p *Palette) appendChange(buf []byte, from int, to Ink) []byte {
	want := &p.looks[to]
	switch from {
	case int(to):
		return buf
	case unknown:
		return append(buf, want.whole...)
	}
	have := &p.looks[from]
	if have.whole == want.whole {
		return buf
	}
	start := len(buf)
	if more, ok := appendDifference(buf, have, want); ok && len(more)-start <= len(want.whole) {
		return more
	}
	return append(buf[:start], want.whole...)
}

// appendDifference appends a sequence of just what is different; ok is false where that might come out otherwise than
// the whole. A colour is never put back to the terminal's own, and a lit ink keeps its weight and stays lit: the Linux
// console forgets how bold such a text is only by way of the whole.
func appendDifference(buf []byte, have, want *look) (more []byte, ok bool) {
	if have.fore != "" && want.fore == "" || have.back != "" && want.back == "" || have.lit && (!want.lit || have.weight != want.weight) {
		return buf, false
	}
	buf = append(buf, "\x1b["...)
	for _, part := range [...]struct{ have, want, off string }{
		{have.weight, want.weight, "22;"}, {have.under, want.under, "24;"}, {have.reverse, want.reverse, "27;"},
		{have.fore, want.fore, ""}, {have.back, want.back, ""},
	} {
		if part.have == part.want {
			continue
		}
		if part.have != "" {
			buf = append(buf, part.off...)
		}
		if part.want != "" {
			buf = append(append(buf, part.want...), ';')
		}
	}
	buf[len(buf)-1] = 'm' // in the place of the last semicolon: there is a difference, or nobody would ask
	return buf, true
}

// look is what a style comes to on a terminal.
func (s Style) look(profile termenv.Profile) look {
	var l look
	for _, a := range []struct {
		on   bool
		code string
		part *string
	}{{s.Bold, "1", &l.weight}, {s.Faint, "2", &l.weight}, {s.Under, "4", &l.under}, {s.Reverse, "7", &l.reverse}} {
		if a.on {
			*a.part = joined(*a.part, a.code)
		}
	}
	fore, back := s.Fore, s.Back
	if profile == termenv.ANSI && s.Fore16 != "" {
		fore = s.Fore16
	}
	if profile == termenv.ANSI && s.Back16 != "" {
		back = s.Back16
	}
	l.fore, l.back = code(profile, fore, false), code(profile, back, true)
	return l.compiled()
}

// code is the code of a colour, empty where there is none.
func code(profile termenv.Profile, colour string, background bool) string {
	found := profile.Color(colour)
	if colour == "" || found == nil {
		return ""
	}
	return found.Sequence(background)
}

// compiled is the look with what follows from its codes.
func (l look) compiled() look {
	l.whole = "\x1b[m"
	if codes := joined(l.weight, l.under, l.reverse, l.fore, l.back); codes != "" {
		l.whole = "\x1b[;" + codes + "m" // the number left out is 0, which switches everything off
	}
	l.seeThrough = l.weight == "" && l.under == "" && l.reverse == "" && l.back == ""
	l.lit = len(l.fore) == 2 && l.fore[0] == '9'
	return l
}

// joined is the codes that there are, with semicolons between.
func joined(codes ...string) string {
	return strings.Join(slices.DeleteFunc(codes, func(code string) bool { return code == "" }), ";")
}
