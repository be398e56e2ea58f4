package tui

import (
	"errors"
	"path/filepath"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/hold"
)

// held is whether a file is held here, or by another window. The zero value is neither: nothing is known.
type held struct {
	release *func()     // where it is held here
	taken   *hold.Taken // where it is held elsewhere
}

// hold holds a file, as far as can be.
func (f Files) hold(path string) held {
	if f.Hold == nil {
		return held{}
	}
	release, err := f.Hold(path)
	if err == nil {
		return held{release: &release}
	}
	var taken *hold.Taken
	errors.As(err, &taken) // otherwise there are no locks here, and `system` says so
	return held{taken: taken}
}

func (h held) here() bool      { return h.release != nil }
func (h held) elsewhere() bool { return h.taken != nil }

// letGo gives the file up to other windows.
func (h held) letGo() {
	if h.here() {
		(*h.release)()
	}
}

// holdOn puts another hold in place of the one that the document has.
func (d *document) holdOn(h held) {
	old := d.held
	d.held = h
	old.letGo()
}

// askWhereElse asks what to do about a sheet that another window has open.
func (m *Model) askWhereElse() {
	d := m.doc
	if !d.held.elsewhere() {
		return
	}
	m.push(&question{"open in another window", d.path + " is open in another window" + m.since(d.held.taken) +
		". Nothing that is saved there is written over from here without a question.", []answer{
		{"l", "look at it here; what is changed can be saved under another name, or here once the other window is closed", nothing},
		{"c", "work on a copy, with a name of its own", func(m *Model) tea.Cmd {
			m.tried = copyOf(d.path)
			d.path, d.stamp = "", ""
			d.holdOn(held{})
			m.tell("a copy, to be saved as " + m.tried)
			return nil
		}},
	}})
}

// since is since when another window has a file, as the end of a sentence.
func (m *Model) since(taken *hold.Taken) string {
	if taken.Since.IsZero() {
		return ""
	}
	return ", since " + strings.TrimPrefix(m.when(taken.Since), "today at ")
}

// when is a time in words, as seen from now.
func (m *Model) when(at time.Time) string {
	now := m.opts.Unsaved.Now
	if now == nil {
		now = m.opts.Today
	}
	at = at.Local()
	switch day := at.Format("2 January 2006"); {
	case day == now().Local().Format("2 January 2006"):
		return "today at " + at.Format("15:04")
	case at.Year() == now().Local().Year():
		return at.Format("on 2 January at 15:04")
	default:
		return "on " + day
	}
}

// copyOf is a name for a copy of a file.
func copyOf(path string) string {
	ending := filepath.Ext(path)
	return strings.TrimSuffix(path, ending) + "-copy" + ending
}

func nothing(*Model) tea.Cmd { return nil }
