package figure

import (
	"math"
	"testing"

	"example.org/underveil/internal/bust"
	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// shadedBy is a view of the sample shaded by a reading.
func shadedBy(t testing.TB, s *sheet.Sheet, r rule.Reading) View {
	t.Helper()
	v := viewOf(t, s, &rule.Report{})
	v.Shading = NewShading(v.Ground.Table, rule.ScaleOf(r, s, v.Ground.Table))
	return v
}

// TestShadingIsTheScale holds the mark of every slot without a bond to the step of its figure, and slots without
// hair to none, in both sets of marks.
func TestShadingIsTheScale(t *testing.T) {
	s := sample(t)
	for _, r := range rule.Readings(s)[1:] {
		for _, g := range []Glyphs{Unicode, ASCII} {
			v := shadedBy(t, s.With(func(c *sheet.Sheet) { c.Rows = nil }), r)
			v.Glyphs = g
			scr := drawn(v)
			d := begin(scr, cells.Rect{W: scr.W, H: scr.H}, v)
			used := map[int]int{}
			for i, l := range v.Ground.Table.Lines {
				for k := range l.Slots {
					x, y, ok := d.cell(i, l.First+k)
					value, hair := v.Shading.Scale.At(l, l.First+k)
					if !ok || hair != l.Slots[k].OnScalp {
						t.Fatalf("%s: line %d, slot %d: drawn %v, hair %v", r.Name(s), i, l.First+k, ok, hair)
					}
					got := scr.At(x, y)
					if !hair {
						continue
					}
					step := v.Shading.Scale.Step(value)
					used[step]++
					if ink, want := g.step(step); (got.Rune != want || got.Ink != ink) && got.Rune != g.Whorl && got.Rune != g.Tie {
						t.Fatalf("%s: line %d, slot %d: %.1f is drawn as %q, want %q", r.Name(s), i, l.First+k, value, got.Rune, want)
					}
				}
			}
			if len(used) < 3 {
				t.Errorf("%s: steps %v", r.Name(s), used)
			}
		}
	}
}

// TestLegend holds the legend to marks that differ and to figures in order.
func TestLegend(t *testing.T) {
	s := sample(t)
	for _, r := range rule.Readings(s)[1:] {
		for _, g := range []Glyphs{Unicode, ASCII} {
			marks := map[rune]bool{}
			items := shadedBy(t, s, r).Shading.Legend(g)
			for _, it := range items {
				if marks[it.Mark] || it.Says == "" {
					t.Errorf("%s: %q says %q, and is there before: %v", r.Name(s), it.Mark, it.Says, marks[it.Mark])
				}
				marks[it.Mark] = true
			}
			if len(items) != rule.Steps {
				t.Errorf("%s: %d marks", r.Name(s), len(items))
			}
		}
	}
}

// TestTurnsAreMarked holds the marks of whorl and ties to the slot nearest to each, and to the readings that they
// belong to.
func TestTurnsAreMarked(t *testing.T) {
	s := sample(t).With(func(c *sheet.Sheet) { c.Rows = nil })
	count := func(scr *cells.Screen, mark rune) (n, x, y int) {
		for cy := range scr.H {
			for cx := range scr.W {
				if scr.At(cx, cy).Rune == mark {
					n, x, y = n+1, cx, cy
				}
			}
		}
		return n, x, y
	}
	for _, r := range rule.Readings(s) {
		if r.Kind != rule.ByCover {
			continue
		}
		v := shadedBy(t, s, r)
		mark, turn := Unicode.Tie, map[sheet.Wear]sheet.Turn{sheet.WornHalfUp: sheet.HalfUpTie, sheet.WornLowTail: sheet.LowTie, sheet.WornHighTail: sheet.HighTie}[r.Way.Wear]
		if turn == "" {
			mark, turn = Unicode.Whorl, sheet.Whorl
		}
		scr := drawn(v)
		n, x, y := count(scr, mark)
		at := NearestSlot(v.Ground.Table, v.Ground.Table.Turn(turn))
		d := begin(scr, cells.Rect{W: scr.W, H: scr.H}, v)
		wx, wy, _ := d.place(at.At, at.Slot)
		if n != 1 || x != wx || y != wy {
			t.Errorf("%s: %d marks, the last at %d, %d; want one at %d, %d", r.Name(s), n, x, y, wx, wy)
		}
	}
}

// TestNearestSlot holds it to the distance: no slot of the map is nearer.
func TestNearestSlot(t *testing.T) {
	v := viewOf(t, sample(t), &rule.Report{})
	rng := seeded(3)
	for range 50 {
		line := v.Ground.Table.Lines[rng.IntN(len(v.Ground.Table.Lines))]
		p := line.Slots[rng.IntN(len(line.Slots))].Point.Plus(scalp.Vec{X: rng.NormFloat64() * 3, Y: rng.NormFloat64() * 3, Z: rng.NormFloat64() * 3})
		least := math.Inf(1)
		for _, l := range v.Ground.Table.Lines {
			for i := range l.Slots {
				least = math.Min(least, l.Slots[i].Point.Minus(p).Length())
			}
		}
		at := NearestSlot(v.Ground.Table, p)
		l, err := v.Ground.Table.Line(at.At)
		if err != nil {
			t.Fatal(err)
		}
		if got := l.At(at.Slot).Point.Minus(p).Length(); got > least+1e-9 {
			t.Errorf("a slot %.3f mm away, and there is one at %.3f", got, least)
		}
	}
}

// TestShowing marks exactly the bonds with too little over them, on the map and on the head.
func TestShowing(t *testing.T) {
	s := sample(t)
	for _, r := range rule.Readings(s) {
		if r.Kind != rule.ByCover {
			continue
		}
		v := shadedBy(t, s, r)
		v.Showing = true
		scr := drawn(v)
		d := begin(scr, cells.Rect{W: scr.W, H: scr.H}, v)
		scene := Scene(v)
		shown := 0
		for _, row := range s.Rows {
			line, err := v.Ground.Table.Line(row.Place)
			if err != nil {
				t.Fatal(err)
			}
			for slot, b := range row.All() {
				value, ok := v.Shading.Scale.At(line, slot)
				want := v.Glyphs.Bond(b)
				switch {
				case ok && value < v.Shading.Scale.Limit/2-0.05:
					want = v.Glyphs.Stop
				case ok && value < v.Shading.Scale.Limit-0.05:
					want = v.Glyphs.Caution
				}
				if want == v.Glyphs.Stop || want == v.Glyphs.Caution {
					shown++
				}
				if x, y, on := d.place(row.Place, slot); on && !row.Along && scr.At(x, y).Rune != want {
					t.Errorf("%s: %v, slot %d with %.1f over it is drawn as %q, want %q", r.Name(s), row.Place, slot, value, scr.At(x, y).Rune, want)
				}
				if got := markAt(scene, line.At(slot).Point); got != want {
					t.Errorf("%s: on the head %v, slot %d with %.1f over it is %q, want %q", r.Name(s), row.Place, slot, value, got, want)
				}
			}
		}
		if shown == 0 || v.Shows() != shown {
			t.Errorf("%s: %d bonds show, and %d are said to", r.Name(s), shown, v.Shows())
		}
	}
}

func markAt(s bust.Scene, p scalp.Vec) rune {
	for _, m := range s.Marks {
		if m.At == p {
			return m.Rune
		}
	}
	return 0
}

// TestScene holds the head to the map: a tint for every slot with hair, a mark for every bond, the findings on them,
// and the cursor above all.
func TestScene(t *testing.T) {
	s, report := sample(t), reportOf()
	report.Findings = append(report.Findings, rule.Finding{Severity: rule.Caution,
		Concern: sheet.Concern{Rule: "ear", Row: level(30), On: sheet.OnSlot, Slot: 2}})
	v := viewOf(t, s, report)
	v.Focus = &Spot{At: level(30), Slot: 0}
	scene := Scene(v)
	hair := 0
	for _, l := range v.Ground.Table.Lines {
		for i := range l.Slots {
			if l.Slots[i].OnScalp {
				hair++
			}
		}
	}
	if len(scene.Ground) != hair || len(scene.Paths) != len(s.Partings) || len(scene.Marks) != s.Bonds()+1 {
		t.Errorf("%d tints for %d slots, %d paths for %d partings, %d marks for %d bonds and the cursor",
			len(scene.Ground), hair, len(scene.Paths), len(s.Partings), len(scene.Marks), s.Bonds())
	}
	want := map[rune]int{Unicode.Stop: 1, Unicode.Caution: 1}
	for _, m := range scene.Marks {
		want[m.Rune]--
	}
	if want[Unicode.Stop] != 0 || want[Unicode.Caution] != 0 {
		t.Errorf("a stop and a caution are asked for; left are %v", want)
	}
	if last := scene.Marks[len(scene.Marks)-1]; last.Ink != Cursor || last.Rune != Unicode.Whole {
		t.Errorf("the cursor is %+v", last)
	}
}
