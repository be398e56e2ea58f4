// Package cells is a screen as a grid of cells, and a writer that sends a
// terminal only what changed since the last time.
//
// The terminal library's own renderer writes whole lines on a ticker. Here a
// keystroke is on the screen before the next one can come: the editor paints
// cells after each message, and a moved cursor costs some tens of bytes.
package cells

import (
	"golang.org/x/text/unicode/norm"

	"example.org/underveil/internal/printable"
)

// Ink is a style by number: an index into a Palette. The zero Ink is plain text.
type Ink uint8

// Cell is one cell of the screen. The second cell of a wide rune has rune 0.
type Cell struct {
	Rune rune
	Ink  Ink
}

// Rect is a part of the screen; X and Y are its upper left cell.
type Rect struct{ X, Y, W, H int }

// Contains reports whether a cell is in the rectangle.
func (r Rect) Contains(x, y int) bool {
	return x >= r.X && x < r.X+r.W && y >= r.Y && y < r.Y+r.H
}

// Inset is the rectangle without a border of the given width.
func (r Rect) Inset(dx, dy int) Rect { return Rect{r.X + dx, r.Y + dy, r.W - 2*dx, r.H - 2*dy} }

// Screen is a grid of cells. Writing outside it does nothing.
type Screen struct {
	W, H    int
	CursorX int
	CursorY int
	Cursor  bool                // whether the terminal's own cursor shows
	Dots    rune                // ends a text that was cut
	Spell   func(string) string // makes of a text what the terminal can show; nil leaves it
	cells   []Cell
}

// NewScreen is a blank screen.
func NewScreen(w, h int) *Screen {
	s := &Screen{W: w, H: h, Dots: '…', cells: make([]Cell, w*h)}
	s.Clear()
	return s
}

// Clear blanks the whole screen.
func (s *Screen) Clear() {
	for i := range s.cells {
		s.cells[i] = Cell{Rune: ' '}
	}
	s.Cursor = false
}

// At is a cell of the screen.
func (s *Screen) At(x, y int) Cell {
	if !s.has(x, y) {
		return Cell{Rune: ' '}
	}
	return s.cells[y*s.W+x]
}

// Put sets one cell. The rune must be one cell wide. On half of a wide rune it
// blanks the other half, as a terminal does.
func (s *Screen) Put(x, y int, ink Ink, r rune) {
	if s.has(x, y) {
		s.part(x, y)
		s.cells[y*s.W+x] = Cell{r, ink}
	}
}

// putWide sets two cells to one rune. Where the screen's edge runs through it, the
// half that is on the screen is blank.
func (s *Screen) putWide(x, y int, ink Ink, r rune) {
	if !s.has(x, y) || !s.has(x+1, y) {
		s.Put(x, y, ink, ' ')
		s.Put(x+1, y, ink, ' ')
		return
	}
	s.part(x, y)
	s.part(x+1, y)
	s.cells[y*s.W+x] = Cell{r, ink}
	s.cells[y*s.W+x+1] = Cell{0, ink}
}

// part blanks the other half of the wide rune, if there is one, in a cell that is
// about to be overwritten.
func (s *Screen) part(x, y int) {
	row := s.cells[y*s.W : (y+1)*s.W]
	if row[x].Rune == 0 && x > 0 {
		row[x-1].Rune = ' '
	}
	if x+1 < len(row) && row[x+1].Rune == 0 {
		row[x+1].Rune = ' '
	}
}

func (s *Screen) has(x, y int) bool { return x >= 0 && y >= 0 && x < s.W && y < s.H }

// Tint changes the ink of a cell and leaves its rune. The halves of a wide rune
// change together.
func (s *Screen) Tint(x, y int, ink Ink) {
	if !s.has(x, y) {
		return
	}
	row := s.cells[y*s.W : (y+1)*s.W]
	row[x].Ink = ink
	if row[x].Rune == 0 && x > 0 {
		row[x-1].Ink = ink
	}
	if x+1 < len(row) && row[x+1].Rune == 0 {
		row[x+1].Ink = ink
	}
}

// Fill sets every cell of a rectangle.
func (s *Screen) Fill(r Rect, ink Ink, fill rune) {
	for y := r.Y; y < r.Y+r.H; y++ {
		for x := r.X; x < r.X+r.W; x++ {
			s.Put(x, y, ink, fill)
		}
	}
}

// Text writes a string from a cell on, in at most width cells, and returns how
// many it took. A string that does not fit ends in an ellipsis. Whatever is
// not printable is made so here, whoever wrote it.
func (s *Screen) Text(x, y, width int, ink Ink, text string) int {
	if width <= 0 || y < 0 || y >= s.H {
		return 0
	}
	text = norm.NFC.String(printable.Line(printable.Front(text, width))) // a letter with its mark in one rune, where there is one
	if s.Spell != nil {
		text = s.Spell(text)
	}
	used := 0
	for i, r := range text {
		w := printable.RuneWidth(r)
		if w == 0 {
			continue
		}
		if used+w > width || used+w == width && wider(text[i:], w) {
			s.Put(x+used, y, ink, s.Dots)
			for used++; used < width; used++ {
				s.Put(x+used, y, ink, ' ')
			}
			return used
		}
		if w == 2 {
			s.putWide(x+used, y, ink, r)
		} else {
			s.Put(x+used, y, ink, r)
		}
		used += w
	}
	return used
}

// wider reports whether a text takes more than w cells.
func wider(text string, w int) bool {
	for _, r := range text {
		if w -= printable.RuneWidth(r); w < 0 {
			return true
		}
	}
	return false
}

// Width is how many cells Text takes for a text when there is room.
func Width(text string) int { return printable.Width(text) }

// String is the screen as lines of text without trailing blanks, for tests and
// for plain output.
func (s *Screen) String() string {
	out := make([]rune, 0, len(s.cells)+s.H)
	for y := range s.H {
		end := len(out)
		for x := range s.W {
			r := s.cells[y*s.W+x].Rune
			if r == 0 {
				continue
			}
			out = append(out, r)
			if r != ' ' {
				end = len(out)
			}
		}
		out = append(out[:end], '\n')
	}
	return string(out)
}
