package tui

import (
	"errors"
	"os"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/sheet"
)

// terminal is standard output for the program's mode switches only. Bubble Tea
// writes frames with Write and mode switches with WriteString; frames are dropped, since the
// cells are painted straight after each key and not on the renderer's ticker. A test on
// a pseudo-terminal holds this.
type terminal struct{ *os.File }

func (t terminal) Write(p []byte) (int, error) { return len(p), nil }

// Opened is what to begin with: a sheet, or practice.
type Opened struct {
	Path    string
	Stamp   string
	Sheet   *sheet.Sheet
	Notices []string

	Practice bool             // an exercise, or the list of them, instead of a sheet
	Exercise *lesson.Exercise // or nil
	Learner  string           // or empty where it was not said
	Attempt  *lesson.Attempt  // a hand-in to look at, from Path, or nil
}

// Run runs the editor in a terminal until it is left; first is the sheet to begin with,
// or nil for the start page.
func Run(in, out *os.File, opts Options, first *Opened) error {
	m := New(out, opts)
	switch {
	case first == nil:
	case first.Attempt != nil:
		m.lookAtHandIn(first.Exercise, first.Attempt, first.Path)
	case first.Practice:
		m.beginPractice(first.Exercise, first.Learner)
	default:
		m.loaded(loadedMsg{path: first.Path, stamp: first.Stamp, sheet: first.Sheet, notices: first.Notices})
	}
	p := tea.NewProgram(m, tea.WithInput(in), tea.WithOutput(terminal{out}),
		tea.WithAltScreen(), tea.WithMouseCellMotion(), tea.WithFPS(1))
	go quitOnHangUp(p)
	_, err := p.Run()
	switch {
	case errors.Is(err, tea.ErrInterrupted):
		return errors.New("stopped from outside; what was not saved is offered when the sheet is opened again")
	case err != nil:
		return err
	}
	return m.failed
}
