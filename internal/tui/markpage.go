package tui

import (
	"fmt"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
)

// markPage is a mark with its reasons: what was met, what was not and why, and what to try next.
type markPage struct {
	linesPage
	mark lesson.Mark
}

// markNow marks the work as it is, and shows what the rules find until something changes.
func (m *Model) markNow() {
	p := m.doc.practice
	if p.last != nil && p.lastOf == m.doc.sheet() { // the same work has the same mark
		m.push(newMarkPage(m, *p.last))
		return
	}
	mark, err := p.judge.Mark(lesson.AttemptOf(p.x, m.doc.sheet()))
	if err != nil {
		m.warn(err.Error())
		return
	}
	p.addMark(lesson.Marked{On: m.opts.Today().Format(time.DateOnly), Met: mark.Met, Of: mark.Of, Passed: mark.Passed, Hints: p.hints, Answered: p.answered})
	p.dirty, p.last, p.lastOf = true, &mark, m.doc.sheet()
	if p.x.Task != lesson.Find || mark.Passed { // what is missed is still to be found
		p.shown = m.doc.sheet()
	}
	m.doc.workOut(false)
	m.push(newMarkPage(m, mark))
}

func newMarkPage(m *Model, mark lesson.Mark) *markPage {
	p := m.doc.practice
	foot := "Esc goes on  t try again  h hint  w answer  s hand in  o others"
	page := &markPage{linesPage{title: p.x.Title, width: visitsWidth, feet: [2]string{foot, strings.Replace(foot, "Esc goes on", "up down  Esc", 1)}}, mark}
	g := m.opts.Glyphs
	page.lines = append(page.lines, pageLine{ink: verdictInk(mark), text: m.inUnit(mark.Summary())}, pageLine{})
	for _, point := range p.told(mark.Points) {
		glyph, ink := g.Good, figure.GoodInk
		if !point.Met || point.Off {
			glyph, ink = g.Stop, figure.StopInk
		}
		for i, l := range printable.Wrap(m.inUnit(point.What), page.width-2, "", "") {
			line := pageLine{text: "  " + l}
			if i == 0 {
				line = pageLine{text: string(glyph) + " " + l, mark: ink}
			}
			page.lines = append(page.lines, line)
		}
		if point.Why != "clear" && point.Why != "found" && point.Why != "" {
			for _, l := range printable.Wrap(m.inUnit(point.Why), page.width-4, "", "") {
				page.lines = append(page.lines, pageLine{ink: figure.Dim, text: "    " + l})
			}
		}
	}
	if p.x.Task == lesson.Fit {
		s := m.doc.sheet()
		page.lines = append(page.lines, pageLine{}, pageLine{head: true, text: "compared with the plan"})
		for _, l := range lesson.Compare(p.x.Answer, s, s.Tried.Off, m.doc.table).Text(p.x.Tolerance, 8) {
			for _, part := range printable.Wrap(m.inUnit(l), page.width, "", "    ") {
				page.lines = append(page.lines, pageLine{text: part})
			}
		}
	}
	if mark.Next != "" {
		page.para("what to try next", m.inUnit(mark.Next))
	}
	if mark.Passed && p.x.Ending != "" {
		page.para("to take along", m.inUnit(p.x.Ending))
	}
	return page
}

// told are the points of a mark that are to be seen. Faults that are still to be found are counted and not told, until the exercise was
// passed or its answer looked at.
func (p *practice) told(points []lesson.Point) []lesson.Point {
	if p.x.Task != lesson.Find || passed(p) || p.answered {
		return points
	}
	var told []lesson.Point
	left := 0
	for _, point := range points {
		if point.Met || point.Off {
			told = append(told, point)
		} else {
			left++
		}
	}
	if left > 0 {
		told = append(told, lesson.Point{What: printable.Count(left, "fault") + " still to be found, or named by another rule"})
	}
	return told
}

// para is a heading and a text under it.
func (p *linesPage) para(head, text string) {
	p.lines = append(p.lines, pageLine{}, pageLine{head: true, text: head})
	for _, l := range printable.Wrap(text, p.width, "", "") {
		p.lines = append(p.lines, pageLine{text: l})
	}
}

// verdictInk is the ink of a mark.
func verdictInk(mark lesson.Mark) cells.Ink {
	if mark.Passed {
		return figure.GoodInk
	}
	return figure.CautionInk
}

func (p *markPage) key(m *Model, msg tea.KeyMsg) tea.Cmd {
	switch k := msg.String(); k {
	case "m", "enter":
		m.pop()
	case "s", "ctrl+s":
		m.pop()
		m.handIn()
	case "o":
		m.pop()
		return m.listExercises()
	default:
		if !lessonKey(m, k) {
			p.scrollOrLeave(m, msg)
		}
	}
	return nil
}

// askForAnswer shows the worked answer beside the work; before the exercise was passed it asks.
func (m *Model) askForAnswer() {
	p := m.doc.practice
	if p.answered || passed(p) || p.x.Task == lesson.Fit { // the plan is what is worked from
		m.showAnswer()
		return
	}
	m.push(&question{"look at an answer", "You have not passed this one yet, and it is kept that you looked. " + hintsLeft(p), []answer{
		{"w", "show the answer", func(m *Model) tea.Cmd { m.showAnswer(); return nil }},
	}})
}

func hintsLeft(p *practice) string {
	if left := len(p.x.Hints) - p.hints; left > 0 {
		return "There is more to go by: " + printable.Count(left, "hint") + "."
	}
	return "All hints are unfolded."
}

// showAnswer lays the worked answer beside the map, and says what to take along.
func (m *Model) showAnswer() {
	p := m.doc.practice
	if p.x.Task != lesson.Fit && !p.answered {
		p.answered, p.dirty = true, true
	}
	answer := p.judge.Under(p.x.Answer).With(func(c *sheet.Sheet) { c.Title = "an answer" })
	d, err := newDocument(answer, "", m.doc.table)
	if err != nil {
		m.warn(err.Error())
		return
	}
	m.layBeside(d)
	page := &linesPage{title: "an answer", width: visitsWidth, feet: [2]string{anyKeyCloses, scrollsOrCloses}}
	page.lines = append(page.lines, pageLine{text: "It lies beside your own map; " + m.keyOf("beside") + " puts it away."})
	for _, c := range p.x.Faults {
		page.lines = append(page.lines, pageLine{text: fmt.Sprintf("%c %s, %s", m.opts.Glyphs.Stop, c.Rule, rule.Where(c))})
	}
	page.para("to take along", m.inUnit(p.x.Ending))
	m.push(page)
}
