package tui

import (
	"fmt"
	"slices"

	"example.org/underveil/internal/care"
	"example.org/underveil/internal/printable"
)

// stepsPage is all steps of the job at the chair, each with its caution.
type stepsPage struct{ linesPage }

func newStepsPage(p *chair) *stepsPage {
	page := &stepsPage{linesPage{title: "fitting, step by step", width: visitsWidth, feet: [2]string{anyKeyCloses, scrollsOrCloses}}}
	steps := slices.Concat(care.LayOut, care.Fitting)
	if _, out := p.job.(takingOut); out {
		page.title, steps = "taking out, step by step", care.Removing
	}
	add := func(head bool, lead, others, text string) {
		for _, l := range printable.Wrap(text, visitsWidth, lead, others) {
			page.lines = append(page.lines, pageLine{head: head, text: l})
		}
	}
	for i, step := range steps {
		add(true, fmt.Sprintf("%2d ", i+1), "   ", step.Do)
		if step.Caution != "" {
			add(false, "   ! ", "     ", step.Caution)
		}
	}
	page.lines = append(page.lines, pageLine{})
	add(false, "", "", safety)
	return page
}
