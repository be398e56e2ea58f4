package tui

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/sheet"
)

// The names of the dates in the form of the consultation.
const (
	fPatch  = "patch test"
	fAgreed = "agreement"
	fFitted = "fitting"
)

// notAsked stands in the form for a question that nobody has asked yet.
const notAsked = "not asked"

const refersOn = "A yes is no verdict: a doctor or a licensed practitioner decides, and local codes apply. y and n answer and go on to the next question."

// newConsultForm asks about scalp and skin. One hand is enough: a letter answers a question and goes on to the next.
func newConsultForm(m *Model) *form {
	s := m.doc.sheet()
	fm := &form{title: "the consultation: scalp and skin", note: refersOn, own: consultKey, take: takeConsultation}
	for _, q := range sheet.Questions {
		answer := notAsked
		if a := s.Asked.Answer(q.ID); a != sheet.NotAsked {
			answer = string(a)
		}
		fm.fields = append(fm.fields, choiceField(string(q.ID), []string{notAsked, "no", "yes"}, answer, q.Asks+"? Asked because "+q.Reason+"."))
	}
	today := m.opts.Today().Format(time.DateOnly)
	fm.fields = append(fm.fields,
		textField(fPatch, s.Asked.PatchTest, "the day of the patch test, like "+today+"; t is today. At least two days before the fitting, or what the maker of the bond says."),
		textField(fAgreed, s.Asked.Agreed, "the day on which the client signed, like "+today+"; t is today. What was agreed on, price and risks, in writing."),
		textField(fFitted, s.Date, "the day of the fitting, like "+today+"; t is today. The patch test is measured against it."))
	return fm
}

// consultKey obeys the letters that answer.
func consultKey(m *Model, fm *form, msg tea.KeyMsg) bool {
	f, k := fm.fields[fm.at], msg.String()
	switch {
	case f.options != nil && (k == "y" || k == "n"):
		f.chosen = map[string]int{"n": 1, "y": 2}[k]
		fm.enter(fm.at + 1)
	case f.options == nil && k == "t" && !f.typed: // no day has a letter in it
		f.input.SetValue(m.opts.Today().Format(time.DateOnly))
		fm.enter(fm.at + 1)
	default:
		return false
	}
	return true
}

func takeConsultation(m *Model, fm *form) (tea.Cmd, error) {
	s := m.doc.sheet()
	asked, fitted := s.Asked, s.Date
	for _, q := range sheet.Questions {
		answer := sheet.Answer(fm.find(string(q.ID)).choice())
		if answer == notAsked {
			answer = sheet.NotAsked
		}
		asked = asked.With(q.ID, answer)
	}
	for _, d := range []struct {
		name string
		to   *string
	}{{fPatch, &asked.PatchTest}, {fAgreed, &asked.Agreed}, {fFitted, &fitted}} {
		day := fm.find(d.name).text()
		if _, err := time.Parse(time.DateOnly, day); day != "" && err != nil {
			return nil, &fieldError{d.name, "a day like " + m.opts.Today().Format(time.DateOnly) + ", or nothing where there was none yet"}
		}
		*d.to = day
	}
	if asked.Equal(s.Asked) && fitted == s.Date {
		return nil, nil
	}
	return nil, m.doc.do("the consultation", s.With(func(c *sheet.Sheet) { c.Asked, c.Date = asked, fitted }))
}
