package tui

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
	"example.org/underveil/internal/slots"
)

var seeds = flag.Uint64("seeds", 6, "how many random sessions to play")

// pick is one of several.
func pick[T any](r *rand.Rand, of ...T) T { return of[r.IntN(len(of))] }

// randomSheet is a sheet as a file might have it: any head, any hole spacing, rows
// anywhere on the map, even where the rules have something to say.
func randomSheet(t testing.TB, r *rand.Rand) *sheet.Sheet {
	t.Helper()
	for range 20 {
		s := sheet.New(pick(r, headSizes...))
		s.Title, s.Client = pick(r, "spring", "Zoë's first", "春のプラン", ""), pick(r, "", "014")
		s.HoleSpacing, s.LineGap = pick[scalp.MM](r, 4, 7, 7.3, 8, 9.7), pick[scalp.MM](r, 7.3, 9, 10, 12)
		s.Wish, s.Worn = nil, nil
		for _, i := range r.Perm(len(sheet.Looks))[:r.IntN(3)] {
			s.Wish = append(s.Wish, sheet.Looks[i])
		}
		for _, i := range r.Perm(len(sheet.Wears))[:r.IntN(4)] {
			s.Worn = append(s.Worn, sheet.Wears[i])
		}
		s.Partings = nil
		for range r.IntN(3) {
			s.Partings = append(s.Partings, scalp.Parting{Right: scalp.MM(r.IntN(61) - 30), Length: scalp.MM(r.IntN(150))})
		}
		if r.IntN(3) == 0 {
			s.KeepOff = []sheet.KeepOff{{Height: 100, Right: scalp.MM(r.IntN(100) - 50), Radius: 15, Why: "a scar"}}
		}
		if r.IntN(2) == 0 {
			l := pick(r, sheet.Limits...)
			s = s.WithLimit(l.Name, l.Low+float64(r.IntN(max(1, int(l.High-l.Low)))))
		}
		if r.IntN(2) == 0 {
			s = s.WithLandmark(pick(r, scalp.Landmarks()...), scalp.Shift{Right: scalp.MM(r.IntN(9) - 4), Up: scalp.MM(r.IntN(9) - 4)})
		}
		s.Shades = s.Shades[:0:0]
		for k := range 1 + r.IntN(7) {
			s.Shades = append(s.Shades, sheet.Shade{Key: byte('a' + k), Name: fmt.Sprint("shade ", k), Length: 500, Grams: 0.8, Pack: 25})
		}
		table, err := slots.For(s, nil)
		if err != nil {
			continue // no such hairline, or the patch is off the head
		}
		for range r.IntN(9) {
			s = s.WithRow(randomRow(r, s, table))
		}
		if r.IntN(4) == 0 { // left over from a larger head
			top := table.Lines[len(table.Lines)-1].ID.At
			s = s.WithRow(sheet.NewRow(height(scalp.MM(math.Round(float64(top/s.LineGap))+2)*s.LineGap), map[int]sheet.Bond{0: {Shade: 'a'}}))
		}
		back, _, err := sheetfile.Decode("random.toml", sheetfile.Encode(s))
		if err != nil {
			t.Fatal(err)
		}
		return back
	}
	t.Fatal("no random head fits")
	return nil
}

func randomRow(r *rand.Rand, s *sheet.Sheet, table *slots.Table) sheet.Row {
	line := pick(r, table.Lines...)
	if r.IntN(4) == 0 {
		if l, err := table.Line(sheet.Place{Along: true, At: scalp.MM(r.IntN(9)-4) * s.HoleSpacing}); err == nil {
			line = l
		}
	}
	bonds := map[int]sheet.Bond{}
	step := 1 + r.IntN(4)
	for k := line.First; k <= line.Last(); k += step {
		if r.IntN(8) > 0 {
			bonds[k] = sheet.Bond{Shade: pick(r, s.Shades...).Key, Split: r.IntN(4) == 0, Trimmed: r.IntN(4) == 0}
		}
	}
	row := sheet.NewRow(line.Place(), bonds)
	row.Offset = r.IntN(2) == 0
	if r.IntN(3) == 0 {
		row.Look = pick(r, sheet.Looks...)
	}
	return row
}

var moves = []string{"Up", "Down", "Left", "Right", "PgUp", "PgDn", "Home", "End", "0",
	"shift+Up", "shift+Down", "shift+Left", "shift+Right"}

// bound are the names of all keys of the table.
func bound() []string {
	var names []string
	for _, c := range commands {
		for _, k := range c.bind.Keys() {
			names = append(names, nameOf(k))
		}
	}
	return names
}

// randomKey is a key of any kind; in a dialog more often one that leaves it.
func randomKey(r *rand.Rand, inDialog bool, all []string) string {
	switch n := r.IntN(100); {
	case inDialog && n < 25:
		return "Esc"
	case inDialog && n < 35:
		return "Enter"
	case n < 50:
		return pick(r, moves...)
	case n < 58:
		return pick(r, "space", "Tab", "1", "5", "x", ".", "a", "ä", "山", "Backspace", "shift+Tab")
	}
	return pick(r, all...)
}

// Whatever is pressed, the editor goes on, shows what it has, loses no step and can save what it holds.
func TestRandomKeys(t *testing.T) {
	keys := 1200
	if testing.Short() {
		keys = 150
	}
	all := bound()
	for seed := range *seeds {
		t.Run(fmt.Sprint("seed ", seed), func(t *testing.T) {
			r := rand.New(rand.NewPCG(seed, 3))
			glyphs := pick(r, &figure.Unicode, &figure.ASCII)
			size := pick(r, sizes...)
			e := edit(t, randomSheet(t, r), setup{w: size[0], h: size[1], glyphs: glyphs, disk: folder(t, "one.toml")})
			before := e.encoded()
			doc := e.m.doc
			for i := range keys {
				if e.m.doc != doc { // another sheet was opened or begun
					doc, before = e.m.doc, e.encoded()
				}
				switch n := r.IntN(100); {
				case n < 4:
					p := point{r.IntN(size[0]), r.IntN(size[1])}
					e.dragOver(p, point{p.x + r.IntN(9) - 4, p.y})
				case n < 5:
					size = pick(r, sizes...)
					e.resize(size[0], size[1])
				case n < 6:
					e.resize(r.IntN(90), r.IntN(30))
					e.press(randomKey(r, false, all))
					e.resize(size[0], size[1])
				case n < 35 && e.calm():
					e.pressAndUndo(pick(r, all...))
				default:
					e.press(randomKey(r, len(e.m.dialogs) > 0, all))
				}
				if i%60 == 0 {
					e.reopens()
				}
			}
			if e.m.doc != doc {
				before = e.encoded()
			}
			e.reopens()
			e.checkHistory(before)
		})
	}
}

// checkHistory ends whatever is going on and goes through all steps, back to how the sheet was opened, and forth.
func (e *editor) checkHistory(opened string) {
	e.t.Helper()
	e.m.dialogs = nil
	if e.m.doc.moving != nil {
		e.press("Enter")
	}
	for e.m.doc.history.CanRedo() != "" {
		e.press("U")
	}
	e.thereAndBack(opened)
	e.t.Logf("%d steps, %d bonds at the end", len(e.steps()), e.m.doc.sheet().Bonds())
}

// calm reports whether a key would run a command of the table.
func (e *editor) calm() bool {
	return e.m.doc != nil && len(e.m.dialogs) == 0 && e.m.doc.moving == nil && !e.m.tooSmall()
}

// pressAndUndo presses a key of the table and, where that was a step, takes it back and makes it again.
func (e *editor) pressAndUndo(key string) {
	e.t.Helper()
	switch key {
	case "u", "U", "ctrl+r":
		return
	}
	d := e.m.doc
	d.steady = "" // a gesture that goes on is the step before
	before, steps := e.encoded(), len(e.steps())
	e.press(key)
	if e.m.doc != d || !e.calm() {
		return
	}
	after, now := e.encoded(), len(e.steps())
	switch {
	case after == before && now != steps && d.history.CanRedo() == "":
		e.t.Fatalf("the key %s changed nothing, and the steps went from %d to %d", key, steps, now)
	case after == before:
		return
	case now != steps+1:
		e.t.Fatalf("after the key %s there are %d steps more, want 1", key, now-steps)
	}
	if e.press("u"); e.encoded() != before {
		e.t.Fatalf("the key %s taken back leaves\n%s\nwant\n%s", key, e.encoded(), before)
	}
	if e.press("U"); e.encoded() != after {
		e.t.Fatalf("the key %s made again leaves\n%s\nwant\n%s", key, e.encoded(), after)
	}
}
