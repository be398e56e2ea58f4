package tui

import (
	"errors"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/sheet"
)

// savedMsg is what came of saving a sheet.
type savedMsg struct {
	doc    *document // whose sheet it is; by now another may be open
	path   string
	sheet  *sheet.Sheet
	done   bool
	taken  bool   // there was a file already, and nothing was written
	other  bool   // the file is no longer as this program left it, and nothing was written
	fresh  held   // of this path, where the document did not have it
	number int    // of the save, among those of the document
	said   string // what else there is to know
	stamp  string
	err    error
	then   func(*Model) tea.Cmd
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

// saveTo writes the sheet to a file as a command. Over another file, over its own when that was changed by something else, and over
// one that another window has open, it writes only when told to.
func (m *Model) saveTo(d *document, path string, over bool, then func(*Model) tea.Cmd) tea.Cmd {
	if d.saving[path] { // the disk may be at the far end of a line, and gone
		m.tell("still saving to " + path + "; " + m.keyOf("save-as") + " saves elsewhere")
		return nil
	}
	if d.saving == nil {
		d.saving = map[string]bool{}
	}
	d.saving[path] = true
	m.tell("saving to " + path)
	d.saves++
	files, s, number := m.opts.Files, d.sheet(), d.saves
	own, stamp, have := path == d.path, d.stamp, d.held.here()
	return func() tea.Msg {
		msg := savedMsg{doc: d, path: path, sheet: s, number: number, then: then}
		if !own || !have {
			msg.fresh = files.hold(path)
		}
		switch now := files.Stamp(path); {
		case over:
		case msg.fresh.elsewhere():
			return msg
		case own:
			msg.other = stamp != "" && now != stamp && (now != "" || files.Exists(path)) // where it can't be read nobody knows
		default:
			msg.taken = files.Exists(path)
		}
		if msg.taken || msg.other {
			return msg
		}
		msg.said, msg.stamp, msg.err = files.Save(path, s)
		if msg.done = msg.err == nil; msg.done {
			files.Opened(path) // before it is told, for whoever reads that may leave
		}
		return msg
	}
}

// wasSaved takes note of what came of a save, as far as that is still about what is open: a save can hang, and come back when the sheet has
// another file, or is left.
func (m *Model) wasSaved(msg savedMsg) tea.Cmd {
	d := msg.doc
	delete(d.saving, msg.path)
	if m.told == "saving to "+msg.path {
		m.told = ""
	}
	late := msg.number < d.adopted // it hung, and the sheet has another file since
	switch own := msg.path == d.path; {
	case m.doc != d, late, !own && !msg.done: // it was left meanwhile, or stays with its file
		msg.fresh.letGo()
	case !own, msg.fresh != held{}:
		d.holdOn(msg.fresh)
	}
	if !msg.done {
		m.notSaved(msg)
		return nil
	}
	if late {
		m.tell("saved to " + msg.path + " as well, as it was then")
		return nil
	}
	m.tried = ""
	d.adopted = msg.number
	d.path, d.saved, d.stamp, d.told, d.steady = msg.path, msg.sheet, msg.stamp, msg.stamp, ""
	m.tell("saved to " + msg.path)
	d.gone = nil
	if msg.said != "" {
		m.warn("saved to " + shortName(msg.path) + "; " + msg.said)
	}
	if msg.then != nil {
		return m.unlessUnsaved(msg.then) // something may have been done since
	}
	return nil
}

// notSaved says why nothing was written, and asks what to do about it.
func (m *Model) notSaved(msg savedMsg) {
	replace := answer{"r", "replace it", func(m *Model) tea.Cmd { return m.saveTo(msg.doc, msg.path, true, msg.then) }}
	another := answer{"o", "another name", func(m *Model) tea.Cmd { m.push(newSaveForm(m, msg.then)); return nil }}
	switch {
	case msg.err != nil:
		m.tried = msg.path
		m.push(newTrouble("not saved", msg.err.Error()))
	case msg.doc != m.doc: // another sheet is open by now
		m.warn("not saved: " + msg.path + " is there already, or has changed, or is open in another window")
	case msg.taken:
		m.ask(&question{"that file is there already", msg.path + " would be replaced.", []answer{replace, another}})
	case msg.other:
		replace.says = "replace it; " + m.keyOf("earlier") + " brings back what was in it"
		m.ask(&question{"that file has changed", "Something else has written " + msg.path + " since it was opened here, and that would be replaced.",
			[]answer{replace, another}})
	case msg.fresh.elsewhere():
		replace.says = "save here all the same; the other window will say that the file has changed"
		m.ask(&question{"open in another window", msg.path + " is open in another window" + m.since(msg.fresh.taken) + ".", []answer{another, replace}})
	}
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
	switch {
	case m.doc != nil && m.doc.practice.lost(m.doc.sheet()):
		m.askAboutLost(do)
		return nil
	case m.doc == nil || !m.doc.changed():
		return m.unlessRecording(do)
	}
	text, answers := "This sheet has changes that are not saved.", []answer{{"s", "save it first", func(m *Model) tea.Cmd { return m.saveThen(do) }}}
	if s := m.doc.saved; s != nil {
		if had, has := sheet.Brief(s), sheet.Brief(m.doc.sheet()); had != has {
			text += " It has " + has + "; it had " + had + "."
		}
	}
	lose := func(m *Model) tea.Cmd {
		m.doc.kept.later = false
		return m.unlessRecording(do)
	}
	if m.doc.kept.log == nil || m.unkept {
		answers = append(answers, answer{"l", "leave it, and lose the changes", lose})
	} else {
		answers = append(answers, answer{"l", "leave it for later; it will be offered again", func(m *Model) tea.Cmd {
			d := m.doc
			return m.unlessRecording(func(m *Model) tea.Cmd {
				d.kept.later = true
				return do(m)
			})
		}}, answer{"d", "drop the changes for good", lose})
	}
	m.push(&question{"not saved", text, answers})
	return nil
}
