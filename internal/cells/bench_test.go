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

func BenchmarkShowMove(b *testing.B) {
	s := NewScreen(120, 40)
	w := NewWriter(io.Discard, NewPalette(termenv.TrueColor, testStyles))
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		moveUp(s, i%2)
		if err := w.Show(s); err != nil {
			b.Fatal(err)
		}
	}
}

// moveUp is what the editor's cursor changes when it is moved up from row 31 to 30, or with 0 down again: two marks, the
// cell left, figures below the map and two lines beside it.
func moveUp(s *Screen, up int) {
	y := 31 - up
	s.Put(4, 61-y, 0, ' ')
	s.Put(4, y, 1, '›')
	s.Put(30, 61-y, 2, '░')
	s.Put(30, y, 4, '+')
	s.Text(8, 38, 2, 1, []string{"20", "30"}[up])
	s.Text(30, 38, 40, 0, []string{"0.4 mm inside the nape zone", "9.5 mm to the nape zone    "}[up])
	s.Text(60, 8, 40, 0, []string{"2 bonds, 1.6 g · volume", "none                   "}[up])
	s.Text(60, 9, 40, 0, []string{"strip 84 mm, 9 holes", "                    "}[up])
	s.CursorX, s.CursorY = 30, y
}

func BenchmarkText(b *testing.B) {
	s := NewScreen(120, 40)
	b.ReportAllocs()
	for b.Loop() {
		s.Text(0, 0, 60, 1, "height 60 mm · 7 left of centre · ear 31 mm · nape 40 mm")
	}
}
