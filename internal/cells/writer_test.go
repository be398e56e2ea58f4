package cells

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/muesli/termenv"

	"example.org/underveil/internal/ptytest"
)

// Whatever is painted, the terminal ends up with it.
func TestTerminalFollowsTheScreen(t *testing.T) {
	profiles := []termenv.Profile{termenv.TrueColor, termenv.ANSI256, termenv.ANSI, termenv.Ascii}
	for seed := range uint64(80) {
		rng := seeded(seed)
		p := newPair(t, 1+rng.IntN(24), 1+rng.IntN(6), profiles[rng.IntN(len(profiles))])
		p.show()
		p.same("the first frame")
		for frame := range 60 {
			var did []string
			for range 1 + rng.IntN(5) {
				did = append(did, p.edit(rng.IntN))
			}
			whole(t, p.scr)
			p.show()
			p.same(fmt.Sprintf("seed %d, frame %d: %s", seed, frame, strings.Join(did, "; ")))
			if n := p.show(); n != 0 {
				t.Fatalf("seed %d, frame %d: shown again it sends %d bytes", seed, frame, n)
			}
		}
		if got, want := p.term.Text()+"\n", p.scr.String(); got != want {
			t.Fatalf("seed %d: the terminal reads\n%s, the screen\n%s", seed, got, want)
		}
	}
}

// edit does one random thing to the screen and says what.
func (p *pair) edit(roll func(int) int) string {
	s := p.scr
	x, y, ink := roll(s.W+4)-2, roll(s.H+2)-1, Ink(roll(len(testStyles)))
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
		r := Rect{x, y, roll(4), roll(3)}
		s.Fill(r, ink, '#')
		return fmt.Sprintf("fill %v ink %d", r, ink)
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

// A moved cursor and a painted bond are what a keystroke changes most often.
func TestSmallChangesAreFewBytes(t *testing.T) {
	for _, c := range []struct {
		name string
		do   func(*Screen)
		most int
	}{
		{"one cell and the cursor", func(s *Screen) { s.Put(60, 20, 2, '●'); s.CursorX, s.CursorY = 62, 20 }, 59},
		{"one cell", func(s *Screen) { s.Put(60, 20, 2, '●') }, 59},
		{"the cursor to the right", func(s *Screen) { s.CursorX++ }, 4},
		{"the cursor up", func(s *Screen) { s.CursorY-- }, 8},
		{"the cursor hidden", func(s *Screen) { s.Cursor = false }, 6},
		{"the slot under the cursor tinted", func(s *Screen) { s.Tint(50, 20, 0); s.Tint(52, 20, 4); s.CursorX = 52 }, 59},
		{"two cells near each other", func(s *Screen) { s.Put(60, 20, 2, '●'); s.Put(64, 20, 2, '●') }, 70},
		{"a word", func(s *Screen) { s.Text(80, 3, 30, 0, "12.4 mm") }, 45},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := newPair(t, 120, 40, termenv.TrueColor)
			p.scr.Fill(Rect{0, 0, 120, 40}, 5, '·')
			p.scr.Cursor, p.scr.CursorX, p.scr.CursorY = true, 50, 20
			p.scr.Tint(50, 20, 4)
			p.show()
			c.do(p.scr)
			if n := p.show(); n == 0 || n > c.most {
				t.Errorf("%d bytes, want at most %d", n, c.most)
			}
			p.same(c.name)
		})
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
