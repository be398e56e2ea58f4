package cells

import (
	"io"
	"testing"

	"github.com/muesli/termenv"
)

// benchScreen is a full screen with a change of ink every few cells, as the map has.
func benchScreen() *Screen {
	s := NewScreen(120, 40)
	for y := range s.H {
		for x := range s.W {
			s.Put(x, y, Ink((x/7+y)%len(testStyles)), []rune("·░●x")[(x/3+y)%4])
		}
	}
	return s
}

func BenchmarkShowFullFrame(b *testing.B) {
	s := benchScreen()
	w := NewWriter(io.Discard, NewPalette(termenv.TrueColor, testStyles))
	b.ReportAllocs()
	for b.Loop() {
		w.Forget()
		if err := w.Show(s); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkShowOneCell(b *testing.B) {
	s := benchScreen()
	w := NewWriter(io.Discard, NewPalette(termenv.TrueColor, testStyles))
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		s.Put(60, 20, Ink(i%2), '●')
		if err := w.Show(s); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkText(b *testing.B) {
	s := NewScreen(120, 40)
	b.ReportAllocs()
	for b.Loop() {
		s.Text(0, 0, 60, 1, "height 60 mm · 7 left of centre · ear 31 mm · nape 40 mm")
	}
}
