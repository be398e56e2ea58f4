package tui

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/printable"
)

// sayStart reads the start page.
func (p *plain) sayStart() {
	s := p.m.start
	v := p.listVoice(&s.list, nil, "Underveil. Say a number, new, open and a name, or leave")
	if p.startHeard {
		p.say(v.asks[0] + "; again reads the list")
		return
	}
	p.startHeard = true
	p.say(v.asks...)
}

// atStart obeys a line on the start page.
func (p *plain) atStart(line string) {
	s := p.m.start
	v := p.listVoice(&s.list, nil, "")
	v.replies = []reply{{"new", "n", ""}, {"open", "o", ""}, {"exercises", "e", ""}, {"demonstrations", "d", ""}, {"leave", "q", ""}, {"quit", "q", ""}, {"exit", "q", ""}}
	if line == "" || strings.EqualFold(line, "again") || strings.EqualFold(line, "list") {
		p.startHeard = p.startHeard && line == ""
		p.sayStart()
		return
	}
	if strings.EqualFold(line, "help") || line == "?" {
		p.say("say a number of the list, a name in it, or " + repliesLine(v.replies[:5]) + "; in a sheet help lists the commands")
		return
	}
	if path, ok := cutWord(line, "open"); ok && path != "" {
		p.do(func(m *Model) tea.Cmd {
			if path = atHome(unquoted(path)); !m.opts.Files.Exists(path) {
				path = asSheet(path)
			}
			return m.Open(path)
		})
		return
	}
	if v.called(line) || p.reply(v, line) {
		return
	}
	if leavesIt(line) {
		p.say("nothing is open to leave; leave ends the program")
		return
	}
	if n, err := strconv.Atoi(line); err == nil && v.number(n) || v.text(line) {
		return
	}
	p.refuse(fmt.Sprintf("%s is not on the list; again reads it", printable.Quote(line)))
}

// beforeNumber is the blank between a name and its value: "nape 25", "nape 1 in".
var beforeNumber = regexp.MustCompile(` +[-+]?[.\d½¼¾⅛⅜⅝⅞]`)

// zoneVoice names limits and turns, and changes them: "nape 25".
func (p *plain) zoneVoice(d *zonePanel) voice {
	s := p.m.doc.sheet()
	item := d.items[d.at].name() + ": " + d.items[d.at].explained(s)
	v := voice{asks: []string{"limits and turns. Say a name, or a name and its value, as: nape 25; list reads all", item}, changed: []string{item},
		replies: []reply{{"up", "up", ""}, {"down", "down", ""}, {"less", "left", ""}, {"more", "right", ""}, {"reset", "delete", ""}, {"sides", "s", "both at once"},
			{"undo", "u", ""}, {"redo", "U", ""}, {"done", "esc", ""}, goBack}}
	v.text = func(text string) bool {
		if strings.EqualFold(text, "list") {
			head := ""
			for _, it := range d.items {
				if it.head != "" {
					head = it.head + ":"
					continue
				}
				v, _, _ := it.value(s)
				if it.limit == "" && v == 0 {
					continue // where it ordinarily is
				}
				p.say(head)
				head = ""
				p.say(fmt.Sprintf("%s %s %s", it.name(), plainNumber(v), it.unit()))
			}
			p.say("every other turn and hairline point lies where it ordinarily does")
			return true
		}
		name, value := strings.ToLower(text), ""
		if at := beforeNumber.FindStringIndex(text); at != nil {
			name, value = strings.ToLower(text[:at[0]]), strings.TrimSpace(text[at[0]:])
		}
		at := -1
		for i, it := range d.items {
			switch called := strings.ToLower(it.name()); {
			case it.head != "":
			case called == name:
				at = i
			case value != "": // half a name changes nothing
			case at < 0 && strings.HasPrefix(called, name):
				at = i
			}
		}
		if at < 0 {
			return false
		}
		d.at = at
		if value != "" {
			p.setItem(d, value)
		}
		return true
	}
	v.number = func(n int) bool { p.setItem(d, strconv.Itoa(n)); return true }
	return v
}

// setItem types a value for the item of a panel of limits.
func (p *plain) setItem(d *zonePanel, value string) {
	f := d.typed(p.m)
	f.fields[0].units = p.m.opts.Units // what is said without a unit is in the one in force, as in a form
	f.fields[0].input.SetValue(value)
	p.do(func(m *Model) tea.Cmd {
		m.told = ""
		_, err := f.take(m, f)
		m.reading = d.reading(m)
		if err != nil {
			m.tell(err.Error())
		}
		return nil
	})
}

// matchVoice reads what matches in stock, the best first.
func (p *plain) matchVoice(d *matchPage) voice {
	s := p.m.doc.sheet()
	v := voice{asks: []string{"the client " + d.where + ". " + d.verdict(s)}, changed: []string{}, replies: []reply{{"tone", "t", "takes the first, to be toned"}, {"take", "enter", "the first"}, goBack}}
	for i, b := range d.blends {
		word := "off"
		if b.Close(s) {
			word = "close"
		}
		v.asks = append(v.asks, fmt.Sprintf("%d, %s, %.2f %s", i+1, b, b.Difference, word))
	}
	v.asks = append(v.asks, "a number takes it; tone and a number takes it to be toned")
	choose := func(n int, key string) bool {
		if n < 1 || n > len(d.blends) {
			return false
		}
		d.at = n - 1
		p.press(key)
		return true
	}
	v.number = func(n int) bool { return choose(n, "enter") }
	v.text = func(text string) bool {
		rest, ok := cutWord(text, "tone")
		n, err := strconv.Atoi(rest)
		return ok && err == nil && choose(n, "t")
	}
	return v
}

// drawnVoice reads a dialog as it is drawn, on a screen so high that nothing has to be scrolled, without its frame and its keys.
func (p *plain) drawnVoice(d dialog) voice {
	v := voice{asks: p.drawn(d), page: true}
	v.replies = append(v.replies, goBack)
	v.text = func(text string) bool { // a key by its sign
		if len([]rune(text)) == 1 {
			p.press(text)
			return true
		}
		return false
	}
	return v
}

// drawnHeight is how high the screen is that a dialog is read from.
const drawnHeight = 400

// drawn is the text that a dialog draws, line by line.
func (p *plain) drawn(d dialog) []string {
	m := p.m
	scr, told := m.scr, m.told
	m.scr = cells.NewScreen(unseenWidth, drawnHeight)
	m.told = ""
	d.draw(m)
	drawn := m.scr
	m.scr, m.told = scr, told
	var lines []string
	for y := range drawn.H {
		var text strings.Builder
		for x := range drawn.W {
			if c := drawn.At(x, y); c.Ink != figure.Frame && c.Rune != 0 {
				text.WriteRune(c.Rune)
			} else if c.Ink == figure.Frame {
				text.WriteByte(' ')
			}
		}
		line := strings.TrimSpace(text.String())
		if line == "" || strings.Contains(line, "any key closes") || strings.Contains(line, "any other key closes") {
			continue
		}
		lines = append(lines, columnsSaid(line))
	}
	return lines
}

// columnsSaid puts a comma where a line has its columns apart.
func columnsSaid(line string) string {
	var parts []string
	for part := range strings.SplitSeq(line, "  ") {
		if part = strings.TrimSpace(part); part != "" {
			parts = append(parts, part)
		}
	}
	return strings.Join(parts, ", ")
}
