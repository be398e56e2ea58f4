package slots

import (
	"math"
	"testing"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// pairs are lines of a table beside each other, some of them three lines apart, of all kinds.
func pairs(t *Table) [][2]*Line {
	var all [][2]*Line
	add := func(lines []*Line, step int) {
		for i := step; i < len(lines); i += 4 {
			all = append(all, [2]*Line{lines[i], lines[i-step]}, [2]*Line{lines[i-step], lines[i]})
		}
	}
	add(t.Lines[:t.Round()], 1)
	add(t.Lines[t.Round():], 1)
	add(t.Lines[:t.Round()], 3)
	add(t.Lines[t.Round()+1:], 3)
	add(t.alongs(), 1)
	add(t.alongs(), 3)
	return append(all, [2]*Line{t.Lines[t.Round()], t.Lines[t.Round()-1]})
}

// nearest is the distance from a point to a line by trying points of it, and which of them is the nearest.
func (t *Table) nearest(p scalp.Vec, line []scalp.Vec) (d float64, at int) {
	straight := math.Inf(1)
	for _, q := range line {
		straight = math.Min(straight, chord(p, q))
	}
	d = math.Inf(1)
	for i, q := range line {
		if chord(p, q) > 1.05*straight+0.5 { // over 40 mm a way along the scalp is at most 1.05 times the straight one
			continue
		}
		if got := float64(t.Head.Distance(p, q)); got < d {
			d, at = got, i
		}
	}
	return d, at
}

func TestGapsAgainstBruteForce(t *testing.T) {
	for n, s := range heads() {
		for _, of := range [][2]scalp.MM{{8, 10}, {4, 5}, {25, 12}} {
			if n%3 != 0 && of[0] != 8 {
				continue
			}
			table := must(t, spaced(s, of[0], of[1]))
			past := 0
			for _, pair := range pairs(table) {
				past += table.checkGaps(t, pair[0], pair[1], n%5)
			}
			if past == 0 {
				t.Errorf("head %d: no slot lies past the end of another line", n)
			}
		}
	}
}

// checkGaps compares the gaps of every seventh slot, from the given one on, with the nearest of points a quarter of a
// millimetre apart, from one spacing before the line to one after it. It returns how many lie past its ends.
func (t *Table) checkGaps(tb testing.TB, from, to *Line, first int) (past int) {
	tb.Helper()
	gaps := t.Gaps(from, to)
	if len(gaps) != len(from.Slots) {
		tb.Fatalf("%d gaps for %d slots", len(gaps), len(from.Slots))
	}
	pieces := int(t.Spacing * 4)
	line := to.Walk(t.Begin, t.Spacing/scalp.MM(pieces), (to.First-1)*pieces, (to.Last()+1)*pieces)
	for k := first; k < len(gaps); k += 7 {
		want, at := t.nearest(from.Slots[k].Point, line)
		inside := min(at-pieces, len(line)-1-pieces-at) // quarters of a millimetre from the nearer end
		name := func() string { return from.Place().String() + " to " + to.Place().String() }
		switch {
		case inside < -1:
			past++
			if !infinite(gaps[k]) {
				tb.Errorf("%s: slot %d lies past the end, and its gap is %v", name(), from.First+k, gaps[k])
			}
		case inside > 1:
			if math.Abs(float64(gaps[k])-want) > 0.05 {
				tb.Errorf("%s: the gap of slot %d is %.3f mm, want %.3f", name(), from.First+k, float64(gaps[k]), want)
			}
		}
	}
	return past
}

func TestGapsAreMeasuredOnce(t *testing.T) {
	table := must(t, medium())
	a, b := table.Lines[6], table.Lines[5]
	first, again := table.Gaps(a, b), table.Gaps(a, b)
	if &first[0] != &again[0] {
		t.Error("the gaps were measured again")
	}
	if other := table.Gaps(b, a); len(other) != len(b.Slots) {
		t.Errorf("the other way there are %d gaps, want %d", len(other), len(b.Slots))
	}
}

// Straight down means down the steepest way: small steps against the slope come out at the same place.
func TestBelowAgainstTheSteepestWay(t *testing.T) {
	for n, s := range heads() {
		table := must(t, s)
		for _, from := range []int{table.Round() - 1, table.Round() / 2} {
			upper, lower := table.Lines[from], table.Lines[from-3]
			tried := 0
			for k := n % 4; k < len(upper.Slots); k += 6 {
				got, ok := Below(&upper.Slots[k], lower)
				p := table.steepest(upper.Slots[k].Point, lower.Slots[0].Point.Z)
				want := float64(lower.PositionOf(p) / table.Spacing)
				if !ok {
					if want > float64(lower.First)+0.02 && want < float64(lower.Last())-0.02 {
						t.Errorf("head %d: slot %d at %s hangs nowhere, want slot %.3f at %s", n, upper.First+k, upper.Place(), want, lower.Place())
					}
					continue
				}
				tried++
				if math.Abs(got-want) > 0.02 {
					t.Errorf("head %d: slot %d at %s hangs over %.3f at %s, the steepest way down ends at %.3f", n, upper.First+k, upper.Place(), got, lower.Place(), want)
				}
			}
			if tried == 0 {
				t.Errorf("head %d: no slot at %s hangs over %s", n, upper.Place(), lower.Place())
			}
		}
	}
}

// steepest goes down the head from p against the slope to a level.
func (t *Table) steepest(p scalp.Vec, z float64) scalp.Vec {
	for p.Z > z {
		n := t.Head.Normal(p)
		down := scalp.Vec{X: n.Z * n.X, Y: n.Z * n.Y, Z: n.Z*n.Z - 1}
		step := math.Min(0.25, (p.Z-z)/math.Max(0.1, -down.Z)+1e-4)
		p, _ = t.Head.Shoot(p, down, scalp.MM(step))
	}
	return p
}

// Hanging lines never cross, and on their own line they are where they are.
func TestBelowKeepsTheOrder(t *testing.T) {
	for _, s := range heads() {
		table := must(t, s)
		for i, upper := range table.Lines[:table.Round()] {
			for _, lower := range table.Lines[:i+1] {
				last := math.Inf(-1)
				for k := range upper.Slots {
					at, ok := Below(&upper.Slots[k], lower)
					if lower == upper && (!ok || math.Abs(at-float64(upper.First+k)) > 1e-9) {
						t.Fatalf("%s: slot %d hangs over slot %v of its own line, %v", upper.Place(), upper.First+k, at, ok)
					}
					if !ok {
						continue
					}
					if at <= last || at < float64(lower.First) || at > float64(lower.Last()) {
						t.Fatalf("%s: slot %d hangs over %v of %s, the one before over %v", upper.Place(), upper.First+k, at, lower.Place(), last)
					}
					last = at
				}
			}
		}
	}
}

func TestBelowInTheMiddle(t *testing.T) {
	table := must(t, medium())
	upper, lower := table.line(t, sheet.Place{At: 100}), table.line(t, sheet.Place{At: 40})
	if at, ok := Below(upper.At(0), lower); !ok || math.Abs(at) > 1e-6 {
		t.Errorf("the centre back hangs over slot %g, %v", at, ok)
	}
	// The head is narrower below, so that slots drift outwards on the way down.
	for slot := 1; slot < 10; slot++ {
		if at, ok := Below(upper.At(slot), lower); ok && at >= float64(slot) {
			t.Errorf("slot %d hangs over %g", slot, at)
		}
	}
	if _, ok := Below(upper.At(upper.Last()), lower); ok {
		t.Error("the temple hangs over the nape")
	}
}
