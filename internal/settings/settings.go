// Package settings is what a user has set: how the screen looks, in what lengths are shown, which keys do what.
package settings

import (
	"maps"
	"slices"

	"example.org/underveil/internal/unit"
)

// Colours are the colours of the screen. The background is the terminal's own: a setting says which it has.
type Colours string

// The colours there are. FoundColours goes by what the terminal says of itself.
const (
	FoundColours  Colours = "found"
	Dark          Colours = "dark"
	Light         Colours = "light"
	ContrastDark  Colours = "high contrast dark"
	ContrastLight Colours = "high contrast light"
	NoColours     Colours = "none"
)

// AllColours are the colours there are, in the order in which they are offered.
var AllColours = []Colours{FoundColours, Dark, Light, ContrastDark, ContrastLight, NoColours}

// Contrast reports whether text and marks are to stand out as far as can be.
func (c Colours) Contrast() bool { return c == ContrastDark || c == ContrastLight }

// Marks are the characters that maps and frames are drawn with.
type Marks string

// The marks there are. FoundMarks goes by the language settings.
const (
	FoundMarks Marks = "found"
	Unicode    Marks = "unicode"
	ASCII      Marks = "ascii"
)

// AllMarks are the marks there are, in the order in which they are offered.
var AllMarks = []Marks{FoundMarks, Unicode, ASCII}

// Papers are what a card can be printed on, the usual one first.
var Papers = []string{"a4", "letter"}

// Units are the units that lengths can be shown in, by the name that a file has for them.
var Units = []struct {
	Name string
	Unit unit.Unit
}{{"mm", unit.MM}, {"cm", unit.CM}, {"in", unit.Inch}}

// UnitName is the name of a unit.
func UnitName(u unit.Unit) string {
	for _, known := range Units {
		if known.Unit == u {
			return known.Name
		}
	}
	return ""
}

// Settings are all settings, those that nobody made at their default. Nobody changes them once they are read.
type Settings struct {
	Colours Colours
	Marks   Marks
	NoMouse bool // the mouse is left to the terminal
	Units   unit.Unit
	Paper   string              // of a card
	Keys    map[string][]string // the keys of the commands that were given others, by the id of the command; none is a command without keys

	lines map[string]int
}

// Default are the settings of somebody who made none.
func Default() Settings {
	return Settings{Colours: FoundColours, Marks: FoundMarks, Units: unit.MM, Paper: Papers[0]}
}

// Line is the line of the settings file that made a setting, by its name in the file: "colours", "keys.undo". It is 0
// where none did.
func (s Settings) Line(name string) int { return s.lines[name] }

// WithLine are the settings with the line of one of them.
func (s Settings) WithLine(name string, line int) Settings {
	s.lines = maps.Clone(s.lines)
	if s.lines == nil {
		s.lines = map[string]int{}
	}
	s.lines[name] = line
	return s
}

// WithKeys are the settings with the keys of a command.
func (s Settings) WithKeys(id string, keys []string) Settings {
	s.Keys = maps.Clone(s.Keys)
	if s.Keys == nil {
		s.Keys = map[string][]string{}
	}
	s.Keys[id] = slices.Clone(keys)
	return s
}

// Command is a command of the editor as far as its keys go.
type Command struct {
	ID    string
	Group string   // of the page of keys
	Does  string   // what it does, or empty where the command before says it for both
	Keys  []string // that it comes with, as Key has them
	Stays string   // a key of these that no setting takes away, or empty
}
