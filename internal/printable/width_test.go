package printable

import (
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"
)

func TestRuneWidth(t *testing.T) {
	for text, want := range map[string]int{
		"a": 1, "é": 1, "山": 2, "한": 2, "👍": 2, "●": 1, "│": 1, "…": 1, "\uFFFD": 1, "\u3000": 2,
		"\u0301": 0, "\u05b0": 0, "\u064b": 0, "\u0e34": 0, "\u0941": 0, "\u20dd": 0, "\uFE0F": 0, "\U000E0100": 0, "\u1161": 0, "\u11a8": 0,
	} {
		r, _ := utf8.DecodeRuneInString(text)
		if got := RuneWidth(r); got != want {
			t.Errorf("%U takes %d cells, want %d", r, got, want)
		}
	}
	// What does not space takes no cell, in every script: a row of the screen would be shifted by each.
	for r := rune(0x300); r <= unicode.MaxRune; r++ {
		if unicode.In(r, unicode.Mn, unicode.Me) && RuneWidth(r) != 0 {
			t.Fatalf("%U takes %d cells", r, RuneWidth(r))
		}
	}
}

// Of a text of any length its front fills more than the cells asked for, and is no longer than it takes for that.
func TestFront(t *testing.T) {
	for _, piece := range []string{"a", "山", "e\u0301", "a\u0301\u0302\u0303\u0304\u0305\u0306\u0307", "\u200b", "\xff", "\u0301", "👩\u200d", "\r\n", "\U000E0100"} {
		for _, cells := range []int{-3, 0, 1, 2, 7, 80} {
			whole := strings.Repeat(piece, 4000)
			front := Front(whole, cells)
			if !strings.HasPrefix(whole, front) || Width(front) <= cells || len(front) > 28*(max(0, cells)+2) {
				t.Errorf("the front of %q for %d cells has %d bytes and fills %d", piece, cells, len(front), Width(front))
			}
			if short := piece + piece; Front(short, cells) != short && len(short) <= 28*2 {
				t.Errorf("the front of %q is %q", short, Front(short, cells))
			}
		}
	}
}

// Marks of any length are broken into lines in a time that grows with the text alone: each rune is looked at a few times.
func TestWrapOfAFlood(t *testing.T) {
	flood := "Z" + strings.Repeat("\u0301", 300000)
	lines := Wrap(flood, 80, "", "")
	if n := len(lines); n != (300000-6+1+79)/80 {
		t.Errorf("%d lines", n)
	}
}
