package cli

import (
	"fmt"
	"os"
	"runtime"
	"strings"

	"github.com/mattn/go-isatty"
	"github.com/muesli/termenv"

	"example.org/underveil/internal/backdrop"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/settings"
)

// look is how the editor looks on this terminal, and why. A flag goes before a setting, and a setting before what the terminal
// and its environment say. That includes NO_COLOR, which is for programs that were not told otherwise.
type look struct {
	colours    settings.Colours // never as found
	whyColours string

	dark       bool
	whyDark    string
	profile    termenv.Profile
	whyProfile string
	glyphs     figure.Glyphs
	whyGlyphs  string
}

func (p *program) look() (look, error) {
	var l look
	var err error
	if l.dark, l.whyDark, err = p.backgroundInForce(); err != nil {
		return l, err
	}
	l.glyphs, l.whyGlyphs = p.marks()
	set := p.settings()
	found := termenv.NewOutput(p.out)
	l.profile, l.whyProfile = found.EnvColorProfile(), whyProfile(isatty.IsTerminal(p.out.Fd()))
	switch {
	case set.Colours == settings.NoColours:
		l.colours, l.whyColours = settings.NoColours, set.from("colours")
		l.profile, l.whyProfile = termenv.Ascii, l.whyColours
		return l, nil
	case set.Colours != settings.FoundColours && found.EnvNoColor():
		l.profile, l.whyProfile = found.ColorProfile(), l.whyProfile+"; "+whyNone()+", and the settings go before that"
	case found.EnvNoColor():
		l.colours, l.whyColours, l.whyProfile = settings.NoColours, "found: "+whyNone(), whyNone()
		return l, nil
	}
	l.colours, l.whyColours = themes[set.Colours.Contrast()][l.dark], l.whyDark
	if set.Colours.Contrast() && p.background != "" {
		l.whyColours = set.from("colours") + ", and " + l.whyDark
	}
	return l, nil
}

// themes are the colours there are, by whether they are of high contrast and whether the background is dark.
var themes = map[bool]map[bool]settings.Colours{
	false: {true: settings.Dark, false: settings.Light},
	true:  {true: settings.ContrastDark, false: settings.ContrastLight},
}

// backgroundInForce reports whether the background is dark, and why it is taken to be.
func (p *program) backgroundInForce() (dark bool, why string, err error) {
	switch set := p.settings(); {
	case p.background == "dark" || p.background == "light":
		return p.background == "dark", "--background", nil
	case p.background != "":
		return false, "", fmt.Errorf("--background is light or dark, not %q", p.background)
	case set.Colours == settings.Dark || set.Colours == settings.ContrastDark:
		return true, set.from("colours"), nil
	case set.Colours == settings.Light || set.Colours == settings.ContrastLight:
		return false, set.from("colours"), nil
	}
	return backdrop.Dark(), "found: " + backdrop.Why(), nil
}

// marks are the marks that maps and frames are drawn with, and why.
func (p *program) marks() (glyphs figure.Glyphs, why string) {
	set := p.settings()
	switch {
	case p.ascii:
		return figure.ASCII, "--ascii"
	case set.Marks == settings.ASCII:
		return figure.ASCII, set.from("marks")
	case set.Marks == settings.Unicode:
		return figure.Unicode, set.from("marks")
	}
	speaks, why := speaksUnicode()
	if speaks {
		return figure.Unicode, "found: " + why
	}
	return figure.ASCII, "found: " + why
}

// speaksUnicode reports whether the language settings are of UTF-8, and which of them says so.
func speaksUnicode() (speaks bool, why string) {
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if v := os.Getenv(name); v != "" {
			small := strings.ToLower(v)
			return strings.Contains(small, "utf-8") || strings.Contains(small, "utf8"), isSet(name)
		}
	}
	if runtime.GOOS == "windows" || runtime.GOOS == "darwin" {
		return true, "as everywhere on this system"
	}
	return false, "no language is set in LC_ALL, LC_CTYPE or LANG"
}

// whyProfile says what tells how many colours there are.
func whyProfile(terminal bool) string {
	switch {
	case !terminal:
		return "the output is not a terminal"
	case os.Getenv("CI") != "":
		return "CI is set, so nobody is taken to look"
	case runtime.GOOS == "windows":
		return "by this version of Windows"
	}
	return isSet("TERM") + ", " + isSet("COLORTERM")
}

// whyNone says what asks for no colours.
func whyNone() string {
	if os.Getenv("NO_COLOR") != "" {
		return "NO_COLOR is set"
	}
	return "CLICOLOR is 0"
}

// isSet is a name of the environment with its value, which is one that a terminal gives and nothing private.
func isSet(name string) string {
	if v := os.Getenv(name); v != "" {
		return name + " is " + printable.Quote(v)
	}
	return name + " is not set"
}

// profileNames are how many colours a terminal has, in words.
var profileNames = map[termenv.Profile]string{termenv.TrueColor: "true colour", termenv.ANSI256: "256", termenv.ANSI: "16", termenv.Ascii: "none"}
