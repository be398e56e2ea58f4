package cli

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// named are the commands in a text: in backticks, or on lines of their own.
var named = regexp.MustCompile("(?m)(?:`|^    )underveil ([^`\n]*)")

// TestReadmeCommands holds every command that the README names, with its options, against those there are; and each of them is run by a script
// in testdata or by the walks through the README.
func TestReadmeCommands(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	run := map[string]bool{} // by what leads to the command
	for line := range strings.Lines(scripts(t) + "\nunderveil " + strings.Join(walksOf(string(readme)), "\nunderveil ")) {
		if _, words, ok := strings.Cut(line, "underveil "); ok {
			if c, _, err := (&program{}).root().Find(strings.Fields(words)); err == nil {
				run[c.CommandPath()] = true
			}
		}
	}
	all := named.FindAllStringSubmatch(string(readme), -1)
	if len(all) < 30 {
		t.Fatalf("only %d commands are found", len(all))
	}
	for _, m := range all {
		words := strings.Fields(strings.TrimRight(m[1], ".,"))
		c, _, err := (&program{}).root().Find(words)
		if err != nil {
			t.Errorf("underveil %s: %v", m[1], err)
			continue
		}
		for _, word := range words {
			flag, isFlag := strings.CutPrefix(word, "--")
			flag, _, _ = strings.Cut(strings.TrimRight(flag, ",;"), "=")
			if isFlag && flag != "version" && flag != "help" && c.Flag(flag) == nil {
				t.Errorf("underveil %s: %s has no --%s", m[1], c.CommandPath(), flag)
			}
		}
		if path := c.CommandPath(); !run[path] {
			t.Errorf("no test runs %s", path)
		}
	}
}

// walksOf are the commands in the parts of the README that are walked through, see TestWalkThroughTheReadme.
func walksOf(readme string) []string {
	var all []string
	for _, part := range strings.Split(readme, "\n## ")[1:] {
		if strings.HasPrefix(part, "Five minutes") {
			for _, m := range named.FindAllStringSubmatch(part, -1) {
				all = append(all, m[1])
			}
		}
	}
	return all
}

// scripts are all that run commands.
func scripts(t *testing.T) string {
	t.Helper()
	paths, err := filepath.Glob("../../testdata/script/*.txtar")
	if err != nil || len(paths) == 0 {
		t.Fatalf("no scripts: %v", err)
	}
	var all strings.Builder
	for _, path := range paths {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		all.Write(data)
	}
	return all.String()
}
