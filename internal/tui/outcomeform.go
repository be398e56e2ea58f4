package tui

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/visit"
)

// newOutcomeForm asks what becomes of the strands that came out, kind by kind. It stands filled in with all of them re-tipped.
func newOutcomeForm(m *Model, p *chair) *form {
	s := m.doc.sheet()
	list := s.Visits[p.n].Strands
	if !visit.Resolved(s, p.n) || len(list) == 0 {
		list = visit.Proposed(s, p.n)
	}
	fm := &form{title: "the strands that came out", long: true,
		note: "Each piece is re-tipped, halved, put by or thrown away. Cutting back makes a strand shorter and lighter; new tips are ordered for those re-tipped, two for one halved."}
	for _, o := range list {
		name := outcomeName(s, o)
		add := func(what string, n int, hint string) {
			fm.fields = append(fm.fields, textField(name+what, fmt.Sprint(n), hint))
		}
		pieces := printable.Count(o.Pieces(), "piece")
		add(fRetipped, o.Retipped, pieces+" of "+visit.Name(s, visit.Kind{Shade: o.Shade, Split: o.Split})+" came out; how many get a new tip")
		if !o.Split {
			add(fHalved, o.Halved, "how many are split lengthwise, for two halves with new tips")
		}
		add(fKept, o.Kept, "how many are put by as they are")
		add(fThrown, o.Thrown, "how many are thrown away: matted, thin, dry or too short")
		cut := numberField(name+fCut, float64(o.Cut), cutHint(s, o))
		cut.changed = func(*form) {
			if typed, err := cut.number(0, 1e4); err == nil {
				o.Cut = scalp.MM(typed)
				cut.hint = cutHint(s, o)
			}
		}
		fm.fields = append(fm.fields, cut)
	}
	fm.take = func(m *Model, fm *form) (tea.Cmd, error) {
		var outcomes []sheet.Outcome
		for _, o := range list {
			read, err := readOutcome(m.doc.sheet(), fm, o)
			if err != nil {
				return nil, err
			}
			outcomes = append(outcomes, read)
		}
		next, err := visit.Resolve(m.doc.sheet(), p.n, outcomes)
		if err != nil {
			return nil, err
		}
		return m.strandsKnown(p, "what became of the strands", next), nil
	}
	return fm
}

// What is asked of each kind of strand, after its letter.
const (
	fRetipped = " re-tipped"
	fHalved   = " halved"
	fKept     = " put by"
	fThrown   = " thrown away"
	fCut      = " cut back"
)

// outcomeName is a kind of piece as short as its fields need it: its letter, a capital for halves, as in the rows.
func outcomeName(s *sheet.Sheet, o sheet.Outcome) string {
	if o.Split {
		return string(rune(o.Shade - 'a' + 'A'))
	}
	return string(rune(o.Shade))
}

// cutHint says what cutting back would leave of a strand.
func cutHint(s *sheet.Sheet, o sheet.Outcome) string {
	h, _ := s.Shade(o.Shade)
	after := visit.Recut(h, o.Cut)
	if o.Split {
		after.Grams /= 2
	}
	hint := fmt.Sprintf("off each; %.4g mm leave %.4g mm and %.3g g", float64(o.Cut), float64(after.Length), after.Grams)
	if length, short := visit.Promised(s, after); short {
		hint += fmt.Sprintf(", below the %.4g mm wished for", float64(length))
	}
	return hint
}

func readOutcome(s *sheet.Sheet, fm *form, o sheet.Outcome) (sheet.Outcome, error) {
	name := outcomeName(s, o)
	for _, f := range []struct {
		what string
		to   *int
	}{{fRetipped, &o.Retipped}, {fHalved, &o.Halved}, {fKept, &o.Kept}, {fThrown, &o.Thrown}} {
		if f.what == fHalved && o.Split {
			continue // not asked of halves
		}
		v, err := fm.find(name+f.what).whole(0, 1000)
		if err != nil {
			return o, err
		}
		*f.to = int(v)
	}
	h, _ := s.Shade(o.Shade)
	cut, err := fm.find(name+fCut).number(0, float64(h.Length)-1)
	o.Cut = scalp.MM(cut)
	return o, err
}

// strandsKnown goes on once nothing is in any more and it is known what became of the strands: a removal is done, a refit
// goes on with what is to be fitted, an inspection with its end.
func (m *Model) strandsKnown(p *chair, label string, s *sheet.Sheet) tea.Cmd {
	switch s.Visits[p.n].Kind {
	case sheet.Inspection:
		p.do(m, label, s)
		return (&looking{}).finish(m, p)
	case sheet.Removal:
		done, err := visit.Finish(s, p.n)
		if err != nil {
			m.warn(err.Error())
			return nil
		}
		return m.leaveChair(p, "finish the removal", done)
	}
	p.do(m, label, s)
	m.pop() // the panel; a form is gone by now
	m.doc.inAgain = false
	m.push(newRefitForm(m, p.n))
	return nil
}

// The answers of the form of a refit.
const (
	sameSections = "the same"
	asideByHalf  = "half a hole to the right"
	backAgain    = "back where the holes were"
)

// newRefitForm asks where the strands go in again.
func newRefitForm(m *Model, n int) *form {
	s := m.doc.sheet()
	sections := []string{sameSections, asideByHalf}
	if s.Aside {
		sections[1] = backAgain
	}
	return &form{title: "in again", note: "The plan stays as it is but for this, and every rule holds again. " + m.keyOf("plan") + " plans afresh, " + m.keyOf("fit") + " goes on to the fitting.",
		fields: []*field{
			choiceField("sections", sections, sameSections, fmt.Sprintf("half a hole, %.3g mm, lets the sections rest that carried strands", float64(s.HoleSpacing/2))),
			choiceField("strands", []string{"re-used ones first", "as planned"}, "", "re-used strands in place of the new ones that they were, as far as they go"),
		},
		take: func(m *Model, fm *form) (tea.Cmd, error) {
			s := m.doc.sheet()
			if fm.find("strands").chosen == 0 {
				s = visit.Reuse(s)
			}
			if fm.find("sections").chosen == 1 {
				aside := !s.Aside
				s = visit.Change(s.With(func(c *sheet.Sheet) { c.Aside = aside }), n, func(v *sheet.Visit) { v.Aside = aside })
			}
			if err := m.doc.do("where the strands go in again", s); err != nil {
				return nil, err
			}
			m.doc.inAgain = true
			m.tell("look at the findings and change what is to be changed; " + m.keyOf("fit") + " goes on to the fitting")
			return nil, nil
		}}
}
