package tui

import (
	"errors"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// Files is what the editor asks of the disk. The functions are called outside of
// Update and may block.
type Files struct {
	Load   func(path string) (s *sheet.Sheet, notices []string, err error)
	Save   func(path string, s *sheet.Sheet) error
	Parse  func(name string, data []byte) (*sheet.Sheet, error)
	Exists func(path string) bool
	Stamp  func(path string) string // differs when the file has changed; empty when it can't be read
	Recent func() []string
	List   func() []string // the sheets in the folder at hand
	Opened func(path string)
	// Card writes the card of a sheet to a file and says what was written, and what whoever prints it should know. of is where the
	// sheet is from.
	Card func(s *sheet.Sheet, of, to, paper string) (told []string, err error)

	// Demonstrations, as Load, Save and Parse have sheets. SaveScript returns how many steps the
	// file has: where there are too many for one, the first of them are drawn together.
	LoadScript  func(path string) (s *lesson.Script, notices []string, err error)
	SaveScript  func(path string, s *lesson.Script) (steps int, err error)
	ParseScript func(name string, data []byte) (s *lesson.Script, notices []string, err error)
}

type loadedMsg struct {
	path    string
	stamp   string // of the file as it was read
	sheet   *sheet.Sheet
	script  *lesson.Script // where the file is a demonstration
	notices []string
	err     error
	beside  bool // it is to lie beside the sheet that is open
}

type savedMsg struct {
	doc   *document // whose sheet it is; by now another may be open
	path  string
	sheet *sheet.Sheet
	taken bool // there was a file already, and nothing was written
	other bool // the file is no longer as this program left it, and nothing was written
	stamp string
	err   error
	then  func(*Model) tea.Cmd
}

type listedMsg struct{ recent, here []string }

// Open loads a sheet, or a demonstration, as a command.
func (m *Model) Open(path string) tea.Cmd {
	files := m.opts.Files
	return func() tea.Msg {
		stamp := files.Stamp(path)
		s, notices, err := files.Load(path)
		msg := loadedMsg{path: path, stamp: stamp, sheet: s, notices: notices, err: err}
		if err != nil {
			if script, notices, no := files.LoadScript(path); no == nil {
				msg.script, msg.notices, msg.err = script, notices, nil
			}
		}
		return msg
	}
}

func (m *Model) loaded(msg loadedMsg) tea.Cmd {
	if msg.err != nil {
		m.cantOpen(msg, msg.err)
		return nil
	}
	if msg.script != nil {
		m.demonstrate(msg.script, msg.notices)
		return nil
	}
	d, err := newDocument(m.house(msg.sheet), msg.path, m.table())
	if err != nil {
		m.cantOpen(msg, err)
		return nil
	}
	if msg.beside {
		m.layBeside(d)
		return nil
	}
	d.stamp = msg.stamp
	m.open(d)
	if len(msg.notices) > 0 {
		m.tell(msg.notices[0])
	}
	m.offer()
	path, opened := msg.path, m.opts.Files.Opened
	return func() tea.Msg { opened(path); return nil }
}

// table is the slot table of the sheet that is open, or nil.
func (m *Model) table() *slots.Table {
	if m.doc == nil {
		return nil
	}
	return m.doc.table
}

// house is a sheet with the studio's own limits, looked at today.
func (m *Model) house(s *sheet.Sheet) *sheet.Sheet {
	s = s.With(func(c *sheet.Sheet) { c.Today = m.opts.Today().Format(time.DateOnly) })
	if st := m.opts.Studio; st != nil {
		return st.House(s)
	}
	return s
}

// open shows a document.
func (m *Model) open(d *document) {
	if m.doc != nil {
		m.doc.leave()
	}
	m.demo, m.rec = nil, nil
	m.doc, m.dialogs, m.beside, m.top, m.shift = d, nil, nothingBeside, 0, -1 // the nape first: fitting goes from the bottom up
	m.told = ""
	if m.opts.Studio == nil && m.opts.From != "" {
		m.warn("the studio file can't be read, so its limits do not hold; E says why")
	}
}

// openDemo opens a sheet that comes with the program; it has no file until it is saved.
func (m *Model) openDemo(demo Demo) tea.Cmd {
	s, err := m.opts.Files.Parse(demo.Name, demo.Data)
	if err == nil {
		var d *document
		if d, err = newDocument(m.house(s), "", m.table()); err == nil {
			d.saved = d.sheet()
			m.open(d)
			return nil
		}
	}
	m.push(newTrouble("this can't be opened", err.Error()))
	return nil
}

// save writes the sheet where it came from, or asks where.
func (m *Model) save() tea.Cmd { return m.saveThen(nil) }

func (m *Model) saveThen(then func(*Model) tea.Cmd) tea.Cmd {
	if m.doc.practice != nil {
		m.handIn()
		return nil
	}
	if m.doc.path == "" {
		m.push(newSaveForm(m, then))
		return nil
	}
	return m.saveTo(m.doc, m.doc.path, false, then)
}

func (m *Model) saveAs() { m.push(newSaveForm(m, nil)) }

// saveTo writes the sheet to a file as a command. Over another file, or over its own when that was
// changed by something else, it writes only when told to.
func (m *Model) saveTo(d *document, path string, over bool, then func(*Model) tea.Cmd) tea.Cmd {
	files, s := m.opts.Files, d.sheet()
	own, stamp := path == d.path, d.stamp
	return func() tea.Msg {
		msg := savedMsg{doc: d, path: path, sheet: s, then: then}
		switch {
		case over:
		case own:
			now := files.Stamp(path)
			msg.other = stamp != "" && now != "" && now != stamp
		default:
			msg.taken = files.Exists(path)
		}
		if msg.taken || msg.other {
			return msg
		}
		if msg.err = files.Save(path, s); msg.err == nil {
			files.Opened(path)
			msg.stamp = files.Stamp(path)
		}
		return msg
	}
}

func (m *Model) wasSaved(msg savedMsg) tea.Cmd {
	answers := []answer{
		{"r", "replace it", func(m *Model) tea.Cmd { return m.saveTo(msg.doc, msg.path, true, msg.then) }},
		{"o", "another name", func(m *Model) tea.Cmd { m.push(newSaveForm(m, msg.then)); return nil }},
	}
	switch {
	case (msg.taken || msg.other) && msg.doc != m.doc: // another sheet is open by now
		m.warn("not saved: " + msg.path + " is there already, or has changed")
		return nil
	case msg.taken:
		m.push(&question{"that file is there already", msg.path + " would be replaced.", answers})
		return nil
	case msg.other:
		m.push(&question{"that file has changed", "Something else has written " + msg.path + " since it was opened here. That would be lost.", answers})
		return nil
	case msg.err != nil:
		m.tried = msg.path
		m.push(newTrouble("not saved", msg.err.Error()))
		return nil
	}
	m.tried = ""
	msg.doc.path, msg.doc.saved, msg.doc.stamp, msg.doc.steady = msg.path, msg.sheet, msg.stamp, ""
	m.tell("saved to " + msg.path)
	if msg.then != nil {
		return m.unlessUnsaved(msg.then) // something may have been done since
	}
	return nil
}

// newSaveForm asks for a file name.
func newSaveForm(m *Model, then func(*Model) tea.Cmd) *form {
	name := m.doc.path
	if m.tried != "" { // the name that did not do, to be mended
		name = m.tried
	}
	if name == "" {
		name = fileName(m.doc.sheet().Title)
	}
	return &form{title: "save", fields: []*field{textField("file", name, "a name here, or a whole path")},
		take: func(m *Model, fm *form) (tea.Cmd, error) {
			path := fm.find("file").text()
			if path == "" {
				return nil, errors.New("file: a name is needed")
			}
			return m.saveTo(m.doc, asFile(path, name), false, then), nil
		}}
}

// unlessUnsaved does something that leaves the sheet, after asking when it was changed.
func (m *Model) unlessUnsaved(do func(*Model) tea.Cmd) tea.Cmd {
	if m.doc == nil || !m.doc.changed() {
		return m.unlessRecording(do)
	}
	m.push(&question{"not saved", "This sheet has changes that are not saved.", []answer{
		{"s", "save it first", func(m *Model) tea.Cmd { return m.saveThen(do) }},
		{"l", "leave it unsaved", func(m *Model) tea.Cmd { return m.unlessRecording(do) }},
	}})
	return nil
}

func (m *Model) quit() tea.Cmd {
	if m.demo != nil { // what was tried is left, not the demonstration
		return m.backToStep()
	}
	return m.unlessUnsaved(func(m *Model) tea.Cmd {
		m.doc.leave()
		m.finishKeeping()
		if m.handing > 0 {
			m.leaving = true
			m.tell("handing in first")
			return nil
		}
		return tea.Quit
	})
}

func (m *Model) newSheet() tea.Cmd {
	return m.unlessUnsaved(func(m *Model) tea.Cmd {
		m.push(newSheetForm())
		return nil
	})
}

func (m *Model) openSheet() tea.Cmd {
	return m.unlessUnsaved(func(m *Model) tea.Cmd {
		p := newPicker("open a sheet", (*Model).Open)
		m.push(p)
		files := m.opts.Files
		return func() tea.Msg { return listedMsg{files.Recent(), files.List()} }
	})
}

// listed fills the picker or the start page with the sheets found.
func (m *Model) listed(msg listedMsg) {
	for _, d := range m.dialogs {
		if p, ok := d.(*picker); ok {
			p.fill(msg)
		}
	}
	m.start.fill(m, msg)
}

// trouble shows what went wrong, whole.
type trouble struct{ title, text string }

func newTrouble(title, text string) *trouble {
	return &trouble{title, strings.TrimPrefix(text, "underveil: ")}
}

func (t *trouble) key(m *Model, _ tea.KeyMsg) tea.Cmd {
	m.pop()
	return nil
}

func (t *trouble) draw(m *Model) {
	const width = 76
	lines := strings.Split(strings.TrimRight(t.text, "\n"), "\n")
	var shown []string
	for _, l := range lines {
		if cells.Width(l) <= width-4 {
			shown = append(shown, l) // an excerpt keeps its columns
			continue
		}
		shown = append(shown, wrap(l, width-4)...)
	}
	in := m.box(width, len(shown)+4, t.title)
	for i, l := range shown {
		m.scr.Text(in.X, in.Y+i, in.W, figure.Plain, l)
	}
	m.scr.Text(in.X, in.Y+in.H-1, in.W, figure.Dim, "any key closes")
}
