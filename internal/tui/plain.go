package tui

import (
	"bufio"
	"errors"
	"io"
	"os"
	"os/signal"
	"reflect"
	"strings"
	"syscall"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/printable"
)

// The dialogue is the editor in lines, for somebody who listens: a line comes in, what came of it is said in a line or a few, and nothing that
// was said is ever drawn over. It drives the same model as the screen, by the same commands, so that there is no second way to edit.

// ErrNotSaved is how a dialogue ends whose input ended while the sheet had changes that no file has. That was said; what was
// kept of them is offered when the sheet is opened again.
var ErrNotSaved = errors.New("the input ended, and not all is saved")

// ErrRefused is how a dialogue ends whose input ended after a line in it could not be obeyed. Each of them was answered with why.
var ErrRefused = errors.New("not every line could be obeyed; each that could not was answered with why")

// plain is one dialogue.
type plain struct {
	m       *Model
	out     *bufio.Writer
	ascii   bool // the listener's terminal has no other signs
	watches bool // it is looked before each line whether something else has written the file
	quit    bool // the editor was left

	told    string              // what of the model's own words was said last
	spoke   bool                // something was said since the line came
	placed  bool                // where the cursor has come to was said
	noted   map[string]bool     // the notes of forms that were said
	failed  error               // from writing
	was     moment              // as all was when the line came
	heard   map[dialog][]string // the dialogs that were read out, each as it was then
	listed  *exerciseList       // the first list of exercises that was read out
	tried   bool                // the form in front was taken once, and something was wrong
	hinted  int                 // hints of the exercise that were read
	briefed *practice           // whose brief was read
	step    string              // the kind of step at the chair that was told with its caution

	fromTop    *form            // the form that is asked from its first field, once a line answers it
	filled     map[*field]bool  // the fields of forms that were answered
	marked     string           // how much of a plan was marked, as it was last said
	startHeard bool             // the list of the start page was read
	refused    int              // lines that could not be obeyed
	answered   bool             // a question was answered in this line
	stop       <-chan os.Signal // asks the dialogue to end; nil for none
}

// Plain runs the editor as a dialogue until it is left or the input ends; first is the sheet to begin with, or nil. Its error is
// ErrNotSaved, ErrRefused, both, or what could not be read or written.
func Plain(in io.Reader, out io.Writer, opts Options, first *Opened) error {
	p := newPlain(out, opts)
	stop := make(chan os.Signal, 1)
	signal.Notify(stop, os.Interrupt, syscall.SIGTERM)
	defer signal.Stop(stop)
	p.stop = stop
	p.begin(first)
	return p.listen(in)
}

// The screen that nobody sees. The model asks for one, and answers as it would on a large terminal.
const (
	unseenWidth  = 120
	unseenHeight = 40
)

func newPlain(out io.Writer, opts Options) *plain {
	p := &plain{out: bufio.NewWriter(out), ascii: opts.Glyphs == figure.ASCII, heard: map[dialog][]string{}, noted: map[string]bool{}, filled: map[*field]bool{}}
	opts.Glyphs = figure.Unicode // each mark is a sign of its own, so that it can be told from what somebody wrote
	opts.Palette, opts.Contrast = cells.NewPalette(termenv.Ascii, figure.Styles(true)), nil
	p.watches = opts.WatchEvery > 0
	opts.ClockEvery, opts.WatchEvery, opts.Grace = 0, 0, 0 // what waits for a clock would keep the listener waiting
	p.m = New(io.Discard, opts)
	p.m.keymap.spoken = true
	return p
}

// begin opens what there is to begin with, and says what that is.
func (p *plain) begin(first *Opened) {
	p.act(tea.WindowSizeMsg{Width: unseenWidth, Height: unseenHeight})
	p.run(p.m.Init())
	p.do(func(m *Model) tea.Cmd { return m.begin(first) })
	p.after()
}

// listen answers line by line.
func (p *plain) listen(in io.Reader) error {
	next, done := p.lines(bufio.NewReader(in))
	defer done()
	for !p.quit {
		line, err := next()
		if err == nil || line != "" {
			p.line(line)
		}
		switch {
		case p.failed != nil: // nobody hears it any more
			failed := p.failed
			_ = p.ended("the input ended")
			return failed
		case p.quit:
			return p.allObeyed()
		case errors.Is(err, io.EOF):
			return errors.Join(p.ended("the input ended"), p.allObeyed())
		case errors.Is(err, errStopped):
			return p.ended("stopped")
		case err != nil:
			return errors.Join(err, p.ended("the input ended"))
		}
	}
	return nil
}

// mostTyped is how much of a line is listened to, in bytes. Nothing that is asked for is nearly as long.
const mostTyped = 8 << 10

// readLine reads a line of any length, and returns as much of it as is listened to, made safe to say.
func readLine(r *bufio.Reader) (string, error) {
	var line []byte
	for {
		part, err := r.ReadSlice('\n')
		if room := mostTyped - len(line); room > 0 {
			line = append(line, part[:min(len(part), room)]...)
		}
		if !errors.Is(err, bufio.ErrBufferFull) {
			return strings.TrimSpace(printable.Line(strings.TrimRight(string(line), "\r\n"))), err
		}
	}
}

// line obeys one line and says what came of it.
func (p *plain) line(text string) {
	p.was, p.spoke, p.placed, p.answered = p.now(), false, false, false
	if p.watches && p.m.front() == nil && p.m.doc != nil {
		p.told = p.m.told
		if p.run(p.m.look()); p.m.front() != nil { // a question about the file goes first
			if text != "" {
				p.say("not obeyed: " + text)
			}
			p.after()
			return
		}
		p.was, p.spoke = p.now(), false
	}
	p.obey(text)
	p.after()
}

// do has the model do something, and runs to the end what comes of it.
func (p *plain) do(f func(*Model) tea.Cmd) {
	p.act(doMsg(f))
}

// act delivers what a listener does, as a key would be. What the model told before is not said again, unless it tells it again.
func (p *plain) act(msg tea.Msg) {
	const before = "\x00" // no text that is told has it
	old := p.m.told
	p.m.told += before
	_, cmd := p.m.Update(msg)
	p.told = p.m.told
	nothing := p.told == old+before
	if nothing {
		p.m.told, p.told = old, old
	} else {
		p.say(p.asSpoken(p.told))
	}
	if p.run(cmd); nothing && p.told == old {
		p.told = ""
	}
}

// doMsg is something to be done that has no key.
type doMsg func(*Model) tea.Cmd

// deliver hands the model a message, says what it tells, and runs what it asks for.
func (p *plain) deliver(msg tea.Msg) {
	_, cmd := p.m.Update(msg)
	if told := p.m.told; told != p.told {
		p.told = told
		p.say(p.asSpoken(told))
	}
	p.run(cmd)
}

// run runs a command and whatever its message leads to, until nothing is left. What is meant for a terminal goes nowhere.
func (p *plain) run(cmd tea.Cmd) {
	if cmd == nil || p.quit {
		return
	}
	p.flush() // the command may take its time
	switch msg := cmd().(type) {
	case nil:
	case tea.BatchMsg:
		for _, c := range msg {
			p.run(c)
		}
	case tea.QuitMsg:
		p.quit = true
	default:
		if ours := reflect.TypeOf(p).Elem().PkgPath(); reflect.TypeOf(msg).PkgPath() == ours {
			p.deliver(msg)
		}
	}
}

// say says some lines. Whatever stands in them, nothing but text and line ends goes out.
func (p *plain) say(lines ...string) {
	for _, l := range lines {
		if l = printable.Line(wordsForMarks.Replace(p.m.inUnit(l))); p.ascii {
			l = printable.ASCII(l)
		}
		if l = strings.TrimSpace(l); l == "" {
			continue
		}
		p.spoke = true
		if _, err := p.out.WriteString(l + "\n"); err != nil && p.failed == nil {
			p.failed = err
		}
	}
}

func (p *plain) flush() {
	if err := p.out.Flush(); err != nil && p.failed == nil {
		p.failed = err
	}
}

// front is the dialog that has the keys, or nil.
func (m *Model) front() dialog {
	if n := len(m.dialogs); n > 0 {
		return m.dialogs[n-1]
	}
	return nil
}
