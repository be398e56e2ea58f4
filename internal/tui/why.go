package tui

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/unit"
	"example.org/underveil/internal/why"
)

// workings shows how figures came about, in as many lines as it takes.
type workings struct {
	title    string
	sections []why.Section
	reading  rule.Reading // whose section is shown first
	opened   bool
	top      int
	rows     int // that were shown last
	lines    int // that there are
}

// whyHere opens the workings of the slot at the cursor.
func (m *Model) whyHere() {
	d := m.doc
	sections, err := why.Slot(d.sheet(), d.table, d.report, d.cursor.At, d.cursor.Slot)
	if err != nil {
		m.warn(err.Error())
		return
	}
	m.push(&workings{title: "why: " + d.cursor.At.String() + ", " + rule.SlotName(d.cursor.At, d.cursor.Slot), sections: sections, reading: m.reading})
}

// whyFinding opens the workings of a finding.
func (m *Model) whyFinding(f rule.Finding) {
	m.push(&workings{title: "why: " + f.Rule + ", " + f.Where(), sections: why.Finding(m.doc.sheet(), m.doc.table, f)})
}

func (w *workings) key(m *Model, msg tea.KeyMsg) tea.Cmd {
	if !scrolls(msg, &w.top, w.rows, w.lines) {
		m.pop()
	}
	return nil
}

func (w *workings) draw(m *Model) {
	in, width := m.boxBeside(min(100, m.scr.W), w.title, func(width int) int { return len(w.page(m, width)) + 4 })
	lines := w.page(m, width)
	w.rows, w.lines = in.H-2, len(lines)
	if !w.opened {
		w.top, w.opened = w.begins(m, width), true
	}
	w.top = max(0, min(w.top, len(lines)-w.rows))
	for i := 0; i < w.rows && w.top+i < len(lines); i++ {
		l := lines[w.top+i]
		m.scr.Text(in.X, in.Y+i, in.W, l.ink, l.text)
	}
	foot := "any key closes"
	if w.rows < len(lines) {
		foot = "up, down, space scroll; any other key closes"
	}
	m.scr.Text(in.X, in.Y+in.H-1, in.W, figure.Dim, foot)
}

// begins is the line with which the section of the reading begins; 0 where it has none.
func (w *workings) begins(m *Model, width int) int {
	for i, sec := range w.sections {
		if sec.Reading.Kind != rule.ByZone && sec.Reading.Kind == w.reading.Kind && sec.Reading.Way == w.reading.Way {
			before := workings{sections: w.sections[:i]}
			return len(before.wrapped(m, width)) + 1 // and the blank line between
		}
	}
	return 0
}

// wrapped is the sections in lines of a width, what goes on from a line above indented. Sums stay in mm, which they come out in.
func (w *workings) wrapped(m *Model, width int) []piece {
	var lines []piece
	for i, sec := range w.sections {
		if i > 0 {
			lines = append(lines, piece{figure.Plain, ""})
		}
		lines = append(lines, piece{figure.Title, sec.Title})
		for _, text := range sec.Lines {
			for k, part := range m.wrapIn(text, width-4) {
				indent := "  "
				if k > 0 {
					indent = "    "
				}
				lines = append(lines, piece{figure.Plain, indent + part})
			}
		}
	}
	return lines
}

// page is all that is shown, in lines of a width.
func (w *workings) page(m *Model, width int) []piece {
	lines := w.wrapped(m, width)
	if m.opts.Units != unit.MM {
		lines = append(lines, piece{figure.Plain, ""}, piece{figure.Dim, why.InMM})
	}
	return lines
}
