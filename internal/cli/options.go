package cli

import (
	"crypto/sha256"
	"embed"
	"fmt"
	"io"
	"os"
	"runtime"
	"strings"
	"time"

	"github.com/muesli/termenv"

	"example.org/underveil/assets"
	"example.org/underveil/internal/backdrop"
	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
	"example.org/underveil/internal/tui"
)

func (p *program) editorOptions() (tui.Options, error) {
	dark, err := p.dark()
	if err != nil {
		return tui.Options{}, err
	}
	// The environment tells what colours there are; the terminal is never asked.
	profile := termenv.NewOutput(p.out).EnvColorProfile()
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
	contrast := cells.NewPalette(profile, figure.Contrast(dark))
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
		Glyphs:  p.glyphs(),
		Palette: cells.NewPalette(profile, figure.Styles(dark)),
		Files:   p.files(),
		Demos:   demos,
		Today: func() time.Time {
			now, _ := p.now() // which was read without an error
			return now
		},
		ClockEvery: clockEvery,
		Unsaved:    unsaved(),
		Lessons:    lessons,

		Demonstrations: shown,
		Contrast:       &contrast,
	}, nil
}

// clockEvery is how often the time at the chair is shown anew.
const clockEvery = 20 * time.Second

func (p *program) dark() (bool, error) {
	switch p.background {
	case "":
		return backdrop.Dark(), nil
	case "dark":
		return true, nil
	case "light":
		return false, nil
	}
	return false, fmt.Errorf("--background is light or dark, not %q", p.background)
}

// glyphs are the marks that the terminal can show, by its language settings.
func (p *program) glyphs() figure.Glyphs {
	if p.ascii || !speaksUnicode() {
		return figure.ASCII
	}
	return figure.Unicode
}

func speaksUnicode() bool {
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if v := strings.ToLower(os.Getenv(name)); v != "" {
			return strings.Contains(v, "utf-8") || strings.Contains(v, "utf8")
		}
	}
	return runtime.GOOS == "windows" || runtime.GOOS == "darwin"
}

func (p *program) files() tui.Files {
	return tui.Files{
		Load: load,
		Save: sheetfile.Save,
		Parse: func(name string, data []byte) (*sheet.Sheet, error) {
			s, _, err := sheetfile.Decode(name, data)
			return s, err
		},
		Exists: func(path string) bool {
			_, err := os.Lstat(path)
			return err == nil
		},
		Stamp:  stamp,
		Recent: recentSheets,
		List:   sheetsHere,
		Opened: remember,
		Card:   p.cardFor,

		LoadScript:  loadScript,
		SaveScript:  saveScript,
		ParseScript: parseScript,
	}
}

// stamp tells two states of a file apart by what is in it.
func stamp(path string) string {
	f, err := os.Open(path)
	if err != nil {
		return ""
	}
	defer f.Close()
	if info, err := f.Stat(); err != nil || !info.Mode().IsRegular() {
		return ""
	}
	sum := sha256.New()
	if _, err := io.Copy(sum, io.LimitReader(f, sheetfile.MaxSize+1)); err != nil {
		return ""
	}
	return string(sum.Sum(nil))
}

// load reads a sheet and what was cleaned on the way.
func load(path string) (*sheet.Sheet, []string, error) {
	s, notices, err := sheetfile.Load(path)
	return s, inLines(notices), err
}

// inLines are notices as they are told.
func inLines(notices []sheetfile.Notice) []string {
	var told []string
	for _, n := range notices {
		told = append(told, fmt.Sprintf("line %d: %s", n.Line, n.Text))
	}
	return told
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
