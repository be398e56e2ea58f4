//go:build unix

package ptytest

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/creack/pty"
)

const (
	// patience is how long a test waits for the program before it fails. It is generous, for a busy build server.
	patience = time.Minute
	// quiet is how long a screen must not change to pass for finished in a picture.
	quiet = 60 * time.Millisecond
)

// Options say how to run a program. The zero value is a terminal of 80 by 24.
type Options struct {
	Cols, Rows int
	// Env is added to a small stated environment (see Start) and wins over it.
	Env []string
	// Dir is the working folder, the test's own if empty.
	Dir string
	// Mute is for a terminal that never answers a question. Without it the common questions get an answer, so that a
	// program that asks does not wait for ever; asking is an offence either way.
	Mute bool
}

// Session is a program on a terminal. Its methods end the test when the program does not do what they wait for. They
// are for the one goroutine that runs the test.
type Session struct {
	// Term is the screen. While the program runs, WaitScreen is the way to look at it between two writes.
	Term *Terminal

	t          testing.TB
	mute       bool
	cmd        *exec.Cmd
	master     *os.File // our end
	slave      *os.File // the program's end, kept open to see whether it has read its keys
	drawing    sync.Mutex
	changed    chan struct{} // output has arrived since the last receive
	exited     chan struct{} // closed when the program has ended
	ended      chan struct{} // closed when its last output has been read as well
	keystrokes int
	before     string // what the screen showed before the last input
	answered   bool   // what came of the last input was waited for
}

// Start runs a program, argv[0] with its arguments, on a new terminal. It knows nothing of the environment of the test:
// it gets TERM=xterm-256color, COLORTERM=truecolor, LANG=C.UTF-8, a PATH to the system's own programs, and an empty
// HOME of its own with the XDG folders below it (not made yet), then Options.Env. When the test ends, so does the
// program.
func Start(t testing.TB, opts Options, argv ...string) *Session {
	t.Helper()
	if opts.Cols == 0 || opts.Rows == 0 {
		opts.Cols, opts.Rows = 80, 24
	}
	s := &Session{
		Term: NewTerminal(opts.Cols, opts.Rows), t: t, mute: opts.Mute,
		changed: make(chan struct{}, 1), exited: make(chan struct{}), ended: make(chan struct{}),
	}
	s.cmd = exec.Command(argv[0], argv[1:]...)
	s.cmd.Env = append(cleanEnv(t.TempDir()), opts.Env...)
	s.cmd.Dir = opts.Dir
	s.open(opts.Cols, opts.Rows)
	if err := s.cmd.Start(); err != nil {
		s.master.Close()
		s.slave.Close()
		t.Fatalf("cannot start %q: %v", argv, err)
	}
	go s.read()
	go s.watch()
	t.Cleanup(s.stop)
	return s
}

func cleanEnv(home string) []string {
	return []string{
		"TERM=xterm-256color",
		"COLORTERM=truecolor",
		"LANG=C.UTF-8",
		"PATH=/usr/bin:/bin",
		"HOME=" + home,
		"XDG_CONFIG_HOME=" + filepath.Join(home, ".config"),
		"XDG_DATA_HOME=" + filepath.Join(home, ".local", "share"),
		"XDG_STATE_HOME=" + filepath.Join(home, ".local", "state"),
		"XDG_CACHE_HOME=" + filepath.Join(home, ".cache"),
		"XDG_RUNTIME_DIR=" + filepath.Join(home, ".run"),
	}
}

// open makes the pseudo-terminal, in its size from the start, and the program's session on it.
func (s *Session) open(cols, rows int) {
	s.t.Helper()
	master, slave, err := pty.Open()
	if err != nil {
		s.t.Fatalf("cannot open a pseudo-terminal: %v", err)
	}
	s.master, s.slave = master, slave
	s.setSize(cols, rows)
	s.cmd.Stdin, s.cmd.Stdout, s.cmd.Stderr = slave, slave, slave
	s.cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Setctty: true}
}

// read brings output to the screen until the program has closed its end.
func (s *Session) read() {
	defer close(s.ended)
	buf := make([]byte, 1<<15)
	for {
		n, err := s.master.Read(buf)
		s.draw(buf[:n])
		if err != nil {
			return
		}
	}
}

func (s *Session) draw(output []byte) {
	s.drawing.Lock()
	_, _ = s.Term.Write(output) // never fails
	answers := s.Term.takeAnswers()
	s.drawing.Unlock()
	if len(answers) > 0 && !s.mute {
		_, _ = s.master.Write(answers)
	}
	select {
	case s.changed <- struct{}{}:
	default:
	}
}

// watch waits for the end of the program and then lets the reader come to the end of its output.
func (s *Session) watch() {
	_ = s.cmd.Wait() // the exit code is all that counts, and ProcessState has it
	close(s.exited)
	s.slave.Close()
}

// stop ends a program that still runs when its test is over, with all that it has started in its process group.
func (s *Session) stop() {
	select {
	case <-s.exited:
	default:
		_ = syscall.Kill(-s.cmd.Process.Pid, syscall.SIGKILL)
		<-s.exited
	}
	select {
	case <-s.ended:
		s.master.Close()
	case <-time.After(patience): // somebody else keeps the terminal open: leave it to them
	}
}

// WaitFor waits until text is on the screen, within one row. It may not have been there before the last keys, as with WaitNew.
func (s *Session) WaitFor(text string) {
	s.t.Helper()
	s.WaitNew(func(screen string) bool { return strings.Contains(screen, text) }, fmt.Sprintf("%q", text))
}

// WaitNew waits until the text of the screen is as seen wants it, as WaitScreen does, and ends the test if it was so before the keys that were
// pressed since the last wait: then there would be nothing to wait for, and the next key could come before these have done anything.
func (s *Session) WaitNew(seen func(screen string) bool, what string) {
	s.t.Helper()
	if seen(s.before) {
		s.fail(fmt.Sprintf("the screen showed %s before the last keys were pressed: wait for what only they can have brought about", what))
	}
	s.WaitScreen(func(screen *Terminal) bool { return seen(screen.Text()) }, what)
}

// WaitGone waits until text is nowhere on the screen.
func (s *Session) WaitGone(text string) {
	s.t.Helper()
	s.WaitScreen(func(screen *Terminal) bool { return !strings.Contains(screen.Text(), text) }, fmt.Sprintf("no more %q", text))
}

// WaitScreen waits until the screen is as seen wants it, and ends the test, with a picture of the screen, if that takes
// longer than a minute or the program has ended before; what says what was waited for. The screen stands still while seen
// looks at it, and is not shown within a synchronised frame (mode 2026). A screen that is already so is found at once:
// wait for something that only the last key can have brought about.
func (s *Session) WaitScreen(seen func(*Terminal) bool, what string) {
	s.t.Helper()
	s.answered = true
	deadline := time.After(patience)
	for !s.look(seen) {
		select {
		case <-s.changed:
		case <-s.ended:
			if !s.look(seen) {
				s.fail("the program ended before the screen showed " + what)
			}
			return
		case <-deadline:
			s.fail(fmt.Sprintf("after %v the screen does not show %s", patience, what))
		}
	}
}

// remember keeps what the screen shows before the first input since the last wait.
func (s *Session) remember() {
	if s.answered {
		s.drawing.Lock()
		s.before, s.answered = s.Term.Text(), false
		s.drawing.Unlock()
	}
}

func (s *Session) look(seen func(*Terminal) bool) bool {
	s.drawing.Lock()
	defer s.drawing.Unlock()
	return !s.Term.Mode(modeFrame) && seen(s.Term)
}

// Settle waits until nothing has been written for 60 ms. That is good enough for a picture, and for nothing else: a
// test that needs it to pass would fail on a slow machine.
func (s *Session) Settle() {
	s.t.Helper()
	deadline := time.After(patience)
	for {
		select {
		case <-s.changed:
		case <-time.After(quiet):
			return
		case <-s.ended:
			return
		case <-deadline:
			s.fail("the screen does not come to rest")
		}
	}
}

// Resize changes the size of the terminal and lets the program know.
func (s *Session) Resize(cols, rows int) {
	s.t.Helper()
	s.remember()
	s.Term.Resize(cols, rows)
	s.setSize(cols, rows)
}

func (s *Session) setSize(cols, rows int) {
	s.t.Helper()
	if err := pty.Setsize(s.master, &pty.Winsize{Cols: uint16(cols), Rows: uint16(rows)}); err != nil {
		s.t.Fatalf("cannot set the size of the terminal: %v", err)
	}
}

// Signal sends a signal to the program, for tests of what it does when it is told to end.
func (s *Session) Signal(signal os.Signal) {
	s.t.Helper()
	if err := s.cmd.Process.Signal(signal); err != nil {
		s.fail(fmt.Sprintf("cannot send %v: %v", signal, err))
	}
}

// Quit presses keys, Ctrl+Q if none are given, and waits for the end of the program.
func (s *Session) Quit(keys ...string) (exitCode int) {
	s.t.Helper()
	if len(keys) == 0 {
		keys = []string{"Ctrl+Q"}
	}
	s.Press(keys...)
	return s.Wait()
}

// Wait waits until the program has ended and all its output is on the screen, and returns its exit code, -1 if a
// signal ended it. A sequence that the program left unfinished is an offence.
func (s *Session) Wait() (exitCode int) {
	s.t.Helper()
	deadline := time.After(patience)
	for _, event := range []chan struct{}{s.exited, s.ended} {
		select {
		case <-event:
		case <-deadline:
			s.fail(fmt.Sprintf("after %v the program has not ended", patience))
		}
	}
	s.Term.finish()
	s.before = "" // nothing more can come
	return s.cmd.ProcessState.ExitCode()
}

// fail ends the test with a picture of the screen.
func (s *Session) fail(why string) {
	s.t.Helper()
	s.t.Fatalf("%s\n%s", why, s.picture())
}

// picture returns the screen in a frame, with the place of the cursor and the offences below.
func (s *Session) picture() string {
	cols, _ := s.Term.Size()
	edge := "+" + strings.Repeat("-", cols) + "+\n"
	var picture strings.Builder
	picture.WriteString(edge)
	for row := range strings.SplitSeq(s.Term.Text(), "\n") {
		fmt.Fprintf(&picture, "|%s%s|\n", row, strings.Repeat(" ", max(0, cols-widths.StringWidth(row))))
	}
	x, y, visible := s.Term.Cursor()
	fmt.Fprintf(&picture, "%scursor: column %d, row %d, visible %v\n", edge, x, y, visible)
	for _, offence := range s.Term.Offences() {
		fmt.Fprintf(&picture, "offence: %s\n", offence)
	}
	return picture.String()
}
