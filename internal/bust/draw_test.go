package bust

import (
	"testing"

	"github.com/mattn/go-runewidth"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/scalp"
)

// find is where on a screen a rune stands; ok is false when it is not there.
func find(scr *cells.Screen, r rune) (x, y int, ok bool) {
	for y := range scr.H {
		for x := range scr.W {
			if scr.At(x, y).Rune == r {
				return x, y, true
			}
		}
	}
	return 0, 0, false
}

// Which side of the head is on which side of the picture.
func TestSides(t *testing.T) {
	head, line := headOf(t, 1, nil)
	mark := func(name string, side scalp.Side) scalp.Vec {
		return line.Landmark(scalp.Landmark{Name: name, Side: side})
	}
	scene := Scene{Marks: []Mark{
		{At: mark(scalp.BehindEar, scalp.Left), Rune: 'l'}, {At: mark(scalp.BehindEar, scalp.Right), Rune: 'r'},
		{At: mark(scalp.NapeCentre, scalp.Middle), Rune: 'n'}, {At: mark(scalp.FrontCentre, scalp.Middle), Rune: 'f'},
		{At: mark(scalp.TemplePoint, scalp.Left), Rune: 'L'}, {At: mark(scalp.TemplePoint, scalp.Right), Rune: 'R'},
		{At: mark(scalp.NapeCorner, scalp.Left), Rune: 'p'}, {At: mark(scalp.NapeCorner, scalp.Right), Rune: 'q'},
	}}
	for _, c := range []struct {
		view            string
		leftToRight     string
		topToBottom     string
		hidden          string
		inTheMiddle     rune
		leftOfTheMiddle string
	}{
		{view: "back", leftToRight: "lpnqr", hidden: "fLR", inTheMiddle: 'n', leftOfTheMiddle: "lp"},
		{view: "front", leftToRight: "RfL", topToBottom: "fR", hidden: "lrnpq", inTheMiddle: 'f', leftOfTheMiddle: "R"},
		{view: "left", leftToRight: "Llp", hidden: "rRq", leftOfTheMiddle: "L"},
		{view: "right", leftToRight: "qrR", hidden: "lLp", leftOfTheMiddle: "qr"},
		{view: "back-left-above", leftToRight: "Ll", hidden: "R"},
		{view: "above", hidden: "nlrpq", topToBottom: "f", inTheMiddle: 'f'},
	} {
		v, _ := Named(c.view)
		scr := drawn(NewRelief(head, line, v, 80, 30, false), scene)
		last, lowest := -1, -1
		for _, r := range c.leftToRight {
			x, _, ok := find(scr, r)
			if !ok || x <= last {
				t.Errorf("%s: %q is in column %d (%v), after %d", c.view, r, x, ok, last)
			}
			last = x
		}
		for _, r := range c.topToBottom {
			_, y, ok := find(scr, r)
			if !ok || y <= lowest {
				t.Errorf("%s: %q is in line %d (%v), after %d", c.view, r, y, ok, lowest)
			}
			lowest = y
		}
		for _, r := range c.hidden {
			if x, y, ok := find(scr, r); ok {
				t.Errorf("%s: %q shows, at %d,%d", c.view, r, x, y)
			}
		}
		for _, r := range c.leftOfTheMiddle {
			if x, _, ok := find(scr, r); !ok || x >= 40 {
				t.Errorf("%s: %q is in column %d (%v), not on the left", c.view, r, x, ok)
			}
		}
		if x, _, ok := find(scr, c.inTheMiddle); c.inTheMiddle != 0 && (!ok || x != 40) {
			t.Errorf("%s: %q is in column %d (%v), not in the middle", c.view, c.inTheMiddle, x, ok)
		}
	}
	scr := drawn(NewRelief(head, line, View{Lift: 90}, 80, 30, false), scene)
	if _, y, ok := find(scr, 'f'); !ok || y > 10 {
		t.Errorf("from above the forehead is in line %d (%v), not at the top", y, ok)
	}
}

// Of two marks in a cell the higher shows, and of equals the later.
func TestRanks(t *testing.T) {
	head, line := headOf(t, 1, nil)
	r := NewRelief(head, line, View{}, 60, 24, false)
	p, ok := r.Point(30, 10)
	if !ok {
		t.Fatal("the middle of the picture is empty")
	}
	for _, c := range []struct {
		ranks [3]int
		want  rune
	}{
		{[3]int{0, 0, 0}, 'c'}, {[3]int{2, 1, 0}, 'a'}, {[3]int{1, 2, 1}, 'b'}, {[3]int{-2, -1, -1}, 'c'},
	} {
		var marks []Mark
		for i, rank := range c.ranks {
			marks = append(marks, Mark{At: p, Ink: bondInk, Rune: rune('a' + i), Rank: rank})
		}
		if got := drawn(r, Scene{Marks: marks}).At(30, 10); got != (cells.Cell{Rune: c.want, Ink: bondInk}) {
			t.Errorf("ranks %v: %q in ink %d, want %q", c.ranks, got.Rune, got.Ink, c.want)
		}
	}
}

// Every cell of hair has the ink of the nearest tint, and no other cell has one.
func TestTheNearestTint(t *testing.T) {
	rng := seeded(8)
	for range 8 {
		head, line := headOf(t, rng.IntN(4), nil)
		r := NewRelief(head, line, randomView(rng), 60, 24, rng.IntN(2) == 0)
		scene := Scene{Bare: bareInk, Hair: hairInk, Edge: edgeInk, Reach: scalp.MM(4 + 8*rng.Float64())}
		for _, row := range slotsOf(head, line, 9, 12) {
			for _, p := range row {
				tint := Tint{At: p, Ink: cells.Ink(20 + rng.IntN(100))}
				if rng.IntN(2) == 0 {
					tint.Rune = 'z'
				}
				scene.Ground = append(scene.Ground, tint)
			}
		}
		scr := drawn(r, scene)
		for i := range r.cells {
			c, got := &r.cells[i], scr.At(i%60, i/60)
			var nearest *Tint
			least := float64(scene.Reach)
			for k := range scene.Ground {
				if d := scene.Ground[k].At.Minus(c.at).Length(); d < least-1e-4 {
					nearest, least = &scene.Ground[k], d
				}
			}
			switch tinted := c.part == hair && !c.feature; {
			case tinted && nearest != nil && got.Ink != nearest.Ink && got.Rune != ' ':
				t.Fatalf("%+v: cell %d,%d is in ink %d, want %d", r.view, i%60, i/60, got.Ink, nearest.Ink)
			case tinted && nearest != nil && nearest.Rune != 0 && !c.rim && c.full == 8 && got.Rune != 'z':
				t.Fatalf("%+v: cell %d,%d is %q, want the tint's mark", r.view, i%60, i/60, got.Rune)
			case !tinted && got.Ink >= 20:
				t.Fatalf("%+v: cell %d,%d is tinted, and part %d", r.view, i%60, i/60, c.part)
			}
		}
	}
}

// Wherever hairline or parting are in sight, the cell shows it.
func TestLines(t *testing.T) {
	head, line := headOf(t, 1, nil)
	rng := seeded(9)
	points := line.Points()
	parting := line.Zones(60, []scalp.Parting{{Right: 24, Length: 110}}, nil).Partings[0].Points()
	for range 12 {
		v := randomView(rng)
		for _, ascii := range []bool{false, true} {
			r := NewRelief(head, line, v, 90, 34, ascii)
			scr := drawn(r, Scene{Bare: bareInk, Hair: hairInk, Edge: edgeInk, Paths: []Path{{Points: parting, Ink: partInk, Rune: '|'}}})
			check := func(p scalp.Vec, what string, fits func(c cells.Cell) bool) {
				x, y, ok := r.Cell(p)
				if !ok {
					return
				}
				for dy := -1; dy <= 1; dy++ { // without braille a line cuts corners
					for dx := -1; dx <= 1; dx++ {
						if (ascii || dx == 0 && dy == 0) && fits(scr.At(x+dx, y+dy)) {
							return
						}
					}
				}
				t.Fatalf("%+v, ascii %v: no %s at %d,%d, where %v is: %q in ink %d", v, ascii, what, x, y, p, scr.At(x, y).Rune, scr.At(x, y).Ink)
			}
			for _, p := range points {
				check(p, "hairline", func(c cells.Cell) bool { return c.Ink == edgeInk || c.Ink == partInk })
			}
			for _, p := range parting {
				check(p, "parting", func(c cells.Cell) bool { return c.Ink == partInk && (!ascii || c.Rune == '|') })
			}
		}
	}
}

// Nothing is drawn outside the area, of whatever size it, the relief and the screen are, and every rune is one
// cell wide and, where asked, plain.
func TestNothingOutsideTheArea(t *testing.T) {
	rng := seeded(10)
	blank := cells.Cell{Rune: '~', Ink: 99}
	for range 150 {
		head, line := headOf(t, rng.IntN(4), moves(rng))
		ascii := rng.IntN(2) == 0
		scene := Scene{Bare: bareInk, Hair: hairInk, Edge: edgeInk, Reach: 9}
		for range 60 {
			p := onHead(rng, head)
			scene.Ground = append(scene.Ground, Tint{At: p, Ink: zoneInk, Rune: ':'})
			scene.Marks = append(scene.Marks, Mark{At: onHead(rng, head), Ink: bondInk, Rune: 'O'})
		}
		scene.Paths = []Path{{Points: line.Points(), Ink: partInk, Rune: '/'}}
		scr := cells.NewScreen(70, 30)
		scr.Fill(cells.Rect{W: 70, H: 30}, blank.Ink, blank.Rune)
		area := cells.Rect{X: rng.IntN(70) - 5, Y: rng.IntN(30) - 5, W: rng.IntN(60), H: rng.IntN(25)}
		w, h := area.W, area.H
		if rng.IntN(3) == 0 {
			w, h = rng.IntN(80), rng.IntN(40)
		}
		Draw(scr, area, NewRelief(head, line, randomView(rng), w, h, ascii), scene)
		for y := range scr.H {
			for x := range scr.W {
				switch c := scr.At(x, y); {
				case !area.Contains(x, y) && c != blank:
					t.Fatalf("area %v, relief %d by %d: cell %d,%d is %q", area, w, h, x, y, c.Rune)
				case area.Contains(x, y) && c == blank:
					t.Fatalf("area %v, relief %d by %d: cell %d,%d is not drawn", area, w, h, x, y)
				case runewidth.RuneWidth(c.Rune) != 1 || ascii && (c.Rune < ' ' || c.Rune > '~'):
					t.Fatalf("ascii %v: cell %d,%d is %q", ascii, x, y, c.Rune)
				}
			}
		}
	}
}
