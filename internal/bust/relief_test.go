package bust

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/underveil/internal/scalp"
)

// inside reports whether a point is in the head: between where an upright line enters it and leaves
// it. Nothing of a view is in that.
func inside(head *scalp.Head, p scalp.Vec) bool {
	top, _, ok := head.Hit(scalp.Vec{X: p.X, Y: p.Y, Z: away}, scalp.Vec{Z: -1}, 0)
	if !ok {
		return false
	}
	bottom, _, ok := head.Hit(scalp.Vec{X: p.X, Y: p.Y, Z: -away}, scalp.Vec{Z: 1}, 0)
	return ok && p.Z < top.Z && p.Z > bottom.Z
}

func randomView(rng *rand.Rand) View {
	if rng.IntN(4) == 0 {
		v, _ := Named(Names[rng.IntN(len(Names))])
		return v
	}
	return View{wrapped(360 * rng.Float64()), 135*rng.Float64() - 45}
}

// onHead is a point of the head in any direction.
func onHead(rng *rand.Rand, head *scalp.Head) scalp.Vec {
	out := scalp.Vec{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()}.Unit()
	p, _, _ := head.Hit(out.Times(away), out.Times(-1), 0)
	return p
}

// A point is hidden exactly when on the way from it to the viewer there is some of the head.
func TestWhatIsBehindIsHidden(t *testing.T) {
	rng := seeded(2)
	seen, hidden := 0, 0
	for size := range scalp.Sizes {
		head, line := headOf(t, size, nil)
		for range 12 {
			v := randomView(rng)
			r := NewRelief(head, line, v, 60, 24, false)
			_, _, toward := v.axes()
			for range 60 {
				p := onHead(rng, head)
				if math.Abs(head.Normal(p).Dot(toward)) < grazing+0.01 {
					continue // at the edge, where a walk cannot tell
				}
				free := true
				for far := 0.5; far < 260 && free; far += 0.5 {
					free = !inside(head, p.Along(toward, far))
				}
				_, _, ok := r.Cell(p)
				if ok != free {
					t.Fatalf("%s head, %+v: %v is drawn %v; the way from it is free %v", scalp.Sizes[size].Name, v, p, ok, free)
				}
				drawnMark := count(drawn(r, Scene{Marks: []Mark{{At: p, Rune: 'X'}}}).String(), 'X')
				if (drawnMark == 1) != free || drawnMark > 1 {
					t.Fatalf("%+v: a mark at %v is drawn %d times; the way from it is free %v", v, p, drawnMark, free)
				}
				if free {
					seen++
				} else {
					hidden++
				}
			}
		}
	}
	if seen < 500 || hidden < 500 {
		t.Errorf("%d points seen and %d hidden: too few", seen, hidden)
	}
}

func count(text string, r rune) int {
	n := 0
	for _, c := range text {
		if c == r {
			n++
		}
	}
	return n
}

// A dot lies on the head exactly when its ray, looked along millimetre by millimetre, runs through it.
func TestSilhouette(t *testing.T) {
	rng := seeded(3)
	head, line := headOf(t, 1, nil)
	for range 5 {
		v := randomView(rng)
		s := shade(head, line, v, 24, 11, false)
		at := func(x, y int) part {
			if x < 0 || x >= s.w || y < 0 || y >= s.h {
				return nothing
			}
			return s.dots[y*s.w+x].part
		}
		for y := range s.h {
			for x := range s.w {
				meets := false
				for far := away - 150.0; far < away+150 && !meets; far++ {
					meets = inside(head, s.eye(x, y).Along(s.toward, -far))
				}
				alone := at(x-1, y) < bare || at(x+1, y) < bare || at(x, y-1) < bare || at(x, y+1) < bare
				switch {
				case meets && at(x, y) == nothing:
					t.Fatalf("%+v: dot %d,%d is empty, and its ray meets the head", v, x, y)
				case !meets && at(x, y) >= bare && !alone: // the walk steps over a corner at the edge
					t.Fatalf("%+v: dot %d,%d is of the head, and its ray passes by", v, x, y)
				}
			}
		}
	}
}

// A dot shows hair where the point that an independent search finds in it is inside the hairline.
func TestHairInDots(t *testing.T) {
	rng := seeded(4)
	checked := 0
	for range 6 {
		head, line := headOf(t, rng.IntN(4), moves(rng))
		s := shade(head, line, randomView(rng), 30, 13, false)
		points := line.Points()
		for y := range s.h {
			for x := range s.w {
				d := &s.dots[y*s.w+x]
				if d.part < bare || s.neck.rx == 0 {
					continue
				}
				p := s.pointOf(x, y, d)
				if nearest(points, p) < 2.5 {
					continue // the mask is as fine as that, and so are the pieces of the line
				}
				checked++
				if line.Contains(p) != (d.part == hair) {
					t.Fatalf("dot %d,%d at %v is part %d; the hairline contains it: %v", x, y, p, d.part, line.Contains(p))
				}
			}
		}
	}
	if checked < 5000 {
		t.Errorf("%d dots only", checked)
	}
}

// moves shifts the landmarks of a hairline, as a stylist would.
func moves(rng *rand.Rand) map[scalp.Landmark]scalp.Shift {
	moved := map[scalp.Landmark]scalp.Shift{}
	for _, l := range scalp.Landmarks() {
		moved[l] = scalp.Shift{Right: scalp.MM(12 * (rng.Float64() - 0.5)), Up: scalp.MM(12 * (rng.Float64() - 0.5))}
	}
	return moved
}

func nearest(points []scalp.Vec, p scalp.Vec) float64 {
	least := math.Inf(1)
	for _, q := range points {
		least = min(least, q.Minus(p).Length())
	}
	return least
}

// The mask and the hairline agree wherever it may have been moved to.
func TestMask(t *testing.T) {
	rng := seeded(5)
	for range 30 {
		head, line := headOf(t, rng.IntN(4), moves(rng))
		points := line.Points()
		m := newMask(points)
		for range 300 {
			p := onHead(rng, head)
			if nearest(points, p) > 2 && m.hair(p) != line.Contains(p) {
				t.Fatalf("%v, azimuth %g: hair %v, want %v", p, p.Azimuth(), m.hair(p), line.Contains(p))
			}
		}
	}
}

// The quarters grow with the azimuth all the way round.
func TestQuarters(t *testing.T) {
	before := -1.0
	for degrees := 0.0; degrees < 360; degrees += 0.25 {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		q := quarter(scalp.Vec{X: 80 * sin, Y: -80 * cos})
		if q <= before || math.Abs(q-degrees/90) > 0.11 {
			t.Fatalf("%g degrees is quarter %g after %g", degrees, q, before)
		}
		before = q
	}
}

// A symmetric head seen from as far to the right as to the left is its own mirror image.
func TestMirror(t *testing.T) {
	head, line := headOf(t, 1, nil)
	for _, v := range []View{{}, {Turn: 180}, {Lift: 90}, {Turn: 30}, {Turn: 45, Lift: 20}, {Turn: 90}, {Turn: 137, Lift: -30}, {Turn: 64, Lift: 70}} {
		s, m := shade(head, line, v, 60, 30, false), shade(head, line, View{-v.Turn, v.Lift}, 60, 30, false)
		strokes := 0
		for y := range s.h {
			for x := range s.w {
				d, e := s.dots[y*s.w+x], m.dots[y*s.w+s.w-1-x]
				if d.part == e.part && math.Abs(float64(d.tone-e.tone)) > 1e-4 {
					t.Fatalf("%+v: dot %d,%d has tone %g, its mirror image %g", v, x, y, d.tone, e.tone)
				}
				if d.part != e.part {
					within := false
					ring(x, y, func(i, j int) {
						within = within || s.ground.has(i, j) && s.dots[j*s.w+i].part == e.part
					})
					if !within {
						t.Fatalf("%+v: dot %d,%d is part %d, its mirror image %d", v, x, y, d.part, e.part)
					}
				}
				if s.strokes.get(x, y) {
					strokes++
					within := false
					ring(s.w-1-x, y, func(i, j int) { within = within || m.strokes.get(i, j) })
					if !within {
						t.Fatalf("%+v: the line through dot %d,%d is not in the mirror image", v, x, y)
					}
				}
			}
		}
		if strokes < 50 {
			t.Errorf("%+v: %d dots of lines only", v, strokes)
		}
	}
}

func (c canvas) get(x, y int) bool {
	return c.has(x, y) && c.cells[y/4*c.w+x/2]&braille[y&3][x&1] != 0
}

// Every point of a head is in the picture, from wherever it is seen, and fills most of it.
func TestTheHeadFits(t *testing.T) {
	rng := seeded(6)
	for range 60 {
		head, line := headOf(t, rng.IntN(4), nil)
		w, h := 4+rng.IntN(150), 3+rng.IntN(60)
		r := NewRelief(head, line, randomView(rng), w, h, false)
		low, high, left, right := math.Inf(1), 0.0, math.Inf(1), 0.0
		for range 400 {
			x, y := r.dot(onHead(rng, head))
			low, high, left, right = min(low, y), max(high, y), min(left, x), max(right, x)
		}
		if low < 0 || high > float64(4*h) || left < 0 || right > float64(2*w) {
			t.Fatalf("%+v, %d by %d cells: dots from %g to %g across and %g to %g down", r.view, w, h, left, right, low, high)
		}
		if (right-left)/float64(2*w) < 0.5 && (high-low)/float64(4*h) < 0.5 {
			t.Errorf("%+v, %d by %d cells: the head is %g by %g dots", r.view, w, h, right-left, high-low)
		}
	}
}

// A millimetre is as many dots across as up and down: from above, the head is as broad and as long as it is.
func TestProportions(t *testing.T) {
	head, line := headOf(t, 1, nil)
	broad, _, _ := head.Hit(scalp.Vec{X: away}, scalp.Vec{X: -1}, 0)
	long, _, _ := head.Hit(scalp.Vec{Y: away}, scalp.Vec{Y: -1}, 0)
	s := shade(head, line, View{Lift: 90}, 120, 40, false)
	left, right, above, below := s.w, 0, s.h, 0
	for y := range s.h {
		for x := range s.w {
			if s.dots[y*s.w+x].part >= bare {
				left, right, above, below = min(left, x), max(right, x), min(above, y), max(below, y)
			}
		}
	}
	got := float64(right-left+1) / float64(below-above+1)
	if want := broad.X / long.Y; math.Abs(got/want-1) > 0.02 {
		t.Errorf("%d by %d dots, breadth to length %.3f; want %.3f", right-left+1, below-above+1, got, want)
	}
}

// Cell and Point undo each other.
func TestCellsAndPoints(t *testing.T) {
	rng := seeded(7)
	for range 10 {
		head, line := headOf(t, rng.IntN(4), nil)
		r := NewRelief(head, line, randomView(rng), 70, 26, false)
		on := 0
		for y := range r.lines {
			for x := range r.across {
				p, ok := r.Point(x, y)
				if !ok || head.Normal(p).Dot(r.toward) < 0.06 {
					continue
				}
				on++
				if i, j, ok := r.Cell(p); !ok || i != x || j != y {
					t.Fatalf("%+v: cell %d,%d shows %v, which is drawn in %d,%d (%v)", r.view, x, y, p, i, j, ok)
				}
			}
		}
		if on < 300 {
			t.Errorf("%+v: %d cells of the head only", r.view, on)
		}
		for _, at := range [][2]int{{-1, 3}, {3, -1}, {70, 3}, {3, 26}, {0, 0}} {
			if p, ok := r.Point(at[0], at[1]); ok {
				t.Errorf("cell %v shows %v", at, p)
			}
		}
	}
}

func TestFits(t *testing.T) {
	head, line := headOf(t, 1, nil)
	other, theirs := headOf(t, 2, nil)
	v := View{Turn: 30}
	r := NewRelief(head, line, v, 40, 20, false)
	if !r.Fits(head, line, v, 40, 20, false) {
		t.Error("the same is not fitting")
	}
	if r.Fits(other, line, v, 40, 20, false) || r.Fits(head, theirs, v, 40, 20, false) || r.Fits(head, line, v.Turned(1, 0), 40, 20, false) ||
		r.Fits(head, line, v, 41, 20, false) || r.Fits(head, line, v, 40, 19, false) || r.Fits(head, line, v, 40, 20, true) {
		t.Error("another fits")
	}
	if (*Relief)(nil).Fits(head, line, v, 40, 20, false) {
		t.Error("none fits")
	}
	if empty := NewRelief(head, line, v, -3, 0, false); !empty.Fits(head, line, v, -3, 0, false) {
		t.Error("an empty one does not fit")
	}
}

// The neck is a cylinder under the hair, and hides none of it.
func TestNeck(t *testing.T) {
	rng := seeded(11)
	met, hairSeen := 0, 0
	for range 40 {
		head, line := headOf(t, rng.IntN(4), moves(rng))
		n := neckOf(head, line.Points())
		for _, p := range line.Points() {
			if p.Z <= n.top {
				t.Fatalf("the hairline comes down to %g, and the neck up to %g", p.Z, n.top)
			}
		}
		_, _, toward := randomView(rng).axes()
		for range 200 {
			aim := scalp.Vec{X: 60 * rng.NormFloat64(), Y: 60 * rng.NormFloat64(), Z: n.bottom + 60*rng.NormFloat64()}
			p, normal, ok := n.hit(aim.Along(toward, away), toward.Times(-1))
			if !ok {
				continue
			}
			met++
			x, y := p.X/n.rx, (p.Y-n.y)/n.ry
			if off := math.Abs(x*x + y*y - 1); off > 1e-9 || p.Z > n.top || p.Z < n.bottom || normal.Dot(toward) < 0 {
				t.Fatalf("%v, off the neck by %g, between %g and %g, normal %v, seen from %v", p, off, n.bottom, n.top, normal, toward)
			}
		}
		for range 200 {
			p := onHead(rng, head)
			if !line.Contains(p) || head.Normal(p).Dot(toward) < grazing {
				continue
			}
			hairSeen++
			if q, _, ok := n.hit(p.Along(toward, away), toward.Times(-1)); ok && q.Dot(toward) > p.Dot(toward)+1 {
				t.Fatalf("seen from %v the neck, at %v, hides hair at %v", toward, q, p)
			}
		}
	}
	if met < 500 || hairSeen < 500 {
		t.Errorf("%d points of necks and %d of hair: too few", met, hairSeen)
	}
}
