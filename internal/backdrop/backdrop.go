// Package backdrop decides whether the terminal is light or dark without asking it.
//
// Bubble Tea v1 has an init function that calls lipgloss.HasDarkBackground, which writes a question to the terminal
// and waits up to five seconds for the answer. Where nothing answers (a build server, some relays, ssh -tt), every
// command of the program, --help included, would hang that long; where the answer comes late it arrives as if keys
// had been pressed; and where output is read by a program it starts with escape codes. Lip Gloss asks only while
// nobody has told it the answer, so the init function of this package tells it first.
//
// First is a matter of import paths. Go starts packages in the order of their paths as soon as all that they import
// has been started. Hence two conditions, which a test watches:
//   - the path of this package sorts before github.com/charmbracelet/bubbletea, as example.org/underveil does;
//   - this package imports Lip Gloss and, of the standard library, only what Lip Gloss needs anyhow, so that it is
//     ready the moment Lip Gloss is.
//
// A program that links Bubble Tea must import this package, for its effect if for nothing else.
package backdrop

import (
	"os"
	"strconv"
	"strings"

	"github.com/charmbracelet/lipgloss"
)

// dark is settled once, while the program starts.
var dark = fromEnv(os.Getenv)

func init() {
	lipgloss.SetHasDarkBackground(dark)
}

// Dark reports whether the terminal is taken to have a dark background. UNDERVEIL_BACKGROUND=light or =dark decides;
// without it COLORFGBG, which some terminals set to "foreground;background" in the numbers of the 16 colours; without
// either, and for anything these two should not hold, the background is taken to be dark.
func Dark() bool {
	return dark
}

func fromEnv(getenv func(string) string) bool {
	switch strings.ToLower(strings.TrimSpace(getenv("UNDERVEIL_BACKGROUND"))) {
	case "light":
		return false
	case "dark":
		return true
	}
	return !lightColour(lastField(getenv("COLORFGBG")))
}

// lastField returns what follows the last semicolon: some terminals write three fields ("0;default;15"), others two.
func lastField(fgbg string) string {
	return fgbg[strings.LastIndexByte(fgbg, ';')+1:]
}

// lightColour reports whether the number names a light one of the 16 colours: the two whites (7, 15) and the bright
// ones. 8 is bright black, a dark grey.
func lightColour(number string) bool {
	n, err := strconv.Atoi(number)
	return err == nil && (n == 7 || n >= 9 && n <= 15)
}
