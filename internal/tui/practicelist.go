package tui

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/progress"
)

// exerciseList chooses an exercise, and shows how the learner stands with each.
type exerciseList struct {
	list
	learner string
	passed  int
}

// listExercises opens the list for whoever practised here last; where nobody has, it asks who it is.
func (m *Model) listExercises() tea.Cmd {
	learner := ""
	if m.doc != nil && m.doc.practice != nil {
		learner = m.doc.practice.learner
	}
	m.beginPractice(nil, learner)
	return nil
}

// beginPractice opens an exercise, or the list of them where there is none, for a learner; it asks who that is where nobody said
// and nobody has practised here.
func (m *Model) beginPractice(x *lesson.Exercise, learner string) {
	open := func(m *Model, learner string) tea.Cmd {
		if x == nil {
			m.push(newExerciseList(m, learner))
			return nil
		}
		return m.openExercise(x, learner)
	}
	known := m.opts.Lessons.Progress.Learners()
	switch {
	case learner == "" && len(known) == 0:
		m.push(newLearnerForm(nil, open))
	case learner == "":
		open(m, known[0])
	default:
		open(m, learner)
	}
}

// newLearnerForm asks who practises.
func newLearnerForm(known []string, then func(*Model, string) tea.Cmd) *form {
	const who = "who"
	note := "What you make is kept under this name on this machine, and goes on where you left it."
	if len(known) > 0 {
		note += " Those who have practised here: " + strings.Join(known, ", ") + "."
	}
	return &form{title: "who practises", note: note,
		fields: []*field{textField(who, "", "initials, a number or a short name")},
		take: func(m *Model, fm *form) (tea.Cmd, error) {
			name, err := progress.Name(fm.find(who).text())
			if err != nil {
				return nil, errors.New(who + ": " + err.Error())
			}
			return then(m, name), nil
		}}
}

func newExerciseList(m *Model, learner string) *exerciseList {
	l := &exerciseList{learner: learner}
	records := m.opts.Lessons.Progress.Of(learner)
	at := -1
	for i, x := range m.opts.Lessons.Exercises {
		record, begun := records[x.Name]
		state := "        "
		switch best, marked := record.Best(); {
		case record.Passed():
			state = "passed  "
			l.passed++
		case marked:
			state = fmt.Sprintf("%-8s", fmt.Sprintf("%d of %d", best.Met, best.Of))
		case begun:
			state = "begun   "
		}
		if at < 0 && !record.Passed() {
			at = i
		}
		l.items = append(l.items, item{name: fmt.Sprintf("%s %2d  %s", state, i+1, x.About), do: func(m *Model) tea.Cmd {
			return m.unlessUnsaved(func(m *Model) tea.Cmd { return m.practise(x, learner) })
		}})
	}
	l.at = max(0, at)
	return l
}

// practise reads an exercise and opens it.
func (m *Model) practise(of Demo, learner string) tea.Cmd {
	x, err := m.opts.Lessons.Read(of.Name, of.Data)
	if err != nil {
		m.push(newTrouble("this can't be opened", err.Error()))
		return nil
	}
	return m.openExercise(x, learner)
}

func (l *exerciseList) key(m *Model, msg tea.KeyMsg) tea.Cmd {
	switch msg.String() {
	case "up":
		l.step(-1)
	case "down":
		l.step(1)
	case "home":
		l.first()
	case "end":
		l.at = max(0, len(l.items)-1)
	case "enter", " ":
		if len(l.items) > 0 {
			return l.items[l.at].do(m)
		}
	case "l":
		m.push(newLearnerForm(m.opts.Lessons.Progress.Learners(), func(m *Model, learner string) tea.Cmd {
			i := slices.Index(m.dialogs, dialog(l))
			m.dialogs = m.dialogs[:max(i, 0)]
			m.push(newExerciseList(m, learner))
			return nil
		}))
	case "esc", "q", "ctrl+c":
		m.pop()
	}
	return nil
}

func (l *exerciseList) draw(m *Model) {
	in := m.box(76, len(l.items)+5, "exercises"+m.opts.Glyphs.Dash+l.learner)
	l.drawIn(m, cells.Rect{X: in.X, Y: in.Y, W: in.W, H: in.H - 2})
	foot := fmt.Sprintf("%d of %d passed   Enter opens   l another learner   Esc", l.passed, len(l.items))
	m.scr.Text(in.X, in.Y+in.H-1, in.W, figure.Dim, foot)
}
