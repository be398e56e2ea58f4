package tui

import (
	"cmp"
	"errors"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/visit"
)

// handedMsg comes when an attempt was handed in, or could not be.
type handedMsg struct {
	path  string
	of    *practice
	sheet *sheet.Sheet // that was handed in
	taken bool         // there was a file already, and nothing was written
	err   error
}

// handIn asks for a file to write the attempt to.
func (m *Model) handIn() {
	p := m.doc.practice
	name := cmp.Or(p.handIn, strings.TrimSuffix(fileName(p.learner), ".toml")+"-"+p.x.ID+".toml")
	m.push(&form{title: "hand in", note: "The file has your work and your name. What is kept for you on this machine stays.",
		fields: []*field{textField("file", name, "a name here, a folder, or a whole path")},
		take: func(m *Model, fm *form) (tea.Cmd, error) {
			path := fm.find("file").text()
			if path == "" {
				return nil, errors.New("file: a name is needed")
			}
			return m.handInTo(asFile(path, name), false), nil
		}})
}

// handInTo writes the attempt as a command, over another file only when told to.
func (m *Model) handInTo(path string, over bool) tea.Cmd {
	files, write, a := m.opts.Files, m.opts.Lessons.HandIn, m.doc.practice.attempt(m.doc, m.opts.Today())
	msg := handedMsg{path: path, of: m.doc.practice, sheet: m.doc.sheet()}
	m.handing++
	return func() tea.Msg {
		if msg.taken = !over && files.Exists(path); !msg.taken {
			msg.err = write(path, a)
		}
		return msg
	}
}

// wasHanded tells how it went, and leaves where that waited for it. What went wrong is told whatever is open by now.
func (m *Model) wasHanded(msg handedMsg) tea.Cmd {
	m.handing--
	leave := m.leaving && m.handing == 0
	m.leaving = false
	if msg.err == nil && !msg.taken {
		msg.of.safe = msg.sheet
	}
	switch {
	case msg.err != nil:
		m.push(newTrouble("not handed in", msg.err.Error()))
	case msg.taken && (m.doc == nil || m.doc.practice != msg.of): // another is open by now
		m.push(newTrouble("not handed in", msg.path+" is there already, and was left as it is."))
	case msg.taken:
		m.push(&question{"that file is there already", msg.path + " would be replaced.", []answer{
			{"r", "replace it", func(m *Model) tea.Cmd { return m.handInTo(msg.path, true) }},
			{"o", "another name", func(m *Model) tea.Cmd { m.handIn(); return nil }},
		}})
	case leave:
		m.doc.leave()
		return tea.Quit
	default:
		m.tell("handed in as " + msg.path)
	}
	return nil
}

// newSignForm has an assessor sign what was made on a training head.
func newSignForm(m *Model) *form {
	p := m.doc.practice
	return &form{title: "sign this attempt", note: "What is signed is the work as it is now; a change afterwards is noticed. Who signed is not proved.",
		fields: []*field{
			textField("assessor", p.signed.Assessor, "initials or a name"),
			textField("day", m.opts.Today().Format(time.DateOnly), "the day, like 2026-03-02"),
		},
		take: func(m *Model, fm *form) (tea.Cmd, error) {
			by, day := fm.find("assessor").text(), fm.find("day").text()
			if by == "" {
				return nil, errors.New("assessor: an attempt is signed by somebody")
			}
			if _, err := visit.Day(day); err != nil {
				return nil, &fieldError{"day", "a day like 2026-03-02"}
			}
			p.signed = lesson.Signed{Assessor: by, On: day}
			if p.date == "" {
				p.date = m.opts.Today().Format(time.DateOnly)
			}
			p.sealedHints, p.sealedAnswer = p.hints, p.answered
			p.signed.Seal = m.opts.Lessons.Seal(p.attempt(m.doc, m.opts.Today()))
			p.sealed, p.dirty = m.doc.sheet(), true
			m.tell("signed by " + by + "; " + m.keyOf("exercise") + ", s hands it in")
			return nil, nil
		}}
}

// unsign takes the signature off what was changed after it was signed, and says so.
func (m *Model) unsign() {
	p := m.doc.practice
	same := p.sealed == m.doc.sheet() && p.sealedHints == p.hints && p.sealedAnswer == p.answered
	if by := p.signed.Assessor; by != "" && !same {
		p.signed, p.dirty = lesson.Signed{}, true
		if p.handIn == "" {
			p.date = ""
		}
		m.warn("changed after it was signed: the signature of " + by + " is gone; " + m.keyOf("exercise") + ", g signs again")
	}
}
