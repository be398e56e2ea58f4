package tui

import (
	"fmt"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/retention"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/visit"
)

// goFit goes on with the visit that is open, or begins one: a fitting, or with strands in the head a refit or removal.
func (m *Model) goFit() tea.Cmd {
	if needsTraining(m) {
		m.enterAttempt()
		return nil
	}
	s := m.doc.sheet()
	if n, open := visit.Open(s); open {
		if v := s.Visits[n]; v.Kind == sheet.Refit && len(visit.Unseen(s, n)) == 0 && visit.Resolved(s, n) && len(v.Ticks)+len(v.Fitted) == 0 && !m.doc.inAgain {
			m.push(newRefitForm(m, n))
			return nil
		}
		return m.openChair()
	}
	if len(visit.Now(s)) > 0 {
		m.push(newVisitForm(m, sheet.Refit, sheet.Removal))
		return nil
	}
	if s.Bonds() == 0 {
		m.tell("no bond is placed yet: there is nothing to fit")
		return nil
	}
	m.push(newVisitForm(m, sheet.Fitting))
	return nil
}

// goInspect goes on with the visit that is open, or begins an inspection.
func (m *Model) goInspect() tea.Cmd {
	s := m.doc.sheet()
	if _, open := visit.Open(s); open {
		return m.openChair()
	}
	if len(visit.Now(s)) == 0 {
		m.tell("nothing is in the head: F fits what is planned")
		return nil
	}
	m.push(newVisitForm(m, sheet.Inspection))
	return nil
}

// The names of the fields of a visit.
const (
	fKind = "visit"
	fDay  = "day"
	fBy   = "by"
)

// newVisitForm begins a visit of one of some kinds.
func newVisitForm(m *Model, kinds ...sheet.VisitKind) *form {
	s := m.doc.sheet()
	names := make([]string, len(kinds))
	for i, k := range kinds {
		names[i] = string(k)
	}
	by := ""
	if last := s.LastVisit(); last != nil {
		by = last.By
	}
	fm := &form{title: "begin a visit", note: beforeVisit(m, kinds[0]), fields: []*field{
		textField(fDay, m.opts.Today().Format(time.DateOnly), "the day, like 2026-03-02"),
		textField(fBy, by, "who does it, in initials; may be empty"),
	}}
	if len(kinds) > 1 {
		fm.fields = append([]*field{choiceField(fKind, names, names[0], "a refit takes all out and fits again; a removal takes all out")}, fm.fields...)
	} else {
		fm.title = "begin " + visit.A(kinds[0])
	}
	fm.take = func(m *Model, fm *form) (tea.Cmd, error) {
		kind := kinds[0]
		if len(kinds) > 1 {
			kind = kinds[fm.find(fKind).chosen]
		}
		day := fm.find(fDay).text()
		if _, err := visit.Day(day); err != nil {
			return nil, &fieldError{fDay, "a day like 2026-03-02"}
		}
		next, err := visit.Begin(m.doc.sheet(), kind, day, fm.find(fBy).text())
		if err != nil {
			return nil, err
		}
		if err := m.doc.do("begin "+visit.A(kind), next); err != nil {
			return nil, err
		}
		return m.openChair(), nil
	}
	return fm
}

// beforeVisit is what to see to before a visit of a kind.
func beforeVisit(m *Model, kind sheet.VisitKind) string {
	note := safety
	if rep := m.doc.report; kind == sheet.Fitting && rep.Stops > 0 {
		note = rule.Counted(rep.Stops, "stop") + " not accepted: look at them before any heat. " + note
	}
	return note
}

// whatNext is what comes after a visit, in one line.
func (m *Model) whatNext() string {
	s := m.doc.sheet()
	last := s.LastVisit()
	if last == nil {
		return ""
	}
	next := ""
	switch due, in := visit.NextDue(s); {
	case !in:
		next = "nothing is in any more"
	case last.Kind.Fits():
		next = m.keyOf("inspect") + " goes round to look at every bond; due back from " + due.From.Format(time.DateOnly)
	default:
		next = "due back from " + due.From.Format(time.DateOnly) + " to " + due.By.Format(time.DateOnly)
	}
	if left := len(visit.LeftToMend(s, len(s.Visits)-1)); left > 0 {
		next = bondsOf(left) + " left to mend, " + m.keyOf("visits") + " lists them; " + next
	}
	return fmt.Sprintf("%s finished; %s", last.Kind, next)
}

// visitsPage shows the visits of the sheet, where the client stands, what strands there are, and how many bonds were kept.
type visitsPage struct{ linesPage }

// visitsWidth is how wide the text of the page is, in columns.
const visitsWidth = 74

// showVisits opens the page.
func (m *Model) showVisits() {
	m.push(&visitsPage{linesPage{title: "visits", width: visitsWidth, lines: visitLines(m), feet: [2]string{
		"f fit or take out, i inspect, d drop the last; any other key closes", "f fit, i inspect, d drop the last; up, down; any other key closes"}}})
}

func visitLines(m *Model) []pageLine {
	s := m.doc.sheet()
	var lines []pageLine
	for _, part := range visit.Story(s, m.opts.Today()) {
		if len(lines) > 0 {
			lines = append(lines, pageLine{})
		}
		lines = append(lines, pageLine{head: true, text: part.Head})
		for _, text := range part.Lines {
			for _, l := range printable.Wrap(m.inUnit(text), visitsWidth, " ", "     ") {
				lines = append(lines, pageLine{text: l})
			}
		}
	}
	if len(s.Visits) == 0 {
		return lines
	}
	lines = append(lines, pageLine{})
	kept := retention.Of(s, m.doc.table).Text(visitsWidth, m.opts.Glyphs == figure.ASCII)
	for _, l := range strings.Split(strings.TrimRight(kept, "\n"), "\n") {
		lines = append(lines, pageLine{text: l})
	}
	return lines
}

func (p *visitsPage) key(m *Model, msg tea.KeyMsg) tea.Cmd {
	switch msg.String() {
	case "f", "F":
		m.pop()
		return m.goFit()
	case "i", "I":
		m.pop()
		return m.goInspect()
	case "d":
		m.pop()
		m.askToDropVisit()
		return nil
	}
	return p.linesPage.key(m, msg)
}

// askToDropVisit asks whether the last visit is to be taken away, with all that was recorded in it.
func (m *Model) askToDropVisit() {
	last := m.doc.sheet().LastVisit()
	if last == nil {
		m.tell("there is no visit to take away")
		return
	}
	m.push(&question{"take the last visit away", fmt.Sprintf("%s of %s, with all that is recorded in it, would be gone from the sheet. %s brings it back.", visit.The(last.Kind), last.Date, m.keyOf("undo")), []answer{
		{"d", "take it away", func(m *Model) tea.Cmd {
			s := m.doc.sheet()
			m.tell(m.doc.tell("take away "+visit.The(last.Kind), s.WithoutVisit(len(s.Visits)-1), "taken away: "+visit.The(last.Kind)+" of "+last.Date))
			return nil
		}},
	}})
}
