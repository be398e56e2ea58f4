//go:build unix

package cli

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/ptytest"
	"example.org/underveil/internal/recovery"
	"example.org/underveil/internal/sheetfile"
	"example.org/underveil/internal/tui"
)

// On a terminal system tells its size and its colours and why, and that a small one is too small.
func TestSystemOnATerminal(t *testing.T) {
	for _, c := range []struct {
		cols, rows int
		env        []string
		want       []string
		code       int
	}{
		{120, 60, []string{"TERM=xterm-256color", "COLORTERM="}, []string{"a terminal, 120 by 60", `colours         256 (TERM is "xterm-256color", COLORTERM is not set)`}, 0},
		{120, 60, []string{"TERM=xterm-256color", "COLORTERM=truecolor"}, []string{`true colour (TERM is "xterm-256color", COLORTERM is "truecolor")`}, 0},
		{120, 60, []string{"TERM=xterm", "COLORTERM="}, []string{"16 (TERM is \"xterm\""}, 0},
		{120, 60, []string{"NO_COLOR=1"}, []string{"none (NO_COLOR is set)"}, 0},
		{120, 60, []string{"COLORFGBG=0;15"}, []string{"light (found: COLORFGBG says so)"}, 0},
		{120, 60, []string{"CI=true"}, []string{"none (CI is set, so nobody is taken to look)"}, 0},
		{120, 60, []string{"TERM=dumb"}, []string{"this terminal can't put the cursor anywhere"}, 1},
		{79, 60, nil, []string{fmt.Sprintf("the terminal is 79 by 60, and the editor needs %d by %d", leastCols(), leastRows())}, 1},
	} {
		dir := t.TempDir()
		s := ptytest.Start(t, ptytest.Options{Cols: c.cols, Rows: c.rows, Dir: dir,
			Env: append([]string{"XDG_STATE_HOME=" + filepath.Join(dir, "state"), "XDG_CONFIG_HOME=" + filepath.Join(dir, "config")}, c.env...)},
			theProgram(t), "system")
		code := s.Wait()
		text := strings.Join(strings.Fields(s.Term.Text()), " ") // however it was broken into lines
		for _, want := range c.want {
			if !strings.Contains(text, strings.Join(strings.Fields(want), " ")) {
				t.Errorf("%d by %d, %q: it does not say %q:\n%s", c.cols, c.rows, c.env, want, s.Term.Text())
			}
		}
		if code != c.code {
			t.Errorf("%d by %d, %q: exit code %d, want %d:\n%s", c.cols, c.rows, c.env, code, c.code, s.Term.Text())
		}
	}
}

func leastCols() int { w, _ := tui.Least(); return w }
func leastRows() int { _, h := tui.Least(); return h }

// runs runs the program with nothing but an environment and returns what it writes.
func runs(t *testing.T, env []string, args ...string) string {
	t.Helper()
	cmd := exec.Command(theProgram(t), args...)
	cmd.Env = env
	out, err := cmd.Output()
	if _, left := err.(*exec.ExitError); err != nil && !left {
		t.Fatal(err)
	}
	return string(out)
}

// Whatever stands in the environment, what is printed is safe, and nothing of it is printed that is not a terminal's or a language's.
func TestSystemIsSafe(t *testing.T) {
	evil := "\x1b[31m\u202eUTF-8\n"
	dir := filepath.Join(t.TempDir(), "a\x1b[2Jb")
	out := runs(t, []string{"LANG=" + evil, "TERM=" + evil, "COLORTERM=" + evil, "COLORFGBG=" + evil, "NO_COLOR=sesame", "UNDERVEIL_BACKGROUND=sesame",
		"XDG_STATE_HOME=" + dir, "XDG_CONFIG_HOME=" + dir, "PATH=/sesame", "USER=sesame", "LOGNAME=sesame", "HOSTNAME=sesame"}, "system")
	for line := range strings.Lines(out) {
		if line = strings.TrimSuffix(line, "\n"); !printable.Clean(line) {
			t.Errorf("%+q is not safe to show", line)
		}
	}
	if strings.Contains(out, "sesame") || !strings.Contains(out, "unicode (found: LANG is ") {
		t.Errorf("%s", out)
	}
}

// What is kept is counted: sheets left over, versions, learners' folders; and nothing is left by trying.
func TestSystemCounts(t *testing.T) {
	dir := t.TempDir()
	state := filepath.Join(dir, "underveil")
	log := recovery.Folder(filepath.Join(state, "unsaved")).Log()
	if err := log.Keep(recovery.Origin{}, recovery.Record{Sheet: []byte("x")}); err != nil {
		t.Fatal(err)
	}
	env := []string{"XDG_STATE_HOME=" + dir, "XDG_CONFIG_HOME=" + dir, "LANG=C.UTF-8"}
	if out := runs(t, env, "system"); !strings.Contains(out, "nothing left over") {
		t.Errorf("a sheet that is open is left over:\n%s", out)
	}
	if err := log.Close(); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"a/1.toml", "a/2.toml", "a/of", "b/7.toml", "c/of"} {
		path := filepath.Join(state, "earlier", name)
		if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
			t.Fatal(err)
		}
		if err := sheetfile.WriteAtomic(path, []byte("x")); err != nil {
			t.Fatal(err)
		}
	}
	before := allIn(t, dir)
	out := runs(t, env, "system")
	for _, want := range []string{"1 sheet left over", "3 versions of 2 sheets", "locks hold", "nothing is wrong"} {
		if !strings.Contains(out, want) {
			t.Errorf("it does not say %q:\n%s", want, out)
		}
	}
	if after := allIn(t, dir); after != before {
		t.Errorf("afterwards there is\n%s\nbefore there was\n%s", after, before)
	}
}

// allIn are the names of all files of a folder.
func allIn(t *testing.T, folder string) string {
	t.Helper()
	out, err := exec.Command("find", folder).Output()
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}
