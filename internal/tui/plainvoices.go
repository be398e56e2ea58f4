package tui

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/why"
)

// questionVoice asks, and says what each answer does.
func (p *plain) questionVoice(q *question) voice {
	v := voice{asks: []string{q.title + ". " + q.text}}
	for _, a := range q.answers {
		v.replies = append(v.replies, reply{a.key, a.key, ""})
		v.asks = append(v.asks, a.key+" to "+a.says)
	}
	v.replies = append(v.replies, goBack)
	v.asks = append(v.asks, "or back")
	v.text = func(text string) bool { // what it does, in whole words that only one of them has
		var found []answer
		for _, a := range q.answers {
			if means(strings.Fields(strings.ToLower(text)), a.says) {
				found = append(found, a)
			}
		}
		if len(found) != 1 {
			return false
		}
		p.press(found[0].key)
		return true
	}
	return v
}

// explanationVoice is all there is to say about a finding, and its fixes.
func (p *plain) explanationVoice(x *explanation) voice {
	r, _ := rule.ByID(x.f.Rule)
	v := voice{page: true, asks: []string{findingLine(x.f)}}
	if x.f.Accepted != nil {
		v.asks = append(v.asks, "accepted: "+x.f.Accepted.Reason)
	}
	for i, fix := range x.fixes {
		v.asks = append(v.asks, fmt.Sprintf("fix %d: %s", i+1, fix.Label))
	}
	if len(x.fixes) == 0 {
		v.asks = append(v.asks, "no single change mends this")
	}
	if r != nil {
		v.asks = append(v.asks, r.Title+". "+x.f.Reason())
	}
	if x.f.Source != "" {
		v.asks = append(v.asks, "limit: "+x.f.Source)
	}
	v.number = func(n int) bool {
		if n < 1 || n > len(x.fixes) {
			return false
		}
		p.press(strconv.Itoa(n))
		return true
	}
	v.text = func(text string) bool { // fix 2
		n, err := strconv.Atoi(strings.TrimPrefix(strings.ToLower(text), "fix "))
		return err == nil && v.number(n)
	}
	if len(x.fixes) > 0 && !x.fixes[0].Large {
		v.replies = append(v.replies, reply{"fix", "f", "1"})
	}
	v.replies = append(v.replies, reply{"accept", "a", ""}, reply{"why", "Y", ""}, reply{"rule", "r", ""}, goBack)
	say := "say "
	switch n := len(x.fixes); {
	case n == 1:
		say += "1 or fix 1 to mend it; "
	case n > 1:
		say += fmt.Sprintf("1 to %d to mend it; ", n)
	}
	v.asks = append(v.asks, say+repliesLine(slices.DeleteFunc(slices.Clone(v.replies), func(r reply) bool { return r.word == "fix" })))
	return v
}

// workingsVoice reads how figures come about: the heads of its parts, and a part by its number. What is short is read at once.
func (p *plain) workingsVoice(w *workings) voice {
	const short = 12 // lines
	v := voice{page: true, asks: []string{w.title}, changed: []string{}}
	read := func(sec why.Section) { p.say(append([]string{sec.Title + ":"}, sec.Lines...)...) }
	lines := 0
	for i, sec := range w.sections {
		v.asks = append(v.asks, fmt.Sprintf("%d, %s", i+1, sec.Title))
		lines += len(sec.Lines)
	}
	if lines <= short {
		v.asks = v.asks[:1]
		for _, sec := range w.sections {
			v.asks = append(append(v.asks, sec.Title+":"), sec.Lines...)
		}
	} else {
		v.asks = append(v.asks, "a number reads a part, all reads all")
	}
	v.number = func(n int) bool {
		if n < 1 || n > len(w.sections) {
			return false
		}
		read(w.sections[n-1])
		return true
	}
	v.text = func(text string) bool {
		if !strings.EqualFold(text, "all") {
			return false
		}
		for _, sec := range w.sections {
			read(sec)
		}
		return true
	}
	return v
}

// listVoice reads a list with numbers, and chooses by number or by the beginning of a name.
func (p *plain) listVoice(l *list, of dialog, title string) voice {
	v := voice{asks: []string{title}, replies: []reply{{"a number, a name", "", ""}, goBack}}
	var at []int // of each number
	for i, it := range l.items {
		if it.head {
			if it.name != "" {
				v.asks = append(v.asks, it.name+":")
			}
			continue
		}
		at = append(at, i)
		about := it.about
		if _, rest, ok := strings.Cut(about, "   "); ok { // before it stands the key
			about = rest
		}
		v.asks = append(v.asks, strings.TrimRight(fmt.Sprintf("%d, %s, %s", len(at), spaced(it.name), spaced(about)), ", "))
	}
	choose := func(i int) {
		l.at = i
		p.press("enter")
	}
	v.changed = []string{}
	v.number = func(n int) bool {
		if n < 1 || n > len(at) {
			return false
		}
		choose(at[n-1])
		return true
	}
	v.called = func(text string) bool {
		for _, i := range at {
			if strings.EqualFold(spaced(l.items[i].name), text) {
				choose(i)
				return true
			}
		}
		return false
	}
	v.text = func(text string) bool {
		for _, i := range at {
			name, about := strings.ToLower(spaced(l.items[i].name)), strings.ToLower(l.items[i].about)
			if want := strings.ToLower(text); strings.HasPrefix(name, want) || strings.HasPrefix(about, want) || strings.HasSuffix(name, " "+want) {
				choose(i)
				return true
			}
		}
		return false
	}
	return v
}

// exercisesVoice reads the exercises, each with how far the learner is with it.
func (p *plain) exercisesVoice(d *exerciseList) voice {
	v := p.listVoice(&d.list, d, fmt.Sprintf("exercises of %s, %d of %d passed", d.learner, d.passed, len(d.items)))
	titles := make([]string, len(d.items))
	for i, it := range d.items {
		state, title := spaced(it.name[:8]), spaced(it.name[8:]) // as it is put into columns
		_, title, _ = strings.Cut(title, " ")
		titles[i] = strings.TrimRight(fmt.Sprintf("%d, %s, %s", i+1, title, state), ", ")
		v.asks[i+1] = titles[i]
	}
	if p.listed != nil && p.listed != d && len(titles) > 0 { // all were read before
		v.asks = []string{v.asks[0] + "; next " + titles[d.at] + "; list reads all"}
	} else {
		p.listed = d
	}
	text := v.text
	v.text = func(line string) bool {
		if strings.EqualFold(line, "list") {
			p.say(titles...)
			return true
		}
		return text(line)
	}
	v.replies = append([]reply{{"learner", "l", "for another"}}, v.replies...)
	return v
}

// pickerVoice chooses a file from a list, or by its name.
func (p *plain) pickerVoice(d *picker) voice {
	v := p.listVoice(&d.list, d, d.title+": a number or a name")
	number := v.number
	v.number = func(n int) bool {
		d.name.input.SetValue("")
		return number(n)
	}
	v.text = func(text string) bool {
		d.name.input.SetValue(unquoted(text))
		p.press("enter")
		return true
	}
	return v
}

// spaced is a text without runs of blanks, which only put it into columns.
func spaced(text string) string { return strings.Join(strings.Fields(text), " ") }

// unquoted is an answer as it was meant: quotation marks round it keep it from being a word of the dialogue.
func unquoted(text string) string {
	if len(text) >= 2 && text[0] == '"' && text[len(text)-1] == '"' {
		return text[1 : len(text)-1]
	}
	return text
}
