package tui

import (
	"fmt"
	"slices"
	"sync"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/progress"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
)

// Lessons is what the editor has for those who learn.
type Lessons struct {
	Exercises []Demo // by ID, each with its title
	Read      func(name string, data []byte) (*lesson.Exercise, error)
	HandIn    func(path string, a *lesson.Attempt) error
	Seal      func(*lesson.Attempt) string
	Progress  progress.Folder
	Limits    map[sheet.LimitName]float64 // a college's own, or nil
	LimitsOf  string                      // the college
}

// practice is an exercise being worked on. It belongs to the document, so that opening another sheet ends it.
type practice struct {
	judge    *lesson.Judge
	x        *lesson.Exercise
	learner  string
	hints    int // unfolded
	marks    []lesson.Marked
	signed   lesson.Signed
	sealed   *sheet.Sheet // what was signed
	shown    *sheet.Sheet // what the rules find is shown for this sheet although the exercise hides it
	last     *lesson.Mark // the mark given last, or nil
	lastOf   *sheet.Sheet // for this
	answered bool         // the worked answer was looked at
	handIn   string       // the file that it was handed in as, where somebody else looks at it; or empty

	sideOf   *sheet.Sheet // what the mark in the side is of
	sideMark lesson.Mark
	sideErr  error

	kept    *sheet.Sheet // as it was kept last
	dirty   bool         // something besides the sheet has to be kept
	number  int          // of the writings that were begun
	disk    sync.Mutex   // over written, and the file
	written int          // the number of the one that was written last
}

// hides reports whether what the rules find on a sheet is not to be seen now.
func (p *practice) hides(s *sheet.Sheet) bool {
	return p != nil && p.x.Findings != lesson.Live && p.shown != s
}

// hiding reports whether findings are hidden now.
func (d *document) hiding() bool { return d.practice.hides(d.sheet()) }

// openExercise opens an exercise for a learner, where it was left.
func (m *Model) openExercise(x *lesson.Exercise, learner string) tea.Cmd {
	p := &practice{judge: &lesson.Judge{Exercise: x, Limits: m.opts.Lessons.Limits, LimitsOf: m.opts.Lessons.LimitsOf}, x: x, learner: learner}
	start := p.judge.Under(x.Start)
	d, err := newDocument(start, "", m.table())
	if err != nil {
		m.push(newTrouble("this can't be opened", err.Error()))
		return nil
	}
	d.practice = p
	told := "A has the brief, hints and the mark"
	switch a, err := m.opts.Lessons.Progress.Take(x, learner); {
	case err != nil:
		told = err.Error()
	case a != nil:
		p.take(d, a)
		if n := len(d.history.Steps()); n > 0 {
			told = fmt.Sprintf("taken up where it was left, after step %d; A, t goes back to any of them", n)
		}
	}
	d.workOut(true)
	d.cursor.At = d.firstPlace()
	m.open(d)
	m.page = pageBrief
	m.tell(told)
	return nil
}

// lookAtHandIn opens what was handed in, to be looked at, marked and signed. Nothing of it is kept among what is practised here.
func (m *Model) lookAtHandIn(x *lesson.Exercise, a *lesson.Attempt, path string) {
	p := &practice{judge: &lesson.Judge{Exercise: x, Limits: m.opts.Lessons.Limits, LimitsOf: m.opts.Lessons.LimitsOf}, x: x, learner: a.Learner, handIn: path}
	d, err := newDocument(p.judge.Under(a.Tried()), "", m.table())
	if err != nil {
		m.push(newTrouble("this can't be opened", err.Error()))
		return
	}
	d.practice, p.hints, p.signed, p.sealed, p.shown = p, min(a.Hints, len(x.Hints)), a.Signed, d.sheet(), d.sheet()
	p.answered = a.Answered
	d.workOut(true)
	m.open(d)
	m.page = pageBrief
	m.tell("handed in as " + path + "; A, m marks it, and nothing of it is changed until s hands it in again")
}

// take takes up what was kept.
func (p *practice) take(d *document, a *lesson.Attempt) {
	for _, step := range a.Steps {
		d.history.Do(step.Did, p.judge.Under(step.Sheet))
	}
	if last := p.judge.Under(a.Tried()); !sameTried(d.sheet(), last) {
		d.history.Do("go on", d.sheet().With(func(c *sheet.Sheet) { c.Tried = last.Tried }))
	}
	p.hints, p.answered, p.marks, p.signed = min(a.Hints, len(p.x.Hints)), a.Answered, a.Marks, a.Signed
	p.kept, p.sealed = d.sheet(), d.sheet()
}

func sameTried(a, b *sheet.Sheet) bool {
	return len(a.Tried.Marked) == len(b.Tried.Marked) && len(a.Tried.Off) == len(b.Tried.Off) && len(a.Tried.Seen) == len(b.Tried.Seen)
}

// attempt is what has been made of the exercise by now.
func (p *practice) attempt(d *document, today time.Time) *lesson.Attempt {
	a := lesson.AttemptOf(p.x, d.sheet())
	a.Learner, a.Date, a.Hints = p.learner, today.Format(time.DateOnly), p.hints
	a.Answered, a.Signed, a.Marks = p.answered, p.signed, p.marks
	for i, did := range d.history.Steps() {
		a.Steps = append(a.Steps, lesson.Step{Did: did, Sheet: d.history.After(i + 1)})
	}
	return a
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
	if p.handIn != "" {
		return nil
	}
	if begun := len(m.doc.history.Steps()) > 0 || p.hints > 0 || p.kept != nil; !begun || !p.dirty && p.kept == s {
		return nil
	}
	p.kept, p.dirty = s, false
	p.number++
	x, a, folder, number := p.x, p.attempt(m.doc, m.opts.Today()), m.opts.Lessons.Progress, p.number
	return func() error {
		p.disk.Lock()
		defer p.disk.Unlock()
		if number < p.written {
			return nil
		}
		p.written = number
		return folder.Keep(x, a)
	}
}

func (m *Model) wasKept(msg keptMsg) {
	if msg.err != nil && !m.unkept {
		m.unkept = true
		m.warn("what you practise can't be kept on this machine: " + msg.err.Error())
	}
}

// askRules shows what the rules find on the sheet as it is, until it changes.
func (m *Model) askRules() {
	p := m.doc.practice
	p.shown = m.doc.sheet()
	m.doc.workOut(false)
	m.page = pageFindings
	m.tell(m.countFound() + "; they are hidden again when something changes")
}

// countFound is how many findings there are, in words.
func (m *Model) countFound() string {
	switch rep := m.doc.report; {
	case len(rep.Findings) == 0:
		return "the rules find nothing"
	case rep.Stops > 0:
		return rule.Counted(rep.Stops, "stop") + " and " + rule.Counted(len(rep.Findings)-rep.Stops, "other finding")
	default:
		return rule.Counted(len(rep.Findings), "finding")
	}
}

// keys are the keys of the exercise, for the bottom line.
func (p *practice) keys() []piece {
	ps := []piece{{figure.Key, "A"}, {figure.Dim, " exercise  "}}
	switch {
	case p.x.Task == lesson.Find:
		ps = append(ps, piece{figure.Key, "J"}, piece{figure.Dim, " name what is wrong  "})
	case p.x.Task == lesson.Fit:
		ps = append(ps, piece{figure.Key, "F"}, piece{figure.Dim, " enter what was made  "})
	case p.x.Findings == lesson.Asked:
		ps = append(ps, piece{figure.Key, "G"}, piece{figure.Dim, " ask the rules  "})
	}
	return ps
}

// offers reports whether a key of the bottom line is of use now.
func (p *practice) offers(m *Model, c command) bool {
	switch {
	case p == nil:
		return true
	case p.x.Task == lesson.Find && (c.group == groupPaint || c.group == groupHand):
		return false
	}
	return c.offReason(m) == ""
}

// showLesson shows the exercise that is being worked on, or the list of them.
func (m *Model) showLesson() tea.Cmd {
	if m.doc.practice == nil {
		return m.listExercises()
	}
	m.showExercise()
	return nil
}

// notPractising keeps the machine from doing an exercise.
func notPractising(m *Model) string {
	if m.doc.practice != nil {
		return "an exercise is for your own hands; w on its page, A, shows an answer"
	}
	return ""
}

// mayAccept keeps findings from being accepted where they are to be mended.
func mayAccept(m *Model) string {
	if p := m.doc.practice; p != nil && !slices.Contains(p.x.May, lesson.Acceptances) {
		return "in this exercise findings are mended, not accepted"
	}
	return needsFinding(m)
}

// The reasons why a key of practising can't be used now.
func needsAsking(m *Model) string {
	switch p := m.doc.practice; {
	case p == nil:
		return "this is for exercises; A lists them"
	case p.x.Findings == lesson.Never:
		return "in this exercise the rules speak with the mark: A, m"
	case p.x.Findings == lesson.Live:
		return "what the rules find is shown all the time here"
	}
	return ""
}
