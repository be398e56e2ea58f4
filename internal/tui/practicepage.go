package tui

import (
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/printable"
)

// exercisePage is all there is to say about the exercise: the brief, what counts, the hints unfolded so far. Its keys unfold the next,
// mark the work, go back to an earlier step, show an answer and hand in.
type exercisePage struct{ linesPage }

func (m *Model) showExercise() {
	m.push(newExercisePage(m))
}

func newExercisePage(m *Model) *exercisePage {
	p := m.doc.practice
	keys := "m mark  h hint  t try again  w answer  s hand in  o others  Esc goes on"
	if p.x.Task == lesson.Fit {
		keys = "m mark  h hint  t try again  w plan  g sign  s hand in  Esc goes on"
	}
	page := &exercisePage{linesPage{title: p.x.Title, width: visitsWidth, feet: [2]string{keys, strings.Replace(keys, "  Esc goes on", "  up down  Esc", 1)}}}
	if by := p.signed.Assessor; by != "" {
		page.text("signed by " + by + " on " + p.signed.On)
		page.lines = append(page.lines, pageLine{})
	}
	page.text(m.inUnit(p.x.Brief))
	if p.x.Who != "" {
		page.head("the client")
		page.text(m.inUnit(p.x.Who))
	}
	page.head("what counts")
	for _, line := range p.x.Counts() {
		page.item(m.inUnit(line))
	}
	page.head("what may be touched")
	page.text(p.x.MayWords())
	page.head(fmt.Sprintf("hints, %d of %d", p.hints, len(p.x.Hints)))
	for i := range p.hints {
		text, err := p.judge.HintText(i, m.doc.sheet())
		if err != nil { // exercise check finds it first
			text = p.x.Hints[i].Text
		}
		page.item(m.inUnit(text))
	}
	if p.answered || passed(p) {
		page.head("to take along")
		page.text(m.inUnit(p.x.Ending))
	}
	if n := len(p.marks); n > 0 {
		page.head("marked so far")
		for _, mark := range p.marks[max(0, n-5):] {
			page.item(mark.On + "  " + mark.String())
		}
	}
	return page
}

func passed(p *practice) bool {
	return slices.ContainsFunc(p.marks, func(m lesson.Marked) bool { return m.Passed })
}

func (p *exercisePage) head(text string) {
	p.lines = append(p.lines, pageLine{}, pageLine{head: true, text: text})
}

func (p *exercisePage) text(text string) { p.add(text, "", "") }
func (p *exercisePage) item(text string) { p.add(text, " ", "   ") }

func (p *exercisePage) add(text, lead, others string) {
	for _, part := range strings.Split(text, "\n") {
		for _, l := range printable.Wrap(part, p.width, lead, others) {
			p.lines = append(p.lines, pageLine{text: l})
		}
	}
}

func (p *exercisePage) key(m *Model, msg tea.KeyMsg) tea.Cmd {
	k := msg.String()
	if lessonKey(m, k) {
		return nil
	}
	switch k {
	case "s", "ctrl+s":
		m.pop()
		m.handIn()
	case "o":
		m.pop()
		return m.listExercises()
	default:
		p.scrollOrLeave(m, msg)
	}
	return nil
}

// scrollOrLeave is for pages with keys of their own, where one mistyped should do nothing.
func (p *linesPage) scrollOrLeave(m *Model, msg tea.KeyMsg) {
	if k := msg.String(); !scrolls(msg, &p.top, p.rows, len(p.lines)) && (k == "esc" || k == "q" || k == "A" || k == "ctrl+c") {
		m.pop()
	}
}

// lessonKey obeys the keys that the page of the exercise and that of the mark share, and reports whether this was one.
func lessonKey(m *Model, k string) bool {
	p := m.doc.practice
	switch {
	case k == "m" || k == "enter":
		m.pop()
		m.markNow()
	case k == "h":
		m.pop()
		if p.hints == len(p.x.Hints) {
			m.tell("there is no other hint; w shows an answer")
		} else {
			p.hints++
			p.dirty = true
		}
		page := newExercisePage(m)
		page.showHints()
		m.push(page)
	case k == "t":
		m.pop()
		m.push(newTryAgain(m))
	case k == "w":
		m.pop()
		m.askForAnswer()
	case k == "g" && p.x.Task == lesson.Fit:
		m.pop()
		m.push(newSignForm(m))
	default:
		return false
	}
	return true
}

// showHints scrolls the page so that the hints are seen.
func (p *exercisePage) showHints() {
	for i, l := range p.lines {
		if l.head && strings.HasPrefix(l.text, "hints, ") {
			p.top = i
		}
	}
}

// tryAgain goes back to an earlier step of the work.
type tryAgain struct{ list }

func newTryAgain(m *Model) *tryAgain {
	t := &tryAgain{}
	h := m.doc.history
	steps := h.Steps()
	for n := len(steps); n >= 0; n-- {
		name := "from the start"
		if n > 0 {
			name = fmt.Sprintf("after step %d", n)
		}
		about := ""
		if n > 0 {
			about = steps[n-1]
		}
		t.items = append(t.items, item{name: name, about: about, do: func(m *Model) tea.Cmd {
			m.pop()
			m.tell(m.doc.backTo(n))
			return nil
		}})
	}
	t.first()
	return t
}

func (t *tryAgain) key(m *Model, msg tea.KeyMsg) tea.Cmd {
	switch msg.String() {
	case "up":
		t.step(-1)
	case "down":
		t.step(1)
	case "home":
		t.first()
	case "end", "0":
		t.at = len(t.items) - 1
	case "enter", " ":
		return t.items[t.at].do(m)
	case "esc", "q", "ctrl+c":
		m.pop()
	}
	return nil
}

func (t *tryAgain) draw(m *Model) {
	in, _ := m.boxBeside(60, "try again", func(int) int { return len(t.items) + 4 })
	t.drawIn(m, cells.Rect{X: in.X, Y: in.Y, W: in.W, H: in.H - 2})
	m.scr.Text(in.X, in.Y+in.H-1, in.W, figure.Dim, "Enter goes back there, U makes steps again; Esc")
}

// backTo goes back to the sheet after the n-th step.
func (d *document) backTo(n int) string {
	if n == len(d.history.Steps()) {
		return "this is where you are"
	}
	where := "at the start"
	if n > 0 {
		where = fmt.Sprintf("after step %d", n)
	}
	return d.travel(func() (string, bool) {
		d.history.BackTo(n)
		return where, true
	}, "back %s; "+d.keys.of("redo")+" makes the later steps again", "")
}
