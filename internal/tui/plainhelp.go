package tui

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"example.org/underveil/internal/printable"
)

// spokenGroups are the groups of commands in the order of the page of keys, without those that only change a screen.
var spokenGroups = []string{groupMove, groupPaint, groupHand, groupRow, groupCheck, groupChair, groupTeach, groupSheet, groupView}

// screenOnly are the commands that change what the screen looks like, and nothing that could be heard.
var screenOnly = []string{"side", "head", "turn-left", "turn-right", "see-higher", "see-lower", "beside", "choose-beside", "columns", "letters", "mouse", "redraw", "projector", "keys"}

// help lists the commands by group, or tells of one.
func (p *plain) help(args string) {
	if args == "" {
		p.say("an empty line says where you are; help and a word tells of a command")
		p.say(p.helpAll()...)
		return
	}
	word, _ := p.commandWord(strings.Fields(args))
	if own, ok := ownCalled(word); ok {
		p.say(own.word + ": " + own.does)
		return
	}
	if c, ok := p.commandCalled(word); ok {
		p.say(p.helpOf(c))
		return
	}
	p.unknown(args)
}

// helpAll is all commands, a group a line.
func (p *plain) helpAll() []string {
	var lines []string
	for _, g := range spokenGroups {
		var words []string
		for _, o := range ownWords {
			if o.group == g {
				words = append(words, o.word)
			}
		}
		for _, c := range commands {
			if c.group == g && shadowed[c.id] == "" && !slices.Contains(words, c.id) && !slices.Contains(screenOnly, c.id) {
				words = append(words, strings.ReplaceAll(c.id, "-", " "))
			}
		}
		if len(words) > 0 {
			lines = append(lines, strings.ToLower(g)+": "+strings.Join(words, ", "))
		}
	}
	return lines
}

// wordOf is what a command of the table is called in a line.
func wordOf(id string) string {
	return strings.ReplaceAll(cmp.Or(shadowed[id], id), "-", " ")
}

// helpOf tells of a command: what it does, and its keys.
func (p *plain) helpOf(c command) string {
	does := c.bind.Help().Desc
	for i := slices.IndexFunc(commands, func(o command) bool { return o.id == c.id }); does == "" && i >= 0; i-- {
		does = commands[i].bind.Help().Desc // a pair stands under the first of it
	}
	var keys []string
	for _, k := range named(c.bind.Keys()) {
		keys = append(keys, InWords(keyName(k)))
	}
	text := wordOf(c.id) + ": " + does
	if len(keys) > 0 {
		text += "; on the screen " + strings.Join(keys, " or ")
	}
	if slices.Contains(repeats, c.id) {
		text += "; a number repeats it"
	}
	return text
}

// unknown says that there is no such command, and which is nearest.
func (p *plain) unknown(line string) {
	word := strings.ToLower(strings.Fields(line + " ?")[0])
	text := fmt.Sprintf("no command is called %s", printable.Quote(word))
	if near := p.nearest(word); near != "" {
		p.refuse(text + "; did you mean " + near + "?")
		return
	}
	p.refuse(text + "; help lists them")
}

// nearest is the command written most like a word, or empty where none is.
func (p *plain) nearest(word string) string {
	best, least := "", 3
	if len(word) <= 4 {
		least = 2
	}
	try := func(written, name string) {
		if d := typedApart(word, written); d < least {
			best, least = strings.ReplaceAll(name, "-", " "), d
		}
	}
	for _, o := range ownWords {
		try(o.word, o.word)
	}
	for _, c := range p.m.keymap.commands {
		name := cmp.Or(shadowed[c.id], c.id)
		try(name, name)
	}
	for _, said := range slices.Sorted(maps.Keys(saidAs)) {
		if len(said) > 1 {
			try(said, saidAs[said])
		}
	}
	return best
}

// typedApart is how many letters have to be put in, taken out, changed or swapped with the next to make one word of another.
func typedApart(a, b string) int {
	s, t := []rune(a), []rune(b)
	if len(s) > 40 { // no command, and not worth the work
		return len(s)
	}
	rows := make([][]int, len(s)+1)
	for i := range rows {
		rows[i] = make([]int, len(t)+1)
		rows[i][0] = i
	}
	for k := range t {
		rows[0][k+1] = k + 1
	}
	for i := range s {
		for k := range t {
			change := 1
			if s[i] == t[k] {
				change = 0
			}
			d := min(rows[i][k+1]+1, rows[i+1][k]+1, rows[i][k]+change)
			if i > 0 && k > 0 && s[i] == t[k-1] && s[i-1] == t[k] {
				d = min(d, rows[i-1][k-1]+1)
			}
			rows[i+1][k+1] = d
		}
	}
	return rows[len(s)][len(t)]
}
