package tui

import (
	"path/filepath"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/sheet"
)

// watchMsg says that it is time to look whether something else has written the file of the sheet.
type watchMsg struct{}

// lookedMsg is what came of looking.
type lookedMsg struct {
	doc     *document
	path    string
	was     string // the stamp that the document had then
	glance  string
	stamp   string // empty where the file is gone, or can't be read
	same    bool   // nothing has been looked at closely
	held    held   // of the file, where another window had it
	sheet   *sheet.Sheet
	notices []string
	err     error
}

// watch looks at the file again after a while. There is no more than one look at a time: on a disk at the far end of a line one may take long.
func (m *Model) watch() tea.Cmd {
	if m.opts.WatchEvery == 0 {
		return nil
	}
	return tea.Tick(m.opts.WatchEvery, func(time.Time) tea.Msg { return watchMsg{} })
}

// look looks whether the file of the sheet is as this program knows it, as a command.
func (m *Model) look() tea.Cmd {
	d, files := m.doc, m.opts.Files
	if d == nil || d.path == "" || d.stamp == "" || len(d.saving) > 0 {
		return m.watch()
	}
	msg := lookedMsg{doc: d, path: d.path, was: d.stamp}
	before, elsewhere := d.glance, d.held.elsewhere()
	return func() tea.Msg {
		if elsewhere {
			msg.held = files.hold(msg.path) // that window may be closed by now
		}
		if files.Glance != nil {
			msg.glance = files.Glance(msg.path)
			if msg.same = msg.glance != "" && msg.glance == before; msg.same {
				return msg
			}
		}
		if msg.stamp = files.Stamp(msg.path); msg.stamp != "" && msg.stamp != msg.was {
			msg.sheet, msg.notices, msg.err = files.Load(msg.path)
		}
		return msg
	}
}

// looked tells of a file that something else has written. It waits for whoever is in the midst of something, and tells of a change once.
func (m *Model) looked(msg lookedMsg) tea.Cmd {
	d := m.doc
	switch {
	case d == msg.doc && d.path == msg.path && d.held.elsewhere() && msg.held.here():
		d.holdOn(msg.held)
		m.tell("the other window is closed: what is changed here can be saved here")
	default:
		msg.held.letGo()
	}
	current := d == msg.doc && d.path == msg.path && d.stamp == msg.was && len(d.saving) == 0
	if !current || msg.same || len(m.dialogs) > 0 || d.moving != nil || d.drag != nil {
		return m.watch()
	}
	d.glance = msg.glance
	if known := d.told; msg.stamp == known {
		return m.watch()
	}
	d.told = msg.stamp
	switch {
	case msg.stamp == d.stamp: // it was gone for a moment
		if d.saved == nil {
			d.saved, d.gone = d.gone, nil
		}
		m.tell(shortName(d.path) + " is there again, as it was")
	case msg.stamp == "":
		if d.saved != nil { // what no file has is not saved
			d.saved, d.gone = nil, d.saved
		}
		m.warn(shortName(d.path) + " is not there any more, or can't be read; " + m.keyOf("save") + " saves it again")
	case msg.err != nil:
		m.warn("something else has written " + shortName(d.path) + ", and it can't be read any more; saving asks first")
	case d.changed(), d.history.CanRedo() != "", d.backAtFile():
		m.askAboutOutside(msg)
	default:
		m.readAgain(msg)
	}
	return m.watch()
}

// readAgain takes what is in the file now as a step of the sheet that is open, which has it saved.
func (m *Model) readAgain(msg lookedMsg) {
	d := m.doc
	if err := d.do("read again what something else has written", m.house(msg.sheet)); err != nil {
		m.warn("something else has written to the file, and that does not fit: " + err.Error())
		return
	}
	d.saved, d.gone, d.stamp, d.told = d.sheet(), nil, msg.stamp, msg.stamp
	m.warn("something else has changed " + shortName(d.path) + ", and it was read again; " + m.keyOf("undo") + " brings back what was here")
	if len(msg.notices) > 0 {
		m.warn(m.told + "; " + msg.notices[0])
	}
}

// askAboutOutside asks which is to hold where both the file and the sheet that is open have been changed.
func (m *Model) askAboutOutside(msg lookedMsg) {
	d := m.doc
	text := "Something else has changed " + d.path + " while there are unsaved changes here."
	if !d.changed() {
		text = "Something else has changed " + d.path + ". To take that in would end what can be made again here with " + m.keyOf("redo") + "."
	}
	if there, here := sheet.Brief(msg.sheet), sheet.Brief(d.sheet()); there != here {
		text += " It now has " + there + "; here there are " + here + "."
	}
	m.ask(&question{"the file has changed", text, []answer{
		{"k", "keep what is here; saving puts it in place of the file, and " + m.keyOf("earlier") + " brings that back", func(m *Model) tea.Cmd {
			d.stamp, d.told, d.saved = msg.stamp, msg.stamp, nil // no file has it
			m.tell("kept as it is here; " + m.keyOf("save") + " puts it in place of the file")
			return nil
		}},
		{"t", "take what is in the file, as one step; " + m.keyOf("undo") + " brings back yours", func(m *Model) tea.Cmd {
			m.readAgain(msg)
			return nil
		}},
		{"b", "lay the file beside it, to compare; saving will ask", func(m *Model) tea.Cmd {
			m.besideNow(msg.sheet.With(func(c *sheet.Sheet) { c.Title = "the file now" }), d.path)
			return nil
		}},
	}})
}

// shortName is the name of a file without its folder, for a line in which there is more to say.
func shortName(path string) string { return filepath.Base(path) }

// besideNow lays a sheet that was read already beside the one that is open.
func (m *Model) besideNow(s *sheet.Sheet, path string) {
	d, err := newDocument(m.house(s), path, m.table())
	if err != nil {
		m.push(newTrouble("this can't be laid beside", err.Error()))
		return
	}
	m.putBeside(d)
}
