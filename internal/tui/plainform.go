package tui

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/printable"
)

// A form is asked field by field. An empty line keeps what stands there; done takes the form from anywhere, and where something is wrong
// with it that field is asked again.

// sayForm asks the field that is next.
func (p *plain) sayForm(f *form) {
	if _, heard := p.heard[f]; !heard {
		p.heard[f], p.tried = nil, false
		for _, fd := range f.fields {
			delete(p.filled, fd)
		}
		p.fromTop = nil
		if f.title == newSheetTitle { // the tapes are first only where all can be seen
			p.fromTop = f
		}
		text := f.title
		if n := len(f.fields); n > 1 {
			text += fmt.Sprintf(", %d fields", n)
		}
		if f.note != "" && !p.noted[f.note] {
			p.noted[f.note] = true
			text += ". " + p.m.inWords(f.note)
		}
		p.say(text)
	} else if f.problem != "" {
		p.tried = true
		p.say(p.asSpoken(f.problem) + "; cancel leaves the form")
	}
	at := f.at
	if p.fromTop == f {
		at = 0
	}
	text := p.askField(f.fields[at])
	if n := len(f.fields); n > 1 {
		text = fmt.Sprintf("%d of %d, %s", at+1, n, text)
		if at == n-1 && !p.tried {
			text = strings.TrimRight(text, ". ") + ". The last: after it the form is taken"
		}
	}
	p.say(text)
}

// newSheetTitle is the title of the form that begins a sheet.
const newSheetTitle = "a new sheet"

// askField is a field in a line: what it is called, what stands in it, and what may.
func (p *plain) askField(fd *field) string {
	text := fd.name + ": " + fd.spoken()
	if echo := fd.echo(); echo != "" {
		text += " " + echo
	}
	hint := p.m.inWords(spokenHint(fd))
	if asked, reason, ok := strings.Cut(hint, "?"); ok { // the question before its answer
		text, hint = fd.name+": "+asked+"? Now "+fd.spoken(), strings.TrimLeft(reason, ". ")
	}
	switch {
	case fd.marked != nil:
		text += ". Any of " + strings.Join(fd.options, "; ")
	case fd.options != nil:
		others := slices.DeleteFunc(slices.Clone(fd.options), func(o string) bool { return o == fd.choice() })
		if len(others) > 0 {
			text += ". Or " + strings.Join(others, "; ")
		}
	}
	if hint != "" {
		text += ". " + hint
	}
	return text
}

// spoken is what stands in a field.
func (f *field) spoken() string {
	switch {
	case f.marked != nil:
		var on []string
		for i, o := range f.options {
			if f.marked[i] {
				on = append(on, o)
			}
		}
		if len(on) == 0 {
			return "none"
		}
		return strings.Join(on, ", ")
	case f.options != nil:
		return f.choice()
	case f.text() == "":
		return "empty"
	}
	return f.text()
}

// spokenHint is a hint without the keys of the screen.
func spokenHint(f *field) string {
	return strings.NewReplacer("; left and right change it", "", "; left and right choose", "", "left and right choose which; ", "",
		"space marks what is wished for; ", "", "space marks each way; ", "", "; t is today", ", or today, or yesterday").Replace(f.hint)
}

const formReplies = "an answer, or an empty line to keep it; before, the field before; done, takes the form; cancel, drops it; list; or the name of a field"

// answerForm obeys a line while a form is in front.
func (p *plain) answerForm(f *form, line string) {
	if p.fromTop == f {
		f.enter(0)
		p.fromTop = nil
	}
	fd := f.fields[f.at]
	f.problem = ""
	switch word := strings.ToLower(line); {
	case leavesIt(word):
		p.leaveForm(f, word)
	case word == "done":
		p.takeForm(f)
	case word == "before" || word == "previous":
		if f.at > 0 {
			f.enter(f.at - 1)
		}
	case word == "again" || word == "repeat":
	case word == "list" || word == "read":
		for _, fd := range f.fields {
			p.say(fd.name + ": " + fd.spoken())
		}
	case word == "help" || line == "?":
		p.say(formReplies)
	case line == "":
		p.nextField(f)
	case fieldCalled(f, word) >= 0 && !fd.takes(word):
		f.enter(fieldCalled(f, word))
	default:
		if why := p.fill(f, fd, line); why != "" {
			p.refuse(why)
			return
		}
		p.filled[fd] = true
		if echo := fd.echo(); echo != "" {
			p.say(fd.name + " " + echo)
		} else if len(f.fields) > 1 {
			p.say(fd.name + ": " + fd.spoken())
		}
		p.spoke = false // what comes of it is still to be said
		p.nextField(f)
	}
}

// takes reports whether a word is a choice that the field has, and no name of a field.
func (f *field) takes(word string) bool { return slices.Contains(f.options, word) }

// fieldCalled is the index of the field of a name, or -1.
func fieldCalled(f *form, word string) int {
	return slices.IndexFunc(f.fields, func(fd *field) bool { return fd.name == word })
}

// nextField goes on, and from the last field takes the form. One that was taken already is taken again: only what was wrong is asked.
func (p *plain) nextField(f *form) {
	if p.tried || f.at == len(f.fields)-1 {
		p.takeForm(f)
		return
	}
	f.enter(f.at + 1)
}

// takeForm takes the form as Enter does.
func (p *plain) takeForm(f *form) {
	f.enter(f.at) // nothing counts as just typed, or a long form would only go on
	p.act(tea.KeyMsg{Type: tea.KeyEnter})
}

// fill puts an answer into a field. Its answer is what is wrong with it, or empty.
func (p *plain) fill(f *form, fd *field, line string) string {
	switch {
	case fd.marked != nil:
		if why := fd.mark(line); why != "" {
			return why
		}
	case fd.options != nil:
		i := chosenBy(fd.options, line)
		if i < 0 {
			return printable.Quote(line) + " is none of " + strings.Join(fd.options, "; ")
		}
		fd.chosen = i
	default:
		text := unquoted(line)
		if word := strings.ToLower(line); word == "empty" || word == "none" {
			text = ""
		}
		if fd.isDay() && text != "" {
			day, err := p.dayCalled(strings.ToLower(text))
			if err != nil {
				return err.Error()
			}
			text = day
		}
		if fd.unit != "" && text != "" {
			if _, err := fd.parse(text); err != nil {
				return printable.Quote(text) + " is no number"
			}
		}
		fd.input.SetValue(text)
	}
	if fd.changed != nil {
		fd.changed(f)
	}
	return ""
}

// isDay reports whether a field is for a day.
func (f *field) isDay() bool {
	return f.options == nil && strings.Contains(f.hint, " day") && strings.Contains(f.hint, "like 20")
}

// dayCalled is a day as a sheet has it, by its date or by what it is called: today, t, yesterday.
func (p *plain) dayCalled(text string) (string, error) {
	today := p.m.opts.Today()
	switch text {
	case "today", "t":
		return today.Format(time.DateOnly), nil
	case "yesterday":
		return today.AddDate(0, 0, -1).Format(time.DateOnly), nil
	}
	if _, err := time.Parse(time.DateOnly, text); err != nil {
		return "", fmt.Errorf("%s is no day; say one like %s, or today, or yesterday, or none", printable.Quote(text), today.Format(time.DateOnly))
	}
	return text, nil
}

// chosenBy is the option that an answer means: by its words, by their beginning where no other begins so, or by its number.
func chosenBy(options []string, answer string) int {
	answer = strings.ToLower(answer)
	if whole, ok := map[string]string{"y": "yes", "n": "no"}[answer]; ok && slices.Contains(options, whole) {
		answer = whole
	}
	found := -1
	for i, o := range options {
		o = strings.ToLower(o)
		if o == answer {
			return i
		}
		if strings.HasPrefix(o, answer) {
			if found >= 0 {
				return -1
			}
			found = i
		}
	}
	if n, err := strconv.Atoi(answer); found < 0 && err == nil && n >= 1 && n <= len(options) {
		return n - 1
	}
	return found
}

// mark marks the options that an answer lists, and no others.
func (f *field) mark(answer string) string {
	marked := make([]bool, len(f.options))
	if strings.ToLower(answer) != "none" {
		for _, word := range strings.FieldsFunc(strings.ReplaceAll(answer, " and ", ","), func(r rune) bool { return r == ',' || r == ';' }) {
			if word = strings.TrimSpace(word); word == "" {
				continue
			}
			i := chosenBy(f.options, word)
			if i < 0 {
				return printable.Quote(word) + " is none of " + strings.Join(f.options, ", ") + "; say none, or several with commas"
			}
			marked[i] = true
		}
	}
	copy(f.marked, marked)
	return ""
}
