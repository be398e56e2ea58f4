//go:build unix

package cli

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/ptytest"
)

// begin starts the program on the demo sheet, with a settings file of such a text.
func begin(t *testing.T, text string, env []string, args ...string) *ptytest.Session {
	t.Helper()
	dir := t.TempDir()
	folder := filepath.Join(dir, "config", "underveil")
	if err := os.MkdirAll(folder, 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(folder, "settings.toml"), []byte("format = 1\n"+text+"\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	list, err := demos()
	if err != nil {
		t.Fatal(err)
	}
	sheet := filepath.Join(dir, "demo.toml")
	for _, d := range list {
		if d.Name == "demo" {
			if err := os.WriteFile(sheet, d.Data, 0o600); err != nil {
				t.Fatal(err)
			}
		}
	}
	opts := ptytest.Options{Cols: 120, Rows: 40, Dir: dir,
		Env: append([]string{"XDG_STATE_HOME=" + filepath.Join(dir, "state"), "XDG_CONFIG_HOME=" + filepath.Join(dir, "config")}, env...)}
	s := ptytest.Start(t, opts, append([]string{theProgram(t), sheet}, args...)...)
	s.WaitFor("client 014")
	s.Settle()
	return s
}

// leave leaves the program, which nothing was changed in.
func leave(t *testing.T, s *ptytest.Session) {
	t.Helper()
	if code := s.Quit("Ctrl+C"); code != 0 {
		t.Errorf("left with exit code %d", code)
	}
	noOffence(t, s.Term)
}

// stopCell is the mark of the first stop on the map.
func stopCell(t *testing.T, term *ptytest.Terminal) ptytest.Cell {
	t.Helper()
	for y := 2; y < 38; y++ {
		for x := 8; x < 60; x++ {
			if c := term.Cell(x, y); c.Rune == figure.Unicode.Stop && !c.Reverse {
				return c
			}
		}
	}
	t.Fatalf("there is no stop:\n%s", term.Text())
	return ptytest.Cell{}
}

// The colours of the settings are those on the terminal, before what it says of itself and behind a flag.
func TestColoursOfSettings(t *testing.T) {
	stop := func(styles func(bool) []cells.Style, dark bool) cells.Style { return styles(dark)[figure.StopInk] }
	for _, c := range []struct {
		name, text string
		env, args  []string
		want       cells.Style
	}{
		{"none", `colours = "none"`, nil, nil, cells.Style{}},
		{"found", ``, nil, nil, stop(figure.Styles, true)},
		{"found to be none", `colours = "found"`, []string{"NO_COLOR=1"}, nil, cells.Style{}},
		{"before NO_COLOR", `colours = "light"`, []string{"NO_COLOR=1"}, nil, stop(figure.Styles, false)},
		{"before COLORFGBG", `colours = "dark"`, []string{"COLORFGBG=0;15"}, nil, stop(figure.Styles, true)},
		{"high contrast", `colours = "high contrast dark"`, nil, nil, stop(figure.Contrast, true)},
		{"high contrast, light", `colours = "high contrast light"`, nil, nil, stop(figure.Contrast, false)},
		{"a flag", `colours = "high contrast light"`, nil, []string{"--background", "dark"}, stop(figure.Contrast, true)},
		{"a flag, plain", `colours = "dark"`, nil, []string{"--background", "light"}, stop(figure.Styles, false)},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			s := begin(t, c.text, c.env, c.args...)
			got := stopCell(t, s.Term)
			if !strings.EqualFold(got.FG, c.want.Fore) || !strings.EqualFold(got.BG, c.want.Back) {
				t.Errorf("a stop is %s on %s, want %s on %s", got.FG, got.BG, c.want.Fore, c.want.Back)
			}
			if c.want.Fore == "" {
				hasNoColour(t, s.Term)
			}
			leave(t, s)
		})
	}
}

// What is set besides colours holds on the terminal.
func TestSettingsOnATerminal(t *testing.T) {
	const mouseMoves = 1002
	s := begin(t, "marks = \"ascii\"\nmouse = false\n[keys]\nundo = \"ctrl+z\"\nplace = \"ж\"", nil)
	isASCII := func() { // but for the key
		if text := strings.ReplaceAll(s.Term.Text(), "ж", ""); strings.ContainsFunc(text, func(r rune) bool { return r > 0x7e }) {
			t.Errorf("not ASCII:\n%s", text)
		}
	}
	isASCII()
	if s.Term.Mode(mouseMoves) {
		t.Error("the mouse is used")
	}
	s.WaitFor("ж place")
	s.Type("ж")
	s.WaitFor("59 strands")
	s.Press("Ctrl+Z")
	s.WaitFor("58 strands")
	s.Press("x")
	s.WaitFor("mouse on")
	used := func(term *ptytest.Terminal) bool { return term.Mode(mouseMoves) } // the switch comes by itself
	s.WaitScreen(used, "the mouse used after x")
	leave(t, s)

	s = begin(t, "", nil)
	s.WaitScreen(used, "the mouse used")
	leave(t, s)
}

// Settings that can't be read keep nobody from a sheet: the editor opens without them, and says so.
func TestSettingsThatCannotBeRead(t *testing.T) {
	s := begin(t, "colours = \"none\"\n[keys]\nundo = \"r\"", nil)
	s.WaitFor(noSettings)
	if stopCell(t, s.Term).FG == "" {
		t.Error("there are no colours")
	}
	s.Press("r", "u")
	s.WaitGone(noSettings)
	leave(t, s)
}
