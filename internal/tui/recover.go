package tui

import (
	"bytes"
	"encoding/json"
	"fmt"
	"path/filepath"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/ordinary"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/recovery"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// Unsaved is where what is not saved is kept, so that a program that is killed loses nothing that was seen. The zero
// value keeps nothing.
type Unsaved struct {
	Folder recovery.Folder
	Encode func(*sheet.Sheet) []byte // a sheet as its file would be
	Now    func() time.Time          // by the clock, whatever day the sheet is looked at for
}

// kept is what a document has in the folder of unsaved sheets.
type kept struct {
	log         *recovery.Log   // nil before anything was kept
	sheet       *sheet.Sheet    // as it was kept last, or nil
	path, stamp string          // of the document then
	origin      recovery.Origin // the same with the whole path
	unwanted    bool            // its changes were dropped on purpose
	later       bool            // it was left for later on purpose

	taken *recovery.Left // what was taken up, until it is in a log of our own
	over  *sheet.Sheet   // what was on disk when that was taken up
}

// keep puts what is not saved on its log. It runs after every message and before the screen is painted, so that what is
// seen is kept; where nothing was changed it does nothing.
func (m *Model) keep() {
	d := m.doc
	if d == nil || m.opts.Unsaved.Encode == nil || d.kept.unwanted {
		return
	}
	k := &d.kept
	switch {
	case d.backAtFile():
		return
	case !d.changed():
		k.drop()
		return
	case k.sheet == d.sheet() && k.path == d.path && k.stamp == d.stamp:
		return
	}
	if k.sheet == nil || k.path != d.path || k.stamp != d.stamp {
		k.path, k.stamp, k.origin = d.path, d.stamp, originOf(d.path, d.stamp)
	}
	k.sheet = d.sheet() // or a disk that takes nothing would be tried at every movement of the cursor
	if k.log == nil {
		k.log = m.opts.Unsaved.Folder.Log()
	}
	err := k.log.Keep(k.origin, recovery.Record{At: m.opts.Unsaved.Now(), Place: m.placeNow(), Sheet: m.opts.Unsaved.Encode(k.sheet)})
	if err != nil {
		if !m.unkept { // told once, for it never stops the work
			m.warn(fmt.Sprintf("save often: a crash would lose changes (%v: %s)", ordinary.Cause(err), m.opts.Unsaved.Folder))
		}
		m.unkept = true
		return
	}
	m.unkept = false
	if k.taken != nil {
		_ = k.taken.Drop() // ours has it all
		k.taken = nil
	}
}

func originOf(path, stamp string) recovery.Origin {
	if full, err := filepath.Abs(path); path != "" && err == nil {
		path = full
	}
	return recovery.Origin{Path: path, Stamp: stamp}
}

// backAtFile reports whether something left unfinished was taken up here, and that was taken back. Then it stays left
// unfinished, for nobody has said that it is not wanted.
func (d *document) backAtFile() bool {
	return !d.changed() && d.kept.over != nil && d.kept.over == d.saved
}

// End says why the program ends, where something is left unsaved: it is told when that is offered again.
func (m *Model) End(why string) {
	if m.doc != nil && m.doc.kept.log != nil {
		m.doc.kept.log.End(why)
	}
}

// drop removes what was kept.
func (k *kept) drop() {
	if k.log != nil {
		_ = k.log.Drop() // or it is offered once more; if it was saved, it is seen to be the same as the file
	}
	if k.taken != nil {
		_ = k.taken.Drop()
	}
	k.sheet, k.taken = nil, nil
}

// leave is when a document is left for good: by now it is saved, or nobody wants its changes.
func (d *document) leave() {
	d.holdOn(held{})
	switch k := &d.kept; {
	case k.log == nil:
	case k.later && d.changed():
		k.log.End("it was left for later")
		_ = k.log.Close()
		k.unwanted = true // or it would be kept anew before it is gone
	case d.backAtFile():
		_ = k.log.Close()
	default:
		k.drop()
		k.unwanted = true
	}
}

// place is where in a sheet work was going on, as a log keeps it.
type place struct {
	Along bool     `json:"along,omitempty"`
	At    scalp.MM `json:"at"`
	Slot  int      `json:"slot"`
	Panel string   `json:"panel,omitempty"` // what lay over the side
}

// panelChair is the panel at the chair, in a place.
const panelChair = "chair"

// placeNow is where work is going on, for goBackTo.
func (m *Model) placeNow() string {
	at := m.doc.cursor
	p := place{Along: at.At.Along, At: at.At.At, Slot: at.Slot}
	if m.chairOpen() != nil {
		p.Panel = panelChair
	}
	text, err := json.Marshal(p)
	if err != nil { // no number that a cursor can have
		return ""
	}
	return string(text)
}

// goBackTo goes to a place in the sheet that is open. Of a place that is none the cursor stays where it is.
func (m *Model) goBackTo(where string) tea.Cmd {
	var p place
	if json.Unmarshal([]byte(where), &p) != nil {
		return nil
	}
	d := m.doc
	spot := figure.Spot{At: sheet.Place{Along: p.Along, At: p.At}, Slot: p.Slot}
	if _, err := d.table.Line(spot.At); err == nil {
		d.cursor, d.wanted = spot, spot.Slot
		d.keepOnMap()
	}
	if p.Panel != panelChair {
		return nil
	}
	cmd := m.openChair()
	if c := m.chairOpen(); c != nil {
		c.goTo(m, spot)
	}
	return cmd
}

// offer asks about the sheet that is open, when it was left unfinished.
func (m *Model) offer(all []*recovery.Left) {
	d := m.doc
	if d.path == "" {
		return
	}
	for i, left := range all {
		if bytes.Equal(left.Sheet, m.opts.Unsaved.Encode(d.sheet())) { // saved after all
			_ = left.Drop()
			continue
		}
		text := "This sheet was left " + m.howLeft(left)
		if left.Stamp != d.stamp {
			text += " The file has been changed since. What was left would be put in place of what is in it now; " + m.keyOf("undo") + " brings the file back."
		}
		text += m.unlike(left)
		m.askAbout(left, text, "; "+m.keyOf("undo")+" brings back what is saved", (*Model).takeUpHere, func(m *Model) { m.offer(all[i+1:]) })
		return
	}
}

// offerAlone asks about a sheet whose file can't be had: it never had one, or that is gone or can't be read.
func (m *Model) offerAlone(left *recovery.Left, next func(*Model)) {
	text := "A sheet that was never saved, "
	if left.Path != "" {
		text = left.Path + " can't be opened. The sheet in it, "
	}
	text += m.titleOf(left) + ", was left " + m.howLeft(left)
	m.askAbout(left, text, "", (*Model).takeUpAlone, next)
}

// askAbout asks what is to become of something left over. back is how to take taking it up back, as the end of a sentence; next goes on when
// it was dropped.
func (m *Model) askAbout(left *recovery.Left, text, back string, takeUp func(*Model, *recovery.Left) tea.Cmd, next func(*Model)) {
	m.push(&question{"left unfinished", text, []answer{
		{"t", "take it up where it was left" + back, func(m *Model) tea.Cmd { return takeUp(m, left) }},
		{"l", "leave it for later; it will be offered again", nothing},
		{"d", "drop it for good", func(m *Model) tea.Cmd {
			if err := left.Drop(); err != nil {
				m.push(newTrouble("this can't be dropped", err.Error()))
				return nil
			}
			m.tell("what was left unfinished is dropped")
			next(m)
			return nil
		}},
	}})
}

// howLeft is when and why something was left, as the end of a sentence.
func (m *Model) howLeft(left *recovery.Left) string {
	why := left.Ended
	if why == "" {
		why = "the program was killed, or the machine stopped"
	}
	return m.when(left.At) + " with " + printable.Count(left.Changes, "unsaved change") + ": " + why + "."
}

// unlike is what is on the sheet that was left, where there is more or less on the one that is open; or nothing.
func (m *Model) unlike(left *recovery.Left) string {
	s, err := m.opts.Files.Parse("left.toml", left.Sheet)
	if err != nil {
		return ""
	}
	there, here := sheet.Brief(s), sheet.Brief(m.doc.sheet())
	if there == here {
		return ""
	}
	return " It has " + there + "; the file has " + here + "."
}

// titleOf is the title of a sheet left over.
func (m *Model) titleOf(left *recovery.Left) string {
	s, err := m.opts.Files.Parse("left.toml", left.Sheet)
	switch {
	case err != nil:
		return "which can't be read"
	case s.Title == "":
		return "without a title"
	}
	return `"` + s.Title + `"`
}

// claim has a sheet left over for this program alone, and reads it.
func (m *Model) claim(left *recovery.Left) (*sheet.Sheet, error) {
	if err := left.Claim(); err != nil {
		return nil, err
	}
	s, err := m.opts.Files.Parse("left.toml", left.Sheet)
	if err != nil {
		return nil, err
	}
	return m.house(s), nil
}

// takeUpHere puts what was left on the sheet that is open, as one step.
func (m *Model) takeUpHere(left *recovery.Left) tea.Cmd {
	d := m.doc
	s, err := m.claim(left)
	if err == nil {
		err = d.do("take up what was left unfinished", s)
	}
	if err != nil {
		return m.cantTakeUp(left, err)
	}
	return m.takenUp(left)
}

// takeUpAlone opens what was left as a sheet that has no file.
func (m *Model) takeUpAlone(left *recovery.Left) tea.Cmd {
	s, err := m.claim(left)
	if err != nil {
		return m.cantTakeUp(left, err)
	}
	d, err := newDocument(s, "", m.table())
	if err != nil {
		return m.cantTakeUp(left, err)
	}
	m.open(d)
	m.tried = left.Path // is offered as the name to save to
	return m.takenUp(left)
}

func (m *Model) cantTakeUp(left *recovery.Left, err error) tea.Cmd {
	left.Release()
	m.push(newTrouble("this can't be taken up", err.Error()))
	return nil
}

// takenUp goes on with the document that is open now where it was left.
func (m *Model) takenUp(left *recovery.Left) tea.Cmd {
	d := m.doc
	d.hand, d.offset = handFor(d.sheet())
	d.kept = kept{log: m.opts.Unsaved.Folder.Log(), taken: left, over: d.saved}
	d.kept.log.Resume(left.Changes)
	cmd := m.goBackTo(left.Place)
	if m.told = ""; d.saved != nil {
		m.tell("taken up where it was left; " + m.keyOf("undo") + " brings back the file as it is")
	} else {
		m.tell("taken up where it was left; " + m.keyOf("save") + " saves it")
	}
	return cmd
}

// lookForLeft puts what was left unfinished on the start page.
func (m *Model) lookForLeft() {
	m.start.left = m.opts.Unsaved.Folder.All()
	m.start.fill(m, m.start.found)
}

// aloneMsg says that something left unfinished has no file to open.
type aloneMsg struct{ left *recovery.Left }

// leftItem is a sheet left unfinished on the start page.
func (m *Model) leftItem(left *recovery.Left) item {
	it := item{name: left.Path, about: "left " + m.when(left.At)}
	if left.Path == "" {
		it.name = strings.Trim(m.titleOf(left), `"`)
		it.about += ", never saved"
	}
	it.do = func(m *Model) tea.Cmd {
		files, open := m.opts.Files, m.Open(left.Path) // which offers it
		return func() tea.Msg {
			if left.Path != "" && files.Exists(left.Path) {
				return open()
			}
			return aloneMsg{left}
		}
	}
	return it
}

// cantOpen says why a sheet can't be opened, and then offers what was left of it.
func (m *Model) cantOpen(msg loadedMsg, err error) {
	if len(msg.left) > 0 {
		m.offerAlone(msg.left[0], (*Model).lookForLeft)
	}
	m.push(newTrouble("this can't be opened", err.Error()))
}
