package cli

import (
	"embed"
	"strings"
	"time"

	"example.org/underveil/assets"
	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/tui"
)

func (p *program) editorOptions() (tui.Options, error) {
	look, err := p.look() // of which the terminal is never asked
	if err != nil {
		return tui.Options{}, err
	}
	demos, err := demos()
	if err != nil {
		return tui.Options{}, err
	}
	holds, err := p.college()
	if err != nil {
		return tui.Options{}, err
	}
	shown, err := demonstrations()
	if err != nil {
		return tui.Options{}, err
	}
	contrast := cells.NewPalette(look.profile, figure.Contrast(look.dark))
	palette := contrast
	set := p.settings()
	if !set.Colours.Contrast() {
		palette = cells.NewPalette(look.profile, figure.Styles(look.dark))
	}
	warn := ""
	if p.setTold = true; set.err != nil {
		warn = noSettings
	}
	st, from, err := p.studio()
	if err != nil { // sheets can be opened without it
		st, from = nil, message(err)
	}
	if _, err := p.now(); err != nil {
		return tui.Options{}, err
	}
	lessons, err := p.lessons()
	if err != nil {
		return tui.Options{}, err
	}
	if holds != nil {
		lessons.Limits, lessons.LimitsOf = holds.limits, holds.name
	}
	return tui.Options{
		Studio: st, From: from,
		Glyphs:  look.glyphs,
		Palette: palette,
		Files:   p.files(),
		Demos:   demos,
		Today: func() time.Time {
			now, _ := p.now() // which was read without an error
			return now
		},
		ClockEvery: clockEvery,
		WatchEvery: watchEvery,
		Grace:      grace,
		Unsaved:    unsaved(),
		Lessons:    lessons,

		Demonstrations: shown,
		Contrast:       &contrast,

		Keys: set.Keys, Units: set.Units, Paper: set.Paper, NoMouse: set.NoMouse, Warn: warn,
	}, nil
}

const (
	clockEvery = 20 * time.Second       // how often the time at the chair is shown anew
	grace      = 300 * time.Millisecond // for how long a question that comes by itself takes no letters
	watchEvery = 2 * time.Second        // how often it is looked whether something else has written the file
)

// glyphs are the marks that the terminal can show, by its language settings unless somebody says otherwise.
func (p *program) glyphs() figure.Glyphs {
	g, _ := p.marks()
	return g
}

// demos are the sheets in assets; the first line of each, a comment, says what it is.
func demos() ([]tui.Demo, error) { return listed(assets.Sheets, "sheets") }

// listed are the files of a folder that comes with the program; the first line of each, a comment, says what it is.
func listed(files embed.FS, folder string) ([]tui.Demo, error) {
	entries, err := files.ReadDir(folder)
	if err != nil {
		return nil, err
	}
	var list []tui.Demo
	for _, e := range entries {
		data, err := files.ReadFile(folder + "/" + e.Name())
		if err != nil {
			return nil, err
		}
		about, _, _ := strings.Cut(string(data), "\n")
		list = append(list, tui.Demo{Name: strings.TrimSuffix(e.Name(), ".toml"), About: strings.TrimSpace(strings.TrimPrefix(about, "#")), Data: data})
	}
	return list, nil
}
