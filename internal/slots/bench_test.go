package slots

import (
	"fmt"
	"testing"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

func BenchmarkFor(b *testing.B) {
	for _, of := range [][2]scalp.MM{{8, 10}, {4, 5}} {
		s := spaced(lopsided(medium()), of[0], of[1])
		b.Run(fmt.Sprintf("%gx%g", float64(of[0]), float64(of[1])), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := For(s, nil); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// What a keystroke pays that changes nothing the table depends on.
func BenchmarkForKept(b *testing.B) {
	s := lopsided(medium())
	table := must(b, s)
	next := s.WithBond(level(60), 3, sheet.Bond{Shade: 'a'})
	b.ReportAllocs()
	for b.Loop() {
		if got, err := For(next, table); err != nil || got != table {
			b.Fatal("a new table")
		}
	}
}

// The first time that two rows are compared.
func BenchmarkGapsFirst(b *testing.B) {
	s := medium()
	for b.Loop() {
		b.StopTimer()
		table := fresh(b, s)
		b.StartTimer()
		table.Gaps(table.Lines[7], table.Lines[6])
	}
}
