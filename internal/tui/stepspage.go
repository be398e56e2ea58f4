package tui

import (
	"fmt"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/care"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/printable"
)

// stepsPage is all steps of the job at the chair, each with its caution.
type stepsPage struct {
	title     string
	lines     []visitLine
	top, rows int
}

func newStepsPage(p *chair) *stepsPage {
	page, steps := &stepsPage{title: "fitting, step by step"}, slices.Concat(care.LayOut, care.Fitting)
	if _, out := p.job.(takingOut); out {
		page.title, steps = "taking out, step by step", care.Removing
	}
	add := func(head bool, lead, others, text string) {
		for _, l := range printable.Wrap(text, visitsWidth, lead, others) {
			page.lines = append(page.lines, visitLine{head, l})
		}
	}
	for i, step := range steps {
		add(true, fmt.Sprintf("%2d ", i+1), "   ", step.Do)
		if step.Caution != "" {
			add(false, "   ! ", "     ", step.Caution)
		}
	}
	page.lines = append(page.lines, visitLine{})
	add(false, "", "", safety)
	return page
}

func (p *stepsPage) key(m *Model, msg tea.KeyMsg) tea.Cmd {
	if !scrolls(msg, &p.top, p.rows, len(p.lines)) {
		m.pop()
	}
	return nil
}

func (p *stepsPage) draw(m *Model) {
	in := m.box(visitsWidth+4, len(p.lines)+4, p.title)
	p.rows = in.H - 2
	p.top = max(0, min(p.top, len(p.lines)-p.rows))
	m.drawLines(in, p.lines, p.top, p.rows)
	foot := "any key closes"
	if p.rows < len(p.lines) {
		foot = "up, down scroll; any other key closes"
	}
	m.scr.Text(in.X, in.Y+in.H-1, in.W, figure.Dim, foot)
}
