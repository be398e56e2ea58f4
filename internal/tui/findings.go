package tui

import (
	"errors"
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
)

// finding is the one in view.
func (d *document) finding() rule.Finding {
	d.shown = d.inView()
	return d.report.Findings[d.shown]
}

// inView is the index of the finding in view: the one that was gone to, while the cursor stays where
// that led; or else the gravest at the cursor; or else the one that was in view last.
func (d *document) inView() int {
	found := d.report.Findings
	if d.arrived(d.cursor) || d.isAt(found[d.shown]) {
		return d.shown
	}
	for i, f := range found {
		if d.isAt(f) {
			return i
		}
	}
	return d.shown
}

// arrived reports whether going to a finding led to a spot, and nothing was changed since.
func (d *document) arrived(at figure.Spot) bool { return d.wentTo != nil && *d.wentTo == at }

// isAt reports whether a finding speaks of the slot at the cursor.
func (d *document) isAt(f rule.Finding) bool {
	return f.On == sheet.OnSlot && f.Row == d.cursor.At && f.Slot == d.cursor.Slot
}

// nextFinding goes on or back through the findings.
func (m *Model) nextFinding(by int) {
	d := m.doc
	n := len(d.report.Findings)
	if f := d.finding(); d.isAt(f) || d.arrived(d.cursor) || by < 0 {
		d.shown = (d.shown + by + n) % n
	}
	m.goToShown()
	m.page = pageFindings
}

// goToShown takes the cursor to the finding that is in view.
func (m *Model) goToShown() {
	d := m.doc
	d.steady, d.picked = "", nil
	d.goTo(d.report.Findings[d.shown].Concern)
	d.wentTo = &figure.Spot{At: d.cursor.At, Slot: d.cursor.Slot}
}

// fixShown applies the first fix of the finding in view. One that takes out more than the finding is
// about is not applied at a single key.
func (m *Model) fixShown() {
	f := m.doc.finding()
	fixes := rule.Fixes(m.doc.sheet(), m.doc.table, f)
	switch {
	case len(fixes) == 0:
		m.tell("no single change mends this; e explains it")
	case fixes[0].Large:
		m.tell(fmt.Sprintf("only to %s would mend this; %s lets you choose", fixes[0].Label, m.keyOf("explain")))
	default:
		m.fix(f, fixes[0])
	}
}

func (m *Model) fix(f rule.Finding, fix rule.Fix) {
	asked := m.doc.practice != nil && m.doc.practice.shown == m.doc.sheet()
	if err := m.doc.do(fmt.Sprintf("%s: %s", f.Rule, fix.Label), fix.Do(m.doc.sheet())); err != nil {
		m.warn(err.Error())
		return
	}
	if asked { // whoever mends one after another has asked for all of them
		m.doc.practice.shown = m.doc.sheet()
		m.doc.workOut(false)
	}
	m.doc.goTo(f.Concern)
	m.tell(fmt.Sprintf("%s, %s: %s. %s takes it back", f.Rule, f.Where(), fix.Label, m.keyOf("undo")))
}

// acceptShown accepts the finding in view, or takes its acceptance back.
func (m *Model) acceptShown() {
	f := m.doc.finding()
	if f.Accepted != nil {
		if err := m.doc.do("take back the acceptance of "+f.Rule, m.doc.sheet().WithoutAccepted(f.Concern)); err != nil {
			m.warn(err.Error())
			return
		}
		m.tell(f.Rule + ": acceptance taken back")
		return
	}
	m.push(newAcceptForm(m, f))
}

func newAcceptForm(m *Model, f rule.Finding) *form {
	return &form{title: "accept: " + f.Rule + ", " + f.Where(), note: f.Message() + ". It stays on the sheet with your reason.",
		fields: []*field{
			textField("reason", "", "why it is right for this client"),
			textField("by", "", "your initials, if you like"),
		},
		take: func(m *Model, fm *form) (tea.Cmd, error) {
			a := sheet.Accepted{Concern: f.Concern, Reason: fm.find("reason").text(), By: fm.find("by").text(),
				Date: m.opts.Today().Format("2006-01-02")}
			if a.Reason == "" {
				return nil, errors.New("reason: a finding is accepted with a reason")
			}
			if err := m.doc.do("accept "+f.Rule, m.doc.sheet().WithAccepted(a)); err != nil {
				return nil, err
			}
			m.tell(f.Rule + " accepted")
			return nil, nil
		}}
}

// explanation shows all there is to say about a finding, and its fixes.
type explanation struct {
	f     rule.Finding
	fixes []rule.Fix
}

func (m *Model) explainShown() {
	f := m.doc.finding()
	m.push(&explanation{f, rule.Fixes(m.doc.sheet(), m.doc.table, f)})
}

func (x *explanation) key(m *Model, msg tea.KeyMsg) tea.Cmd {
	switch k := msg.String(); {
	case len(k) == 1 && k[0] >= '1' && int(k[0]-'1') < len(x.fixes):
		m.pop()
		m.fix(x.f, x.fixes[k[0]-'1'])
	case k == "f" && len(x.fixes) > 0 && !x.fixes[0].Large:
		m.pop()
		m.fix(x.f, x.fixes[0])
	case k == "a":
		m.pop()
		m.acceptShown()
	case k == "Y" || k == "y":
		m.whyFinding(x.f)
	case k == "r":
		if r, ok := rule.ByID(x.f.Rule); ok {
			m.showRule(r)
		}
	case k == "w" && x.f.Reading.Kind != rule.ByZone:
		m.pop()
		m.reading = x.f.Reading
		m.tell("shaded by " + m.readingName())
	case k == "esc" || k == "e" || k == "enter" || k == "q" || k == "ctrl+c":
		m.pop()
	}
	return nil
}

func (x *explanation) draw(m *Model) {
	r, _ := rule.ByID(x.f.Rule)
	title, source := r.Title, x.f.Source
	if source != "" {
		source = "limit: " + source
	}
	in, width := m.boxBeside(74, x.f.Rule, func(w int) int {
		return len(m.wrapIn(title, w-12)) + len(m.wrapIn(x.f.Message(), w)) + len(m.wrapIn(x.f.Reason(), w)) + max(1, len(x.fixes)) + 10
	})
	ink, mark := m.severityMark(x.f)
	used := m.scr.Text(in.X, in.Y, width, ink, mark) + 2
	y := m.paragraph(cells.Rect{X: in.X + used, Y: in.Y, W: width - used, H: in.H}, in.Y, figure.Strong, title)
	y = m.paragraph(in, y, figure.Plain, x.f.Where())
	y = m.paragraph(in, y, figure.Plain, x.f.Message())
	y = m.paragraph(in, y, figure.Dim, source) + 1
	y = m.paragraph(in, y, figure.Label, x.f.Reason()) + 1
	for i, fix := range x.fixes {
		m.write(in.X, y, in.W, []piece{{figure.Key, fmt.Sprintf("%d  ", i+1)}, {figure.Plain, fix.Label}})
		y++
	}
	if len(x.fixes) == 0 {
		m.scr.Text(in.X, y, in.W, figure.Dim, "no single change mends this")
	}
	if sees := x.f.Reading; sees.Kind != rule.ByZone {
		m.write(in.X, in.Y+in.H-2, in.W, []piece{{figure.Key, "w"}, {figure.Dim, " shade the map by " + wordsFor(sees, m.doc) + when(sees)}})
	}
	last := "a accept   Y why   r rule   Esc close"
	if x.f.Accepted != nil {
		last = "a take the acceptance back   Y why   r rule   Esc close"
	}
	m.scr.Text(in.X, in.Y+in.H-1, in.W, figure.Dim, last)
}
