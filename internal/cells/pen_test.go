package cells

import (
	"fmt"
	"testing"

	"github.com/muesli/termenv"
)

// Of a move between any two places nothing is shorter than what the pen finds, among all ways that go straight.
func TestMovesAreShortest(t *testing.T) {
	places := [][2]int{{0, 0}, {1, 0}, {0, 1}, {8, 8}, {9, 9}, {5, 38}, {98, 3}, {99, 9}, {100, 10}, {119, 39}, {30, 34}, {31, 34}, {26, 34}, {25, 34}}
	for _, from := range places {
		for _, to := range places {
			p := newPair(t, 120, 40, termenv.Ascii)
			p.scr.CursorX, p.scr.CursorY = from[0], from[1]
			p.show()
			p.scr.CursorX, p.scr.CursorY = to[0], to[1]
			sent := p.show()
			if x, y, _ := p.term.Cursor(); x != to[0] || y != to[1] {
				t.Fatalf("from %v the cursor is at %d, %d, want %v", from, x, y, to)
			}
			if least := shortestMove(from, to); sent != least {
				t.Errorf("from %v to %v: %d bytes, want %d", from, to, sent, least)
			}
		}
	}
}

// shortestMove is the least number of bytes for a move by row and column, by so many rows and columns, or along the
// left margin.
func shortestMove(from, to [2]int) int {
	if from == to {
		return 0
	}
	by := func(n int, letter string) string {
		switch {
		case n == 0:
			return ""
		case n == 1 || n == -1:
			return "\x1b[" + letter
		}
		return fmt.Sprintf("\x1b[%d%s", max(n, -n), letter)
	}
	across := func(n int) int {
		if n < 0 {
			return min(-n, len(by(n, "D")))
		}
		return len(by(n, "C"))
	}
	place := fmt.Sprintf("\x1b[%d;%dH", to[1]+1, to[0]+1)
	switch {
	case to == [2]int{}:
		place = "\x1b[H"
	case to[0] == 0:
		place = fmt.Sprintf("\x1b[%dH", to[1]+1)
	case to[1] == 0:
		place = fmt.Sprintf("\x1b[;%dH", to[0]+1)
	}
	down := len(by(to[1]-from[1], "B"))
	return min(len(place), down+across(to[0]-from[0]), 1+down+across(to[0]))
}
