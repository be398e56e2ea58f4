//go:build unix

package ptytest

import (
	"fmt"
	"time"

	"golang.org/x/sys/unix"
)

// Press presses keys one after the other and returns how many keystrokes that were. A key is a name ("Up", "Down",
// "Left", "Right", "Home", "End", "PgUp", "PgDn", "Insert", "Delete", "Enter", "Esc", "Tab", "Space", "Backspace",
// "F1" to "F12"), a name or a character with "Shift+", "Alt+" or "Ctrl+" before it, or else text, typed rune by rune.
//
// As with a person at the keys, a key comes only after the program has read the one before. Otherwise Esc and a letter
// would be taken for Alt and the letter, and three letters for a paste.
func (s *Session) Press(keys ...string) int {
	s.t.Helper()
	count := 0
	for _, key := range keys {
		sent, named, err := keyBytes(key)
		if err != nil {
			s.t.Fatal(err)
		}
		if !named {
			count += s.Type(key)
			continue
		}
		s.send(sent)
		s.keystrokes++
		count++
	}
	return count
}

// Type types text, even if it is the name of a key, and returns the number of its runes.
func (s *Session) Type(text string) int {
	s.t.Helper()
	count := 0
	for _, r := range text {
		s.send(string(r))
		s.keystrokes++
		count++
	}
	return count
}

// Paste hands over text as a terminal does on a paste, between the marks of bracketed paste if the program has asked
// for them. It is no keystroke.
func (s *Session) Paste(text string) {
	s.t.Helper()
	if s.Term.Mode(2004) {
		text = "\x1b[200~" + text + "\x1b[201~"
	}
	s.send(text)
}

// Keystrokes returns how many keys have been pressed so far. The mouse does not count.
func (s *Session) Keystrokes() int {
	return s.keystrokes
}

const (
	leftButton = 0
	dragged    = 32
	wheelUp    = 64
	wheelDown  = 65
)

// Click presses and releases the left button on column x of row y, counted from 0.
func (s *Session) Click(x, y int) {
	s.t.Helper()
	s.mouse(leftButton, x, y, 'M')
	s.mouse(leftButton, x, y, 'm')
}

// Drag presses the left button on one cell, moves over the cells between in as straight a line as may be, and
// releases it on the other cell.
func (s *Session) Drag(x1, y1, x2, y2 int) {
	s.t.Helper()
	s.mouse(leftButton, x1, y1, 'M')
	steps := max(abs(x2-x1), abs(y2-y1))
	for i := 1; i <= steps; i++ {
		s.mouse(leftButton+dragged, x1+(x2-x1)*i/steps, y1+(y2-y1)*i/steps, 'M')
	}
	s.mouse(leftButton, x2, y2, 'm')
}

// Wheel turns the wheel by one notch, up if dir is negative, down if it is positive.
func (s *Session) Wheel(x, y, dir int) {
	s.t.Helper()
	button := wheelDown
	if dir < 0 {
		button = wheelUp
	}
	s.mouse(button, x, y, 'M')
}

// mouse sends an event in SGR form (mode 1006), as all terminals of today do. A terminal sends none that the program
// has not asked for.
func (s *Session) mouse(button, x, y int, final rune) {
	s.t.Helper()
	if !s.Term.Mode(1006) {
		s.fail("the program does not listen to the mouse")
	}
	s.send(fmt.Sprintf("\x1b[<%d;%d;%d%c", button, x+1, y+1, final))
}

// send writes input and waits until the program has read it or has ended.
func (s *Session) send(input string) {
	s.t.Helper()
	s.remember()
	if _, err := s.master.WriteString(input); err != nil {
		s.fail(fmt.Sprintf("cannot send %q: %v", input, err))
	}
	for deadline := time.Now().Add(patience); s.unread(); {
		if time.Now().After(deadline) {
			s.fail(fmt.Sprintf("the program does not read its input %q", input))
		}
		time.Sleep(200 * time.Microsecond)
	}
}

// unread reports whether the program has input that it has not read. Poll, unlike counting the bytes, waits for input
// that is still on its way through the kernel. A program that reads by lines has nothing to read before Enter.
func (s *Session) unread() bool {
	connection, err := s.slave.SyscallConn()
	if err != nil {
		return false // closed, so the program has ended
	}
	waiting := false
	_ = connection.Control(func(fd uintptr) {
		polled := []unix.PollFd{{Fd: int32(fd), Events: unix.POLLIN}}
		n, err := unix.Poll(polled, 0)
		waiting = err == unix.EINTR || n == 1 && polled[0].Revents == unix.POLLIN
	})
	return waiting
}

func abs(n int) int {
	return max(n, -n)
}
