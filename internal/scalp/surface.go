package scalp

import "math"

// Surface is a closed convex surface, smooth and of positive curvature
// everywhere, symmetric left to right and front to back:
//
//	(X² + Y² + β(X⁴ + Y⁴))/(1+β) + (h + μh²)/(1+μ) = 1
//	X = x/a,  Y = y/b,  h = αz² + γz³,  h(top) = h(-low) = 1
//
// With β = μ = 0 and top = low it is an ellipsoid. A plain ellipsoid does not
// serve as a head: it is about 5 % short on the circumference of a measured
// length and breadth. A superellipsoid does not either: its curvature is zero
// along the midlines, where the paths that hair falls along would not be defined.
type Surface struct {
	a, b     float64 // half breadth, half length at z = 0
	top, low float64 // distances from z = 0 to the highest and lowest point
	beta, mu float64 // how much squarer than an ellipsoid, in plan and in height
	alpha    float64 // h = alpha z² + gamma z³
	gamma    float64
	inside   float64 // a depth below the surface that is inside it everywhere
}

// maxLowToTop is how much longer one half of the height may be than the other
// before the surface stops being convex.
const maxLowToTop = 1.366

func newSurface(a, b, top, low, beta, mu float64) Surface {
	s := Surface{a: a, b: b, top: top, low: low, beta: beta, mu: mu}
	s.gamma = (1/(top*top) - 1/(low*low)) / (top + low)
	s.alpha = (1 - s.gamma*top*top*top) / (top * top)
	s.inside = 0.75 * math.Min(math.Min(a, b), math.Min(top, low))
	return s
}

// level is the left side of the surface's equation less one: negative inside,
// zero on the surface, positive outside; with its gradient.
func (s *Surface) level(p Vec) (float64, Vec) {
	X, Y := p.X/s.a, p.Y/s.b
	X2, Y2 := X*X, Y*Y
	h := p.Z * p.Z * (s.alpha + s.gamma*p.Z)
	dh := p.Z * (2*s.alpha + 3*s.gamma*p.Z)
	kp, kh := 1/(1+s.beta), 1/(1+s.mu)
	f := kp*(X2+Y2+s.beta*(X2*X2+Y2*Y2)) + kh*h*(1+s.mu*h) - 1
	return f, Vec{
		kp * X * (2 + 4*s.beta*X2) / s.a,
		kp * Y * (2 + 4*s.beta*Y2) / s.b,
		kh * dh * (1 + 2*s.mu*h),
	}
}

// bend is the diagonal of the second derivative of level; the surface is a sum
// of functions of one coordinate each, so there is nothing off the diagonal.
func (s *Surface) bend(p Vec) Vec {
	X, Y := p.X/s.a, p.Y/s.b
	h := p.Z * p.Z * (s.alpha + s.gamma*p.Z)
	dh := p.Z * (2*s.alpha + 3*s.gamma*p.Z)
	ddh := 2*s.alpha + 6*s.gamma*p.Z
	kp, kh := 1/(1+s.beta), 1/(1+s.mu)
	return Vec{
		kp * (2 + 12*s.beta*X*X) / (s.a * s.a),
		kp * (2 + 12*s.beta*Y*Y) / (s.b * s.b),
		kh * (ddh*(1+2*s.mu*h) + 2*s.mu*dh*dh),
	}
}

// Normal is the outward unit normal at a point of the surface.
func (s *Surface) Normal(p Vec) Vec {
	_, g := s.level(p)
	return g.Unit()
}

// Curvature is the Gaussian curvature at a point of the surface, in 1/mm².
// For an implicit surface it is ∇fᵀ·adj(H)·∇f / |∇f|⁴ (Goldman 2005, "Curvature
// formulas for implicit curves and surfaces", eq. 4.1; from memory, held by the
// sphere and ellipsoid tests).
func (s *Surface) Curvature(p Vec) float64 {
	_, g := s.level(p)
	return gaussian(g, s.bend(p))
}

// gaussian is the curvature where the equation has the gradient g and the second derivatives h.
func gaussian(g, h Vec) float64 {
	g2 := g.Dot(g)
	return (h.Y*h.Z*g.X*g.X + h.X*h.Z*g.Y*g.Y + h.X*h.Y*g.Z*g.Z) / (g2 * g2)
}

// Settle moves a point near the surface onto it along the gradient.
func (s *Surface) Settle(p Vec) Vec {
	for range 12 {
		f, g := s.level(p)
		p = p.Along(g, -f/g.Dot(g))
		if math.Abs(f) < 1e-13 {
			break
		}
	}
	return p
}

// Shoot follows the geodesic that leaves p in the direction dir for the given
// length, in steps of at most 5 mm, and returns where it ends and its direction there.
func (s *Surface) Shoot(p, dir Vec, length MM) (Vec, Vec) {
	at := s.Travel(s.Leave(p, dir), length, 5)
	return at.Point, at.Dir
}
