// Package ptytest runs a program on a pseudo-terminal and reads its screen, for tests.
//
// Its [Terminal] is deliberately strict. It understands only what Underveil may send: printable text, colours and
// emphasis, cursor moves, erasing, and the modes that Bubble Tea switches. Whatever else arrives (a question to the
// terminal, a window title, a bell, a stray control character out of a file) is an offence, for a test to find.
// Its judgement is its own and shares no code with what it judges.
package ptytest

import (
	"bytes"
	"slices"
	"strings"
	"sync"
	"unicode"

	"github.com/mattn/go-runewidth"
)

// Cell is one place on the screen.
type Cell struct {
	// Rune is a blank for an empty cell, and 0 for the right half of a wide rune.
	Rune rune
	// Marks are the combining marks on Rune, in the order in which they came.
	Marks string

	Bold, Dim, Italic, Underline, Reverse bool

	// FG and BG are colours: "" for the terminal's own, a name for one of the 16 ("red", "bright red"; by whichever
	// code it was asked for), "index 208" for the rest of the 256, "#aabbcc" for a true colour.
	FG, BG string
}

// Terminal is a screen that bytes are written to. Columns and rows count from 0. It may be written to and read from
// different goroutines.
type Terminal struct {
	mu         sync.Mutex
	cols, rows int
	main, alt  *page
	modes      map[int]bool // private modes that are on
	raw        []byte
	offences   []string
	answers    []byte // what a common terminal would have replied

	parser
}

// page is one of the two screens of a terminal.
type page struct {
	cells [][]Cell
	cursor
	saved cursor // by ESC 7
}

type cursor struct {
	x, y int
	// atMargin says that the last column has been written: the cursor stays on it, and only the next rune goes to
	// the next line.
	atMargin bool
	pen      Cell // Rune and Marks are not used
}

const (
	modeCursor    = 25
	modeAltScreen = 1049
	modeFrame     = 2026 // a frame is being drawn: do not look yet
)

// widths counts East Asian ambiguous runes as one cell, whatever the locale of the test run.
var widths = &runewidth.Condition{StrictEmojiNeutral: true}

// NewTerminal returns an empty screen with a visible cursor in its upper left corner.
func NewTerminal(cols, rows int) *Terminal {
	t := &Terminal{main: &page{}, alt: &page{}, modes: map[int]bool{modeCursor: true}}
	t.Resize(cols, rows)
	return t
}

// Write takes output of the program, split anywhere. It always takes all of p.
func (t *Terminal) Write(p []byte) (int, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	for _, b := range p {
		t.at = len(t.raw)
		t.raw = append(t.raw, b)
		t.feed(b)
	}
	return len(p), nil
}

// Resize changes the size, to one cell at least. What is in the upper left corner stays; lines are not wrapped anew.
func (t *Terminal) Resize(cols, rows int) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.cols, t.rows = max(1, cols), max(1, rows)
	for _, p := range []*page{t.main, t.alt} {
		t.fit(p)
	}
}

// Size returns columns and rows.
func (t *Terminal) Size() (cols, rows int) {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.cols, t.rows
}

// Text returns all rows of the screen, each without the blanks at its end, joined by newlines.
func (t *Terminal) Text() string {
	t.mu.Lock()
	defer t.mu.Unlock()
	rows := make([]string, t.rows)
	for y := range rows {
		rows[y] = t.row(y)
	}
	return strings.Join(rows, "\n")
}

// Row returns the text of row y without the blanks at its end.
func (t *Terminal) Row(y int) string {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.row(y)
}

// Cell returns the cell in column x of row y.
func (t *Terminal) Cell(x, y int) Cell {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.page().cells[y][x]
}

// Cursor returns where the cursor is and whether it is shown.
func (t *Terminal) Cursor() (x, y int, visible bool) {
	t.mu.Lock()
	defer t.mu.Unlock()
	p := t.page()
	return p.x, p.y, t.modes[modeCursor]
}

// AltScreen reports whether the program is on the alternate screen.
func (t *Terminal) AltScreen() bool {
	return t.Mode(modeAltScreen)
}

// Mode reports whether private mode n (2004 for bracketed paste, 1002 for the mouse, ...) is on, so that a test can
// see whether a program leaves the terminal as it found it. Mode 25, the cursor, is on from the start.
func (t *Terminal) Mode(n int) bool {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.modes[n]
}

// Raw returns a copy of all bytes written so far.
func (t *Terminal) Raw() []byte {
	t.mu.Lock()
	defer t.mu.Unlock()
	return bytes.Clone(t.raw)
}

// Offences returns one line for everything that a program of ours must not send, with its place in Raw.
func (t *Terminal) Offences() []string {
	t.mu.Lock()
	defer t.mu.Unlock()
	offences := slices.Clone(t.offences)
	if t.state == inString || t.state == inStringEscape { // its end may never come
		offences = append(offences, t.describe("unfinished string"))
	}
	return offences
}

// takeAnswers returns what a common terminal would have replied since the last call.
func (t *Terminal) takeAnswers() []byte {
	t.mu.Lock()
	defer t.mu.Unlock()
	answers := t.answers
	t.answers = nil
	return answers
}

func (t *Terminal) page() *page {
	if t.modes[modeAltScreen] {
		return t.alt
	}
	return t.main
}

// fit makes p as large as the terminal and keeps its cursors within.
func (t *Terminal) fit(p *page) {
	cells := make([][]Cell, t.rows)
	for y := range cells {
		cells[y] = blankRow(t.cols, "")
		if y >= len(p.cells) {
			continue
		}
		copy(cells[y], p.cells[y])
		if len(p.cells[y]) > t.cols && p.cells[y][t.cols].Rune == 0 { // half a wide rune is none
			cells[y][t.cols-1] = blank("")
		}
	}
	p.cells = cells
	for _, c := range []*cursor{&p.cursor, &p.saved} {
		t.moveTo(c, c.x, c.y)
	}
}

func (t *Terminal) row(y int) string {
	var text strings.Builder
	for _, c := range t.page().cells[y] {
		if c.Rune != 0 {
			text.WriteRune(c.Rune)
			text.WriteString(c.Marks)
		}
	}
	return strings.TrimRight(text.String(), " ")
}

// print puts a rune at the cursor.
func (t *Terminal) print(r rune) {
	p, width := t.page(), cellsOf(r)
	switch {
	case !unicode.IsGraphic(r):
		t.offend("not printable")
		return
	case width == 0:
		t.addMark(r)
		return
	case width > t.cols:
		t.offend("wider than the screen")
		return
	}
	if p.atMargin || p.x+width > t.cols {
		t.moveTo(&p.cursor, 0, p.y)
		t.lineFeed()
	}
	row := p.cells[p.y]
	split(row, p.x)
	split(row, p.x+width)
	cell := p.pen
	cell.Rune = r
	row[p.x] = cell
	if width == 2 {
		cell.Rune = 0
		row[p.x+1] = cell
	}
	p.x += width
	if p.x == t.cols {
		p.x, p.atMargin = t.cols-1, true
	}
}

// addMark puts a combining mark on the rune before the cursor.
func (t *Terminal) addMark(mark rune) {
	p := t.page()
	x := p.x - 1
	if p.atMargin {
		x = p.x
	}
	if x < 0 {
		t.offend("combining mark with nothing before it")
		return
	}
	if p.cells[p.y][x].Rune == 0 {
		x--
	}
	p.cells[p.y][x].Marks += string(mark)
}

// split blanks the wide rune, if there is one, whose halves are on either side of the left edge of column x.
func split(row []Cell, x int) {
	if x > 0 && x < len(row) && row[x].Rune == 0 {
		row[x-1], row[x] = blank(row[x-1].BG), blank(row[x].BG)
	}
}

// lineFeed moves the cursor down, and the page up when there is no line below.
func (t *Terminal) lineFeed() {
	p := t.page()
	if p.y < t.rows-1 {
		t.moveTo(&p.cursor, p.x, p.y+1)
		return
	}
	p.atMargin = false
	copy(p.cells, p.cells[1:])
	p.cells[t.rows-1] = blankRow(t.cols, p.pen.BG)
}

// moveTo puts c at a place, or at the nearest one on the screen.
func (t *Terminal) moveTo(c *cursor, x, y int) {
	c.x, c.y, c.atMargin = clamp(x, t.cols), clamp(y, t.rows), false
}

// erase blanks columns from (included) to to (excluded) of row y, in the background of the pen as terminals do.
func (t *Terminal) erase(y, from, to int) {
	p := t.page()
	split(p.cells[y], from)
	split(p.cells[y], to)
	for x := from; x < to; x++ {
		p.cells[y][x] = blank(p.pen.BG)
	}
}

func (t *Terminal) eraseRows(from, to int) {
	for y := from; y < to; y++ {
		t.erase(y, 0, t.cols)
	}
}

func clamp(n, size int) int {
	return max(0, min(n, size-1))
}

func blank(bg string) Cell {
	return Cell{Rune: ' ', BG: bg}
}

func blankRow(cols int, bg string) []Cell {
	return slices.Repeat([]Cell{blank(bg)}, cols)
}
