// Package tui is the editor: one model, plain components that draw into
// rectangles of cells, and a table of keys that is also the help.
//
// A message becomes an edit of the document; the document works out findings and
// totals; then the whole screen is drawn into cells, and what changed is written to the
// terminal before Update returns. View has nothing to say: see Run.
package tui

import (
	"io"
	"sync"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/bust"
	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/studio"
	"example.org/underveil/internal/unit"
)

// Options are what the editor is given from outside.
type Options struct {
	Glyphs  figure.Glyphs
	Palette cells.Palette
	Files   Files
	Demos   []Demo
	Today   func() time.Time

	ClockEvery time.Duration  // how often the time at the chair is shown anew; 0 leaves it to the keys
	Grace      time.Duration  // for how long a question that comes by itself takes no letters
	WatchEvery time.Duration  // how often it is looked whether something else has written the file; 0 leaves it to saving
	Studio     *studio.Studio // what there is in stock and what it costs; nil where none could be read
	From       string         // where that is from, in words; or why none could be read
	Unsaved    Unsaved        // where what is not saved is kept
	Lessons    Lessons        // for those who learn

	Demonstrations []Demo         // those that come with the program
	Script         *lesson.Script // a demonstration to begin with, or nil
	Contrast       *cells.Palette // for the large layout; nil for the ordinary one
	Large          bool           // begin in the large layout

	Keys    map[string][]string // the keys of commands that were given others, by the id of the command
	Units   unit.Unit           // of lengths on the screen
	Paper   string              // that a card is for unless somebody says otherwise, a4 or letter; empty for a4
	NoMouse bool                // begin with the mouse left to the terminal
	Warn    string              // told when the editor opens, and with each sheet that is opened; or empty
}

// Demo is a sheet that comes with the program.
type Demo struct {
	Name  string // on the start page
	About string
	Data  []byte // as a file would have it
}

// Model is the whole editor.
type Model struct {
	opts Options
	to   io.Writer
	out  *cells.Writer
	scr  *cells.Screen

	start   *startPage
	doc     *document // nil on the start page
	dialogs []dialog  // the last is on top and has the keys

	told         string          // the line about what was just done
	grave        bool            // it is about something that went wrong
	top          int             // index of the map line drawn first
	shift        int             // how far the map is moved to the left, in cells; -1 before it was drawn
	wide         bool            // two cells a slot, where there is room
	narrow       bool            // one cell a slot even where there is room for two
	letters      bool            // bonds drawn as the letters of their shades
	reading      rule.Reading    // what the map is shaded by
	shading      *figure.Shading // as it was drawn last
	beside       besideMode      // what lies beside the map
	other        *document       // the sheet that does, only looked at
	otherShading *figure.Shading // of the map beside, as it was drawn last
	headOn       bool            // the head is shown beside the map
	from         bust.View       // from where it is seen
	relief       *bust.Relief    // as it was drawn last
	page         panelPage
	typed        typedOn // the sheet, for its lengths
	noMouse      bool
	keymap       *keymap
	failed       error // from writing to the terminal

	demo           *demonstration // the one that is open, or nil
	rec            *recording     // of this session, or nil
	triedRecording string         // a file name that a recording could not be saved to
	enlarged       bool           // the large layout is asked for

	keeping   sync.Mutex  // over writing what learners make
	handing   int         // hand-ins that are being written
	leaving   bool        // once those are
	unasked   *question   // that came up by itself last
	unaskedAt time.Time   // when
	unkept    bool        // what is not saved could not be kept, and that was told
	tried     string      // a file name that could not be saved to
	findingAt map[int]int // which finding stands on which row of the screen, for a click
}

// New is the editor on its start page, painting to out.
func New(out io.Writer, opts Options) *Model {
	if opts.Today == nil {
		opts.Today = time.Now
	}
	m := &Model{opts: opts, to: out, out: cells.NewWriter(out, opts.Palette), findingAt: map[int]int{}, keymap: newKeymap(opts.Keys), noMouse: opts.NoMouse}
	m.start = newStartPage(m)
	m.warn(opts.Warn)
	if opts.Large {
		m.enlarge(true)
	}
	if opts.Script != nil {
		m.demonstrate(opts.Script, nil)
	}
	return m
}

// Init looks for the sheets that were open lately; sizes and keys come by themselves.
func (m *Model) Init() tea.Cmd {
	files, doc := m.opts.Files, m.doc
	if doc == nil {
		m.lookForLeft()
	}
	return tea.Batch(m.watch(), func() tea.Msg {
		if doc != nil {
			files.Opened(doc.path)
		}
		return listedMsg{recent: files.Recent()}
	})
}

// View is empty, for the cells are painted after every Update.
func (m *Model) View() string { return "" }

// Update takes a message, then brings the terminal up to date.
func (m *Model) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	cmd := tea.Batch(m.handle(msg), m.keepProgress())
	m.record()
	m.forgetTried()
	m.keep()
	m.paint()
	if m.failed != nil {
		return m, tea.Quit
	}
	return m, cmd
}

func (m *Model) handle(msg tea.Msg) tea.Cmd {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		m.scr = cells.NewScreen(msg.Width, msg.Height)
		m.scr.Dots = m.opts.Glyphs.Dots
		if m.opts.Glyphs == figure.ASCII {
			m.scr.Spell = printable.ASCII
		}
		m.out.Forget()
	case tea.ResumeMsg:
		m.out.Forget()
	case tea.KeyMsg:
		return m.keys(msg)
	case tea.MouseMsg:
		return m.mouse(msg)
	case loadedMsg:
		return m.loaded(msg)
	case savedMsg:
		return m.wasSaved(msg)
	case aloneMsg:
		m.offerAlone(msg.left, (*Model).lookForLeft)
	case watchMsg:
		return m.look()
	case lookedMsg:
		return m.looked(msg)
	case versionsMsg:
		m.showTheVersions(msg)
	case listedMsg:
		m.listed(msg)
	case plannedMsg:
		m.planned(msg)
	case keptMsg:
		m.wasKept(msg)
	case handedMsg:
		return m.wasHanded(msg)
	case cardMsg:
		m.cardWritten(msg)
	case recordedMsg:
		return m.wasRecorded(msg)
	case doMsg:
		return msg(m)
	case clockMsg:
		if m.chairOpen() != nil {
			return m.tickClock()
		}
	case loosenedMsg:
		msg.panel.remedies, msg.panel.asked = msg.remedies, true
		if m.planOpen() == msg.panel {
			m.told = ""
		}
	}
	return nil
}

// paint draws everything and writes what changed.
func (m *Model) paint() {
	if m.scr == nil {
		return
	}
	m.scr.Clear()
	m.draw()
	if err := m.out.Show(m.scr); err != nil {
		m.failed = err
	}
}

// Screen is what is on the terminal, for tests.
func (m *Model) Screen() *cells.Screen { return m.scr }

// tell puts a line where the user looks after a key.
func (m *Model) tell(text string) { m.told, m.grave = text, false }

// warn does the same for something that went wrong.
func (m *Model) warn(text string) { m.told, m.grave = text, true }

// dialog is something in front of the map that takes the keys.
type dialog interface {
	key(m *Model, msg tea.KeyMsg) tea.Cmd
	draw(m *Model)
}

func (m *Model) push(d dialog) {
	if fm, ok := d.(*form); ok {
		fm.showIn(m.opts.Units)
	}
	m.dialogs = append(m.dialogs, d)
}

func (m *Model) pop() {
	if n := len(m.dialogs); n > 0 {
		m.dialogs = m.dialogs[:n-1]
	}
}

// keys takes apart what was typed faster than it was read: a key held down over a slow
// line comes as one message with several runes. A paste stays in one piece, for it is no commands.
func (m *Model) keys(msg tea.KeyMsg) tea.Cmd {
	if msg.Paste { // more than a field has room for is asked for by nobody
		msg.Runes = msg.Runes[:min(len(msg.Runes), longestPaste)]
	}
	if msg.Type != tea.KeyRunes || msg.Paste || len(msg.Runes) < 2 {
		return m.key(msg)
	}
	var cmds []tea.Cmd
	for _, r := range msg.Runes {
		cmds = append(cmds, m.key(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}, Alt: msg.Alt}))
		m.record()
	}
	return tea.Batch(cmds...)
}

// key gives a key to the dialog on top, or else runs its command.
func (m *Model) key(msg tea.KeyMsg) tea.Cmd {
	if m.scr == nil || m.tooSmall() { // nobody sees what a key would do
		saved := m.doc == nil || !m.doc.changed() && !m.doc.practice.lost(m.doc.sheet()) && m.rec == nil
		if saved && msg.String() == "ctrl+c" {
			m.finishKeeping()
			return tea.Quit
		}
		return nil
	}
	if m.doc != nil {
		m.doc.drag = nil // or going on with it would undo what the key does
	}
	if n := len(m.dialogs); n > 0 {
		return m.dialogs[n-1].key(m, msg)
	}
	m.told, m.grave = "", false
	if m.doc == nil {
		return m.start.key(m, msg)
	}
	if m.doc.moving != nil {
		return m.carryKey(msg)
	}
	if c, ok := m.keymap.commandFor(msg); ok {
		if why := c.offReason(m); why != "" {
			m.tell(why)
			return nil
		}
		return c.run(m)
	}
	if len(msg.Runes) > 0 {
		m.tell("no command is on " + msg.String() + "; ? shows the keys")
	}
	return nil
}

// carryKey is a key while a selection is being moved.
func (m *Model) carryKey(msg tea.KeyMsg) tea.Cmd {
	step := map[string][2]int{"left": {-1, 0}, "right": {1, 0}, "up": {0, 1}, "down": {0, -1}}
	pressed := msg.String()
	if c, ok := m.keymap.commandFor(msg); ok && (c.id == "move" || step[c.id] != [2]int{}) {
		pressed = c.id // whatever key it has
	}
	switch by, ok := step[pressed]; {
	case ok:
		m.tell(m.doc.carry(by[0], by[1]))
	case pressed == "esc":
		m.tell(m.doc.takeBack())
	case pressed == "enter" || pressed == "move":
		m.tell(m.doc.putDown())
	default:
		m.tell(howToCarry)
	}
	return nil
}
