package scalp

import "math"

// Hit is where a ray from a point outside the surface first meets it, and the outward unit normal
// there; ok is false when it passes by. dir is one long. guess, in mm along the ray, is where to begin: the
// distance found for a ray beside it saves most of the work, and no guess makes the result wrong. 0 is none.
//
// In the box that holds the surface the equation is convex along any line, and it is nowhere negative
// on the box itself. So Newton's method from where the ray enters the box climbs to the nearest
// meeting and never over it, and has passed the surface by once the equation grows again.
func (s *Surface) Hit(from, dir Vec, guess float64) (p, normal Vec, ok bool) {
	enter, leave := s.box(from, dir)
	if enter > leave {
		return Vec{}, Vec{}, false
	}
	t, guessed := enter, guess > enter && guess < leave
	if guessed {
		t = guess
	}
	var g Vec
	for range 80 { // where the ray grazes, each step only halves what is left
		var f float64
		f, g = s.level(from.Along(dir, t))
		slope := g.Dot(dir)
		if slope >= 0 || t > leave {
			if !guessed {
				return Vec{}, Vec{}, false
			}
			t, guessed = enter, false // the guess was on the far side
			continue
		}
		step := -f / slope
		t = max(enter, t+step)
		if math.Abs(step) < 1e-3 { // the error left is of the order of its square
			break
		}
	}
	return from.Along(dir, t), g.Unit(), true
}

// box is where along a ray the box that holds the surface is entered and left, not before the ray's
// start; it enters after it leaves when the ray passes by.
func (s *Surface) box(from, dir Vec) (enter, leave float64) {
	ax, bx := slab(from.X, dir.X, -s.a, s.a)
	ay, by := slab(from.Y, dir.Y, -s.b, s.b)
	az, bz := slab(from.Z, dir.Z, -s.low, s.top)
	return max(0, ax, ay, az), min(bx, by, bz)
}

// slab is where along a ray a coordinate comes between two values, and where it leaves them.
func slab(from, dir, low, high float64) (enter, leave float64) {
	if dir == 0 {
		if from < low || from > high {
			return math.Inf(1), math.Inf(-1)
		}
		return math.Inf(-1), math.Inf(1)
	}
	one, other := (low-from)/dir, (high-from)/dir
	return min(one, other), max(one, other)
}

// Ear is the notch in front of the ear canal on one side of the head.
func (h *Head) Ear(side Side) Vec {
	p := h.earPoint()
	p.X *= float64(side)
	return p
}
