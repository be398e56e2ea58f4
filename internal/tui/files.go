package tui

import (
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/recovery"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// Files is what the editor asks of the disk. The functions are called outside of
// Update and may block.
type Files struct {
	Load func(path string) (s *sheet.Sheet, notices []string, err error)
	// Save returns what else whoever saved should know, or nothing, and the stamp of what was written.
	Save   func(path string, s *sheet.Sheet) (told, stamp string, err error)
	Parse  func(name string, data []byte) (*sheet.Sheet, error)
	Exists func(path string) bool
	Stamp  func(path string) string                      // differs when the file has changed; empty when it can't be read
	Glance func(path string) string                      // the same without reading the file, and not so surely; nil where that is no cheaper
	Hold   func(path string) (release func(), err error) // keeps a file from other windows; a *hold.Taken where one has it; nil holds nothing
	Recent func() []string
	List   func() []string             // the sheets in the folder at hand
	Opened func(path string)           // puts a sheet among those open lately, without waiting for the disks of the others
	Before func(path string) []Version // the versions saved before, the latest first; nil where none are kept
	// Card writes the card of a sheet to a file and says what was written, and what whoever prints it should know. of is where the
	// sheet is from.
	Card func(s *sheet.Sheet, of, to, paper string) (told []string, err error)

	// Demonstrations, as Load, Save and Parse have sheets. SaveScript returns how many steps the
	// file has: where there are too many for one, the first of them are drawn together.
	LoadScript  func(path string) (s *lesson.Script, notices []string, err error)
	SaveScript  func(path string, s *lesson.Script) (steps int, err error)
	ParseScript func(name string, data []byte) (s *lesson.Script, notices []string, err error)
}

// Version is a sheet as it was before it was saved over.
type Version struct {
	At    time.Time // when it had been saved
	Sheet *sheet.Sheet
	Err   error // why it can't be read
}

type loadedMsg struct {
	path    string
	stamp   string // of the file as it was read
	held    held
	sheet   *sheet.Sheet
	script  *lesson.Script // where the file is a demonstration
	notices []string
	err     error
	beside  bool             // it is to lie beside the sheet that is open
	left    []*recovery.Left // what was left unfinished of it

	asked bool         // by somebody, while
	from  *document    // this was open
	as    *sheet.Sheet // like this
}

type listedMsg struct{ recent, here []string }

// Open loads a sheet, or a demonstration, as a command.
func (m *Model) Open(path string) tea.Cmd {
	files, unsaved := m.opts.Files, m.opts.Unsaved.Folder
	from, as := m.doc, m.openSheetNow()
	return func() tea.Msg {
		own := files.hold(path) // before it is read, or somebody could write it in between
		stamp := files.Stamp(path)
		s, notices, err := files.Load(path)
		msg := loadedMsg{path: path, stamp: stamp, held: own, sheet: s, notices: notices, err: err, left: unsaved.Of(path), asked: true, from: from, as: as}
		if err != nil {
			own.letGo()
			msg.held = held{}
			if script, notices, no := files.LoadScript(path); no == nil {
				msg.script, msg.notices, msg.err = script, notices, nil
			}
		}
		return msg
	}
}

func (m *Model) loaded(msg loadedMsg) tea.Cmd {
	if msg.asked && (m.doc != msg.from || m.openSheetNow() != msg.as) { // it took its time, and something was done meanwhile
		msg.held.letGo()
		return m.unlessUnsaved(func(m *Model) tea.Cmd { return m.Open(msg.path) })
	}
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
		msg.held.letGo()
		m.cantOpen(msg, err)
		return nil
	}
	if msg.beside {
		m.layBeside(d)
		return nil
	}
	d.stamp, d.told, d.held = msg.stamp, msg.stamp, msg.held
	m.open(d)
	if len(msg.notices) > 0 && m.told == "" {
		m.tell(msg.notices[0])
	}
	m.offer(msg.left)
	m.askWhereElse()
	path, opened := msg.path, m.opts.Files.Opened
	return func() tea.Msg { opened(path); return nil }
}

// openSheetNow is the sheet that is open, or nil.
func (m *Model) openSheetNow() *sheet.Sheet {
	if m.doc == nil {
		return nil
	}
	return m.doc.sheet()
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
	d.keys = m.keymap
	m.doc, m.dialogs, m.beside, m.top, m.shift = d, nil, nothingBeside, 0, -1 // the nape first: fitting goes from the bottom up
	m.warn(m.opts.Warn)
	if m.opts.Studio == nil && m.opts.From != "" {
		m.warn("the studio file can't be read, so its limits do not hold; " + m.keyOf("order") + " says why")
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

func (m *Model) quit() tea.Cmd {
	if m.demo != nil { // what was tried is left, not the demonstration
		return m.backToStep()
	}
	return m.unlessUnsaved(func(m *Model) tea.Cmd {
		m.finishKeeping()
		if m.handing > 0 {
			m.leaving = true
			m.tell("handing in first")
			return nil
		}
		m.doc.leave()
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
