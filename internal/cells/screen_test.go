package cells

import (
	"strings"
	"testing"
	"unicode"

	"github.com/mattn/go-runewidth"

	"example.org/underveil/internal/printable"
)

func TestText(t *testing.T) {
	for _, c := range []struct {
		name     string
		x, width int
		text     string
		used     int
		want     string // the row of 10 cells
	}{
		{"plain", 0, 10, "nape", 4, "nape......"},
		{"from a column", 3, 5, "ear", 3, "...ear...."},
		{"fits exactly", 0, 4, "nape", 4, "nape......"},
		{"cut", 0, 3, "nape", 3, "na…......."},
		{"cut to one cell", 0, 1, "nape", 1, "…........."},
		{"no room", 0, 0, "nape", 0, ".........."},
		{"negative room", 2, -3, "nape", 0, ".........."},
		{"empty", 0, 10, "", 0, ".........."},
		{"accents", 0, 10, "Zoë", 3, "Zoë......."},
		{"wide", 0, 10, "a山b", 4, "a山b......"},
		{"wide fits exactly", 0, 3, "a山", 3, "a山......."},
		{"wide cut within", 0, 3, "a山山", 3, "a… ......."},
		{"wide cut after", 0, 3, "山ab", 3, "山…......."},
		{"wide in one cell", 0, 1, "山", 1, "…........."},
		{"wide in two cells", 0, 2, "山", 2, "山........"},
		{"two wide in two cells", 0, 2, "山山", 2, "… ........"},
		{"a mark takes no cell", 0, 10, "Zoe\u0308!", 4, "Zoë!......"},
		{"marks of other scripts take none either", 0, 10, "\u05d0\u05b0\u0e01\u0e34\u0e49\u0915\u0941!", 4, "\u05d0\u0e01\u0915!......"},
		{"a syllable in parts", 0, 10, "\u1112\u1161\u11ab!", 3, "한!......."},
		{"what chooses a variant takes no cell", 0, 10, "\u2764\ufe0f!", 2, "\u2764!........"},
		{"a mark at the end is no reason to cut", 0, 3, "Zoe\u0308", 3, "Zoë......."},
		{"a flood of marks is cut like other text", 0, 4, "a" + strings.Repeat("\u0301", 500) + "b", 4, "á\ufffd\ufffd…......"},
		{"many marks", 0, 10, "a\u0301\u0302\u0303b", 2, "áb........"},
		{"marks alone", 0, 10, "\u0301\u0302", 2, "\ufffd\ufffd........"},
		{"ambiguous are one cell", 0, 10, "●·░…", 4, "●·░…......"},
		{"newline and tab", 0, 10, "a\nb\tc", 5, "a b c....."},
		{"escape", 0, 10, "a\x1b[2Jb", 6, "a\ufffd[2Jb...."},
		{"bell, C1, delete", 0, 10, "\a\u009b\x7f", 3, "\ufffd\ufffd\ufffd......."},
		{"turns the line round", 0, 10, "a\u202eb", 3, "a\ufffdb......."},
		{"not UTF-8", 0, 10, "a\xff\xfeb", 4, "a\ufffd\ufffdb......"},
		{"past the edge", 8, 5, "nape", 4, "........na"},
		{"wide across the edge", 9, 5, "山", 2, "......... "},
		{"wide up to the edge", 8, 2, "山", 2, "........山"},
		{"from before the screen", -2, 6, "nape", 4, "pe........"},
		{"wide across the left edge", -1, 6, "山b", 3, " b........"},
		{"beyond the screen", 12, 5, "nape", 4, ".........."},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := NewScreen(10, 1)
			s.Fill(Rect{0, 0, 10, 1}, 0, '.')
			if used := s.Text(c.x, 0, c.width, 1, c.text); used != c.used {
				t.Errorf("%q took %d cells, want %d", c.text, used, c.used)
			}
			if got := s.row(0); got != c.want {
				t.Errorf("%q gives %q, want %q", c.text, got, c.want)
			}
			whole(t, s)
		})
	}
}

func TestTextOffTheRows(t *testing.T) {
	s := NewScreen(5, 2)
	for _, y := range []int{-1, 2, 99} {
		if used := s.Text(0, y, 5, 0, "nape"); used != 0 {
			t.Errorf("row %d took %d cells", y, used)
		}
	}
	if got := s.String(); got != lines("", "") {
		t.Errorf("the screen has %q", got)
	}
}

// hostile are pieces of text that a file or a name may hold.
var hostile = []string{
	"a", "nape", " ", "山", "川口", "é", "e\u0301", "\u0301", "●", "░", "…", "👍", "👍🏽", "🇩🇪", "👩\u200d👩", "각", "\u1100\u1161\u11a8",
	"\x1b[2J", "\x1b]0;t\a", "\x1b", "\u009b31m", "\x00", "\b\b", "\r", "\n", "\t", "\x7f", "\u202e", "\u200b", "\ufeff", "\u2028", "\xff", "\xe5", "\ue000",
}

func TestTextOnlyPutsWhatCanBeShown(t *testing.T) {
	rng := seeded(1)
	for range 3000 {
		var b strings.Builder
		for range rng.IntN(8) {
			b.WriteString(hostile[rng.IntN(len(hostile))])
		}
		text, s := b.String(), NewScreen(12, 3)
		x, width := rng.IntN(20)-4, rng.IntN(16)-1
		used := s.Text(x, 1, width, 3, text)
		if used < 0 || used > max(width, 0) {
			t.Fatalf("%q in %d cells took %d", text, width, used)
		}
		if want := min(Width(text), max(width, 0)); used != want {
			t.Fatalf("%q in %d cells took %d, and its width is %d", text, width, used, Width(text))
		}
		whole(t, s)
		for y := range s.H {
			for cx := range s.W {
				c := s.At(cx, y)
				if c.Rune != 0 && (!unicode.IsGraphic(c.Rune) || printable.RuneWidth(c.Rune) == 0) {
					t.Fatalf("%q put %U on the screen", text, c.Rune)
				}
				if within := y == 1 && cx >= x && cx < x+used; !within && c != (Cell{Rune: ' '}) {
					t.Fatalf("%q at %d in %d cells wrote to %d,%d", text, x, width, cx, y)
				}
			}
		}
	}
}

// In a Japanese or Chinese locale the library takes marks of the map for wide runes.
func TestWidthsDoNotDependOnTheLocale(t *testing.T) {
	was := runewidth.DefaultCondition.EastAsianWidth
	defer func() { runewidth.DefaultCondition.EastAsianWidth = was }()
	for _, eastAsian := range []bool{false, true} {
		runewidth.DefaultCondition.EastAsianWidth = eastAsian
		s := NewScreen(10, 1)
		if used := s.Text(0, 0, 10, 0, "●·░╭ ab"); used != 7 || Width("●·░╭ ab") != 7 {
			t.Errorf("east asian %v: took %d cells, width %d; want 7", eastAsian, used, Width("●·░╭ ab"))
		}
	}
}

func TestPutOnHalfOfAWideRune(t *testing.T) {
	for _, c := range []struct {
		name string
		do   func(*Screen)
		want string
	}{
		{"left half", func(s *Screen) { s.Put(1, 0, 0, 'x') }, "ax 川c"},
		{"right half", func(s *Screen) { s.Put(2, 0, 0, 'x') }, "a x川c"},
		{"both halves of neighbours", func(s *Screen) { s.Text(2, 0, 2, 0, "口") }, "a 口 c"},
		{"one on the other", func(s *Screen) { s.Text(1, 0, 2, 0, "口") }, "a口川c"},
		{"before it", func(s *Screen) { s.Text(0, 0, 2, 0, "口") }, "口 川c"},
		{"filled over", func(s *Screen) { s.Fill(Rect{2, 0, 2, 1}, 0, '-') }, "a -- c"},
		{"cut within", func(s *Screen) { s.Text(0, 0, 2, 0, "xyz") }, "x… 川c"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := NewScreen(6, 1)
			s.Text(0, 0, 6, 0, "a山川c")
			c.do(s)
			if got := s.row(0); got != c.want {
				t.Errorf("the row is %q, want %q", got, c.want)
			}
			whole(t, s)
		})
	}
}

func TestTintTakesBothHalves(t *testing.T) {
	for _, x := range []int{1, 2} {
		s := NewScreen(5, 1)
		s.Text(0, 0, 5, 0, "a山b")
		s.Tint(x, 0, 3)
		for cx, want := range []Ink{0, 3, 3, 0, 0} {
			if got := s.At(cx, 0).Ink; got != want {
				t.Errorf("tinted at %d: cell %d has ink %d, want %d", x, cx, got, want)
			}
		}
		if got := s.row(0); got != "a山b " {
			t.Errorf("tinted at %d: the row is %q", x, got)
		}
	}
}

func TestOutsideTheScreenNothingHappens(t *testing.T) {
	s := NewScreen(4, 3)
	for _, at := range [][2]int{{-1, 0}, {0, -1}, {4, 0}, {0, 3}, {-1, -1}, {4, 3}, {1 << 30, 1 << 30}} {
		s.Put(at[0], at[1], 1, 'x')
		s.Tint(at[0], at[1], 1)
		if got := s.At(at[0], at[1]); got != (Cell{Rune: ' '}) {
			t.Errorf("outside, at %v, is %+v", at, got)
		}
	}
	s.Fill(Rect{-2, -2, 3, 3}, 2, '#')
	s.Fill(Rect{3, 2, 9, 9}, 2, '#')
	if got, want := s.String(), lines("#", "", "   #"); got != want {
		t.Errorf("the screen has\n%s, want\n%s", got, want)
	}
}

func TestClear(t *testing.T) {
	s := NewScreen(4, 2)
	s.Fill(Rect{0, 0, 4, 2}, 3, '#')
	s.Cursor = true
	s.Clear()
	for y := range s.H {
		for x := range s.W {
			if got := s.At(x, y); got != (Cell{Rune: ' '}) {
				t.Errorf("cell %d,%d is %+v", x, y, got)
			}
		}
	}
	if s.Cursor {
		t.Error("the cursor still shows")
	}
}

func TestRect(t *testing.T) {
	r := Rect{2, 3, 4, 2}
	inside := 0
	for y := range 10 {
		for x := range 10 {
			if r.Contains(x, y) {
				inside++
				if x < 2 || x > 5 || y < 3 || y > 4 {
					t.Errorf("%d,%d is in %v", x, y, r)
				}
			}
		}
	}
	if inside != 8 {
		t.Errorf("%d cells are in %v, want 8", inside, r)
	}
	if got, want := r.Inset(1, 0), (Rect{3, 3, 2, 2}); got != want {
		t.Errorf("inset %v, want %v", got, want)
	}
	if (Rect{1, 1, 0, 5}).Contains(1, 1) {
		t.Error("an empty rectangle has a cell")
	}
}
