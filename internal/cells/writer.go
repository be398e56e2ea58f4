package cells

import "io"

// Writer keeps a terminal the same as a screen.
type Writer struct {
	out    io.Writer
	swatch map[string]Ink // inks dyed so far, by colour
	h      int
	shown  []Cell // what the terminal has
	known  bool   // false: the terminal may have anything
	cursor bool   // whether the terminal's own cursor shows
	pen    pen    // as the last frame left it
	buf    []byte
	runs   []run // kept, with the others, so that a frame allocates nothing
	row    []run
	plans  planner
}

// NewWriter writes to a terminal with the given palette.
func NewWriter(out io.Writer, palette Palette) *Writer {
	return &Writer{out: out, pen: pen{palette: palette, x: unknown, y: unknown, ink: unknown}}
}

// Forget makes the next Show paint everything, after something else has written to the
// terminal.
func (w *Writer) Forget() { w.known = false }

// Swatch is the ink whose background is a colour, "#rrggbb"; ok is false where the terminal can't show just that colour.
func (w *Writer) Swatch(colour string) (ink Ink, ok bool) {
	if ink, ok = w.swatch[colour]; ok {
		return ink, true
	}
	more, ink, ok := w.pen.palette.dyed(colour)
	if !ok {
		return 0, false
	}
	w.pen.palette = more
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
	if !w.known || w.pen.w != s.W || w.h != s.H {
		w.begin(s)
	}
	runs := w.changedRuns(s)
	w.hideCursor(s, runs)
	w.pen.buf = w.buf
	w.pen = w.plans.write(w.pen, s, runs)
	w.buf, w.pen.buf = w.pen.buf, nil
	for _, r := range runs {
		copy(w.shown[r.y*s.W:(r.y+1)*s.W], s.cells[r.y*s.W:(r.y+1)*s.W])
	}
	if s.Cursor && s.has(s.CursorX, s.CursorY) && !w.cursor {
		w.buf = append(w.buf, showCursor...)
		w.cursor = true
	}
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
	w.h, w.known = s.H, true
	w.shown = make([]Cell, s.W*s.H)
	for i := range w.shown {
		w.shown[i] = Cell{Rune: ' '}
	}
	w.buf = append(w.buf, hideCursor+"\x1b[m\x1b[H\x1b[2J"...)
	w.cursor = false
	w.pen.w, w.pen.x, w.pen.y, w.pen.ink = s.W, 0, 0, 0
}

const (
	hideCursor = "\x1b[?25l"
	showCursor = "\x1b[?25h"
)

// hideCursor hides the terminal's own cursor where the screen has none, and while it would be seen to wander: to rows
// where it neither was nor stays.
func (w *Writer) hideCursor(s *Screen, runs []run) {
	if !w.cursor {
		return
	}
	hide := !s.Cursor || !s.has(s.CursorX, s.CursorY)
	for _, r := range runs {
		hide = hide || r.y != w.pen.y && r.y != s.CursorY
	}
	if hide {
		w.buf = append(w.buf, hideCursor...)
		w.cursor = false
	}
}
