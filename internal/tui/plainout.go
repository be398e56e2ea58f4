package tui

import (
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"
)

// There is one way out everywhere: what is in front is left by any of these words, and nothing under it. They are never taken for the
// beginning of an answer.
var waysOut = []string{"back", "leave", "cancel", "close", "esc", "quit", "exit", "bye"}

// leavesIt reports whether a line says no more than that what is in front is to be left.
func leavesIt(line string) bool { return slices.Contains(waysOut, strings.ToLower(line)) }

// leavesPage reports whether a line closes what is only read.
func leavesPage(line string) bool { return leavesIt(line) || strings.EqualFold(line, "done") }

// leftAs says what becomes of a sheet that was left with something on it that is in no file.
func (p *plain) leftAs(d *document) {
	switch {
	case d == nil || d.practice != nil:
	case d.backAtFile():
		p.say("what was left unfinished stays so, and is offered " + whenOffered(d))
	case !d.changed() || !p.answered: // or it was merely looked at
	case d.kept.later:
		p.say("left for later; it is offered " + whenOffered(d))
	default:
		p.say("left; the changes are dropped")
	}
}

// whenOffered says when what is not saved of a sheet is offered again.
func whenOffered(d *document) string {
	if d.path == "" {
		return "on the start page"
	}
	return "when " + d.path + " is opened again"
}

// leaveForm leaves a form. Back leaves it as long as nothing was answered, for what was answered is dropped only where that is said.
func (p *plain) leaveForm(f *form, word string) {
	switch n := p.answers(f); {
	case n == "":
		p.act(tea.KeyMsg{Type: tea.KeyEsc})
		p.say("nothing changed")
	case word != "cancel":
		p.say("answered and not taken yet: " + n + ". done takes the form, cancel drops it")
	default:
		p.act(tea.KeyMsg{Type: tea.KeyEsc})
		p.say("dropped: " + n)
	}
}

// answers are what was answered in a form since it was opened, each with its field, or empty.
func (p *plain) answers(f *form) string {
	var parts []string
	for _, fd := range f.fields {
		if p.filled[fd] {
			parts = append(parts, fd.name+" "+fd.spoken())
		}
	}
	return strings.Join(parts, "; ")
}

// cutOff says what is lost of a form that nobody took before the dialogue ended, and reports whether there was any.
func (p *plain) cutOff() bool {
	lost := false
	for _, d := range p.m.dialogs {
		if f, ok := d.(*form); ok {
			if n := p.answers(f); n != "" {
				p.say(f.title + " was not taken, and is dropped: " + n)
				lost = true
			}
		}
	}
	return lost
}

// means reports whether some words are an answer of a question: all of them stand in what it does, and they say more than to leave.
func means(words []string, says string) bool {
	says, _, _ = strings.Cut(says, ";")
	does := strings.Fields(strings.ToLower(strings.ReplaceAll(says, ",", "")))
	telling := false
	for _, w := range words {
		i := slices.Index(does, w)
		if i < 0 {
			return false
		}
		telling = telling || !slices.Contains([]string{"leave", "it", "them", "and", "for", "the", "to", "in"}, w)
	}
	return telling
}
