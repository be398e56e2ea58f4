package cli

import (
	"fmt"
	"os"

	"github.com/mattn/go-isatty"

	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/tui"
)

// terminal tells how the editor will look here, and why.
func (s *survey) terminal(l look) {
	out, in := isatty.IsTerminal(s.out.Fd()), isatty.IsTerminal(s.in.Fd())
	s.line("output", s.size(out))
	s.line("input", isOne(in))
	if out {
		s.line("TERM", isSet("TERM"))
		if term := os.Getenv("TERM"); term == "dumb" {
			s.amiss("start it in another terminal, or with --plain", "TERM is %q: this terminal can't put the cursor anywhere, and the editor draws all over it", term)
		}
		if !in {
			s.amiss("start it without a pipe into it", "the input is not a terminal, so the editor has no keyboard")
		}
	}
	s.line("colours", fmt.Sprintf("%s (%s)", profileNames[l.profile], l.whyProfile))
	s.line("background", fmt.Sprintf("%s (%s)", map[bool]string{true: "dark", false: "light"}[l.dark], l.whyDark))
	s.line("marks", fmt.Sprintf("%s (%s)", map[bool]string{true: "ascii", false: "unicode"}[l.glyphs == figure.ASCII], l.whyGlyphs))
	if set := s.settings(); set.NoMouse {
		s.line("mouse", "left to the terminal ("+set.from("mouse")+")")
	} else {
		s.line("mouse", "used by the editor ("+set.from("mouse")+")")
	}
}

func isOne(terminal bool) string {
	if terminal {
		return "a terminal"
	}
	return "not a terminal"
}

// size is how large the terminal is that the output goes to.
func (s *survey) size(terminal bool) string {
	if !terminal {
		return isOne(false)
	}
	w, h, err := terminalSize(s.out)
	if err != nil || w <= 0 || h <= 0 {
		return "a terminal that does not say how large it is"
	}
	if least, most := tui.Least(); w < least || h < most {
		s.amiss("make the window larger, or its letters smaller", "the terminal is %d by %d, and the editor needs %d by %d", w, h, least, most)
	}
	return fmt.Sprintf("a terminal, %d by %d", w, h)
}
