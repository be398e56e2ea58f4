package cells

import (
	"runtime"
	"strings"
	"testing"
	"unicode"

	"github.com/muesli/termenv"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/ptytest"
)

// otherMind is a terminal that takes pictures, flags and the like for wider or narrower than most do: its cursor is elsewhere after each.
type otherMind struct {
	to   *ptytest.Terminal
	then string // sent after each
}

func (o otherMind) Write(p []byte) (int, error) {
	var b strings.Builder
	for _, r := range string(p) {
		b.WriteRune(r)
		if ownWidth(r) {
			b.WriteString(o.then)
		}
	}
	_, err := o.to.Write([]byte(b.String()))
	return len(p), err
}

// ownWidth reports whether terminals differ about how wide a rune is, or do so beside others: pictures and their parts, flags, wide letters,
// marks that space.
func ownWidth(r rune) bool {
	return r >= 0x1f000 || printable.RuneWidth(r) == 2 || unicode.Is(unicode.Mc, r)
}

// However wide a terminal takes the runes that terminals differ about, what stands behind them in a row is where it belongs.
func TestColumnsHoldWhereTerminalsDiffer(t *testing.T) {
	pieces := []string{"a", "nape", " ", "山", "👍", "👍🏽", "🇩🇪", "🇩", "\u0915\u093e", "👩\u200d🦱", "❤\ufe0f", "1\ufe0f\u20e3", "│", "é"}
	for _, then := range []string{"", "\x1b[C", "\x1b[2C", "\b"} {
		rng := seeded(3)
		scr, term := NewScreen(24, 4), ptytest.NewTerminal(24, 4)
		writer := NewWriter(otherMind{term, then}, NewPalette(termenv.TrueColor, testStyles))
		for round := range 600 {
			for range 1 + rng.IntN(3) {
				text := ""
				for range rng.IntN(7) {
					text += pieces[rng.IntN(len(pieces))]
				}
				scr.Text(rng.IntN(22), rng.IntN(4), 1+rng.IntN(24), Ink(rng.IntN(len(testStyles))), text)
			}
			if err := writer.Show(scr); err != nil {
				t.Fatal(err)
			}
			for y := range scr.H {
				for x := range scr.W {
					want, got := scr.At(x, y).Rune, term.Cell(x, y).Rune
					if want != 0 && got != want {
						t.Fatalf("round %d, cursor moved by %q: cell %d,%d is %q, want %q\n%s\nterminal:\n%s", round, then, x, y, got, want, scr, term.Text())
					}
				}
			}
		}
	}
}

// A text of any length costs no more than what is seen of it.
func TestTextLooksAtNoMoreThanItDraws(t *testing.T) {
	for _, piece := range []string{"x", "山", "e\u0301", "\u202e", "a\u0301\u0302\u0303\u0304\u0305\u0306\u0307\u0308"} {
		s := NewScreen(40, 1)
		short, long := strings.Repeat(piece, 1000), strings.Repeat(piece, 200000)
		allocated := func(text string) uint64 {
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			for range 20 {
				s.Text(0, 0, 40, 0, text)
			}
			runtime.ReadMemStats(&after)
			return after.TotalAlloc - before.TotalAlloc
		}
		if a, b := allocated(short), allocated(long); b > 2*a+4096 {
			t.Errorf("%q: a short text takes %d bytes of memory, a long one %d", piece, a, b)
		}
	}
}
