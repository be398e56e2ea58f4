package cells

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"unicode"

	"github.com/muesli/termenv"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/ptytest"
)

// Whatever is painted, the terminal ends up with it.
func TestTerminalFollowsTheScreen(t *testing.T) {
	profiles := []termenv.Profile{termenv.TrueColor, termenv.ANSI256, termenv.ANSI, termenv.Ascii}
	seeds := uint64(200)
	if testing.Short() {
		seeds = 60
	}
	for seed := range seeds {
		rng := seeded(seed)
		w, h, styles := 1+rng.IntN(24), 1+rng.IntN(6), testStyles
		if seed%3 == 0 {
			w, h = 40+rng.IntN(100), 4+rng.IntN(30)
		}
		if seed%2 == 0 {
			styles = randomStyles(rng.IntN)
		}
		p := newStyledPair(t, w, h, profiles[rng.IntN(len(profiles))], styles)
		p.show()
		p.same("the first frame")
		for frame := range 60 {
			var did []string
			for range 1 + rng.IntN(5) {
				did = append(did, p.edit(rng.IntN))
			}
			whole(t, p.scr)
			most := p.simplest()
			n := p.show()
			p.same(fmt.Sprintf("seed %d, frame %d: %s", seed, frame, strings.Join(did, "; ")))
			if n > most {
				t.Fatalf("seed %d, frame %d: %q where cell by cell takes %d bytes: %s", seed, frame, p.term.Raw()[len(p.term.Raw())-n:], most, strings.Join(did, "; "))
			}
			if n := p.show(); n != 0 {
				t.Fatalf("seed %d, frame %d: shown again it sends %d bytes", seed, frame, n)
			}
		}
		if got, want := p.term.Text()+"\n", p.scr.String(); got != want {
			t.Fatalf("seed %d: the terminal reads\n%s, the screen\n%s", seed, got, want)
		}
	}
}

// simplest is how many bytes it takes to go to every cell that is to change, and to write it in its ink.
func (p *pair) simplest() int {
	if cols, rows := p.term.Size(); !p.writer.known || cols != p.writer.pen.w || rows != p.writer.h {
		return 1 << 20
	}
	n := len(hideCursor + showCursor + holdFrame + showFrame)
	place := func(x, y int) int { return len(fmt.Sprintf("\x1b[%d;%dH", y+1, x+1)) }
	for y := range p.scr.H {
		for x := range p.scr.W {
			c := p.scr.At(x, y)
			want := p.inks[c.Ink]
			want.Rune = c.Rune
			if c.Rune != 0 && visibly(p.term.Cell(x, y)) != visibly(want) {
				n += place(x, y) + len(p.writer.pen.palette.looks[c.Ink].whole) + len(string(c.Rune))
			}
		}
	}
	if x, y, _ := p.term.Cursor(); x != p.scr.CursorX || y != p.scr.CursorY || n > 30 {
		n += place(p.scr.CursorX, p.scr.CursorY)
	}
	return n
}

// edit does one random thing to the screen and says what.
func (p *pair) edit(roll func(int) int) string {
	s := p.scr
	x, y, ink := roll(s.W+4)-2, roll(s.H+2)-1, Ink(roll(len(p.inks)))
	switch roll(12) {
	case 0, 1, 2:
		r := []rune("x ●·░╳é")[roll(7)]
		s.Put(x, y, ink, r)
		return fmt.Sprintf("put %q at %d,%d ink %d", r, x, y, ink)
	case 3, 4:
		text, width := "", roll(s.W+3)
		for range 1 + roll(4) {
			text += hostile[roll(len(hostile))]
		}
		s.Text(x, y, width, ink, text)
		return fmt.Sprintf("text %q at %d,%d width %d ink %d", text, x, y, width, ink)
	case 5: // the last column, and what spans it
		s.Text(s.W-2, y, 3, ink, "a山")
		return fmt.Sprintf("text over the edge, row %d", y)
	case 6:
		s.Tint(x, y, ink)
		return fmt.Sprintf("tint %d,%d ink %d", x, y, ink)
	case 7:
		r, fill := Rect{x, y, roll(4), roll(3)}, '#'
		if roll(2) == 0 { // a long blank, to be erased
			r.W, fill = roll(s.W+3), ' '
		}
		s.Fill(r, ink, fill)
		return fmt.Sprintf("fill %v ink %d with %q", r, ink, fill)
	case 8, 9:
		s.Cursor, s.CursorX, s.CursorY = roll(3) > 0, x, y
		return fmt.Sprintf("cursor %v at %d,%d", s.Cursor, x, y)
	case 10:
		if roll(4) == 0 {
			s.Clear()
			return "clear"
		}
		return "nothing"
	}
	if roll(3) > 0 {
		return "nothing"
	}
	return p.disturb(roll)
}

// disturb resizes the terminal, or has something else write to it.
func (p *pair) disturb(roll func(int) int) string {
	if roll(2) == 0 {
		junk := "\x1b[1;1H\x1b[31;7mjunk"
		if p.scr.W > 1 {
			junk += "\x1b[2;2H山"
		}
		_, _ = p.term.Write([]byte(junk))
		p.writer.Forget()
		return "junk on the terminal"
	}
	w, h := 1+roll(24), 1+roll(6)
	old := p.scr
	p.term.Resize(w, h)
	p.scr = NewScreen(w, h)
	for y := range min(h, old.H) {
		p.scr.Text(0, y, w, 0, strings.TrimRight(old.row(y), " "))
	}
	p.writer.Forget() // as the editor does at every resize, of the same size too
	return fmt.Sprintf("resize to %dx%d", w, h)
}

func TestResizeAloneRepaints(t *testing.T) {
	p := newPair(t, 10, 3, termenv.TrueColor)
	for _, size := range [][2]int{{10, 3}, {6, 5}, {15, 2}, {2, 15}, {15, 2}} {
		p.term.Resize(size[0], size[1])
		p.scr = NewScreen(size[0], size[1])
		for y := range size[1] {
			p.scr.Text(y%3, y, size[0], Ink(y%3), "nape, ear, temple"[y%4:])
		}
		p.show()
		p.same(fmt.Sprintf("a resize to %v without Forget", size))
	}
}

func TestNoChangeWritesNothing(t *testing.T) {
	p := newPair(t, 40, 10, termenv.TrueColor)
	p.scr.Text(0, 0, 40, 2, "spring fitting")
	p.scr.Cursor, p.scr.CursorX, p.scr.CursorY = true, 39, 9
	p.show()
	writes := p.sent.writes
	for range 3 {
		p.show()
	}
	p.scr.Put(0, 0, 2, 's') // the same again
	p.show()
	if p.sent.writes != writes {
		t.Errorf("%d writes for no change", p.sent.writes-writes)
	}
}

// A moved cursor and a painted bond are what a keystroke changes most often. What each should come to is put together
// here by hand.
func TestSmallChangesAreFewBytes(t *testing.T) {
	const bondInk, reversed = "\x1b[;1;38;2;246;220;166m", "\x1b[;1;7m"
	for _, c := range []struct {
		name string
		do   func(*Screen)
		want string
	}{
		{"one cell and the cursor", func(s *Screen) { s.Put(60, 20, 2, '●'); s.CursorX, s.CursorY = 62, 20 }, "\x1b[10C" + bondInk + "●\x1b[C"},
		{"one cell", func(s *Screen) { s.Put(60, 20, 2, '●') }, "\x1b[10C" + bondInk + "●\x1b[11D"},
		{"the cursor to the right", func(s *Screen) { s.CursorX++ }, "\x1b[C"},
		{"the cursor to the left", func(s *Screen) { s.CursorX -= 2 }, "\b\b"},
		{"the cursor up", func(s *Screen) { s.CursorY-- }, "\x1b[A"},
		{"the cursor to the margin", func(s *Screen) { s.CursorX, s.CursorY = 0, 21 }, "\r\x1b[B"},
		{"the cursor near the margin", func(s *Screen) { s.CursorX = 1 }, "\r\x1b[C"},
		{"the cursor far away", func(s *Screen) { s.CursorX, s.CursorY = 7, 3 }, "\x1b[4;8H"},
		{"the cursor home", func(s *Screen) { s.CursorX, s.CursorY = 0, 0 }, "\x1b[H"},
		{"the cursor hidden", func(s *Screen) { s.Cursor = false }, "\x1b[?25l"},
		{"a letter typed", func(s *Screen) { s.Put(50, 20, 7, 'x'); s.CursorX++ }, "x"},
		{"the ink in force first", func(s *Screen) { s.Tint(50, 20, 4); s.Put(52, 20, 7, 'x'); s.CursorX = 51 },
			"\x1b[2Cx\b\b\b" + reversed + "·"},
		{"two cells near each other", func(s *Screen) { s.Put(60, 20, 7, 'x'); s.Put(62, 20, 7, 'x'); s.CursorX = 63 }, "\x1b[10Cx·x"},
		{"a word", func(s *Screen) { s.Text(80, 3, 30, 7, "12.4 mm"); s.CursorX, s.CursorY = 87, 3 }, "\x1b[4;81H12.4 mm"},
		{"a row blanked", func(s *Screen) { s.Fill(Rect{50, 20, 70, 1}, 0, ' ') }, "\x1b[m\x1b[K"},
		{"a stretch blanked", func(s *Screen) { s.Fill(Rect{50, 20, 40, 1}, 0, ' ') }, "\x1b[m\x1b[40X"},
		{"the end of a row blanked", func(s *Screen) { s.Fill(Rect{118, 20, 2, 1}, 7, ' ') }, "\x1b[68C\x1b[K\x1b[68D"},
		{"a letter blanked", func(s *Screen) { s.Put(50, 20, 7, ' '); s.CursorX++ }, " "},
		{"marks of three bytes between", func(s *Screen) { s.Text(50, 20, 5, 7, "x···x"); s.CursorX = 55 }, "x\x1b[3Cx"},
		{"a stretch coloured", func(s *Screen) { s.Fill(Rect{50, 20, 4, 1}, 6, ' '); s.CursorX = 54 }, "\x1b[;48;2;64;32;32m    "},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := newPair(t, 120, 40, termenv.TrueColor)
			p.scr.Fill(Rect{0, 0, 120, 40}, 7, '·')
			p.scr.Cursor, p.scr.CursorX, p.scr.CursorY = true, 50, 20
			p.show()
			before := len(p.term.Raw())
			c.do(p.scr)
			p.show()
			if got := string(p.term.Raw()[before:]); len(got) > len(c.want) {
				t.Errorf("%q, want %q or as short", got, c.want)
			}
			p.same(c.name)
		})
	}
}

// The whole of a move is shorter than what a careful hand writes from above to below.
func TestAMoveIsFewBytes(t *testing.T) {
	p := newPair(t, 120, 40, termenv.TrueColor)
	moveUp(p.scr, 0)
	p.show()
	byHand := ptytest.NewTerminal(120, 40)
	_, _ = byHand.Write(p.term.Raw())
	want := "\x1b[31;5H\x1b[;1m›\x1b[25C\x1b[7m+" + "\x1b[32;5H \x1b[25C\x1b[27;38;2;246;220;166m░" +
		"\x1b[9;61H\x1b[mnone\x1b[K\x1b[B\x1b[4D\x1b[K" + "\x1b[39;9H\x1b[1m3" + "\x1b[39;31H\x1b[m9.5 mm to the nape zone\x1b[K" + "\x1b[31;31H"
	before := len(p.term.Raw())
	moveUp(p.scr, 1)
	p.show()
	p.same("a move")
	_, _ = byHand.Write([]byte(want))
	if byHand.Text() != p.term.Text() {
		t.Fatalf("by hand:\n%s\nwant:\n%s", byHand.Text(), p.term.Text())
	}
	if got := string(p.term.Raw()[before:]); len(got) >= len(want) {
		t.Errorf("%d bytes %q, want fewer than the %d of %q", len(got), got, len(want), want)
	}
}

// The terminal's own cursor is hidden while it goes to rows where it does not stay, and only then.
func TestCursorIsNotSeenToWander(t *testing.T) {
	for _, c := range []struct {
		name string
		do   func(*Screen)
		hide bool
	}{
		{"in its row", func(s *Screen) { s.Text(3, 2, 9, 0, "nape"); s.CursorX = 7 }, false},
		{"above it", func(s *Screen) { s.Text(3, 1, 9, 0, "nape") }, true},
		{"from row to row", func(s *Screen) { s.Text(3, 2, 9, 0, "nape"); s.Text(3, 3, 9, 0, "ear"); s.CursorY = 3 }, false},
		{"by a row between", func(s *Screen) { s.Text(3, 3, 9, 0, "nape"); s.CursorY = 4 }, true},
		{"moved alone", func(s *Screen) { s.CursorX, s.CursorY = 0, 0 }, false},
	} {
		p := newPair(t, 20, 5, termenv.TrueColor)
		p.scr.Cursor, p.scr.CursorX, p.scr.CursorY = true, 3, 2
		p.show()
		before := len(p.term.Raw())
		c.do(p.scr)
		p.show()
		p.same(c.name)
		raw := string(p.term.Raw()[before:])
		if hidden := strings.HasPrefix(raw, hideCursor) && strings.HasSuffix(raw, showCursor); hidden != c.hide {
			t.Errorf("%s: hidden %v, want %v: %q", c.name, hidden, c.hide, raw)
		}
	}
}

// A rune that some terminals draw over more cells than others is written before what is to the right of it, whatever
// other order would be shorter.
func TestUnsteadyRunesComeBeforeWhatIsRightOfThem(t *testing.T) {
	for ink := range Ink(len(testStyles)) {
		p := newPair(t, 20, 2, termenv.TrueColor)
		p.scr.Text(12, 1, 2, ink, "n")
		p.show()
		p.scr.Text(4, 0, 9, 2, "山")
		p.scr.Text(6, 0, 9, ink, "x")
		p.scr.CursorX, p.scr.CursorY = 4, 0
		before := len(p.term.Raw())
		p.show()
		p.same("a wide rune and a letter")
		if raw := string(p.term.Raw()[before:]); strings.Index(raw, "山") > strings.Index(raw, "x") {
			t.Errorf("ink %d: %q", ink, raw)
		}
	}
}

// The runes that are taken for steady without asking are so.
func TestSteadyRunes(t *testing.T) {
	for r := rune(' '); r < 0x3000; r++ {
		if unicode.IsGraphic(r) && steady(r) != printable.Steady(r) {
			t.Errorf("%q is steady %v, want %v", r, steady(r), printable.Steady(r))
		}
	}
}

// Unchanged blanks between changed letters cost less than jumps over them.
func TestShortGapsAreWrittenAgain(t *testing.T) {
	p := newPair(t, 60, 1, termenv.TrueColor)
	p.show()
	for x := 0; x < 60; x += 3 {
		p.scr.Put(x, 0, 0, 'x')
	}
	if n := p.show(); n > 60+4 {
		t.Errorf("%d bytes for 20 letters and the 38 blanks between them", n)
	}
	p.same("letters with gaps")
	p.scr.Put(0, 0, 0, 'y')
	p.scr.Put(59, 0, 0, 'y')
	if n := p.show(); n > 16 {
		t.Errorf("%d bytes for two letters far apart", n)
	}
	p.same("letters far apart")
}

func TestOneWriteAFrame(t *testing.T) {
	p := newPair(t, 120, 40, termenv.TrueColor)
	for i := range 40 {
		p.scr.Text(0, i, 120, Ink(i%len(testStyles)), strings.Repeat("nape ", 24))
	}
	p.show()
	if p.sent.writes != 1 {
		t.Errorf("%d writes, want 1", p.sent.writes)
	}
	raw := string(p.term.Raw())
	if !strings.HasPrefix(raw, holdFrame) || !strings.HasSuffix(raw, showFrame) {
		t.Error("a whole frame is not held back until it is there")
	}
	p.scr.Put(0, 0, 0, 'x')
	p.show()
	if small := string(p.term.Raw()[len(raw):]); strings.Contains(small, holdFrame) || strings.Contains(small, showFrame) {
		t.Errorf("one cell is held back: %q", small)
	}
	p.same("two frames")
}

// failing refuses some writes, after a part of them.
type failing struct {
	to   *ptytest.Terminal
	fail bool
}

var errGone = errors.New("gone")

func (f *failing) Write(b []byte) (int, error) {
	if f.fail {
		n, _ := f.to.Write(b[:len(b)/2])
		return n, errGone
	}
	return f.to.Write(b)
}

// A frame of which nobody knows how much arrived is painted again.
func TestAfterAFailedWriteAllIsPainted(t *testing.T) {
	p := newPair(t, 20, 3, termenv.Ascii)
	out := &failing{to: p.term}
	p.writer = NewWriter(out, NewPalette(termenv.Ascii, testStyles))
	p.scr.Text(0, 0, 20, 1, "before")
	p.show()
	out.fail = true
	p.scr.Text(0, 1, 20, 1, strings.Repeat("x", 20))
	if err := p.writer.Show(p.scr); !errors.Is(err, errGone) {
		t.Fatalf("error %v, want %v", err, errGone)
	}
	out.fail = false
	p.show()
	p.same("the next frame")
}
