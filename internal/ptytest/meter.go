//go:build unix

package ptytest

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/creack/pty"
)

// Meter measures a program on a terminal, ours or another. It notes when each piece of output came before anything is
// done with it, so that what drawing it takes is not counted. Its methods are for one goroutine.
type Meter struct {
	// Term is the screen as far as it has been drawn. Other programs may send it what ours must not.
	Term *Terminal

	t      testing.TB
	cmd    *exec.Cmd
	master *os.File
	began  time.Time
	output chan piece // closed when there is no more
}

// piece is what one read brought.
type piece struct {
	at   time.Time
	text []byte
}

// Reply is what came of a key or of the start.
type Reply struct {
	Bytes int           // 0 when nothing came
	Last  time.Duration // from there to the last byte
}

// StartMeter runs a program, argv[0] with its arguments, as Start does, but never mute.
func StartMeter(t testing.TB, opts Options, argv ...string) *Meter {
	t.Helper()
	if opts.Cols == 0 || opts.Rows == 0 {
		opts.Cols, opts.Rows = 80, 24
	}
	m := &Meter{Term: NewTerminal(opts.Cols, opts.Rows), t: t, output: make(chan piece, 1<<12)}
	m.cmd = exec.Command(argv[0], argv[1:]...)
	m.cmd.Env = append(cleanEnv(t.TempDir()), opts.Env...)
	m.cmd.Dir = opts.Dir
	m.began = time.Now()
	master, err := pty.StartWithSize(m.cmd, &pty.Winsize{Cols: uint16(opts.Cols), Rows: uint16(opts.Rows)})
	if err != nil {
		t.Fatalf("cannot start %q on a terminal: %v", argv, err)
	}
	m.master = master
	go m.read()
	t.Cleanup(m.Stop)
	return m
}

func (m *Meter) read() {
	defer close(m.output)
	for {
		buf := make([]byte, 1<<15)
		n, err := m.master.Read(buf)
		at := time.Now()
		if n > 0 {
			m.output <- piece{at, buf[:n]}
		}
		if err != nil {
			return
		}
	}
}

// Stop ends the program, with all that it has started in its process group. It may be called twice.
func (m *Meter) Stop() {
	if m.cmd.ProcessState != nil {
		return
	}
	_ = syscall.Kill(-m.cmd.Process.Pid, syscall.SIGKILL)
	_ = m.cmd.Wait() // it was killed, which is no news
	m.master.Close()
}

// FirstFrame waits until at least so many cells of the screen are not blank and nothing has come for a while, and returns
// what came since the program was started. It ends the test when that takes more than a minute.
func (m *Meter) FirstFrame(cells int, quiet time.Duration) Reply {
	m.t.Helper()
	reply, ok := m.untilQuiet(m.began, quiet, func() bool { return m.shown() >= cells })
	if !ok {
		m.t.Fatalf("%q shows no frame; its screen:\n%s", m.cmd.Args, m.Term.Text())
	}
	return reply
}

// Press presses a key, named as for Session.Press, or types a character, and returns what came until nothing has come for a while.
func (m *Meter) Press(key string, quiet time.Duration) Reply {
	m.t.Helper()
	sent, named, err := keyBytes(key)
	if err != nil {
		m.t.Fatal(err)
	}
	if !named {
		sent = key
	}
	m.untilQuiet(time.Now(), time.Millisecond, nil) // what came by itself is not the answer
	began := time.Now()
	if _, err := m.master.WriteString(sent); err != nil {
		m.t.Fatalf("cannot send %q to %q: %v", key, m.cmd.Args, err)
	}
	reply, _ := m.untilQuiet(began, quiet, nil)
	return reply
}

// untilQuiet draws output until there is enough of it and nothing has come for a while; ok is false if that takes more than
// a minute or the program has ended. Without enough, any output or none will do.
func (m *Meter) untilQuiet(began time.Time, quiet time.Duration, enough func() bool) (reply Reply, ok bool) {
	deadline := time.Now().Add(patience)
	for {
		wait := time.Until(deadline)
		if enough == nil || enough() {
			wait = min(wait, quiet)
		}
		select {
		case p, more := <-m.output:
			if !more {
				return reply, false
			}
			reply.Bytes += len(p.text)
			reply.Last = p.at.Sub(began)
			_, _ = m.Term.Write(p.text) // never fails
			if answers := m.Term.takeAnswers(); len(answers) > 0 {
				_, _ = m.master.Write(answers)
			}
		case <-time.After(wait):
			return reply, time.Now().Before(deadline)
		}
	}
}

// shown is how many cells of the screen are not blank.
func (m *Meter) shown() int {
	n := 0
	for _, r := range m.Term.Text() {
		if r > ' ' {
			n++
		}
	}
	return n
}

// Memory is the resident memory of the program in bytes. It fails where the system has no /proc as Linux has.
func (m *Meter) Memory() (int64, error) {
	status, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", m.cmd.Process.Pid))
	if err != nil {
		return 0, err
	}
	_, rest, ok := strings.Cut(string(status), "\nVmRSS:")
	kilobytes, _, ok2 := strings.Cut(rest, "kB")
	if !ok || !ok2 {
		return 0, errors.New("the process says nothing of its memory")
	}
	n, err := strconv.ParseInt(strings.TrimSpace(kilobytes), 10, 64)
	return n << 10, err
}

// CPU is how long the threads of the program that still run have been running. It fails where the system has no /proc as
// Linux has.
func (m *Meter) CPU() (time.Duration, error) {
	threads, err := filepath.Glob(fmt.Sprintf("/proc/%d/task/*/schedstat", m.cmd.Process.Pid))
	if err != nil || len(threads) == 0 {
		return 0, errors.New("the system does not say how long a process has run")
	}
	var sum time.Duration
	for _, thread := range threads {
		times, err := os.ReadFile(thread)
		if errors.Is(err, os.ErrNotExist) || errors.Is(err, syscall.ESRCH) { // it has just ended
			continue
		}
		if err != nil {
			return 0, err
		}
		running, _, _ := strings.Cut(string(times), " ")
		n, err := strconv.ParseInt(running, 10, 64)
		if err != nil {
			return 0, err
		}
		sum += time.Duration(n)
	}
	return sum, nil
}
