package tui

import (
	"flag"
	"fmt"
	"reflect"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/money"
	"example.org/underveil/internal/ptytest"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/shade"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
	"example.org/underveil/internal/slots"
	"example.org/underveil/internal/studio"
	"example.org/underveil/internal/unit"
)

var update = flag.Bool("update", false, "write what the tests see as what they want")

// editor drives a Model the way a terminal and a user do: it sends keys, runs the commands that come back until
// nothing is left to do, and after every message holds what the terminal shows against what the model drew.
type editor struct {
	t    testing.TB
	m    *Model
	term *ptytest.Terminal
	disk *disk

	did    []string     // types of the messages for the terminal library
	quit   bool         // the program has been left
	used   func(string) // told of each key that ran a command of the table; may be nil
	last   string       // what was sent last, for messages
	unseen bool         // do not look after each message: for benchmarks
	seldom int          // look at the whole screen only with every so many messages, and with the others at what was sent; 0 for each
	sent   int          // messages so far
}

// setup is how an editor is started. The zero value is a terminal of 120 by 40 with all colours, dark, in Unicode.
type setup struct {
	w, h    int
	glyphs  *figure.Glyphs
	profile *termenv.Profile
	light   bool
	disk    *disk
	demos   []Demo
	units   unit.Unit
}

func colours(p termenv.Profile) *termenv.Profile { return &p }

// today is the date in all tests.
var today = time.Date(2026, time.April, 7, 12, 0, 0, 0, time.UTC)

// stock is a studio with a few strands.
func stock() *studio.Studio {
	strand := func(name string, colour shade.Reading, price money.Amount, onHand int) studio.Strand {
		return studio.Strand{Shade: sheet.Shade{Name: name, Length: 500, Grams: 0.8, Pack: 25, Colour: colour, Texture: "straight", Ends: 60}, Price: price, OnHand: onHand}
	}
	return &studio.Studio{Name: "the salon on the corner", Currency: money.Currency{Code: "EUR", Decimals: 2},
		Service: studio.Service{Setup: 20 * time.Minute, Row: 4 * time.Minute, Bond: 90 * time.Second, Check: 15 * time.Second,
			Finish: 30 * time.Minute, Hour: 4500, Spare: 5},
		Strands: []studio.Strand{strand("oat", "#c9a26b", 6250, 40), strand("rye crust", "#8a5a32", 6250, 0), strand("bog oak", "#3a2a20", 5800, 10)}}
}

// start is an editor on its start page.
func start(t testing.TB, s setup) *editor {
	t.Helper()
	if s.w == 0 && s.h == 0 {
		s.w, s.h = 120, 40
	}
	if s.glyphs == nil {
		s.glyphs = &figure.Unicode
	}
	if s.profile == nil {
		s.profile = colours(termenv.TrueColor)
	}
	if s.disk == nil {
		s.disk = newDisk()
	}
	e := &editor{t: t, disk: s.disk, term: ptytest.NewTerminal(max(1, s.w), max(1, s.h))}
	e.m = New(e.term, Options{
		Glyphs:  *s.glyphs,
		Palette: cells.NewPalette(*s.profile, figure.Styles(!s.light)),
		Files:   s.disk.files(),
		Demos:   s.demos,
		Today:   func() time.Time { return today },
		Studio:  stock(),
		From:    "studio.toml",
		Units:   s.units,
		Lessons: s.disk.lessons(t.TempDir()),
	})
	e.resize(s.w, s.h)
	e.run(e.m.Init())
	return e
}

// tables are those made last, by tapes; the editor sees whether they serve.
var tables = map[scalp.Measures]*slots.Table{}

// edit is an editor on a sheet that has not been changed since it was opened from a file.
func edit(t testing.TB, sh *sheet.Sheet, s setup) *editor {
	t.Helper()
	e := start(t, s)
	e.disk.held["sheet.toml"] = sheetfile.Encode(sh)
	if tables[sh.Measures] != nil { // a table takes longer than most tests
		e.m.doc = &document{table: tables[sh.Measures]}
	}
	e.send(loadedMsg{path: "sheet.toml", sheet: sh})
	if e.m.doc == nil {
		t.Fatalf("the sheet does not open:\n%s", e.m.Screen())
	}
	tables[sh.Measures] = e.m.doc.table
	return e
}

// press sends keys by name: "Up", "shift+Left", "ctrl+s", "space", "a".
func (e *editor) press(keys ...string) {
	e.t.Helper()
	for _, k := range keys {
		msg, err := keyMsg(k)
		if err != nil {
			e.t.Fatal(err)
		}
		e.last = "key " + k
		e.note(msg)
		e.send(msg)
	}
}

// write types a text, a rune a key.
func (e *editor) write(text string) {
	e.t.Helper()
	for _, r := range text {
		if r == ' ' {
			e.press("space")
			continue
		}
		e.press(string(r))
	}
}

// note tells of a key that is about to run a command of the table.
func (e *editor) note(msg tea.KeyMsg) {
	m := e.m
	if e.used == nil || m.doc == nil || len(m.dialogs) > 0 || m.doc.moving != nil || m.tooSmall() {
		return
	}
	if c, ok := m.keymap.commandFor(msg); ok && c.offReason(m) == "" {
		e.used(msg.String())
	}
}

// resize is a change of the window.
func (e *editor) resize(w, h int) {
	e.t.Helper()
	e.last = fmt.Sprintf("a window of %d by %d", w, h)
	e.term.Resize(w, h)
	e.send(tea.WindowSizeMsg{Width: w, Height: h})
}

// send delivers a message and all that comes of it.
func (e *editor) send(msg tea.Msg) {
	e.t.Helper()
	e.run(e.deliver(msg))
}

// deliver delivers a message and returns what it asks for, not yet done.
func (e *editor) deliver(msg tea.Msg) tea.Cmd {
	e.t.Helper()
	_, cmd := e.m.Update(msg)
	switch e.sent++; {
	case e.unseen:
	case e.seldom > 0 && e.sent%e.seldom > 0:
		e.lookAtTheWire()
	default:
		e.look()
	}
	return cmd
}

// run runs a command and whatever its message leads to, until nothing is left: only then is the editor idle.
func (e *editor) run(cmd tea.Cmd) {
	e.t.Helper()
	if cmd == nil {
		return
	}
	switch msg := cmd().(type) {
	case nil:
	case tea.BatchMsg:
		for _, c := range msg {
			e.run(c)
		}
	case tea.QuitMsg:
		e.quit = true
	case loadedMsg, savedMsg, listedMsg, plannedMsg, loosenedMsg, cardMsg, keptMsg, handedMsg, recordedMsg, lookedMsg, versionsMsg, aloneMsg:
		e.send(msg)
	default: // for the terminal library: the mouse
		e.did = append(e.did, reflect.TypeOf(msg).String())
	}
}

// encoded is the sheet as its file would be.
func (e *editor) encoded() string { return string(sheetfile.Encode(e.m.doc.sheet())) }

// steps are the labels of what can be taken back, the first step first.
func (e *editor) steps() []string {
	h := e.m.doc.history
	var labels []string
	for {
		label, ok := h.Undo()
		if !ok {
			break
		}
		labels = append([]string{label}, labels...)
	}
	for range labels {
		h.Redo()
	}
	return labels
}

// at puts the cursor on a place as if it had gone there.
func (e *editor) at(place sheet.Place, slot int) {
	e.t.Helper()
	d := e.m.doc
	if _, err := d.table.Line(place); err != nil {
		e.t.Fatal(err)
	}
	d.goTo(sheet.Concern{Row: place, On: sheet.OnSlot, Slot: slot})
	if d.cursor != (figure.Spot{At: place, Slot: slot}) {
		e.t.Fatalf("%s has no slot %d", place, slot)
	}
	d.steady = ""
	e.send(nil)
}

// says fails unless the screen shows a text.
func (e *editor) says(text string) {
	e.t.Helper()
	if !strings.Contains(e.m.Screen().String(), text) {
		e.t.Fatalf("after %s the screen does not say %q:\n%s", e.last, text, e.m.Screen())
	}
}

// height is a level or ear-to-ear place; along is one from front to back.
func height(mm scalp.MM) sheet.Place { return sheet.Place{At: mm} }
func along(mm scalp.MM) sheet.Place  { return sheet.Place{Along: true, At: mm} }
