package cells

import (
	"io"
	"strconv"
	"unicode/utf8"

	"example.org/underveil/internal/printable"
)

// Writer keeps a terminal the same as a screen.
type Writer struct {
	out     io.Writer
	palette Palette
	swatch  map[string]Ink // inks dyed so far, by colour
	w, h    int
	shown   []Cell // what the terminal has
	known   bool   // false: the terminal may have anything
	cursor  bool
	x, y    int // where the terminal's cursor is
	ink     int // the ink in force; -1 unknown
	buf     []byte
}

// NewWriter writes to a terminal with the given palette.
func NewWriter(out io.Writer, palette Palette) *Writer {
	return &Writer{out: out, palette: palette, ink: -1}
}

// Forget makes the next Show paint everything, after something else has written to the
// terminal.
func (w *Writer) Forget() { w.known = false }

// Swatch is the ink whose background is a colour, "#rrggbb"; ok is false where the terminal can't show just that colour.
func (w *Writer) Swatch(colour string) (ink Ink, ok bool) {
	if ink, ok = w.swatch[colour]; ok {
		return ink, true
	}
	more, ink, ok := w.palette.dyed(colour)
	if !ok {
		return 0, false
	}
	w.palette = more
	if w.swatch == nil {
		w.swatch = map[string]Ink{}
	}
	w.swatch[colour] = ink
	return ink, true
}

// bigChange is how many bytes a frame may have before the terminal is asked to hold it
// back until it is whole (mode 2026), so that it does not tear.
const bigChange = 512

const (
	holdFrame = "\x1b[?2026h"
	showFrame = "\x1b[?2026l"
)

// Show brings the terminal up to date with the screen: one write, or none when
// nothing changed.
func (w *Writer) Show(s *Screen) error {
	w.buf = append(w.buf[:0], holdFrame...)
	start := len(w.buf)
	if !w.known || w.w != s.W || w.h != s.H {
		w.begin(s)
	}
	for y := range s.H {
		w.row(s, y)
	}
	w.placeCursor(s)
	body := w.buf[start:]
	if len(body) == 0 {
		return nil
	}
	if len(body) > bigChange {
		w.buf = append(w.buf, showFrame...)
		body = w.buf
	}
	_, err := w.out.Write(body)
	if err != nil {
		w.Forget() // nobody knows how much of it arrived
	}
	return err
}

// begin starts from a cleared terminal.
func (w *Writer) begin(s *Screen) {
	w.w, w.h, w.known = s.W, s.H, true
	w.shown = make([]Cell, s.W*s.H)
	for i := range w.shown {
		w.shown[i] = Cell{Rune: ' '}
	}
	w.buf = append(w.buf, "\x1b[?25l\x1b[m\x1b[H\x1b[2J"...)
	w.ink, w.x, w.y, w.cursor = 0, 0, 0, false
}

// bridge is how many unchanged cells are written again rather than jumped over: a jump
// costs at least as many bytes.
const bridge = 4

// row writes the changed cells of one row.
func (w *Writer) row(s *Screen, y int) {
	base := y * s.W
	now, had := s.cells[base:base+s.W], w.shown[base:base+s.W]
	last := -1 // the last cell written in this row
	for x := 0; x < s.W; x++ {
		if now[x] == had[x] {
			continue
		}
		if now[x].Rune == 0 && x > 0 { // the second half of a wide rune: write the whole
			x--
		}
		from := x
		if last >= 0 && x-last-1 <= bridge && sameInk(now[last:x]) {
			from = last + 1
		}
		for i := from; i <= x; i++ {
			w.put(i, y, now[i])
		}
		last = x
		if x+1 < s.W && now[x+1].Rune == 0 {
			had[x+1] = now[x+1]
			last, x = x+1, x+1
		}
	}
	copy(had, now)
}

// sameInk reports whether cells can be written in one go: one ink, and no halves.
func sameInk(cells []Cell) bool {
	for _, c := range cells {
		if c.Ink != cells[0].Ink || c.Rune == 0 {
			return false
		}
	}
	return true
}

func (w *Writer) put(x, y int, c Cell) {
	if c.Rune == 0 {
		return
	}
	if w.cursor { // hide it while it wanders
		w.buf = append(w.buf, "\x1b[?25l"...)
		w.cursor = false
	}
	w.moveTo(x, y)
	if w.ink != int(c.Ink) && !(c.Rune == ' ' && w.palette.blankAlike(w.ink, c.Ink)) {
		w.buf = append(w.buf, w.palette.change(w.ink, c.Ink)...)
		w.ink = int(c.Ink)
	}
	w.buf = utf8.AppendRune(w.buf, c.Rune)
	w.x = x + max(1, printable.RuneWidth(c.Rune))
	if w.x >= w.w { // where the cursor is now differs between terminals
		w.x = -1
	}
}

func (w *Writer) moveTo(x, y int) {
	if w.x == x && w.y == y {
		return
	}
	w.buf = append(w.buf, "\x1b["...)
	if w.y == y && w.x >= 0 && x > w.x {
		if n := x - w.x; n > 1 {
			w.buf = strconv.AppendInt(w.buf, int64(n), 10)
		}
		w.buf = append(w.buf, 'C')
	} else {
		w.buf = strconv.AppendInt(w.buf, int64(y+1), 10)
		w.buf = append(w.buf, ';')
		w.buf = strconv.AppendInt(w.buf, int64(x+1), 10)
		w.buf = append(w.buf, 'H')
	}
	w.x, w.y = x, y
}

// placeCursor puts the terminal's own cursor where the screen wants it, shown or not: a
// screen reader follows it either way.
func (w *Writer) placeCursor(s *Screen) {
	there := s.has(s.CursorX, s.CursorY)
	if w.cursor && !(s.Cursor && there) {
		w.buf = append(w.buf, "\x1b[?25l"...)
		w.cursor = false
	}
	if !there {
		return
	}
	w.moveTo(s.CursorX, s.CursorY)
	if s.Cursor && !w.cursor {
		w.buf = append(w.buf, "\x1b[?25h"...)
		w.cursor = true
	}
}
