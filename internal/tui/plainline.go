package tui

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/sheet"
)

// obey obeys a line, whatever is in front.
func (p *plain) obey(line string) {
	m := p.m
	if names, ok := cutWord(line, "key"); ok && names != "" {
		p.fromTop = nil
		p.press(strings.Fields(names)...)
		return
	}
	front := m.front()
	_, isForm := front.(*form)
	switch {
	case strings.HasPrefix(line, "# ") && !isForm: // a remark in a file of commands
		p.spoke = true
	case front != nil:
		p.answer(front, line)
	case m.doc == nil:
		p.atStart(line)
	case m.doc.moving != nil:
		p.carry(line)
	case line == "":
		p.say(p.atPlace(true) + ": " + p.here())
	default:
		p.command(line)
	}
}

// cutWord is the rest of a line that begins with a word.
func cutWord(line, word string) (rest string, ok bool) {
	first, rest, _ := strings.Cut(line, " ")
	return strings.TrimSpace(rest), strings.EqualFold(first, word)
}

// ownWord is a command of the dialogue alone: what only reads, and what says in one line what the screen needs a form or several
// keys for.
type ownWord struct {
	group, word, does string
	run               func(p *plain, args string)
}

// ownWords are these commands; they go before those of the table of keys.
var ownWords []ownWord

func init() {
	ownWords = []ownWord{
		{groupMove, "go", `to a place: go 60 left 8, go left 3, go 60, go along 24 right 3 front`, (*plain).goSpoken},
		{groupMove, "where", "where the cursor is, in full", func(p *plain, _ string) { p.sayWhere() }},
		{groupRow, "row", "reads the row at the cursor; row bonds reads each bond, row 60 that at height 60", (*plain).readRow},
		{groupRow, "rows", "reads all rows, from the nape up", func(p *plain, _ string) { p.readRows() }},
		{groupMove, "map", "reads the head line by line, from the nape up: what room there is, and what is there", func(p *plain, _ string) { p.readMap() }},
		{groupPaint, "paint", `paints the row, or what is selected, with what is in hand; paint every second split b changes that first`, (*plain).paint},
		{groupHand, "hand", `what is in hand, as a form; hand every third trimmed oat changes it at once`, (*plain).takeInHand},
		{groupRow, "select", `select 10 left to 10 right, select 40 left 3 to 60 right 3, select row, select panel, select nothing`, (*plain).selectSpoken},
		{groupCheck, "findings", "lists what the rules have found", func(p *plain, _ string) { p.readFindings() }},
		{groupCheck, "finding", "goes to one of the list: finding 3", (*plain).goFinding},
		{groupSheet, "totals", "strands, grams, packs and findings", func(p *plain, _ string) { p.readTotals() }},
		{groupSheet, "help", "the commands; help place tells of one", (*plain).help},
		{groupSheet, "key", "presses keys of the screen by name: key Tab, key Up Up Enter", (*plain).nameAKey},
	}
}

// saidAs are other words for commands: by the id of the table, or by a word of the dialogue.
var saidAs = map[string]string{
	"quit": "leave", "exit": "leave", "bye": "leave", "q": "leave", "lift": "place", "center": "centre", "read": "row", "status": "totals", "goto": "go",
	"?": "help", "commands": "help", "next": "next-finding", "before": "finding-before", "previous": "finding-before", "copy": "copy-row", "lay": "lay-row", "look": "row-look",
	"ask": "ask-rules", "name": "name-fault", "every": "every-slot", "shift-left": "row-left", "shift-right": "row-right", "in-hand": "hand", "time": "weeks",
	"start": "line-start", "end": "line-end", "both": "both-sides", "version": "earlier", "versions": "earlier",
}

// shadowed are the ids of commands that have another word here, since the word itself reads.
var shadowed = map[string]string{"in-hand": "hand"}

// repeats are the commands that a number repeats.
var repeats = []string{"left", "right", "up", "down", "up-five", "down-five", "undo", "redo", "next-finding", "finding-before", "row-left", "row-right",
	"select-left", "select-right", "select-up", "select-down", "turn-left", "turn-right", "see-higher", "see-lower"}

// command obeys a line of the sheet.
func (p *plain) command(line string) {
	words := strings.Fields(line)
	if len(words) == 1 { // a key by its sign: r, R, 1
		if msg, ok := keyNamed(words[0]); ok && len([]rune(words[0])) == 1 && words[0] != "q" && words[0] != "?" {
			if c, ok := p.m.keymap.commandFor(msg); ok {
				p.call(c)
				return
			}
		}
	}
	times, before := 1, false
	if n, err := strconv.Atoi(words[0]); err == nil && len(words) > 1 { // 3 left
		times, words, before = n, words[1:], true
	}
	if p.lessonWord(strings.Join(words, " ")) {
		return
	}
	if _, err := strconv.Atoi(words[len(words)-1]); err == nil && before && slices.Contains(repeats, words[0]) { // 60 left 3 is a place, and not 60 times left
		p.refuse("say go " + line + " to go there")
		return
	}
	word, args := p.commandWord(words)
	if own, ok := ownCalled(word); ok {
		own.run(p, args)
		return
	}
	c, ok := p.commandCalled(word)
	if said := strings.Join(words, " "); !ok && (leavesPage(said) || strings.EqualFold(said, "pause")) {
		p.say("nothing is open to leave; undo takes a step back")
		return
	}
	if !ok {
		p.unknown(strings.Join(words, " "))
		return
	}
	if slices.Contains(repeats, c.id) {
		if n, err := strconv.Atoi(args); err == nil {
			times, args = n, ""
		}
		if times < 1 || times > sheet.MaxSlot {
			p.refuse(fmt.Sprintf("from 1 to %d times", sheet.MaxSlot))
			return
		}
	}
	if args != "" || times > 1 && !slices.Contains(repeats, c.id) {
		p.withArgs(c, args)
		return
	}
	for range times {
		before := p.now()
		if p.call(c); p.now() == before && p.m.told != "" { // there is no more of it
			break
		}
	}
}

// commandWord is the command that a line begins with, as long as there is one: "every second" goes before "every". The rest is what it is to be
// done with.
func (p *plain) commandWord(words []string) (word, args string) {
	for n := min(3, len(words)); n > 0; n-- {
		word := strings.ToLower(strings.Join(words[:n], "-"))
		word = cmp.Or(saidAs[word], word)
		_, own := ownCalled(word)
		if _, ok := p.commandCalled(word); ok || own {
			return word, strings.Join(words[n:], " ")
		}
	}
	return strings.ToLower(words[0]), strings.Join(words[1:], " ")
}

func ownCalled(word string) (ownWord, bool) {
	i := slices.IndexFunc(ownWords, func(o ownWord) bool { return o.word == word })
	if i < 0 {
		return ownWord{}, false
	}
	return ownWords[i], true
}

func (p *plain) commandCalled(id string) (command, bool) {
	list := p.m.keymap.commands
	i := slices.IndexFunc(list, func(c command) bool { return c.id == id })
	if i < 0 {
		return command{}, false
	}
	return list[i], true
}

// call runs a command of the table as its key would.
func (p *plain) call(c command) {
	p.do(func(m *Model) tea.Cmd {
		m.doc.drag = nil
		m.told, m.grave = "", false
		if why := c.offReason(m); why != "" {
			m.tell(why)
			return nil
		}
		return c.run(m)
	})
	if p.m.doc == nil || p.m.front() != nil {
		return
	}
	switch c.id {
	case "next-finding", "finding-before":
		p.sayFinding(p.m.doc.shown)
		p.placed = true
	case "reading", "reading-before", "weeks":
		if text, ok := p.m.readingHere(); ok {
			p.say(text)
		}
	}
	if slices.Contains(screenOnly, c.id) && !p.spoke {
		p.say("that is for the screen")
	}
}

// nameAKey asks for the name of a key.
func (p *plain) nameAKey(string) { p.say("say which: key Tab, key ctrl+s") }
