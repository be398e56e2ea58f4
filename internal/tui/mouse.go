package tui

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/figure"
)

// mouse: a click places or lifts, or goes to a finding of the list; a drag lays the pattern; the
// wheel moves the cursor, and with it the map.
func (m *Model) mouse(msg tea.MouseMsg) tea.Cmd {
	if m.doc == nil || m.scr == nil || len(m.dialogs) > 0 || m.tooSmall() || m.doc.moving != nil {
		return nil
	}
	d := m.doc
	switch {
	case msg.Button == tea.MouseButtonWheelUp:
		d.move(0, 1)
	case msg.Button == tea.MouseButtonWheelDown:
		d.move(0, -1)
	case msg.Action == tea.MouseActionPress && msg.Button == tea.MouseButtonLeft:
		m.clickFinding(msg)
		if at, ok := m.under(msg); ok {
			m.told = ""
			d.steady = ""
			m.troubled(d.press(at))
		}
	case msg.Action == tea.MouseActionMotion && d.drag != nil:
		if at, ok := m.under(msg); ok && at.At == d.drag.at {
			m.troubled(d.dragTo(at.Slot))
		}
	case msg.Action == tea.MouseActionRelease:
		d.drag = nil
	}
	return nil
}

// clickFinding goes to the finding of the list that the pointer is on.
func (m *Model) clickFinding(msg tea.MouseMsg) {
	i, ok := m.findingAt[msg.Y]
	if !ok || m.page != pageFindings || !m.layout().side.Contains(msg.X, msg.Y) || i >= len(m.doc.report.Findings) {
		return
	}
	m.told, m.doc.shown = "", i
	m.goToShown()
}

// troubled tells why an edit could not be made.
func (m *Model) troubled(err error) {
	if err != nil {
		m.warn(err.Error())
	}
}

// under is the slot under the pointer.
func (m *Model) under(msg tea.MouseMsg) (figure.Spot, bool) {
	l := m.layout()
	spot, ok := figure.At(l.figure, m.view(l), msg.X, msg.Y)
	if !ok {
		return figure.Spot{}, false
	}
	line := m.doc.table.Lines[spot.Line]
	if line.At(spot.Slot) == nil {
		return figure.Spot{}, false
	}
	return figure.Spot{At: line.Place(), Slot: spot.Slot}, true
}

// switchMouse gives the mouse to the terminal, or takes it again.
func (m *Model) switchMouse() tea.Cmd {
	m.noMouse = !m.noMouse
	if m.noMouse {
		m.tell("mouse off: the terminal selects text again; " + m.keyOf("mouse") + " turns it on")
		return tea.DisableMouse
	}
	m.tell("mouse on")
	return tea.EnableMouseCellMotion
}
