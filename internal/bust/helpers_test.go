package bust

import (
	"math/rand/v2"
	"path/filepath"
	"testing"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/golden"
	"example.org/underveil/internal/scalp"
)

// seeded is a source of random numbers that repeats from run to run.
func seeded(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 20240229)) }

// headOf is a head of one of the ordinary sizes, with its hairline.
func headOf(t testing.TB, size int, moved map[scalp.Landmark]scalp.Shift) (*scalp.Head, *scalp.Hairline) {
	t.Helper()
	head, err := scalp.Fit(scalp.Sizes[size].Measures)
	if err != nil {
		t.Fatal(err)
	}
	line, err := head.Hairline(moved)
	if err != nil {
		t.Fatal(err)
	}
	return head, line
}

// Inks of the samples.
const (
	bareInk cells.Ink = iota + 1
	hairInk
	edgeInk
	zoneInk
	partInk
	bondInk
	markInk
)

// slotsOf are points of the lines of the map within the hairline.
func slotsOf(head *scalp.Head, line *scalp.Hairline, spacing, gap scalp.MM) [][]scalp.Vec {
	var rows [][]scalp.Vec
	for height := scalp.MM(0); height < head.FrontHeight(); height += gap {
		l := head.LineAt(height)
		var row []scalp.Vec
		for _, p := range l.Walk(0, spacing, int(l.Low/spacing), int(l.High/spacing)) {
			if line.Contains(p) {
				row = append(row, p)
			}
		}
		rows = append(rows, row)
	}
	return rows
}

// sample is a scene such as the editor makes: zones along the hairline and beside a side parting, a
// patch, and rows of bonds.
func sample(head *scalp.Head, line *scalp.Hairline, ascii bool) Scene {
	hatch, beside, patch, bond, slope := '░', '╱', '×', '●', rune(0)
	if ascii {
		hatch, beside, patch, bond, slope = ':', '/', 'x', 'O', '|'
	}
	zones := line.Zones(60, []scalp.Parting{{Right: 24, Length: 110}}, []scalp.Vec{head.LineAt(110).Point(-56)})
	s := Scene{Bare: bareInk, Hair: hairInk, Edge: edgeInk, Reach: 8}
	near := func(p scalp.Vec, most scalp.MM, curves ...scalp.Curve) bool {
		d, _ := head.DistanceToCurve(p, curves...)
		return d < most
	}
	for i, row := range slotsOf(head, line, 8, 10) {
		for k, p := range row {
			tint := Tint{At: p, Ink: hairInk}
			switch {
			case near(p, 14, zones.Patches...):
				tint.Ink, tint.Rune = zoneInk, patch
			case near(p, 15, zones.Partings...):
				tint.Ink, tint.Rune = partInk, beside
			case near(p, 20, zones.Nape, zones.Ears[0], zones.Ears[1], zones.Temples[0], zones.Temples[1], zones.Front):
				tint.Ink, tint.Rune = zoneInk, hatch
			}
			s.Ground = append(s.Ground, tint)
			if i%3 == 0 && k%2 == 0 && tint.Rune == 0 {
				s.Marks = append(s.Marks, Mark{At: p, Ink: bondInk, Rune: bond})
			}
		}
	}
	s.Paths = []Path{{Points: zones.Partings[0].Points(), Ink: partInk, Rune: slope}}
	return s
}

// drawn is a scene on a screen of its own.
func drawn(r *Relief, s Scene) *cells.Screen {
	scr := cells.NewScreen(r.across, r.lines)
	Draw(scr, cells.Rect{W: r.across, H: r.lines}, r, s)
	return scr
}

// compare holds a drawing to testdata/bust.
func compare(t *testing.T, name, got string) {
	t.Helper()
	golden.Compare(t, filepath.Join("..", "..", "testdata", "bust", name+".txt"), got)
}
