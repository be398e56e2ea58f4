package cli

import (
	"os/exec"
	"strings"
	"testing"
)

// What is worked out must not depend on how it is shown: no package below the drawing
// ones imports anything of a terminal.
func TestNothingBelowTheScreenKnowsATerminal(t *testing.T) {
	terminal := []string{"bubbletea", "lipgloss", "bubbles", "termenv", "x/ansi", "x/term", "x/cellbuf", "creack/pty", "internal/cells", "internal/tui"}
	for _, pkg := range []string{"scalp", "fibre", "fall", "sheet", "slots", "rule", "why", "tally", "shade", "money", "studio", "plan", "unit", "sheetfile", "printable", "recovery", "visit", "retention", "lesson", "listing", "ledger", "class", "care", "card", "card/letter", "card/page"} {
		out, err := exec.Command("go", "list", "-deps", "example.org/underveil/internal/"+pkg).CombinedOutput()
		if err != nil {
			t.Fatalf("%v: %s", err, out)
		}
		for dep := range strings.Lines(string(out)) {
			for _, part := range terminal {
				if strings.Contains(dep, part) {
					t.Errorf("%s imports %s", pkg, strings.TrimSpace(dep))
				}
			}
		}
	}
}

// The order in which Go initialises packages keeps Bubble Tea from asking the terminal:
// see the package backdrop.
func TestTheModulePathSortsBeforeBubbleTea(t *testing.T) {
	const ours, theirs = "example.org/underveil/internal/backdrop", "github.com/charmbracelet/bubbletea"
	out, err := exec.Command("go", "list", "-deps", "../../cmd/underveil").CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	if deps := string(out); !strings.Contains(deps, ours) || !strings.Contains(deps, theirs) || ours >= theirs {
		t.Errorf("%s must be in the program and sort before %s", ours, theirs)
	}
}
