package tui

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/printable"
)

// voice is a dialog as it is told and answered.
type voice struct {
	asks    []string // what is said when it comes to the front
	changed []string // what is said when it stays there; nil for what differs of asks
	replies []reply
	number  func(n int) bool       // obeys a number, and reports whether there is such a one; may be nil
	called  func(name string) bool // obeys the whole name of an item, and reports whether there is one; may be nil
	text    func(text string) bool // obeys anything else, and reports whether it could; may be nil
	empty   string                 // the key of an empty line; without one an empty line has all said again
	page    bool                   // it is only read: any command of the sheet closes it first
	out     string                 // the key that leaves it, where that is not Esc
}

// reply is an answer: a word, and the key that stands for it on the screen.
type reply struct{ word, key, does string }

// sayDialog reads out the dialog in front, or what is otherwise in it.
func (p *plain) sayDialog(d dialog) {
	if f, ok := d.(*form); ok {
		p.sayForm(f)
		return
	}
	v := p.voiceOf(d)
	before, heard := p.heard[d]
	if said, ok := d.(*trouble); ok && !heard && said.title != "the card is written" {
		p.refused++
	}
	p.heard[d] = v.asks
	switch {
	case !heard:
		p.say(v.asks...)
		return
	case p.was.front != d && !p.spoke && !p.atChair(): // it comes to the front again
		p.say(v.asks[:min(1, len(v.asks))]...)
	case v.changed != nil:
		p.say(v.changed...)
	default:
		p.say(newIn(before, v.asks)...)
	}
	if !p.spoke {
		p.say("no change")
	}
}

// newIn are the lines of a panel that it did not have before.
func newIn(before, now []string) []string {
	had := map[string]int{}
	for _, l := range before {
		had[l]++
	}
	var fresh []string
	for _, l := range now {
		if had[l]--; had[l] < 0 {
			fresh = append(fresh, l)
		}
	}
	return fresh
}

// answer obeys a line while a dialog is in front.
func (p *plain) answer(d dialog, line string) {
	if f, ok := d.(*form); ok {
		p.answerForm(f, line)
		return
	}
	v := p.voiceOf(d)
	switch word := strings.ToLower(line); {
	case line == "" && v.empty != "":
		p.press(v.empty)
		return
	case word == "again" || word == "repeat" || line == "" && len(v.asks) <= briefly:
		delete(p.heard, d)
		return
	case line == "":
		p.say(v.asks[0] + "; again reads it all")
		return
	case word == "help" || line == "?" && !hasKey(v.replies, "?"):
		p.say(helpIn(v))
		return
	}
	if v.called != nil && v.called(line) {
		return
	}
	if leavesIt(line) {
		p.press(cmp.Or(v.out, "esc"))
		return
	}
	_, p.answered = d.(*question)
	if p.reply(v, line) {
		return
	}
	if n, err := strconv.Atoi(line); err == nil && v.number != nil {
		if !v.number(n) {
			p.refuse(fmt.Sprintf("there is no %d here", n))
		}
		return
	}
	if v.text != nil && v.text(line) {
		return
	}
	if v.page {
		p.act(tea.KeyMsg{Type: tea.KeyEsc})
		if p.m.front() != d && !leavesPage(line) {
			p.obey(line)
		}
		return
	}
	if _, asks := d.(*question); asks {
		p.refuse(printable.Quote(line) + " is no answer here; say " + strings.Join(v.asks[1:], "; "))
		return
	}
	const few = 5
	if len(v.replies) > few {
		p.refuse(printable.Quote(line) + " is no answer here; help lists them")
		return
	}
	p.refuse(printable.Quote(line) + " is no answer here; " + repliesLine(v.replies))
}

// briefly is up to how many lines are read again for an empty line, which may have been a slip.
const briefly = 4

// helpIn is what can be said to a dialog.
func helpIn(v voice) string {
	replies := slices.DeleteFunc(slices.Clone(v.replies), func(r reply) bool { return r == goBack })
	text := repliesLine(append(replies, goBack))
	if v.page {
		text += "; any command of the sheet closes it first"
	}
	return text
}

func hasKey(list []reply, key string) bool {
	for _, r := range list {
		if r.key == key {
			return true
		}
	}
	return false
}

// reply gives the answer that a line is: a word, its beginning where no other begins so, or its key.
func (p *plain) reply(v voice, line string) bool {
	word := strings.ToLower(line)
	var found []reply
	for _, r := range v.replies {
		switch {
		case r.key == "": // which only tells
		case r.word == word:
			p.press(r.key)
			return true
		case len(word) > 1 && strings.HasPrefix(r.word, word):
			found = append(found, r)
		}
	}
	if hasKey(v.replies, line) && line != "" {
		p.press(line)
		return true
	}
	if len(found) == 1 {
		p.press(found[0].key)
		return true
	}
	return false
}

// repliesLine lists the answers, each with what it does where the word does not say so.
func repliesLine(list []reply) string {
	var parts []string
	for _, r := range list {
		if r.does == "" {
			parts = append(parts, r.word)
		} else {
			parts = append(parts, r.word+" "+r.does)
		}
	}
	return strings.Join(parts, "; ")
}

// The answer that leaves a dialog.
var goBack = reply{"back", "esc", ""}

// voiceOf is how a dialog is told and answered. One without a form of its own is read as it is drawn, and answered by its keys.
func (p *plain) voiceOf(d dialog) voice {
	switch d := d.(type) {
	case *question:
		return p.questionVoice(d)
	case *trouble:
		return voice{asks: append([]string{d.title + ":"}, strings.Split(d.text, "\n")...), page: true}
	case *explanation:
		return p.explanationVoice(d)
	case *workings:
		return p.workingsVoice(d)
	case *keyPage:
		return voice{asks: p.helpAll(), page: true}
	case *picker:
		return p.pickerVoice(d)
	case *exerciseList:
		return p.exercisesVoice(d)
	case *versionsPage:
		return p.listVoice(&d.list, d, "versions of this sheet")
	case *demonstrationList:
		return p.listVoice(&d.list, d, "demonstrations")
	case *tryAgain:
		return p.listVoice(&d.list, d, "try again from")
	case *rulePicker:
		v := p.listVoice(&d.list, d, "which rule does it break")
		v.text = nil // half a word would accuse, and a wrong one costs
		return v
	case *matchPage:
		return p.matchVoice(d)
	case *chair:
		return p.chairVoice(d)
	case *training:
		return p.trainingVoice(d)
	case *exercisePage:
		return p.exerciseVoice(d)
	case *markPage:
		return p.markVoice(d)
	case *demonstration:
		return p.demonstrationVoice(d)
	case *linesPage:
		return linesVoice(d)
	case *stepsPage:
		return linesVoice(&d.linesPage)
	case *orderPage:
		return p.orderVoice()
	case *rulePage:
		return p.ruleVoice(d)
	case *visitsPage:
		return p.visitsVoice()
	case *planPanel:
		return p.planVoice(d)
	case *zonePanel:
		return p.zoneVoice(d)
	}
	return p.drawnVoice(d)
}
