package tui

import (
	"errors"
	"fmt"
	"slices"

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
	judge   *lesson.Judge
	x       *lesson.Exercise
	learner string
	hints   int // unfolded
	marks   []lesson.Marked
	signed  lesson.Signed
	sealed  *sheet.Sheet // what was signed, with so many hints, and with the answer looked at or not

	sealedHints  int
	sealedAnswer bool

	shown    *sheet.Sheet // what the rules find is shown for this sheet although the exercise hides it
	last     *lesson.Mark // the mark given last, or nil
	lastOf   *sheet.Sheet // for this
	answered bool         // the worked answer was looked at
	handIn   string       // the file that it was handed in as, where somebody else looks at it; or empty
	date     string       // of the attempt, where that is not today: when it was handed in, or signed
	broken   bool         // what was kept cannot be read, or is open in another window, and is not written over
	failed   bool         // what was made could not be kept when it was tried last
	safe     *sheet.Sheet // as it was opened, or handed in last

	sideOf   *sheet.Sheet // what the mark in the side is of
	sideMark lesson.Mark
	sideErr  error

	kept    *sheet.Sheet // as it was kept last
	dirty   bool         // something besides the sheet has to be kept
	number  int          // of the writings that were begun
	written int          // the number of the one that was written last; under the lock of the model
}

// hides reports whether what the rules find on a sheet is not to be seen now.
func (p *practice) hides(s *sheet.Sheet) bool {
	return p != nil && p.x.Findings != lesson.Live && p.shown != s
}

// hiding reports whether findings are hidden now.
func (d *document) hiding() bool { return d.practice.hides(d.sheet()) }

// newPractice is an exercise before anything was done, marked by the limits of the college.
func (m *Model) newPractice(x *lesson.Exercise, learner string) *practice {
	return &practice{judge: &lesson.Judge{Exercise: x, Limits: m.opts.Lessons.Limits, LimitsOf: m.opts.Lessons.LimitsOf}, x: x, learner: learner}
}

// openExercise opens an exercise for a learner, where it was left.
func (m *Model) openExercise(x *lesson.Exercise, learner string) tea.Cmd {
	p := m.newPractice(x, learner)
	start := p.judge.Under(x.Start)
	d, err := newDocument(start, "", m.table())
	if err != nil {
		m.push(newTrouble("this can't be opened", err.Error()))
		return nil
	}
	d.practice = p
	m.finishKeeping()
	told := "A has the brief, hints and the mark"
	d.held = m.opts.Files.hold(m.opts.Lessons.Progress.File(learner, x))
	a, err := m.opts.Lessons.Progress.Take(x, learner)
	if a != nil {
		p.take(d, a)
	}
	p.broken = errors.Is(err, progress.ErrKept) || d.held.elsewhere()
	switch n := len(d.history.Steps()); {
	case err != nil:
		told = err.Error()
	case d.held.elsewhere():
		told = "this exercise is open in another window, so what is done here is not kept; it can be handed in"
	case n > 0:
		told = fmt.Sprintf("taken up where it was left, after step %d; %s, t goes back to any of them", n, m.keyOf("exercise"))
	}
	p.safe = d.sheet()
	d.workOut(true)
	d.cursor.At = d.firstPlace()
	m.open(d)
	m.page = pageBrief
	m.tell(told)
	return nil
}

// lookAtHandIn opens what was handed in, to be looked at, marked and signed. Nothing of it is kept among what is practised here.
func (m *Model) lookAtHandIn(x *lesson.Exercise, a *lesson.Attempt, path string) {
	p := m.newPractice(x, a.Learner)
	p.handIn = path
	d, err := newDocument(p.judge.Under(a.Tried()), "", m.table())
	if err != nil {
		m.push(newTrouble("this can't be opened", err.Error()))
		return
	}
	d.practice, p.hints, p.signed, p.sealed, p.shown = p, min(a.Hints, len(x.Hints)), a.Signed, d.sheet(), d.sheet()
	p.answered, p.date = a.Answered, a.Date
	p.sealedHints, p.sealedAnswer = p.hints, p.answered
	m.finishKeeping()
	d.workOut(true)
	m.open(d)
	m.page = pageBrief
	m.tell("handed in as " + path + "; " + m.keyOf("exercise") + ", m marks it, and nothing of it is changed until s hands it in again")
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
func (p *practice) keys(m *Model) []piece {
	ps := []piece{{figure.Key, m.keyOf("exercise")}, {figure.Dim, " exercise  "}}
	switch {
	case p.x.Task == lesson.Find:
		ps = append(ps, piece{figure.Key, m.keyOf("name-fault")}, piece{figure.Dim, " name what is wrong  "})
	case p.x.Task == lesson.Fit:
		ps = append(ps, piece{figure.Key, m.keyOf("fit")}, piece{figure.Dim, " enter what was made  "})
	case p.x.Findings == lesson.Asked:
		ps = append(ps, piece{figure.Key, m.keyOf("ask-rules")}, piece{figure.Dim, " ask the rules  "})
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
		return "an exercise is for your own hands; w on its page, " + m.keyOf("exercise") + ", shows an answer"
	}
	return ""
}

// seesFigures keeps what the rules measure out of sight where their findings are.
func seesFigures(m *Model) string {
	if m.doc.hiding() {
		return needsFinding(m)
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
		return "this is for exercises; " + m.keyOf("exercise") + " lists them"
	case p.x.Findings == lesson.Never:
		return "here what the rules find comes with the mark: " + m.keyOf("exercise") + ", m"
	case p.x.Findings == lesson.Live:
		return "what the rules find is shown all the time here"
	}
	return ""
}
