package ptytest

import (
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"
)

// parser is how far the terminal is with reading. It goes byte by byte, since a read may end anywhere.
type parser struct {
	state state
	at    int    // where in raw the byte at hand is
	start int    // where in raw the sequence or the rune at hand begins
	seq   []byte // its bytes so far
}

type state int

const (
	inText         state = iota
	inRune               // within the bytes of one UTF-8 rune
	inEscape             // after ESC, or ESC and a byte that announces more
	inControl            // after ESC [
	inString             // after ESC ] and the like, up to BEL or ESC \
	inStringEscape       // within a string, after ESC
)

// longest is more bytes than any escape or control sequence of ours has; beyond it, something is wrong.
const longest = 256

// feed takes one byte.
func (t *Terminal) feed(b byte) {
	if t.state == inText {
		t.start, t.seq = t.at, t.seq[:0]
	}
	t.seq = append(t.seq, b)
	switch t.state {
	case inText:
		t.text(b)
	case inRune:
		t.runeByte()
	case inEscape:
		t.escapeByte(b)
	case inControl:
		t.controlByte(b)
	case inString:
		t.stringByte(b)
	case inStringEscape:
		t.stringEscapeByte(b)
	}
}

func (t *Terminal) text(b byte) {
	p := t.page()
	switch {
	case b == '\x1b':
		t.state = inEscape
	case b == '\r':
		t.moveTo(&p.cursor, 0, p.y)
	case b == '\n':
		t.lineFeed()
	case b == '\b':
		t.moveTo(&p.cursor, p.x-1, p.y)
	case b < ' ' || b == 0x7f:
		t.offend("control character")
	case b < utf8.RuneSelf:
		t.print(rune(b))
	default:
		t.state = inRune
		t.runeByte()
	}
}

// runeByte shows the rune at hand once all its bytes are there. In bytes that are no rune, the first is wrong by
// itself, and the others may begin anything.
func (t *Terminal) runeByte() {
	if !utf8.FullRune(t.seq) {
		return
	}
	if r, size := utf8.DecodeRune(t.seq); size > 1 {
		t.state = inText
		t.print(r)
		return
	}
	t.rejectUpTo(1, "not UTF-8")
}

func (t *Terminal) escapeByte(b byte) {
	p := t.page()
	switch {
	case len(t.seq) > 2 && b >= 0x30 && b < 0x7f:
		t.rejectUpTo(len(t.seq), "escape sequence")
	case b < 0x20 || b >= 0x7f || len(t.seq) > longest:
		t.rejectUpTo(len(t.seq)-1, "broken escape sequence")
	case b < 0x30: // one more is to come, as in ESC ( B
	case b == '[':
		t.state = inControl
	case strings.IndexByte("]PX^_", b) >= 0: // OSC, DCS, SOS, PM, APC
		t.state = inString
	case b == '7':
		t.state = inText
		p.saved = p.cursor
	case b == '8':
		t.state = inText
		p.cursor = p.saved
	default:
		t.rejectUpTo(len(t.seq), "escape sequence")
	}
}

// controlByte collects a control sequence: ESC [, parameters, a final byte.
func (t *Terminal) controlByte(b byte) {
	switch {
	case b < 0x20 || b >= 0x7f || len(t.seq) > longest:
		t.rejectUpTo(len(t.seq)-1, "broken control sequence")
	case b >= 0x40:
		t.state = inText
		if !t.obey(string(t.seq[2:len(t.seq)-1]), b) {
			t.offend("control sequence")
			t.answer()
		}
	}
}

// stringByte skips the content of a string, which must not show.
func (t *Terminal) stringByte(b byte) {
	switch b {
	case '\a':
		t.endString()
	case '\x1b':
		t.state = inStringEscape
	}
}

func (t *Terminal) stringEscapeByte(b byte) {
	if b == '\\' {
		t.endString()
		return
	}
	t.rejectUpTo(len(t.seq)-2, "unfinished string")
}

func (t *Terminal) endString() {
	t.state = inText
	t.offend("string for the terminal")
	t.answer()
}

// rejectUpTo makes an offence of the first n bytes at hand and reads the rest anew, as text.
func (t *Terminal) rejectUpTo(n int, what string) {
	rest, last := string(t.seq[n:]), t.at
	t.seq = t.seq[:n]
	t.state = inText
	t.offend(what)
	for i := range len(rest) {
		t.at = last - len(rest) + 1 + i
		t.feed(rest[i])
	}
}

// obey does what a control sequence asks for, and reports whether it is one of those that we may send.
func (t *Terminal) obey(body string, final byte) bool {
	if private, ok := strings.CutPrefix(body, "?"); ok {
		n, ok := numbers(private)
		return ok && len(n) > 0 && (final == 'h' || final == 'l') && t.setModes(n, final == 'h')
	}
	n, ok := numbers(body)
	if !ok {
		return false
	}
	switch {
	case final == 'm':
		return t.page().pen.restyle(n)
	case strings.IndexByte("Hf", final) >= 0 && len(n) <= 2:
		p := t.page()
		t.moveTo(&p.cursor, steps(n, 1)-1, steps(n, 0)-1)
		return true
	case strings.IndexByte("ABCDGd", final) >= 0 && len(n) <= 1:
		t.move(final, steps(n, 0))
		return true
	case final == 'X' && len(n) <= 1:
		p := t.page()
		p.atMargin = false
		t.erase(p.y, p.x, min(p.x+steps(n, 0), t.cols))
		return true
	case strings.IndexByte("JK", final) >= 0 && len(n) <= 1:
		return t.eraseBy(final, number(n, 0))
	}
	return false
}

// move does the moves with one parameter: up, down, right, left, to a column, to a row.
func (t *Terminal) move(final byte, n int) {
	p := t.page()
	x, y := p.x, p.y
	switch final {
	case 'A':
		y -= n
	case 'B':
		y += n
	case 'C':
		x += n
	case 'D':
		x -= n
	case 'G':
		x = n - 1
	case 'd':
		y = n - 1
	}
	t.moveTo(&p.cursor, x, y)
}

// eraseBy does J (screen) and K (line): 0 from the cursor on, 1 up to the cursor, 2 all. 3 would take the user's
// scrollback away, so it is an offence.
func (t *Terminal) eraseBy(final byte, which int) bool {
	p := t.page()
	p.atMargin = false // and the rune that has just been written at the margin goes, as it does in most terminals
	switch which {
	case 0:
		t.erase(p.y, p.x, t.cols)
	case 1:
		t.erase(p.y, 0, p.x+1)
	case 2:
		t.erase(p.y, 0, t.cols)
	default:
		return false
	}
	if final == 'K' {
		return true
	}
	if which != 0 {
		t.eraseRows(0, p.y)
	}
	if which != 1 {
		t.eraseRows(p.y+1, t.rows)
	}
	return true
}

// setModes switches private modes, all or, if one of them is not ours, none.
func (t *Terminal) setModes(modes []int, on bool) bool {
	for _, mode := range modes {
		switch mode {
		case modeCursor, modeFrame, modeAltScreen, 1000, 1002, 1003, 1004, 1006, 2004:
		default:
			return false
		}
	}
	for _, mode := range modes {
		if mode == modeAltScreen && on && !t.modes[mode] {
			// Cursor and pen go along to the empty screen. The main screen's stay for the way back.
			*t.alt = page{cursor: t.main.cursor}
			t.fit(t.alt)
		}
		t.modes[mode] = on
	}
	return true
}

// finish takes note of a sequence that the program never ended.
func (t *Terminal) finish() {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.state != inText {
		t.state = inText
		t.offend("unfinished sequence")
	}
}

func (t *Terminal) offend(what string) {
	t.offences = append(t.offences, t.describe(what))
}

func (t *Terminal) describe(what string) string {
	return fmt.Sprintf("byte %d: %s %+.80q", t.start, what, t.seq)
}

// answer notes the reply of a dark terminal to the questions that programs ask most, so that a program that asks
// them, which is an offence, at least does not hang in every test.
func (t *Terminal) answer() {
	p := t.page()
	switch string(t.seq) {
	case "\x1b[6n":
		t.answers = fmt.Appendf(t.answers, "\x1b[%d;%dR", p.y+1, p.x+1)
	case "\x1b[5n":
		t.answers = append(t.answers, "\x1b[0n"...)
	case "\x1b[c", "\x1b[0c":
		t.answers = append(t.answers, "\x1b[?62;22c"...)
	case "\x1b]10;?\a", "\x1b]10;?\x1b\\":
		t.answers = append(t.answers, "\x1b]10;rgb:d0d0/d0d0/d0d0\x1b\\"...)
	case "\x1b]11;?\a", "\x1b]11;?\x1b\\":
		t.answers = append(t.answers, "\x1b]11;rgb:0000/0000/0000\x1b\\"...)
	}
}

// numbers reads parameters as in "38;2;1;2;3"; an empty one is 0. No parameters at all are none.
func numbers(s string) ([]int, bool) {
	if s == "" {
		return nil, true
	}
	var list []int
	for field := range strings.SplitSeq(s, ";") {
		n, err := strconv.ParseUint("0"+field, 10, 15)
		if err != nil {
			return nil, false
		}
		list = append(list, int(n))
	}
	return list, true
}

// number returns parameter i, 0 if it is left out.
func number(n []int, i int) int {
	if i < len(n) {
		return n[i]
	}
	return 0
}

// steps returns parameter i of a move, where 0 and left out mean 1.
func steps(n []int, i int) int {
	return max(1, number(n, i))
}
