package tui

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/sheet"
)

// take takes up what was kept: the steps with all that was done in them, hints, marks and the signature. Where the work itself could not be
// taken up there is no sheet, and only the rest.
func (p *practice) take(d *document, a *lesson.Attempt) {
	p.hints, p.answered, p.marks, p.signed = min(a.Hints, len(p.x.Hints)), a.Answered, a.Marks, a.Signed
	if a.Sheet == nil {
		p.dirty = true
		return
	}
	for _, step := range a.Steps {
		d.history.Do(step.Did, p.judge.Under(step.Sheet))
	}
	if last := a.Tried().Tried; !d.sheet().Tried.Same(last) { // a file of another version
		d.history.Do("go on", d.sheet().With(func(c *sheet.Sheet) { c.Tried = last }))
	}
	if p.signed.Assessor != "" {
		p.date = a.Date
	}
	p.kept, p.sealed, p.sealedHints, p.sealedAnswer = d.sheet(), d.sheet(), p.hints, p.answered
}

// attempt is what has been made of the exercise by now.
func (p *practice) attempt(d *document, today time.Time) *lesson.Attempt {
	a := lesson.AttemptOf(p.x, d.sheet())
	a.Learner, a.Date, a.Hints = p.learner, p.date, p.hints
	if a.Date == "" {
		a.Date = today.Format(time.DateOnly)
	}
	a.Answered, a.Signed, a.Marks = p.answered, p.signed, p.marks
	for i, did := range d.history.Steps() {
		a.Steps = append(a.Steps, lesson.Step{Did: did, Sheet: d.history.After(i + 1)})
	}
	return a
}

// mostMarks is how many marks are kept of an exercise: the best, and of the others the latest.
const mostMarks = 100

// addMark adds a mark that was given.
func (p *practice) addMark(mark lesson.Marked) {
	p.marks = append(p.marks, mark)
	if len(p.marks) <= mostMarks {
		return
	}
	best := 0
	for i, m := range p.marks {
		if m.Share() >= p.marks[best].Share() {
			best = i
		}
	}
	worst := 0
	if best == 0 {
		worst = 1
	}
	p.marks = append(p.marks[:worst:worst], p.marks[worst+1:]...)
}

// keptMsg comes when the progress of a learner has been written.
type keptMsg struct {
	of  *practice
	err error
}

// keepProgress writes what the learner has made, as a command, where that has changed.
func (m *Model) keepProgress() tea.Cmd {
	if m.doc == nil || m.doc.practice == nil {
		return nil
	}
	p := m.doc.practice
	m.unsign()
	if write := p.writing(m); write != nil {
		return func() tea.Msg { return keptMsg{p, write()} }
	}
	return nil
}

// writing is how to write what has changed since it was written last; nil where nothing has. Of several that run at one time the
// latest stays.
func (p *practice) writing(m *Model) func() error {
	s := m.doc.sheet()
	begun := len(m.doc.history.Steps()) > 0 || p.hints > 0 || p.kept != nil || p.dirty
	if p.handIn != "" || p.broken || !begun || !p.dirty && p.kept == s {
		return nil
	}
	p.kept, p.dirty = s, false
	p.number++
	x, a, folder, number := p.x, p.attempt(m.doc, m.opts.Today()), m.opts.Lessons.Progress, p.number
	return func() error {
		m.keeping.Lock()
		defer m.keeping.Unlock()
		if number < p.written {
			return nil
		}
		p.written = number
		return folder.Keep(x, a)
	}
}

// wasKept tells when it could not be. The next change tries again, and so does leaving; at once would be again and again.
func (m *Model) wasKept(msg keptMsg) {
	msg.of.failed = msg.err != nil
	if msg.err == nil {
		m.unkept = false
		return
	}
	if !m.unkept {
		m.unkept = true
		m.warn("what you practise can't be kept on this machine: " + msg.err.Error())
	}
}

// finishKeeping writes what of the exercise that is open is not written yet, after what is being written: before the exercise
// is left, or opened again. That it can't be written was told when it was tried before.
func (m *Model) finishKeeping() {
	if m.doc == nil || m.doc.practice == nil {
		return
	}
	p := m.doc.practice
	m.keeping.Lock()
	behind := p.written < p.number // a command has not come to it
	m.keeping.Unlock()
	p.dirty = p.dirty || behind || p.failed
	if write := p.writing(m); write != nil {
		p.failed = write() != nil
	}
}

// lost reports whether leaving would lose what was made since it was opened or handed in.
func (p *practice) lost(s *sheet.Sheet) bool {
	return p != nil && p.handIn == "" && (p.broken || p.failed) && s != p.safe
}

// askAboutLost asks before what can't be kept on this machine is left.
func (m *Model) askAboutLost(leave func(*Model) tea.Cmd) {
	m.push(&question{"not kept", "What you have done here can't be kept on this machine.", []answer{
		{"h", "hand it in as a file first", func(m *Model) tea.Cmd { m.handIn(); return nil }},
		{"l", "leave it all the same", func(m *Model) tea.Cmd { return m.unlessRecording(leave) }},
	}})
}
