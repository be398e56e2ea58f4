package slots

import (
	"math"
	"strings"
	"testing"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// The design counts on about 860 slots at 8 x 10 mm and 3,440 at 4 x 5. Those with hair are within a tenth of
// it; the margin of up to three slots at each end of a line adds another tenth or so.
func TestNumberOfSlots(t *testing.T) {
	for _, c := range []struct {
		spacing, gap scalp.MM
		about        float64
	}{{8, 10, 860}, {4, 5, 3440}} {
		table := must(t, spaced(medium(), c.spacing, c.gap))
		all, hair := 0, 0
		for _, l := range table.Lines {
			all += len(l.Slots)
			for i := range l.Slots {
				if l.Slots[i].OnScalp {
					hair++
				}
			}
		}
		if math.Abs(float64(hair)-c.about) > 0.1*c.about {
			t.Errorf("%g x %g mm: %d slots with hair, want about %g", float64(c.spacing), float64(c.gap), hair, c.about)
		}
		if all < hair || float64(all) > 1.15*c.about {
			t.Errorf("%g x %g mm: %d slots with the margins, %d with hair", float64(c.spacing), float64(c.gap), all, hair)
		}
	}
}

// Lines lie one gap apart, level ones first; slots one spacing apart on the line; all are on the head.
func TestLinesAndSlots(t *testing.T) {
	for _, s := range heads() {
		table := must(t, s)
		if table.Spacing != s.HoleSpacing || table.Gap != s.LineGap {
			t.Fatalf("spacing %v, gap %v", table.Spacing, table.Gap)
		}
		for i, l := range table.Lines {
			if i > 0 && math.Abs(float64(l.ID.At-table.Lines[i-1].ID.At-table.Gap)) > 1e-9 {
				t.Errorf("line %d is at %v, the one below at %v", i, l.ID.At, table.Lines[i-1].ID.At)
			}
			if across := l.ID.Kind == scalp.Across; across != (i >= table.Round()) || across != (l.ID.At > table.Head.RoundHeight()) {
				t.Errorf("line %d at %v is ear to ear: %v; the round of the head is at %v", i, l.ID.At, across, table.Head.RoundHeight())
			}
			first, last := l.HairEnds()
			if !l.At(first).OnScalp || !l.At(last).OnScalp || first-l.First > margin || l.Last()-last > margin {
				t.Errorf("line at %v: slots %d to %d, hair from %d to %d", l.ID.At, l.First, l.Last(), first, last)
			}
			if l.At(l.First-1) != nil || l.At(l.Last()+1) != nil || l.At(l.First) != &l.Slots[0] || l.At(l.Last()) != &l.Slots[len(l.Slots)-1] {
				t.Errorf("line at %v: the ends of %d to %d", l.ID.At, l.First, l.Last())
			}
			for slot := l.First; slot <= l.Last(); slot++ {
				at := l.At(slot)
				if d := chord(at.Point, l.Point(scalp.MM(slot)*table.Spacing)); d > 1e-3 {
					t.Fatalf("line at %v: slot %d lies %g mm from its place", l.ID.At, slot, d)
				}
				if at.OnScalp != table.Zones.Hairline.Contains(at.Point) {
					t.Fatalf("line at %v: slot %d is on the scalp: %v", l.ID.At, slot, at.OnScalp)
				}
				if slot > l.First { // the straight way is a little shorter than the line
					if d := chord(at.Point, l.At(slot-1).Point); d > float64(table.Spacing)+1e-6 || d < 0.97*float64(table.Spacing) {
						t.Fatalf("line at %v: slots %d and %d are %g mm apart", l.ID.At, slot-1, slot, d)
					}
				}
			}
		}
	}
}

// Up the midline the nape is as far away as the height says, or a little less since the hairline rises to the sides.
func TestNapeDistanceUpTheMidline(t *testing.T) {
	table := must(t, medium())
	for _, l := range table.Lines[1:12] {
		h, d := float64(l.ID.At), float64(l.At(0).Nape)
		if d > h+0.02 || d < 0.95*h {
			t.Errorf("height %g is %g mm from the nape hairline", h, d)
		}
		if edge := float64(l.At(0).Edge()); edge > d {
			t.Errorf("height %g is %g mm from the hairline, %g from the nape", h, edge, d)
		}
	}
}

func TestWhatIsNotThereIsInfinitelyFar(t *testing.T) {
	bare := must(t, medium().WithLimit(sheet.LimitFringeDepth, 0).With(func(c *sheet.Sheet) { c.Partings = nil }))
	full := must(t, lopsided(medium()))
	for i, l := range bare.Lines {
		for k := range l.Slots {
			s := &l.Slots[k]
			if !infinite(s.Part) || !infinite(s.Fringe) || len(s.KeepOff) != 0 {
				t.Fatalf("line %d, slot %d: part %v, fringe %v, patches %v", i, l.First+k, s.Part, s.Fringe, s.KeepOff)
			}
		}
	}
	inFringe := 0
	for i, l := range full.Lines {
		for k := range l.Slots {
			s := &l.Slots[k]
			if infinite(s.Part) || infinite(s.Fringe) || len(s.KeepOff) != 2 {
				t.Fatalf("line %d, slot %d: part %v, fringe %v, patches %v", i, l.First+k, s.Part, s.Fringe, s.KeepOff)
			}
			for _, d := range []scalp.MM{s.Nape, s.Ear, s.Temple, s.Front, s.Part, s.KeepOff[0], s.KeepOff[1]} {
				if !(d >= 0) || d > 400 {
					t.Fatalf("line %d, slot %d: %+v", i, l.First+k, s)
				}
			}
			if s.Fringe < 0 && s.OnScalp {
				inFringe++
			}
		}
	}
	if inFringe == 0 {
		t.Error("no slot lies in the fringe")
	}
}

// An outline has the lines and slots of the table, and is never taken for it.
func TestOutline(t *testing.T) {
	s := lopsided(medium())
	bare, err := Outline(s)
	if err != nil {
		t.Fatal(err)
	}
	full, err := For(s, bare)
	if err != nil || full == bare {
		t.Fatalf("the outline is taken for the table, error %v", err)
	}
	if len(bare.Lines) != len(full.Lines) || bare.Round() != full.Round() {
		t.Fatalf("%d lines, want %d", len(bare.Lines), len(full.Lines))
	}
	for i, l := range full.Lines {
		o := bare.Lines[i]
		if o.ID != l.ID || o.First != l.First || len(o.Slots) != len(l.Slots) {
			t.Fatalf("%s: slots %d to %d, want %d to %d", l.Place(), o.First, o.Last(), l.First, l.Last())
		}
		for k := range l.Slots {
			if o.Slots[k].Point != l.Slots[k].Point || o.Slots[k].OnScalp != l.Slots[k].OnScalp {
				t.Fatalf("%s: slot %d differs", l.Place(), l.First+k)
			}
		}
	}
}

// The middle of a patch is where the sheet says.
func TestPatches(t *testing.T) {
	table := must(t, lopsided(medium()))
	for i, patch := range []struct{ height, right scalp.MM }{{70, -45}, {260, 30}} {
		l := table.line(t, level(patch.height))
		for slot := l.First; slot <= l.Last(); slot++ {
			// Along the line it is as far as the positions say, across the head a little less.
			on := math.Abs(float64(scalp.MM(slot)*table.Spacing - patch.right))
			if d := float64(l.At(slot).KeepOff[i]); on < 40 && (d > on+0.01 || d < 0.9*on) {
				t.Errorf("patch %d: slot %d is %g mm away, %g on the line", i, slot, d, on)
			}
		}
	}
}

func TestForErrors(t *testing.T) {
	patch := func(height, right scalp.MM) func(*sheet.Sheet) {
		return func(c *sheet.Sheet) {
			c.KeepOff = []sheet.KeepOff{{Height: 50, Radius: 5}, {Height: height, Right: right, Radius: 5}}
		}
	}
	nan := scalp.MM(math.NaN())
	for _, c := range []struct {
		name   string
		change func(*sheet.Sheet)
		want   []string
	}{
		{"narrow holes", func(c *sheet.Sheet) { c.HoleSpacing = 3.9 }, []string{"hole spacing 3.9 mm", "between 4 and 25"}},
		{"wide holes", func(c *sheet.Sheet) { c.HoleSpacing = 26 }, []string{"hole spacing 26 mm", "between 4 and 25"}},
		{"no holes", func(c *sheet.Sheet) { c.HoleSpacing = 0 }, []string{"hole spacing 0 mm"}},
		{"holes backwards", func(c *sheet.Sheet) { c.HoleSpacing = -8 }, []string{"hole spacing -8 mm"}},
		{"holes not a number", func(c *sheet.Sheet) { c.HoleSpacing = nan }, []string{"hole spacing NaN mm"}},
		{"near lines", func(c *sheet.Sheet) { c.LineGap = 1 }, []string{"line gap 1 mm", "between 4 and 30"}},
		{"far lines", func(c *sheet.Sheet) { c.LineGap = 31 }, []string{"line gap 31 mm", "between 4 and 30"}},
		{"lines not a number", func(c *sheet.Sheet) { c.LineGap = nan }, []string{"line gap NaN mm"}},
		{"a patch under the nape", patch(-1, 0), []string{"patch at height -1", "from 0 to 355"}},
		{"a patch on the face", patch(356, 0), []string{"patch at height 356", "from 0 to 355"}},
		{"a patch nowhere", patch(nan, 0), []string{"patch at height NaN"}},
		{"a patch off the right", patch(60, 400), []string{"height 60, 400 mm right", "goes from -"}},
		{"a patch off the left", patch(60, -400), []string{"height 60, -400 mm right", "goes from -"}},
		{"a patch beside the line", patch(60, nan), []string{"height 60, NaN mm right"}},
		{"no head", func(c *sheet.Sheet) { c.Measures.Circumference = 100 }, []string{"circumference"}},
		{"a landmark too far", func(c *sheet.Sheet) {
			c.Moved = map[scalp.Landmark]scalp.Shift{{Name: scalp.NapeCentre}: {Up: 61}}
		}, []string{"nape centre", "60 mm"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			table, err := For(medium().With(c.change), nil)
			if err == nil || table != nil {
				t.Fatalf("a table, error %v", err)
			}
			if _, same := Outline(medium().With(c.change)); same == nil || same.Error() != err.Error() {
				t.Errorf("the outline has error %v, want %v", same, err)
			}
			for _, want := range c.want {
				if !strings.Contains(err.Error(), want) {
					t.Errorf("%q does not say %q", err, want)
				}
			}
		})
	}
	for _, fits := range [][2]scalp.MM{{MinSpacing, MaxGap}, {MaxSpacing, MinGap}} {
		if _, err := For(spaced(medium(), fits[0], fits[1]), nil); err != nil {
			t.Errorf("%v: %v", fits, err)
		}
	}
}
