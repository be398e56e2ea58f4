package slots

import (
	"math"
	"slices"
	"testing"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// Mirror image in, mirror image out, to a hundredth of a millimetre and to the last slot.
func TestMirrorImage(t *testing.T) {
	sheets := append(slices.Clone(heads()), lopsided(medium()), raisedNape(lopsided(medium())))
	for n, s := range sheets {
		if n%2 == 1 {
			s = spaced(s, 6, 7)
		}
		a, b := must(t, s), must(t, mirrored(s))
		if len(a.Lines) != len(b.Lines) || a.Round() != b.Round() {
			t.Fatalf("head %d: %d lines, %d in the mirror", n, len(a.Lines), len(b.Lines))
		}
		for i := range a.Lines {
			mirrorLine(t, a.Lines[i], b.Lines[i])
		}
		for i := 1; i < len(a.Lines); i++ {
			mirrorGaps(t, a, b, [2]*Line{a.Lines[i], a.Lines[i-1]}, [2]*Line{b.Lines[i], b.Lines[i-1]})
		}
		for i := 3; i < a.Round(); i += 4 {
			mirrorBelow(t, [2]*Line{a.Lines[i], a.Lines[i-2]}, [2]*Line{b.Lines[i], b.Lines[i-2]})
		}
	}
}

// near reports whether two distances are the same, to a hundredth of a millimetre; those beyond what is measured are
// estimates, good to some millimetres.
func near(a, b scalp.MM) bool {
	if infinite(a) || infinite(b) {
		return a == b
	}
	allowed := 0.01
	if math.Abs(float64(a)) > float64(scalp.FarReach)-5 {
		allowed = 5
	}
	return math.Abs(float64(a-b)) < allowed
}

func mirrorLine(t *testing.T, l, m *Line) {
	t.Helper()
	if l.ID != m.ID || l.First != -m.Last() || len(l.Slots) != len(m.Slots) {
		t.Fatalf("%s goes from %d to %d, and %s in the mirror from %d to %d", l.Place(), l.First, l.Last(), m.Place(), m.First, m.Last())
	}
	for slot := l.First; slot <= l.Last(); slot++ {
		mirrorSlot(t, l, slot, l.At(slot), m.At(-slot))
		if p, q := PanelOf(l, l.At(slot)), PanelOf(m, m.At(-slot)); otherSide(p) != q {
			t.Fatalf("%s: slot %d is on the %s, in the mirror on the %s", l.Place(), slot, p, q)
		}
	}
}

func otherSide(p Panel) Panel {
	switch p {
	case LeftSide:
		return RightSide
	case RightSide:
		return LeftSide
	}
	return p
}

func mirrorSlot(t *testing.T, l *Line, slot int, a, b *Slot) {
	t.Helper()
	same := chord(a.Point, scalp.Vec{X: -b.Point.X, Y: b.Point.Y, Z: b.Point.Z}) < 1e-6 && a.OnScalp == b.OnScalp &&
		near(a.Nape, b.Nape) && near(a.Ear, b.Ear) && near(a.Temple, b.Temple) && near(a.Front, b.Front) &&
		near(a.Part, b.Part) && near(a.Fringe, b.Fringe) && len(a.KeepOff) == len(b.KeepOff)
	for i := range a.KeepOff {
		same = same && near(a.KeepOff[i], b.KeepOff[i])
	}
	if hang := math.Abs(a.Hang + b.Hang); hang > 1e-5 && math.Abs(hang-360) > 1e-5 {
		same = false
	}
	if !same {
		t.Errorf("%s, slot %d: %+v\nin the mirror: %+v", l.Place(), slot, a, b)
	}
}

func mirrorGaps(t *testing.T, a, b *Table, l, m [2]*Line) {
	t.Helper()
	g, h := a.Gaps(l[0], l[1]), b.Gaps(m[0], m[1])
	for k := range g {
		if other := h[len(h)-1-k]; !near(g[k], other) {
			t.Errorf("%s to %s: slot %d is %v away, in the mirror %v", l[0].Place(), l[1].Place(), l[0].First+k, g[k], other)
		}
	}
}

func mirrorBelow(t *testing.T, l, m [2]*Line) {
	t.Helper()
	for slot := l[0].First; slot <= l[0].Last(); slot++ {
		at, ok := Below(l[0].At(slot), l[1])
		other, okay := Below(m[0].At(-slot), m[1])
		if ok != okay || math.Abs(at+other) > 1e-4 {
			t.Errorf("%s: slot %d hangs over %g, %v; in the mirror over %g, %v", l[0].Place(), slot, at, ok, other, okay)
		}
	}
}

// Lines front to back change sides and keep their slots.
func TestMirrorImageAlong(t *testing.T) {
	for _, s := range []*sheet.Sheet{lopsided(medium()), spaced(lopsided(sheet.New(scalp.Sizes[3].Measures)), 5, 6)} {
		a, b := must(t, s), must(t, mirrored(s))
		lines := a.alongs()
		for i, l := range lines {
			m, err := b.Line(along(-l.ID.At))
			if err != nil {
				t.Fatalf("%s: in the mirror %v", l.Place(), err)
			}
			if l.First != m.First || len(l.Slots) != len(m.Slots) {
				t.Fatalf("%s goes from %d to %d, in the mirror from %d to %d", l.Place(), l.First, l.Last(), m.First, m.Last())
			}
			for slot := l.First; slot <= l.Last(); slot++ {
				mirrorSlot(t, l, slot, l.At(slot), m.At(slot))
				p, q := l.Drawn[slot-l.First], m.Drawn[slot-m.First]
				if p.Line != q.Line || p.Slot != -q.Slot {
					t.Errorf("%s: slot %d is drawn at %v, in the mirror at %v", l.Place(), slot, p, q)
				}
			}
			if i == 0 {
				continue
			}
			g, h := a.Gaps(l, lines[i-1]), b.Gaps(m, b.line(t, along(-lines[i-1].ID.At)))
			for k := range g {
				if !near(g[k], h[k]) {
					t.Errorf("%s: slot %d is %v from the next line, in the mirror %v", l.Place(), l.First+k, g[k], h[k])
				}
			}
		}
	}
}
