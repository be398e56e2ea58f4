package cells

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/muesli/termenv"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/ptytest"
)

// testStyles has every emphasis and kind of colour; the first is plain, as the
// zero Ink has to be.
var testStyles = []Style{
	{},
	{Bold: true},
	{Fore: "#f6dca6", Fore16: "11", Bold: true},
	{Fore: "#0f1420", Back: "#9ecbff", Under: true, Fore16: "0"},
	{Reverse: true, Bold: true},
	{Faint: true, Fore: "#8b93a1"},
	{Back: "#402020"},
	{Fore: "#8b93a1", Fore16: "8"},
}

// pair is a screen, a writer and the terminal that it writes to.
type pair struct {
	t      testing.TB
	scr    *Screen
	term   *ptytest.Terminal
	writer *Writer
	inks   []ptytest.Cell // what a cell in each ink looks like
	sent   *counter
}

// counter counts what goes by on its way to the terminal.
type counter struct {
	to            *ptytest.Terminal
	bytes, writes int
}

func (c *counter) Write(p []byte) (int, error) {
	c.bytes += len(p)
	c.writes++
	return c.to.Write(p)
}

func newPair(t testing.TB, w, h int, profile termenv.Profile) *pair {
	t.Helper()
	return newStyledPair(t, w, h, profile, testStyles)
}

func newStyledPair(t testing.TB, w, h int, profile termenv.Profile, styles []Style) *pair {
	t.Helper()
	palette := NewPalette(profile, styles)
	p := &pair{t: t, scr: NewScreen(w, h), term: ptytest.NewTerminal(w, h)}
	p.sent = &counter{to: p.term}
	p.writer = NewWriter(p.sent, palette)
	for i := range styles {
		p.inks = append(p.inks, seen(t, palette.looks[i].whole))
	}
	return p
}

// randomStyles are a plain style and some others, with few colours so that many have one in common.
func randomStyles(roll func(int) int) []Style {
	colours := []string{"", "", "#000000", "#f6dca6", "#0f1420", "#800000", "#ff0000"}
	styles := make([]Style, 2+roll(12))
	for i := range styles[1:] {
		s := Style{Fore: colours[roll(len(colours))], Bold: roll(2) == 0, Faint: roll(4) == 0, Under: roll(4) == 0, Reverse: roll(5) == 0}
		if roll(4) == 0 {
			s.Back = colours[roll(len(colours))]
		}
		if roll(2) == 0 {
			s.Fore16 = fmt.Sprint(roll(16))
		}
		styles[i+1] = s
	}
	return styles
}

// seen is how a terminal shows a rune after a sequence, without the rune.
func seen(t testing.TB, prefix string) ptytest.Cell {
	t.Helper()
	term := ptytest.NewTerminal(2, 1)
	if _, err := term.Write([]byte(prefix + "X")); err != nil {
		t.Fatal(err)
	}
	if bad := term.Offences(); len(bad) > 0 {
		t.Fatalf("%q: %q", prefix, bad)
	}
	look := term.Cell(0, 0)
	look.Rune = 0
	return look
}

// show brings the terminal up to date and returns how many bytes that took.
func (p *pair) show() int {
	p.t.Helper()
	before := p.sent.bytes
	if err := p.writer.Show(p.scr); err != nil {
		p.t.Fatal(err)
	}
	return p.sent.bytes - before
}

// same fails unless the terminal shows the screen, cell by cell and with its
// cursor, and has been sent nothing but what we may send.
func (p *pair) same(after string) {
	p.t.Helper()
	if bad := p.term.Offences(); len(bad) > 0 {
		p.t.Fatalf("after %s: %q", after, bad)
	}
	for y := range p.scr.H {
		for x := range p.scr.W {
			c := p.scr.At(x, y)
			want := p.inks[c.Ink]
			want.Rune = c.Rune
			if got := p.term.Cell(x, y); visibly(got) != visibly(want) {
				p.t.Fatalf("after %s: cell %d,%d is %+v on the terminal, want %+v\n%s\nterminal:\n%s", after, x, y, got, want, p.scr, p.term.Text())
			}
		}
	}
	x, y, visible := p.term.Cursor()
	want := p.scr.Cursor && p.scr.has(p.scr.CursorX, p.scr.CursorY)
	if visible != want || want && (x != p.scr.CursorX || y != p.scr.CursorY) {
		p.t.Fatalf("after %s: cursor at %d,%d, shown %v; want %d,%d, %v", after, x, y, visible, p.scr.CursorX, p.scr.CursorY, want)
	}
	if p.term.Mode(2026) {
		p.t.Fatalf("after %s: the terminal still holds the frame back", after)
	}
}

// visibly is a cell without what nobody can see of it: the colour of the text, on a blank without emphasis.
func visibly(c ptytest.Cell) ptytest.Cell {
	if c.Rune == ' ' && !c.Underline && !c.Reverse && !c.Bold && !c.Dim {
		c.FG = ""
	}
	return c
}

// whole fails unless every half of a wide rune on the screen has its other half.
func whole(t testing.TB, s *Screen) {
	t.Helper()
	for y := range s.H {
		for x := range s.W {
			switch c := s.At(x, y); {
			case c.Rune == 0 && (x == 0 || printable.RuneWidth(s.At(x-1, y).Rune) != 2):
				t.Fatalf("cell %d,%d is the right half of nothing", x, y)
			case c.Rune != 0 && printable.RuneWidth(c.Rune) == 2 && (x+1 == s.W || s.At(x+1, y).Rune != 0):
				t.Fatalf("cell %d,%d has lost its right half", x, y)
			case c.Rune == 0 && c.Ink != s.At(x-1, y).Ink:
				t.Fatalf("the halves of the rune at %d,%d differ in ink", x-1, y)
			}
		}
	}
}

// seeded is a source of random numbers that repeats from run to run.
func seeded(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 20240229)) }

// row is a row of the screen as text, with the blanks at its end.
func (s *Screen) row(y int) string {
	var b bytes.Buffer
	for x := range s.W {
		if r := s.At(x, y).Rune; r != 0 {
			b.WriteRune(r)
		}
	}
	return b.String()
}

// lines joins lines as Screen.String gives them.
func lines(l ...string) string { return strings.Join(l, "\n") + "\n" }
