package scalp

import (
	"fmt"
	"math"
	"testing"
)

// plane is a line's plane as its documentation states it: a point inside the head and
// two directions, the second the one in which positions grow.
func (l *Line) plane(h *Head) (o, u, v Vec) {
	p := l.Point(0)
	switch l.ID.Kind {
	case Level:
		return Vec{Z: p.Z}, back, across
	case Across:
		return Vec{Y: p.Y}, upward, across
	}
	return Vec{X: p.X}, upward, forward
}

// someLines are lines of every kind, rows 10 mm apart up the midline among them.
func someLines(h *Head) []*Line {
	var all []*Line
	for height := MM(0); height < h.FrontHeight()-10; height += 10 {
		all = append(all, h.LineAt(height))
	}
	for _, right := range []MM{-70, -40, -12.5, 0, 25, 60} {
		all = append(all, h.Line(LineID{Along, right}))
	}
	return all
}

// Steps along a line must be the step long, measured by fine polylines.
func TestWalkSpacing(t *testing.T) {
	t.Parallel()
	rng := seeded(71)
	worst := 0.0
	for _, step := range []MM{4, 8, 8, 10} {
		h := randomHead(rng)
		for _, line := range someLines(h) {
			from, to := int(math.Ceil(float64(line.Low/step)))+1, int(math.Floor(float64(line.High/step)))-1
			pts := line.Walk(0, step, from, to)
			if len(pts) != max(to-from+1, 0) {
				t.Fatalf("%v: %d points from %d to %d", line.ID, len(pts), from, to)
			}
			o, u, v := line.plane(h)
			for i := 1; i < len(pts); i++ {
				got := planeArc(&h.Surface, o, u, v, angleIn(pts[i-1], o, u, v), angleIn(pts[i], o, u, v))
				worst = math.Max(worst, math.Abs(got-float64(step)))
				if !(math.Abs(got-float64(step)) <= 1e-4) {
					t.Errorf("%+v %v: from %v to %v %.6f mm, want %v", h.Measures, line.ID, pts[i-1], pts[i], got, step)
				}
			}
		}
	}
	t.Logf("largest difference from the step %.7f mm", worst)
}

// A walk adds up short arcs and Point measures a long one, whose quadrature is good
// to a thousandth of a millimetre; PositionOf undoes Point to rounding.
func TestPointAndPositionOf(t *testing.T) {
	t.Parallel()
	rng := seeded(72)
	worst := 0.0
	for range 20 {
		h := randomHead(rng)
		for _, line := range someLines(h) {
			const step = 7
			from, to := int(line.Low/step), int(line.High/step)
			for i, p := range line.Walk(0, step, from, to) {
				position := MM(from+i) * step
				q := line.Point(position)
				worst = math.Max(worst, q.Minus(p).Length())
				if !(q.Minus(p).Length() < 0.001) {
					t.Errorf("%+v %v: walked to %v at %v, Point says %v", h.Measures, line.ID, p, position, q)
				}
				if at := line.PositionOf(q); !(math.Abs(float64(at-position)) < 1e-6) && position != line.High && position != line.Low {
					t.Errorf("%+v %v: %v at %v is at %.6f by PositionOf", h.Measures, line.ID, p, position, float64(at))
				}
				if off := equation(&h.Surface, p); !(math.Abs(off) < 1e-9) {
					t.Errorf("%+v %v: %v is off the head by %g", h.Measures, line.ID, p, off)
				}
				_, _, v := line.plane(h)
				if along := p.Minus(line.Point(0)).Dot(v); position != 0 && math.Abs(float64(position)) < 200 && along*float64(position) <= 0 {
					t.Errorf("%+v %v: position %v lies at %v, on the wrong side of the middle", h.Measures, line.ID, position, p)
				}
			}
		}
	}
	t.Logf("largest difference between Walk and Point %.6f mm", worst)
}

// Heights count along the midline from the nape; rows 10 mm apart must be so on the
// midline, measured by a fine polyline, and cross it where they say.
func TestHeights(t *testing.T) {
	rng := seeded(73)
	for range 20 {
		h := randomHead(rng)
		for height := MM(-15); height <= h.FrontHeight()+20; height += 5 {
			p, q := h.midlinePoint(height), h.midlinePoint(height+10)
			if got := h.heightOf(p); !(math.Abs(float64(got-height)) < 1e-5) {
				t.Errorf("%+v: the height of the point at %v is %.6f", h.Measures, height, float64(got))
			}
			a, b := angleIn(p, Vec{}, back, upward), angleIn(q, Vec{}, back, upward)
			if b < a { // past the brow
				b += 2 * math.Pi
			}
			if rise := planeArc(&h.Surface, Vec{}, back, upward, a, b); !(math.Abs(rise-10) < 0.001) {
				t.Errorf("%+v: from height %v 10 mm further is %.6f mm", h.Measures, height, rise)
			}
			if height < 0 || height > h.FrontHeight() {
				continue
			}
			line := h.LineAt(height)
			want := Level
			if height > h.RoundHeight() {
				want = Across
			}
			if line.ID != (LineID{want, height}) {
				t.Errorf("%+v: at height %v the line is %v, and the round at %v", h.Measures, height, line.ID, h.RoundHeight())
			}
			if middle := line.Point(0); !(middle.Minus(p).Length() < 1e-6) {
				t.Errorf("%+v: the line at %v crosses the midline at %v, want %v", h.Measures, height, middle, p)
			}
			if p.Y < 0 && !(math.Abs(float64(h.HeightAtLevel(p.Z)-height)) < 1e-5) {
				t.Errorf("%+v: the level of height %v is said to be at %v", h.Measures, height, h.HeightAtLevel(p.Z))
			}
		}
		// The round of the head is where a level cut meets the front hairline.
		front, round := h.midlinePoint(h.FrontHeight()), h.midlinePoint(h.RoundHeight())
		if !(math.Abs(front.Z-round.Z) < 1e-6 && round.Y < 0 && front.Y > 0) {
			t.Errorf("%+v: front hairline at %v, round of the head at %v", h.Measures, front, round)
		}
		if h.LineAt(h.RoundHeight()).ID.Kind != Level || h.LineAt(h.RoundHeight()+0.01).ID.Kind != Across {
			t.Errorf("%+v: kinds of line about the round of the head", h.Measures)
		}
	}
}

// The ends of the lines: right round for a level, the edge of the top for the others.
func TestEndsOfLines(t *testing.T) {
	t.Parallel()
	rng := seeded(74)
	for range 20 {
		h := randomHead(rng)
		for _, line := range someLines(h) {
			low, high := line.Point(line.Low), line.Point(line.High)
			switch {
			case line.ID.Kind == Level:
				o, u, v := line.plane(h)
				if whole := planeArc(&h.Surface, o, u, v, 0, 2*math.Pi); !(math.Abs(whole-float64(line.High-line.Low)) < 0.002) {
					t.Errorf("%+v %v: %.4f mm round, from %v to %v", h.Measures, line.ID, whole, line.Low, line.High)
				}
				if !(low.Minus(high).Length() < 0.002) || high.Y < 0 {
					t.Errorf("%+v %v: ends at %v and %v", h.Measures, line.ID, low, high)
				}
			default:
				if !(math.Abs(low.Z-h.roundZ) < 1e-5 && math.Abs(high.Z-h.roundZ) < 1e-5) || line.High <= 0 || line.Low != -line.High {
					t.Errorf("%+v %v: ends at %v and %v, the edge of the top at %.3f", h.Measures, line.ID, low, high, h.roundZ)
				}
			}
		}
		// Lines along are as far from the midline as they say, over the ears.
		for _, right := range []MM{-60, 15, 75} {
			p := h.Line(LineID{Along, right}).Point(0)
			got := math.Copysign(planeArc(&h.Surface, Vec{}, upward, across, 0, angleIn(p, Vec{}, upward, across)), p.X)
			if !(math.Abs(got-float64(right)) < 1e-3) || math.Abs(p.Y) > 1e-9 {
				t.Errorf("%+v: the line %v right begins at %v, %.4f right", h.Measures, right, p, got)
			}
		}
	}
}

func TestWalkPartOfALine(t *testing.T) {
	line := mediumHead(t).LineAt(40)
	all := line.Walk(0, 8, -6, 6)
	for _, r := range [][2]int{{2, 5}, {-5, -2}, {-1, 4}, {0, 0}, {3, 3}, {-6, -6}} {
		part := line.Walk(0, 8, r[0], r[1])
		if len(part) != r[1]-r[0]+1 {
			t.Fatalf("%v: %d points", r, len(part))
		}
		for i, p := range part {
			if q := all[r[0]+i+6]; p.Minus(q).Length() > 1e-9 {
				t.Errorf("%v: point %d at %v, want %v", r, i, p, q)
			}
		}
	}
	if got := line.Walk(0, 8, 2, 1); len(got) != 0 {
		t.Errorf("from 2 to 1: %v", got)
	}
}

// Lines where there is no line: past the brow, beside the top.
func TestLinesOffTheMap(t *testing.T) {
	rng := seeded(75)
	for range 10 {
		h := randomHead(rng)
		for _, id := range []LineID{
			{Across, h.FrontHeight() + 5}, {Across, h.FrontHeight() + 40}, {Level, -20},
			{Along, 110}, {Along, -140}, {Along, 200}, {Along, 400},
		} {
			line := h.Line(id)
			for _, v := range []MM{line.Low, line.High} {
				if math.IsNaN(float64(v)) || math.Abs(float64(v)) > 1000 {
					t.Errorf("%+v %v: from %v to %v", h.Measures, id, line.Low, line.High)
				}
			}
			for _, position := range []MM{0, 10, -30} {
				if p := line.Point(position); !(math.Abs(equation(&h.Surface, p)) < 1e-6) {
					t.Errorf("%s", fmt.Sprintf("%+v %v: %v at %v is off the head", h.Measures, id, p, position))
				}
			}
		}
	}
}
