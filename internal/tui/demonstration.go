package tui

import (
	"cmp"
	"fmt"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
)

// demonstration goes through a script: the map shows the sheet of a step, and beside it stand what to look at and the findings
// that came and went with it. It is a dialog while steps are gone through. A step can be left to try something, which is ordinary
// editing of that sheet, and comes back as it was.
type demonstration struct {
	script *lesson.Script
	at     int // the step shown; 0 is the start
	news   []lesson.News
	shown  int // which of the news is in view

	reading    rule.Reading // as it was seen when it was left to try something
	top, shift int
}

// demonstrationList chooses one of the demonstrations that come with the program.
type demonstrationList struct{ list }

func (m *Model) listDemonstrations() tea.Cmd {
	l := &demonstrationList{}
	for _, d := range m.opts.Demonstrations {
		l.items = append(l.items, item{name: d.Name, about: d.About, do: func(m *Model) tea.Cmd { return m.openDemonstration(d) }})
	}
	if len(l.items) > 0 {
		m.push(l)
	}
	return nil
}

func (l *demonstrationList) key(m *Model, msg tea.KeyMsg) tea.Cmd {
	switch msg.String() {
	case "up":
		l.step(-1)
	case "down":
		l.step(1)
	case "enter", " ":
		if len(l.items) > 0 {
			return l.items[l.at].do(m)
		}
	case "esc", "q", "ctrl+c":
		m.pop()
	}
	return nil
}

func (l *demonstrationList) draw(m *Model) {
	in := m.box(76, len(l.items)+6, "demonstrations")
	l.drawIn(m, cells.Rect{X: in.X, Y: in.Y, W: in.W, H: in.H - 3})
	m.scr.Text(in.X, in.Y+in.H-2, in.W, figure.Dim, m.keyOf("record")+" in a sheet records your own; o opens it like a sheet")
	m.scr.Text(in.X, in.Y+in.H-1, in.W, figure.Dim, "Enter begins   Esc leaves")
}

// openDemonstration begins a demonstration that comes with the program.
func (m *Model) openDemonstration(d Demo) tea.Cmd {
	script, told, err := m.opts.Files.ParseScript(d.Name, d.Data)
	if err != nil {
		m.push(newTrouble("this can't be shown", err.Error()))
		return nil
	}
	m.demonstrate(script, told)
	return nil
}

// demonstrate begins a demonstration in place of what is open.
func (m *Model) demonstrate(script *lesson.Script, notices []string) {
	p := &demonstration{script: script}
	d, err := m.stepOf(p, 0)
	if err != nil {
		m.push(newTrouble("this can't be shown", err.Error()))
		return
	}
	m.open(d)
	m.demo = p
	m.showStep(0)
	if len(notices) > 0 {
		m.tell(notices[0])
	}
}

// stepOf is the sheet after the n-th step, as a document.
func (m *Model) stepOf(p *demonstration, n int) (*document, error) {
	d, err := newDocument(m.house(p.script.At(n)), "", m.table())
	if err != nil {
		return nil, err
	}
	d.saved = d.sheet() // nobody is asked to save what was shown
	return d, nil
}

// stepping is the demonstration while its steps are gone through, or nil.
func (m *Model) stepping() *demonstration {
	if len(m.dialogs) == 0 {
		return nil
	}
	p, _ := m.dialogs[0].(*demonstration)
	return p
}

// trying reports whether a step of a demonstration was left to try something.
func (m *Model) trying() bool { return m.demo != nil && m.stepping() == nil }

// showStep shows the n-th step just as it was recorded.
func (m *Model) showStep(n int) {
	p := m.demo
	d, err := m.stepOf(p, n)
	var before *document
	if err == nil && n > 0 {
		before, err = m.stepOf(p, n-1)
	}
	if err != nil {
		m.push(newTrouble(fmt.Sprintf("step %d can't be shown", n), err.Error()))
		return
	}
	p.at, p.news, p.shown = n, nil, 0
	if n > 0 {
		p.news = lesson.Together(lesson.Between(before.report, d.report))
	}
	p.point(d, before)
	if m.doc != nil {
		m.doc.leave()
	}
	d.keys = m.keymap
	m.doc, m.dialogs = d, []dialog{p}
}

// point puts the cursor where there is something to see: where the step says, or at the first finding that came, or at what was changed.
func (p *demonstration) point(d *document, before *document) {
	if p.at == 0 {
		return
	}
	if look := p.script.Steps[p.at-1].Look; look != nil {
		if _, err := d.table.Line(look.At); err == nil {
			d.goTo(sheet.Concern{Row: look.At, On: sheet.OnSlot, Slot: look.Slot})
			return
		}
	}
	if at, ok := changedAt(before.sheet(), d.sheet()); ok {
		d.goTo(at)
	}
	for _, n := range p.news {
		if n.Turn == lesson.Came && n.On != sheet.OnSheet {
			d.goTo(n.Concern)
			return
		}
	}
}

// changedAt is the first bond that is another on two sheets; ok is false where all are the same.
func changedAt(before, after *sheet.Sheet) (at sheet.Concern, ok bool) {
	for _, r := range append(slices.Clip(after.Rows), before.Rows...) {
		for slot := range r.All() {
			if before.Bond(r.Place, slot) != after.Bond(r.Place, slot) {
				return sheet.Concern{Row: r.Place, On: sheet.OnSlot, Slot: slot}, true
			}
		}
	}
	return at, false
}

// last is the number of the last step.
func (p *demonstration) last() int { return len(p.script.Steps) }

// say is what to look at now, or else what was done.
func (p *demonstration) say() string {
	if p.at == 0 {
		return p.script.Say
	}
	step := p.script.Steps[p.at-1]
	return cmp.Or(step.Say, step.Did)
}

// inView is the finding that came or went and is in view; ok is false where there is none.
func (p *demonstration) inView() (n lesson.News, ok bool) {
	if p.shown >= len(p.news) {
		return n, false
	}
	return p.news[p.shown], true
}

// whileStepping are the commands of the map that steps have too, with the keys that they have there.
var whileStepping = []string{"projector", "weeks", "columns", "letters", "mouse", "redraw"}

func (p *demonstration) key(m *Model, msg tea.KeyMsg) tea.Cmd {
	m.told = ""
	switch msg.String() {
	case " ", "right", "pgdown", "enter":
		p.on(m)
	case "left", "pgup", "backspace", "b":
		if p.at == 0 {
			m.tell("this is where it begins")
			return nil
		}
		m.showStep(p.at - 1)
	case "home", "0":
		m.showStep(0)
	case "end":
		m.showStep(p.last())
	case "n", "tab", "down":
		p.nextNews(m, 1)
	case "N", "shift+tab", "up":
		p.nextNews(m, -1)
	case "e", "esc":
		p.reading, p.top, p.shift = m.reading, m.top, m.shift
		m.pop()
		m.tell("try what you like on this sheet; " + m.keyOf("record") + " goes back to the step, and nothing is kept")
	case "w":
		p.shade(m)
	case "H":
		m.headOn = true
		m.push(&headPage{})
	case "?":
		m.push(newStepKeys(m))
	case "q", "ctrl+c":
		return m.endDemonstration()
	default:
		if c, ok := m.keymap.commandFor(msg); ok && slices.Contains(whileStepping, c.id) {
			return c.run(m)
		}
		m.tell("no command is on " + msg.String() + " here; ? shows the keys")
	}
	return nil
}

// on goes to the next step.
func (p *demonstration) on(m *Model) {
	if p.at == p.last() {
		m.tell("that was the last step; Home begins again, q ends")
		return
	}
	m.showStep(p.at + 1)
}

// nextNews goes on or back through what came and went, and there with the cursor.
func (p *demonstration) nextNews(m *Model, by int) {
	n := len(p.news)
	if n == 0 {
		m.tell("no finding came or went with this step")
		return
	}
	p.shown = (p.shown + by + n) % n
	m.doc.goTo(p.news[p.shown].Concern)
}

// shade shades the map by what the finding in view is about, and takes that away again.
func (p *demonstration) shade(m *Model) {
	sees := rule.Reading{}
	if n, ok := p.inView(); ok {
		sees = n.Reading
	}
	switch {
	case m.reading != (rule.Reading{}):
		m.reading = rule.Reading{}
	case sees.Kind == rule.ByZone:
		m.nextReading(1)
		return
	default:
		m.reading = sees
	}
	m.tell("shaded by " + m.readingName())
}

// backToStep takes a demonstration up again where it was left. What was tried is gone, unless it was saved to a file.
func (m *Model) backToStep() tea.Cmd {
	return m.unlessUnsaved(func(m *Model) tea.Cmd {
		p := m.demo
		m.told = ""
		m.showStep(p.at)
		m.reading, m.top, m.shift = p.reading, p.top, p.shift // as it was seen before
		return nil
	})
}

// forgetTried keeps what is being tried from being asked about, until it was saved to a file of its own.
func (m *Model) forgetTried() {
	if m.trying() && m.doc.path == "" {
		m.doc.saved = m.doc.sheet()
	}
}

// endDemonstration leaves it for the start page.
func (m *Model) endDemonstration() tea.Cmd {
	m.doc.leave()
	m.doc, m.demo, m.dialogs, m.told = nil, nil, nil, ""
	m.lookForLeft()
	files := m.opts.Files
	return func() tea.Msg { return listedMsg{recent: files.Recent()} }
}
