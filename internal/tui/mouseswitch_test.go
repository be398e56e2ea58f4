package tui

import (
	"io"
	"regexp"
	"slices"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
)

// modes passes on what is switched of a terminal's mouse, as it is switched.
type modes chan string

var mouseMode = regexp.MustCompile(`\x1b\[\?1002[hl]`)

func (m modes) Write(p []byte) (int, error) {
	for _, seq := range mouseMode.FindAllString(string(p), -1) {
		m <- seq[len(seq)-1:]
	}
	return len(p), nil
}

// The command of the key for the mouse ends as the right sequences, through the library that sends them.
func TestMouseSwitchIsSent(t *testing.T) {
	m := New(io.Discard, Options{Glyphs: figure.ASCII, Palette: cells.NewPalette(termenv.TrueColor, figure.Styles(true)),
		Files: newDisk().files()})
	m.loaded(loadedMsg{sheet: plainSheet(t), path: "sheet.toml"})
	sent := make(modes, 100)
	p := tea.NewProgram(m, tea.WithInput(nil), tea.WithOutput(sent), tea.WithMouseCellMotion(), tea.WithoutSignalHandler(), tea.WithFPS(1))
	var switched []string
	go func() {
		p.Send(tea.WindowSizeMsg{Width: 80, Height: 24})
		for _, k := range []string{"x", "x", "q"} {
			switched = append(switched, <-sent) // the key before has come through
			msg, _ := keyMsg(k)
			p.Send(msg)
		}
	}()
	if _, err := p.Run(); err != nil {
		t.Fatal(err)
	}
	close(sent)
	for s := range sent {
		switched = append(switched, s)
	}
	// On at the start, off and on by the key, off at the end.
	if want := []string{"h", "l", "h", "l"}; !slices.Equal(switched, want) {
		t.Errorf("the mouse was switched %q, want %q", switched, want)
	}
}
