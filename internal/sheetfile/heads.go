package sheetfile

import (
	"maps"

	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// Heads reads many sheets of one head, as a class hands them in, in a fraction of the time: fitting a head to its tapes takes the
// most, and is done again only where the next sheet has others. What is read, and what is refused, is the same. The zero value is
// ready; it is for one goroutine. A nil one remembers nothing.
type Heads struct {
	tapes  scalp.Measures
	fitted *scalp.Head

	lined *sheet.Sheet // the sheet that lines is of
	lines *slots.Table

	turns []*sheet.Sheet // whose turns lie on the head
}

// LoadAttempt reads the attempt in a file, as the function of that name does.
func (h *Heads) LoadAttempt(path string) (*lesson.Attempt, []Notice, error) {
	data, bad := read(&attemptFile, path)
	if bad != nil {
		return nil, nil, Errors{bad}
	}
	return h.decodeAttempt(path, data)
}

// fit is the head of some tapes.
func (h *Heads) fit(m scalp.Measures) (*scalp.Head, error) {
	if h == nil {
		return scalp.Fit(m)
	}
	if h.fitted != nil && h.tapes == m {
		return h.fitted, nil
	}
	head, err := scalp.Fit(m)
	if err == nil {
		h.tapes, h.fitted = m, head
	}
	return head, err
}

// outline is the lines of the map of a sheet without partings, patches and turns.
func (h *Heads) outline(s *sheet.Sheet) (*slots.Table, error) {
	if h == nil {
		return slots.Outline(s)
	}
	if h.lined != nil && sameLines(h.lined, s) {
		return h.lines, nil
	}
	t, err := slots.Outline(s)
	if err == nil {
		h.lined, h.lines = s, t
	}
	return t, err
}

// turned says what is wrong with where the hair turns on a sheet with nothing but a head and turns.
func (h *Heads) turned(s *sheet.Sheet) error {
	if h == nil {
		_, err := slots.Outline(s)
		return err
	}
	for _, have := range h.turns {
		if sameLines(have, s) && maps.Equal(have.Turns, s.Turns) {
			return nil
		}
	}
	_, err := slots.Outline(s)
	if err == nil {
		h.turns = append(h.turns[max(0, len(h.turns)+1-len(sheet.Turns)):], s) // as many as one head has
	}
	return err
}

// sameLines reports whether two sheets have the same map. Limits, one of which moves a zone, have no say in its lines.
func sameLines(a, b *sheet.Sheet) bool {
	return a.Measures == b.Measures && maps.Equal(a.Moved, b.Moved) && a.HoleSpacing == b.HoleSpacing && a.Aside == b.Aside && a.LineGap == b.LineGap
}
