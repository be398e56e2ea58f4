package figure

import (
	"math/rand/v2"
	"testing"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// views are views of some heads with bonds all over, in the zones and off the scalp too.
func views(t testing.TB, rng *rand.Rand) []View {
	t.Helper()
	var all []View
	for i, size := range scalp.Sizes {
		s := sample(t).With(func(c *sheet.Sheet) { c.Measures = size.Measures })
		if i%2 == 1 {
			s = s.With(func(c *sheet.Sheet) { c.HoleSpacing, c.LineGap = 6, 13; c.KeepOff = nil })
			s = row(t, s, sheet.Place{At: 26}, "a'a'a'A.B.(a)aaAAbb")
		}
		v := viewOf(t, s, reportOf())
		for range 200 { // anywhere that a line reaches
			l := v.Ground.Table.Lines[rng.IntN(len(v.Ground.Table.Lines))]
			bond := sheet.Bond{Shade: 'a' + byte(rng.IntN(2)), Split: rng.IntN(2) == 0, Trimmed: rng.IntN(2) == 0}
			s = s.WithBond(l.Place(), l.First+rng.IntN(len(l.Slots)), bond)
		}
		v.Sheet = s
		all = append(all, v)
	}
	return all
}

// any is the view with all that can be chosen chosen by chance.
func anyOf(rng *rand.Rand, v View) View {
	v.Wide, v.Letters = rng.IntN(2) == 0, rng.IntN(2) == 0
	if rng.IntN(2) == 0 {
		v.Glyphs = ASCII
	}
	lines := v.Ground.Table.Lines
	v.Top = rng.IntN(len(lines)+20) - 10
	if rng.IntN(3) > 0 {
		l := lines[rng.IntN(len(lines))]
		v.Focus = &Spot{At: l.Place(), Slot: l.First + rng.IntN(len(l.Slots)+4) - 2}
		if rng.IntN(4) == 0 {
			v.Focus = &Spot{At: along(-24), Slot: rng.IntN(20) - 10}
		}
	}
	if rng.IntN(2) == 0 {
		v.Picked = func(at sheet.Place, slot int) bool { return (slot+int(at.At))%3 == 0 }
	}
	return v
}

// A cell of the map is that of the slot drawn there, and so is the cell beside it where slots are two cells wide.
func TestAtInvertsTheDrawing(t *testing.T) {
	rng := seeded(1)
	for _, v := range views(t, rng) {
		for range 6 {
			v := anyOf(rng, v)
			area := cells.Rect{X: rng.IntN(9), Y: rng.IntN(5), W: 10 + rng.IntN(130), H: 1 + rng.IntN(50)}
			d := begin(nil, area, v)
			for i, l := range v.Ground.Table.Lines {
				for slot := l.First; slot <= l.Last(); slot++ {
					x, y, ok := d.cell(i, slot)
					if !ok {
						if _, hit := At(area, v, x, y); hit {
							t.Fatalf("line %d, slot %d is not drawn, and is hit at %d,%d", i, slot, x, y)
						}
						continue
					}
					for k := range d.step {
						if got, hit := At(area, v, x+k, y); area.Contains(x+k, y) && (!hit || got != slots.Spot{Line: i, Slot: slot}) {
							t.Fatalf("cell %d,%d is %v, %v; want line %d, slot %d", x+k, y, got, hit, i, slot)
						}
					}
				}
			}
			for _, at := range [][2]int{{area.X - 1, area.Y}, {area.X, area.Y - 1}, {area.X + area.W, area.Y}, {area.X + area.W - 1, area.Y + area.H}} {
				if got, hit := At(area, v, at[0], at[1]); hit {
					t.Fatalf("outside the area %v, at %v, is %v", area, at, got)
				}
			}
			above, below := area.Y+v.Top-len(v.Ground.Table.Lines), area.Y+v.Top+1
			for _, y := range []int{above, below} {
				if got, hit := At(area, v, area.X+area.W-1, y); hit {
					t.Fatalf("above or below the map, in row %d, is %v", y, got)
				}
			}
		}
	}
}

// Nothing is drawn outside the area, however small it is and wherever the map is scrolled to.
func TestNothingOutsideTheArea(t *testing.T) {
	rng := seeded(2)
	blank := cells.Cell{Rune: '~', Ink: Frame}
	for _, v := range views(t, rng) {
		for range 60 {
			v := anyOf(rng, v)
			scr := cells.NewScreen(70, 30)
			scr.Fill(cells.Rect{W: 70, H: 30}, blank.Ink, blank.Rune)
			area := cells.Rect{X: rng.IntN(60), Y: rng.IntN(25), W: rng.IntN(60), H: rng.IntN(25)}
			scr.Fill(area, Plain, ' ')
			Draw(scr, area, v)
			for y := range scr.H {
				for x := range scr.W {
					if c := scr.At(x, y); c != blank && !area.Contains(x, y) {
						t.Errorf("area %v, top %d, wide %v, focus %v: cell %d,%d is %q in ink %d", area, v.Top, v.Wide, v.Focus, x, y, c.Rune, c.Ink)
					}
				}
			}
			if t.Failed() {
				return
			}
		}
	}
}

// The names of the zones stand in the blank beside the map, on no scalp, bond or mark.
func TestLabelsStandInTheBlank(t *testing.T) {
	rng := seeded(3)
	for n, v := range views(t, rng) {
		for range 12 {
			v := anyOf(rng, v)
			w, h := Size(v.Ground.Table, v.Wide)
			area := cells.Rect{X: 2, Y: 1, W: w + rng.IntN(20), H: h - rng.IntN(10)}
			before, after := cells.NewScreen(area.X+area.W, area.Y+area.H), cells.NewScreen(area.X+area.W, area.Y+area.H)
			for _, scr := range []*cells.Screen{before, after} {
				d := begin(scr, area, v)
				d.ground()
				d.bonds()
				d.marks()
				if scr == after {
					d.heights()
					d.names()
				}
			}
			for y := area.Y; y < area.Y+area.H; y++ {
				for x := area.X + Gutter; x < area.X+area.W; x++ {
					if was, is := before.At(x, y), after.At(x, y); was != is && was.Rune != ' ' {
						t.Fatalf("head %d, wide %v: a label writes %q over %q at %d,%d", n, v.Wide, is.Rune, was.Rune, x, y)
					}
				}
			}
		}
	}
}
