//go:build unix

package cli

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"example.org/underveil/internal/ptytest"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
)

// buildFlags are what the program is built with besides.
var buildFlags []string

// builtProgram builds the real program once, for the tests that run it on a terminal.
var builtProgram = sync.OnceValues(func() (string, error) {
	dir, err := os.MkdirTemp("", "underveil-walk")
	if err != nil {
		return "", err
	}
	path := filepath.Join(dir, "underveil")
	args := append(append([]string{"build"}, buildFlags...), "-o", path, "../../cmd/underveil")
	out, err := exec.Command("go", args...).CombinedOutput()
	if err != nil {
		return "", fmt.Errorf("%w: %s", err, out)
	}
	return path, nil
})

func theProgram(t *testing.T) string {
	t.Helper()
	path, err := builtProgram()
	if err != nil {
		t.Fatal(err)
	}
	return path
}

// kind is a terminal to walk through the program on.
type kind struct {
	name       string
	cols, rows int
	env        []string
	args       []string
	check      func(*testing.T, *ptytest.Terminal)
}

func kinds() []kind {
	var list []kind
	for _, size := range [][2]int{{80, 24}, {120, 40}, {200, 60}} {
		for _, k := range []kind{
			{name: "true colour", check: hasColours("#")},
			{name: "16 colours", env: []string{"TERM=xterm", "COLORTERM="}, check: hasNamedColoursOnly},
			{name: "no colour", env: []string{"NO_COLOR=1"}, check: hasNoColour},
			{name: "ascii", args: []string{"--ascii"}, check: isASCII},
		} {
			k.cols, k.rows = size[0], size[1]
			list = append(list, k)
		}
	}
	if testing.Short() {
		return list[:4] // each kind once
	}
	return list
}

func everyCell(term *ptytest.Terminal, f func(ptytest.Cell)) {
	cols, rows := term.Size()
	for y := range rows {
		for x := range cols {
			f(term.Cell(x, y))
		}
	}
}

func hasColours(prefix string) func(*testing.T, *ptytest.Terminal) {
	return func(t *testing.T, term *ptytest.Terminal) {
		n := 0
		everyCell(term, func(c ptytest.Cell) {
			if strings.HasPrefix(c.FG, prefix) {
				n++
			}
		})
		if n == 0 {
			t.Errorf("no cell has a colour that begins with %q", prefix)
		}
	}
}

func hasNamedColoursOnly(t *testing.T, term *ptytest.Terminal) {
	named := 0
	everyCell(term, func(c ptytest.Cell) {
		if strings.HasPrefix(c.FG, "#") || strings.HasPrefix(c.FG, "index") {
			t.Errorf("a cell has the colour %q on a terminal of 16", c.FG)
		}
		if c.FG != "" {
			named++
		}
	})
	if named == 0 {
		t.Error("no cell has a colour")
	}
}

func hasNoColour(t *testing.T, term *ptytest.Terminal) {
	reversed := 0
	everyCell(term, func(c ptytest.Cell) {
		if c.FG != "" || c.BG != "" {
			t.Errorf("a cell has colour %q on %q though NO_COLOR is set", c.FG, c.BG)
		}
		if c.Reverse {
			reversed++
		}
	})
	if reversed == 0 {
		t.Error("the cursor does not show without colour")
	}
}

func isASCII(t *testing.T, term *ptytest.Terminal) {
	if text := term.Text(); strings.ContainsFunc(text, func(r rune) bool { return r > 0x7e }) {
		t.Errorf("not ASCII:\n%s", text)
	}
}

// mostKeys is how many keystrokes the walk may take: a sheet from four numbers, a row painted, saved,
// closed and opened again.
const mostKeys = 45

// TestWalk goes through the program as a stylist would: a new sheet from four tapes,
// a row painted every second slot, saved, left, and opened again the same.
func TestWalk(t *testing.T) {
	path := theProgram(t)
	for _, k := range kinds() {
		t.Run(fmt.Sprintf("%dx%d %s", k.cols, k.rows, k.name), func(t *testing.T) {
			dir := t.TempDir()
			opts := ptytest.Options{Cols: k.cols, Rows: k.rows, Dir: dir,
				Env: append([]string{"XDG_STATE_HOME=" + filepath.Join(dir, "state"), "XDG_CONFIG_HOME=" + filepath.Join(dir, "config")}, k.env...)}

			s := ptytest.Start(t, opts, append([]string{path}, k.args...)...)
			s.WaitFor("a new sheet")
			s.Press("n")
			s.WaitFor("circumference")
			s.Press("561", "Tab", "341", "Tab", "356", "Enter", "109", "Enter", "Enter")
			s.WaitFor("nothing placed yet")
			s.Press("Up", "2", "r")
			s.WaitFor("9 bonds")
			map1 := mapOf(s.Term)
			s.Press("Ctrl+S")
			s.WaitFor("new-sheet.toml")
			s.Press("Enter")
			s.WaitFor("saved to")
			k.check(t, s.Term)
			keys := s.Keystrokes()
			if code := s.Quit("q"); code != 0 {
				t.Errorf("left with exit code %d", code)
			}
			keys++
			noOffence(t, s.Term)

			saved, _, err := sheetfile.Load(filepath.Join(dir, "new-sheet.toml"))
			if err != nil {
				t.Fatal(err)
			}
			if m := saved.Measures; m.Circumference != 561 || m.EarToEar != 341 || m.FrontToNape != 356 || m.NapeWidth != 109 {
				t.Errorf("the tapes typed were saved as %+v", m)
			}
			if n := saved.Bonds(); n != 9 || len(saved.Rows) != 1 {
				t.Errorf("%d bonds in %d rows were saved", n, len(saved.Rows))
			}
			for slot := range saved.Rows[0].All() {
				if slot%2 != 0 {
					t.Errorf("slot %d is used, though every second was painted", slot)
				}
			}

			s = ptytest.Start(t, opts, append([]string{path}, k.args...)...)
			s.WaitFor("lately open")
			s.Press("Enter")
			s.WaitFor("9 bonds")
			keys += s.Keystrokes()
			if map2 := mapOf(s.Term); map2 != map1 {
				t.Errorf("opened again the map differs:\n%s\nwas\n%s", map2, map1)
			}
			if code := s.Quit("q"); code != 0 {
				t.Errorf("left with exit code %d", code)
			}
			keys++
			noOffence(t, s.Term)
			t.Logf("%d keystrokes", keys)
			if keys > mostKeys {
				t.Errorf("%d keystrokes, more than %d", keys, mostKeys)
			}
		})
	}
}

// How many keystrokes there may be from the start page to a plan that is taken: for a client with measures to type, and with
// what stands in the form already.
const (
	mostKeysTyped = 60
	mostKeysAsIs  = 12
)

// TestWalkToAPlan begins a sheet on the start page, types the measures, the hair and the wish of a client or takes what stands
// there, asks for a plan, looks at it and takes it, and has it saved.
func TestWalkToAPlan(t *testing.T) {
	path := theProgram(t)
	for _, c := range []struct {
		name string
		form []string
		most int
	}{
		{"typed", []string{"561", "Enter", "341", "Enter", "356", "Enter", "109", "Enter", // the tapes
			"320", "Enter", "t", "Down", "Down", "Down", "Down", // own hair, thick; past ponytail, count and texture
			"Space", "Right", "Space", "Down", "Down", // length instead of volume and the other way round
			"25", "Enter", "Enter"}, mostKeysTyped}, // so much volume
		{"as it stands", []string{"Enter"}, mostKeysAsIs},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			opts := ptytest.Options{Cols: 120, Rows: 40, Dir: dir,
				Env: []string{"XDG_STATE_HOME=" + filepath.Join(dir, "state"), "XDG_CONFIG_HOME=" + filepath.Join(dir, "config"), "TERM=xterm-256color", "LANG=C.UTF-8"}}
			s := ptytest.Start(t, opts, path)
			s.WaitFor("a new sheet")
			s.Press("n")
			s.WaitFor("circumference")
			s.Press(c.form...)
			s.WaitFor("nothing placed yet")
			s.Press("R")
			s.WaitFor("a plan")
			s.Press("Enter")
			s.WaitFor("take the plan")
			keys := s.Keystrokes()
			s.Press("Ctrl+S")
			s.WaitFor("new-sheet.toml")
			s.Press("Enter")
			s.WaitFor("saved to")
			if code := s.Quit("q"); code != 0 {
				t.Errorf("left with exit code %d", code)
			}
			saved, _, err := sheetfile.Load(filepath.Join(dir, "new-sheet.toml"))
			if err != nil {
				t.Fatal(err)
			}
			if n := saved.Bonds(); n < 20 {
				t.Errorf("%d bonds were saved", n)
			}
			t.Logf("%d keystrokes to a plan that is taken, %d bonds", keys, saved.Bonds())
			if keys > c.most {
				t.Errorf("%d keystrokes, more than %d", keys, c.most)
			}
		})
	}
}

// mapOf is the part of the screen with the map: the same rows and columns each time.
func mapOf(term *ptytest.Terminal) string {
	var b strings.Builder
	_, rows := term.Size()
	for y := 1; y < rows-2; y++ {
		row := []rune(term.Row(y))
		b.WriteString(strings.TrimRight(string(row[:min(len(row), 54)]), " ") + "\n")
	}
	return b.String()
}

func noOffence(t *testing.T, term *ptytest.Terminal) {
	t.Helper()
	if bad := term.Offences(); len(bad) > 0 {
		t.Errorf("on the wire there was what should not be: %q", bad)
	}
}

// Will it show? The readings, the head from the side, the fitting beside eight weeks later, and why: on every kind of
// terminal, and the sheet is as it was.
func TestWalkRoundTheHead(t *testing.T) {
	path := theProgram(t)
	for _, k := range kinds() {
		t.Run(fmt.Sprintf("%dx%d %s", k.cols, k.rows, k.name), func(t *testing.T) {
			dir := t.TempDir()
			file := filepath.Join(dir, "client.toml")
			data := sheetfile.Encode(sheet.New(someTapes).WithBonds(sheet.Place{At: 60}, map[int]sheet.Bond{0: {Shade: 'a'}, 2: {Shade: 'a'}}))
			if err := os.WriteFile(file, data, 0o600); err != nil {
				t.Fatal(err)
			}
			opts := ptytest.Options{Cols: k.cols, Rows: k.rows, Dir: dir, Env: append([]string{"XDG_STATE_HOME=" + filepath.Join(dir, "state"), "XDG_CONFIG_HOME=" + filepath.Join(dir, "config")}, k.env...)}
			s := ptytest.Start(t, opts, append([]string{path}, append(k.args, file)...)...)
			s.WaitFor("2 bonds")
			s.Press("w")
			s.WaitFor("hairs/mm, at least 47")
			s.Press("w")
			s.WaitFor("half up")
			s.Press("H")
			s.WaitFor("from behind")
			s.Press(",", ",")
			s.WaitFor("from the back left")
			k.check(t, s.Term)
			s.Press("H")
			s.WaitGone("from the back left")
			s.Press("B")
			s.WaitFor("in 8 weeks")
			s.WaitFor("at the fitting")
			s.Press("Y")
			s.WaitFor("why: height 60")
			s.WaitFor("tapes: 561 mm round")
			s.Press("Esc")
			s.WaitGone("tapes:")
			if code := s.Quit("q"); code != 0 {
				t.Errorf("left with exit code %d", code)
			}
			noOffence(t, s.Term)
			if now, err := os.ReadFile(file); err != nil || string(now) != string(data) {
				t.Errorf("looking has changed the sheet: %v", err)
			}
		})
	}
}

// The terminal is never asked anything, and a terminal that never answers is no slower: see
// the package backdrop.
func TestWalkOnAMuteTerminal(t *testing.T) {
	s := ptytest.Start(t, ptytest.Options{Mute: true}, theProgram(t))
	s.WaitFor("a new sheet")
	s.Quit("q")
	noOffence(t, s.Term)
}

func TestHelpWritesNoEscapes(t *testing.T) {
	for _, arg := range []string{"--help", "--version", "keys"} {
		s := ptytest.Start(t, ptytest.Options{Mute: true}, theProgram(t), arg)
		if code := s.Wait(); code != 0 {
			t.Errorf("%s: exit code %d", arg, code)
		}
		if strings.ContainsRune(string(s.Term.Raw()), 0x1b) {
			t.Errorf("%s writes an escape: %q", arg, s.Term.Raw())
		}
	}
}

// With the mouse: a click places, a drag paints, and what was painted is one step.
func TestWalkWithTheMouse(t *testing.T) {
	s := ptytest.Start(t, ptytest.Options{Cols: 120, Rows: 40}, theProgram(t))
	s.WaitFor("a new sheet")
	s.Press("n")
	s.WaitFor("circumference")
	s.Press("Enter")
	s.WaitFor("nothing placed yet")
	x, y := find(t, s.Term, " 60")
	s.Click(x+30, y)
	s.WaitFor("1 strand ")
	s.Click(x+30, y)
	s.WaitFor("0 strands")
	s.Drag(x+24, y, x+36, y)
	s.WaitFor("7 strands")
	s.Press("u")
	s.WaitFor("0 strands")
	s.Resize(60, 20)
	s.WaitFor("Underveil needs")
	s.Resize(120, 40)
	s.WaitFor("0 strands")
	s.Quit("q", "l")
	noOffence(t, s.Term)
}

// find is where a text stands on the screen.
func find(t *testing.T, term *ptytest.Terminal, text string) (x, y int) {
	t.Helper()
	_, rows := term.Size()
	for y := range rows {
		if i := strings.Index(term.Row(y), text); i >= 0 {
			return len([]rune(term.Row(y)[:i])), y
		}
	}
	t.Fatalf("%q is not on the screen:\n%s", text, term.Text())
	return 0, 0
}

var someTapes = scalp.Measures{Circumference: 561, EarToEar: 341, FrontToNape: 356, NapeWidth: 109}

// A disk that takes nothing more leaves the sheet on disk as it was, and the sheet on
// the screen as it is. The limit on the size of files stands for the full disk.
func TestWalkWithAFullDisk(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "client.toml")
	data := sheetfile.Encode(sheet.New(someTapes))
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	s := ptytest.Start(t, ptytest.Options{Cols: 120, Rows: 40, Dir: dir}, "/bin/sh", "-c", "ulimit -f 0; exec "+theProgram(t)+" client.toml")
	s.WaitFor("nothing placed yet")
	s.Press("r", "Ctrl+S")
	s.WaitFor("not saved")
	s.WaitFor("cannot save")
	s.Press("Esc")
	s.WaitGone("cannot save")
	if !strings.Contains(s.Term.Text(), "7 bonds") {
		t.Errorf("the sheet on the screen is no longer as it was:\n%s", s.Term.Text())
	}
	s.Quit("q", "l")
	if now, err := os.ReadFile(path); err != nil || string(now) != string(data) {
		t.Errorf("the sheet on disk is no longer as it was: %v", err)
	}
}
