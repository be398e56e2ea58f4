//go:build unix

package cli

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"example.org/underveil/internal/ptytest"
)

// step is a command in the README, with the keys that are pressed in it where it opens the editor.
type step struct {
	command string
	rows    []row
}

// row is a line of a table of keys: what is pressed, and what is to be seen then.
type row struct{ keys, seen []string }

var (
	inCode   = regexp.MustCompile("`([^`]+)`")
	inItalic = regexp.MustCompile(`\*([^*]+)\*`)
)

// walksIn are the parts of the README that are five minutes each, by their headings.
func walksIn(t *testing.T) map[string][]step {
	t.Helper()
	data, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	walks, heading := map[string][]step{}, ""
	for line := range strings.Lines(string(data)) {
		line = strings.TrimRight(line, "\n")
		if strings.HasPrefix(line, "## ") {
			heading = strings.TrimPrefix(line, "## ")
			continue
		}
		if !strings.HasPrefix(heading, "Five minutes") {
			continue
		}
		steps := walks[heading]
		switch command, isCommand := strings.CutPrefix(line, "    underveil"); {
		case isCommand:
			steps = append(steps, step{command: strings.TrimSpace(command)})
		case strings.HasPrefix(line, "| `"):
			if len(steps) == 0 {
				t.Fatalf("keys without a command: %s", line)
			}
			cells := strings.Split(line, " | ")
			last := &steps[len(steps)-1]
			last.rows = append(last.rows, row{matches(inCode, cells[0]), matches(inItalic, cells[1])})
		}
		walks[heading] = steps
	}
	return walks
}

func matches(re *regexp.Regexp, text string) []string {
	var all []string
	for _, m := range re.FindAllStringSubmatch(text, -1) {
		all = append(all, m[1])
	}
	return all
}

// TestWalkThroughTheReadme does what the README says one can do in five minutes: every command is run, every key pressed, and what is
// to be seen is looked for.
func TestWalkThroughTheReadme(t *testing.T) {
	walks := walksIn(t)
	if len(walks) != 3 {
		t.Fatalf("there are %d walks in the README, for three people", len(walks))
	}
	for heading, steps := range walks {
		t.Run(heading, func(t *testing.T) {
			dir := t.TempDir()
			env := []string{"XDG_STATE_HOME=" + filepath.Join(dir, ".state"), "XDG_CONFIG_HOME=" + filepath.Join(dir, ".config")}
			if len(steps) < 3 {
				t.Fatalf("only %d commands", len(steps))
			}
			for _, s := range steps {
				if s.rows == nil {
					runInReadme(t, dir, env, s.command)
					continue
				}
				typeInReadme(t, dir, env, s)
			}
		})
	}
}

// runInReadme runs a command that opens no editor, and is to end well.
func runInReadme(t *testing.T, dir string, env []string, command string) {
	t.Helper()
	command, want, _ := strings.Cut(command, "  # exits ")
	c := exec.Command("/bin/sh", "-c", `exec "$0" `+command, theProgram(t))
	c.Dir, c.Env = dir, append(append(os.Environ(), "LANG=C.UTF-8"), env...)
	out, err := c.CombinedOutput()
	if code := c.ProcessState.ExitCode(); code != 0 && want != "1" || code == 0 && want != "" {
		t.Errorf("underveil %s: %v\n%s", command, err, out)
	}
}

// typeInReadme opens the editor, presses the keys of each row, and waits for what is to be seen.
func typeInReadme(t *testing.T, dir string, env []string, s step) {
	t.Helper()
	session := ptytest.Start(t, ptytest.Options{Cols: 120, Rows: 40, Dir: dir, Env: env}, append([]string{theProgram(t)}, strings.Fields(s.command)...)...)
	session.WaitScreen(func(term *ptytest.Terminal) bool { return term.AltScreen() && strings.TrimSpace(term.Text()) != "" }, "the first screen of underveil "+s.command)
	for i, r := range s.rows {
		for j, key := range r.keys {
			if text, typed := strings.CutPrefix(key, "type "); typed {
				session.Type(text)
				continue
			}
			if i < len(s.rows)-1 || j < len(r.keys)-1 {
				session.Press(keyNamed(key))
				continue
			}
			if code := session.Quit(keyNamed(key)); code != 0 { // the last key of all leaves
				t.Errorf("underveil %s is left with %d", s.command, code)
			}
		}
		for _, text := range r.seen {
			session.WaitScreen(func(term *ptytest.Terminal) bool { return strings.Contains(flowing(term.Text()), text) },
				"after "+strings.Join(r.keys, " ")+" in underveil "+s.command+": "+text)
		}
	}
	noOffence(t, session.Term)
}

// keyNamed is a key as the tests name it, for how people write it.
func keyNamed(key string) string {
	if rest, ok := strings.CutPrefix(key, "ctrl+"); ok {
		return "Ctrl+" + strings.ToUpper(rest)
	}
	switch key {
	case "space":
		return "Space"
	case "↑":
		return "Up"
	case "↓":
		return "Down"
	case "←":
		return "Left"
	case "→":
		return "Right"
	}
	return key
}
