//go:build unix

package cli

import (
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/tui"
)

// Whatever the umask, what the program writes is for its owner's eyes alone: new files 0600, new folders 0700. What was there keeps its mode.
func TestModesOfAllThatIsWritten(t *testing.T) {
	for _, umask := range []int{0o000, 0o077} {
		e := evilHome(t)
		old := syscall.Umask(umask)
		t.Cleanup(func() { syscall.Umask(old) })
		work := filepath.Join(e.home, "work")
		given := map[string]fs.FileMode{work: 0o755, filepath.Join(work, "mine.toml"): 0o640, filepath.Join(work, "card.pdf"): 0o644, e.home: 0, e.empty: 0}
		e.writeAll(work, given)
		syscall.Umask(old)
		files, folders := 0, 0
		err := filepath.WalkDir(e.home, func(path string, d fs.DirEntry, err error) error {
			if err != nil {
				return err
			}
			info, err := d.Info()
			if err != nil {
				return err
			}
			want, was := given[path]
			switch {
			case was && want == 0:
				return nil
			case was:
			case d.IsDir():
				want = 0o700
				folders++
			default:
				want = 0o600
				files++
			}
			if got := info.Mode().Perm(); got != want {
				t.Errorf("umask %03o: %s has mode %v, want %v", umask, strings.TrimPrefix(path, e.home), got, want)
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("umask %03o: %d files and %d folders were written", umask, files, folders)
		if files < 15 || folders < 6 {
			t.Errorf("umask %03o: %d files and %d folders were written, fewer than there should be", umask, files, folders)
		}
	}
}

// writeAll has every command write that can, and the editor, on the screen and as a dialogue. given are files that are there already.
func (e *evil) writeAll(work string, given map[string]fs.FileMode) {
	t := e.t
	if err := os.Mkdir(work, 0o700); err != nil {
		t.Fatal(err)
	}
	in := func(name string) string { return filepath.Join(work, name) }
	list, err := demos()
	if err != nil {
		t.Fatal(err)
	}
	for path, mode := range given {
		if filepath.Dir(path) == work {
			if err := os.WriteFile(path, list[0].Data, 0o600); err != nil {
				t.Fatal(err)
			}
		}
		if mode != 0 {
			if err := os.Chmod(path, mode); err != nil {
				t.Fatal(err)
			}
		}
	}
	sheet := in("mine.toml")
	for _, args := range [][]string{
		{"studio", "write"}, {"settings", "write"}, {"settings", "write", "--to", in("settings.toml")},
		{"card", sheet, "--to", in("card.pdf")}, {"card", sheet, "--to", in("new.pdf")}, {"card", sheet, "--to", in("new.svg")}, {"card", sheet, "--to", in("new.txt")},
		{"plan", sheet, "--to", in("plan.toml")}, {"plan", sheet, "--write"},
		{"exercise", "new", sheet, "--to", in("exercise.toml")}, {"exercise", "faults", sheet, "--count", "1", "--to", in("faults.toml")},
		{"exercise", "start", "first-row", "--to", in("start.toml")},
	} {
		if r := e.read(args...); r.code == exitInput {
			t.Errorf("%q: %s", r.name, r.err)
		}
	}
	t.Chdir(work)
	e.dialogue(sheet, "go 60", "place", "save", "place", "save", "card", "", "leave")
	if r := e.read("earlier", sheet, "--number", "1", "--to", in("earlier.toml")); r.code != exitOK {
		t.Errorf("%q: %s", r.name, r.err)
	}
	e.editor(sheet, "space", "ctrl+s", "space") // and is killed there: the log stays
	e.editor("", "n", "Enter", "2", "r", "ctrl+s", "Enter", "space", "ctrl+s", "q")
	e.editor("", "e", "Enter", "M", "L", "Enter", "2", "r", "space", "q")
}

// editor presses keys in the editor as the program sets it up, on a sheet or on its start page.
func (e *evil) editor(sheet string, keys ...string) {
	e.t.Helper()
	in, out := e.file(""), e.file("")
	defer e.text(in)
	defer e.text(out)
	p := &program{in: in, out: out, stdout: io.Discard, stderr: io.Discard}
	opts, err := p.editorOptions()
	if err != nil {
		e.t.Fatal(err)
	}
	opts.ClockEvery, opts.WatchEvery = 0, 0 // or what waits for a clock would never end
	m := tui.New(io.Discard, opts)
	var run func(tea.Cmd)
	run = func(cmd tea.Cmd) {
		if cmd == nil {
			return
		}
		switch msg := cmd().(type) {
		case nil, tea.QuitMsg:
		case tea.BatchMsg:
			for _, c := range msg {
				run(c)
			}
		default:
			_, next := m.Update(msg)
			run(next)
		}
	}
	send := func(msg tea.Msg) { run(func() tea.Msg { return msg }) }
	send(tea.WindowSizeMsg{Width: 120, Height: 40})
	run(m.Init())
	if sheet != "" {
		run(m.Open(sheet))
	}
	names := map[string]tea.KeyType{"Enter": tea.KeyEnter, "Esc": tea.KeyEsc, "space": tea.KeySpace, "ctrl+s": tea.KeyCtrlS}
	for _, key := range keys {
		msg := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(key)}
		if kind, named := names[key]; named {
			msg = tea.KeyMsg{Type: kind}
		}
		send(msg)
	}
}
