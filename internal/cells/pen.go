package cells

import (
	"strconv"
	"unicode/utf8"

	"example.org/underveil/internal/printable"
)

// unknown is where the terminal's cursor may be anywhere, or any ink in force.
const unknown = -1

// pen writes to a buffer in as few bytes as it can. A copy of it, with another buffer, tries a way out.
type pen struct {
	palette Palette
	w       int // the width of the screen
	x, y    int // where the terminal's cursor is; x may be unknown, and then y is as well
	ink     int // the ink in force, or unknown
	buf     []byte
}

// moveTo moves the terminal's cursor, on the shortest of three ways: to the place, from where it is, or from the left margin.
func (p *pen) moveTo(x, y int) {
	if p.x == x && p.y == y {
		return
	}
	down := y - p.y
	switch place := placeLength(x, y); {
	case p.x == unknown:
		p.buf = appendPlace(p.buf, x, y)
	case moveLength(down)+acrossLength(x-p.x) < min(place, 1+moveLength(down)+acrossLength(x)):
		p.buf = appendAcross(appendDown(p.buf, down), x-p.x)
	case 1+moveLength(down)+acrossLength(x) < place:
		p.buf = appendAcross(appendDown(append(p.buf, '\r'), down), x)
	default:
		p.buf = appendPlace(p.buf, x, y)
	}
	p.x, p.y = x, y
}

// appendPlace appends a move to a place; numbers left out are 1.
func appendPlace(buf []byte, x, y int) []byte {
	buf = append(buf, "\x1b["...)
	if y > 0 {
		buf = strconv.AppendInt(buf, int64(y+1), 10)
	}
	if x > 0 {
		buf = strconv.AppendInt(append(buf, ';'), int64(x+1), 10)
	}
	return append(buf, 'H')
}

// placeLength is how many bytes appendPlace appends.
func placeLength(x, y int) int {
	n := len("\x1b[H")
	if y > 0 {
		n += digits(y + 1)
	}
	if x > 0 {
		n += len(";") + digits(x+1)
	}
	return n
}

// appendDown appends a move down by n rows, up where n is negative.
func appendDown(buf []byte, n int) []byte {
	if n < 0 {
		return appendMove(buf, -n, 'A')
	}
	return appendMove(buf, n, 'B')
}

// backspaces is up to how many columns a move to the left is no longer in backspaces than in a sequence.
const backspaces = "\b\b\b\b"

// appendAcross appends a move to the right by n columns, to the left where n is negative.
func appendAcross(buf []byte, n int) []byte {
	switch {
	case n >= 0:
		return appendMove(buf, n, 'C')
	case -n <= len(backspaces):
		return append(buf, backspaces[:-n]...)
	}
	return appendMove(buf, -n, 'D')
}

// acrossLength is how many bytes appendAcross appends.
func acrossLength(n int) int {
	if n < 0 && -n <= len(backspaces) {
		return -n
	}
	return moveLength(n)
}

func appendMove(buf []byte, n int, final byte) []byte {
	if n == 0 {
		return buf
	}
	buf = append(buf, "\x1b["...)
	if n > 1 {
		buf = strconv.AppendInt(buf, int64(n), 10)
	}
	return append(buf, final)
}

// moveLength is how many bytes appendMove appends, in either direction.
func moveLength(n int) int {
	switch n = max(n, -n); n {
	case 0:
		return 0
	case 1:
		return len("\x1b[A")
	}
	return len("\x1b[A") + digits(n)
}

func digits(n int) int {
	count := 1
	for ; n >= 10; n /= 10 {
		count++
	}
	return count
}

// put writes a cell where the cursor is, with a rune as wide as so many cells. See take for blanks.
func (p *pen) put(c Cell, wide int) {
	p.take(c)
	p.buf = utf8.AppendRune(p.buf, c.Rune)
	p.x += wide
	if p.x >= p.w || !steady(c.Rune) { // where the cursor is now differs between terminals
		p.x = unknown
	}
}

// take takes the ink for a cell; for a blank in which no ink shows, any other such ink does.
func (p *pen) take(c Cell) {
	if p.palette.blank(c) {
		if p.ink != unknown && p.palette.looks[p.ink].seeThrough {
			return
		}
		c.Ink = 0
	}
	p.buf = p.palette.appendChange(p.buf, p.ink, c.Ink)
	p.ink = int(c.Ink)
}

// erase blanks n cells from the cursor on, or the rest of the row, and leaves the cursor where it is. The ink in force
// has to be one in which a blank is nothing but blank: terminals erase in its background.
func (p *pen) erase(n int) {
	if p.x+n >= p.w {
		p.buf = append(p.buf, "\x1b[K"...)
		return
	}
	p.buf = appendMove(p.buf, n, 'X')
}

// write writes a stretch.
func (p *pen) write(s *Screen, r run) {
	p.reach(s, r)
	if r.erase {
		p.erase(r.end - r.x)
		return
	}
	row := s.cells[r.y*s.W+r.x : r.y*s.W+r.end]
	for i := 0; i < len(row); {
		wide := 1
		for i+wide < len(row) && row[i+wide].Rune == 0 {
			wide++
		}
		if p.x == unknown { // after a rune that not all terminals take for as wide
			p.moveTo(r.x+i, r.y)
		}
		p.put(row[i], wide)
		i += wide
	}
}

// longBridge is more cells than are ever worth writing again to come by them to others.
const longBridge = 16

// reach goes to the beginning of a stretch and takes its ink: with a jump, or by writing again what lies between,
// whichever is shorter.
func (p *pen) reach(s *Screen, r run) {
	start, bridged := len(p.buf), *p
	p.moveTo(r.x, r.y)
	p.take(r.ink)
	if bridged.y != r.y || bridged.x == unknown || r.x <= bridged.x || r.x-bridged.x > longBridge {
		return
	}
	between := s.cells[r.y*s.W+bridged.x : r.y*s.W+r.x]
	if !allSteady(between) {
		return
	}
	end := len(p.buf)
	bridged.buf = p.buf
	for _, c := range between {
		bridged.put(c, 1)
	}
	bridged.take(r.ink)
	shorter := len(bridged.buf)-end < end-start
	p.buf = bridged.buf[:end]
	if shorter {
		n := copy(bridged.buf[start:], bridged.buf[end:])
		*p = bridged
		p.buf = p.buf[:start+n]
	}
}

// allSteady reports whether cells begin with a whole rune, and all terminals take theirs for as wide as they are.
func allSteady(list []Cell) bool {
	for _, c := range list {
		if c.Rune != 0 && !steady(c.Rune) {
			return false
		}
	}
	return list[0].Rune != 0
}

// steady is printable.Steady, which is asked of every cell, and sooner done for those that the program draws itself.
func steady(r rune) bool {
	switch {
	case r < 0x300, r >= 0x2500 && r < 0x25FD, r >= 0x2800 && r < 0x2900: // letters; frames, blocks, marks of the map; the head
		return true
	}
	return printable.Steady(r)
}
