package tui

import (
	"cmp"
	"path/filepath"
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
)

// withArgs runs a command with what was said after it.
func (p *plain) withArgs(c command, args string) {
	switch c.id {
	case "every-slot", "pattern", "split", "trim":
		p.takeInHand(strings.NewReplacer("pattern", "", "every-slot", "every").Replace(c.id) + " " + args)
	case "open":
		path := unquoted(args)
		p.do(func(m *Model) tea.Cmd {
			return m.unlessUnsaved(func(m *Model) tea.Cmd {
				if path = atHome(path); !m.opts.Files.Exists(path) {
					path = asSheet(path)
				}
				return m.Open(path)
			})
		})
	case "fix":
		p.fixBy(args)
	case "accept", "save-as", "save", "card":
		switch c.id {
		case "save":
			c = p.m.command("save-as")
			fallthrough
		case "save-as":
			p.m.tried = "" // nobody has heard that name offered
		case "card":
			args = p.cardCalled(args)
		}
		about := p.findingInView()
		p.call(c)
		f, ok := p.m.front().(*form)
		if !ok {
			return
		}
		if c.id == "accept" { // nobody sees which one is in view
			p.say(about)
		}
		if why := p.fill(f, f.fields[0], args); why != "" {
			p.refuse(why)
			return
		}
		p.takeForm(f)
	case "reading":
		p.readBy(args)
	case "name-fault":
		p.call(c)
		if d, ok := p.m.front().(*rulePicker); ok && !p.voiceOf(d).called(args) {
			p.refuse("no rule is called " + printable.Quote(args))
		}
	default:
		p.refuse(c.id + " takes nothing after it; help " + c.id + " tells of it")
	}
}

// fixBy mends the finding in view by one of its fixes, by the number that explain has for it.
func (p *plain) fixBy(args string) {
	if why := needsFinding(p.m); why != "" {
		p.say(why)
		return
	}
	f := p.m.doc.finding()
	fixes := rule.Fixes(p.m.doc.sheet(), p.m.doc.table, f)
	n, err := strconv.Atoi(args)
	switch {
	case len(fixes) == 0:
		p.say(findingName(f) + ": no single change mends this")
	case err != nil || n < 1 || n > len(fixes):
		p.refuse(findingName(f) + ": fixes have numbers from 1 to " + strconv.Itoa(len(fixes)) + "; explain reads them")
	default:
		p.do(func(m *Model) tea.Cmd {
			m.fix(f, fixes[n-1])
			return nil
		})
	}
}

// cardCalled is the file of a card where only its kind was said: card text.
func (p *plain) cardCalled(args string) string {
	kind, ok := map[string]string{"text": ".txt", "txt": ".txt", "pdf": ".pdf", "svg": ".svg"}[strings.ToLower(args)]
	if !ok {
		return args
	}
	name := p.m.doc.path
	if name == "" {
		name = fileName(p.m.doc.sheet().Title)
	}
	return strings.TrimSuffix(name, filepath.Ext(name)) + kind
}

// readBy shades the map by the reading that a word means, and says its figure at the cursor.
func (p *plain) readBy(word string) {
	for _, r := range rule.Readings(p.m.doc.sheet()) {
		if strings.Contains(r.Name(p.m.doc.sheet()), strings.ToLower(word)) {
			p.do(func(m *Model) tea.Cmd {
				r.Time, m.reading = m.reading.Time, r
				if r.Kind != rule.ByCover {
					m.reading.Time = 0
				}
				m.tell("shaded by " + m.readingName())
				return nil
			})
			if text, ok := p.m.readingHere(); ok {
				p.say(text)
			}
			return
		}
	}
	p.refuse("no reading is called " + printable.Quote(word))
}

// goSpoken goes to a place.
func (p *plain) goSpoken(args string) {
	at, err := parseSpot(p.m.doc, args)
	if err != nil {
		p.refuse(err.Error())
		return
	}
	p.do(func(m *Model) tea.Cmd {
		d := m.doc
		d.steady, d.picked = "", nil
		d.goTo(sheet.Concern{Row: at.At, On: sheet.OnSlot, Slot: at.Slot})
		m.told = ""
		return nil
	})
	if p.m.doc.cursor == p.was.cursor {
		p.say(p.atPlace(true) + ": " + p.here())
	}
}

// selectSpoken selects from one place to another.
func (p *plain) selectSpoken(args string) {
	switch word := strings.ToLower(args); word {
	case "nothing", "none":
		p.call(p.m.command("select-nothing"))
		return
	case "", "row", "line":
		d := p.m.doc
		if d.cursor.At.Along {
			at := d.cursor.At
			p.do(func(m *Model) tea.Cmd { m.doc.picked = &selection{row: &at}; return nil })
			return
		}
		l := d.line()
		args = sideOf(l.Place(), l.First) + " to " + sideOf(l.Place(), l.Last())
	}
	args = strings.NewReplacer("front to back", "along").Replace(strings.ToLower(args))
	from, to, ok := strings.Cut(args, " to ")
	if !ok {
		p.refuse("say from where to where: select 10 left to 10 right")
		return
	}
	d := p.m.doc
	old := d.cursor
	first, err := parseSpot(d, strings.TrimPrefix(from, "from "))
	if err == nil {
		d.cursor = first // the second place may say less
	}
	last, err2 := parseSpot(d, to)
	d.cursor = old
	if err = cmp.Or(err, err2); err != nil {
		p.refuse(err.Error())
		return
	}
	p.do(func(m *Model) tea.Cmd {
		d := m.doc
		d.steady = ""
		d.goTo(sheet.Concern{Row: first.At, On: sheet.OnSlot, Slot: first.Slot})
		from := d.spot()
		d.goTo(sheet.Concern{Row: last.At, On: sheet.OnSlot, Slot: last.Slot})
		d.picked = &selection{anchor: from, to: d.spot()}
		return nil
	})
}

// carry obeys a line while a selection is being moved.
func (p *plain) carry(line string) {
	words := strings.Fields(strings.ToLower(line))
	times := 1
	if len(words) == 2 {
		for i, w := range words {
			if n, err := strconv.Atoi(w); err == nil && n > 0 && n <= sheet.MaxSlot {
				times, words = n, []string{words[1-i]}
			}
		}
	}
	switch word := strings.Join(words, " "); word {
	case "left", "right", "up", "down":
		for range times {
			p.press(word)
		}
	case "done", "put down", "enter", "m":
		p.press("enter")
	case "cancel", "back", "leave", "esc", "take back":
		p.press("esc")
	case "", "where":
		p.say(p.atPlace(true))
	default:
		p.say(spokenFor.Replace(howToCarry))
	}
}
