package tui

import (
	"errors"
	"os"
	"sync/atomic"

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
	m.begin(first)
	begin := []tea.ProgramOption{tea.WithInput(&keyboard{File: in}), tea.WithOutput(terminal{out}), tea.WithAltScreen(), tea.WithFPS(1)}
	if !opts.NoMouse {
		begin = append(begin, tea.WithMouseCellMotion())
	}
	p := tea.NewProgram(m, begin...)
	var hungUp atomic.Bool
	go quitOnHangUp(p, &hungUp)
	_, err := p.Run()
	m.End(whyEnded(err, m.failed, hungUp.Load()))
	switch {
	case errors.Is(err, tea.ErrInterrupted):
		return errors.New("stopped from outside; what was not saved is offered when the sheet is opened again")
	case err != nil:
		return err
	}
	return m.failed
}

// begin opens what there is to begin with, or leaves the start page.
func (m *Model) begin(first *Opened) tea.Cmd {
	switch {
	case first == nil:
	case first.Attempt != nil:
		m.lookAtHandIn(first.Exercise, first.Attempt, first.Path)
	case first.Practice:
		m.beginPractice(first.Exercise, first.Learner)
	default:
		return m.loaded(loadedMsg{path: first.Path, stamp: first.Stamp, held: m.opts.Files.hold(first.Path), sheet: first.Sheet, notices: first.Notices,
			left: m.opts.Unsaved.Folder.Of(first.Path)})
	}
	return nil
}

// whyEnded is why the program ended with something unsaved that nobody gave up.
func whyEnded(err, failed error, hungUp bool) string {
	switch {
	case errors.Is(err, tea.ErrProgramPanic):
		return "a fault in the program ended it"
	case hungUp || failed != nil:
		return "its window was closed, or the line to it broke"
	}
	return "the program was told from outside to end"
}
