package sheet

// History is a sheet with all that led to it: undo and redo, one step a gesture.
type History struct {
	steps []step // steps[0] is how the sheet was opened
	at    int
}

type step struct {
	sheet *Sheet
	label string // what was done to arrive here
}

// maxSteps bounds the undo list. Steps share what they have in common, so that a
// thousand take about a megabyte; this many is more than a day's work.
const maxSteps = 10000

// NewHistory begins with a sheet as it was opened.
func NewHistory(s *Sheet) *History { return &History{steps: []step{{sheet: s}}} }

// Sheet is the sheet as it now is.
func (h *History) Sheet() *Sheet { return h.steps[h.at].sheet }

// Do makes a step. What had been undone is gone. A sheet that is the very same
// makes no step.
func (h *History) Do(label string, s *Sheet) {
	if s == h.Sheet() {
		return
	}
	h.steps = append(h.steps[:h.at+1], step{s, label})
	h.at++
	if len(h.steps) > maxSteps {
		h.steps = append([]step(nil), h.steps[1:]...)
		h.at--
	}
}

// Amend replaces the result of the last step, for a gesture that goes on: a drag
// is one step however far it goes. Before the first step it makes one.
func (h *History) Amend(label string, s *Sheet) {
	if h.at == 0 {
		h.Do(label, s)
		return
	}
	h.steps = h.steps[:h.at+1]
	h.steps[h.at] = step{s, label}
}

// Undo takes the last step back and says what it was; ok is false when there is none.
func (h *History) Undo() (label string, ok bool) {
	if h.at == 0 {
		return "", false
	}
	label = h.steps[h.at].label
	h.at--
	return label, true
}

// Redo makes the step again that was taken back last.
func (h *History) Redo() (label string, ok bool) {
	if h.at+1 == len(h.steps) {
		return "", false
	}
	h.at++
	return h.steps[h.at].label, true
}

// CanUndo names the step that Undo would take back, or is empty.
func (h *History) CanUndo() string {
	if h.at == 0 {
		return ""
	}
	return h.steps[h.at].label
}

// CanRedo names the step that Redo would make again, or is empty.
func (h *History) CanRedo() string {
	if h.at+1 == len(h.steps) {
		return ""
	}
	return h.steps[h.at+1].label
}

// Steps are what was done to arrive at the sheet as it now is, one after another.
func (h *History) Steps() []string {
	labels := make([]string, h.at)
	for i := range labels {
		labels[i] = h.steps[i+1].label
	}
	return labels
}

// After is the sheet after the n-th of the steps; 0 is how it was opened.
func (h *History) After(n int) *Sheet { return h.steps[n].sheet }

// BackTo takes back all steps after the n-th. Redo makes them again.
func (h *History) BackTo(n int) { h.at = min(max(n, 0), h.at) }
