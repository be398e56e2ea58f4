package fibre

import (
	"math"
	"sync/atomic"

	"example.org/underveil/internal/scalp"
)

// Field is how thickly the hair grows, place by place, on one head: a share of the density at the back
// of the head, which is where a count is taken. It may be read by several goroutines.
type Field struct {
	head     *scalp.Head
	hairline *scalp.Hairline
	regions  []region
	edge     edge
	wholeMM2 float64
}

// region is a part of the scalp by its middle.
type region struct {
	at    scalp.Vec
	share float64
}

// The shares of the regions, and of the margin along the hairline. The order is that of surveys:
// highest at the vertex, the back of the head not far below (Loussouarn 2001; Leerunyakul and
// Suchonwanit 2020), the front lower, the sides lowest (Rutnin 2022; Rojhirunsakool 2018). They print
// no figures that could be used here: the figures are an assumption.
const (
	shareVertex = 1.10
	shareBack   = 1.00
	shareFront  = 0.95
	shareSide   = 0.80
	shareNape   = 0.80
	shareMargin = 0.50 // of that, at the hairline; all of it from marginTo on, half of the way at 10 mm

	marginFrom, marginTo = 5.0, 15.0 // mm from the hairline
	spreadOfRegion       = 38        // mm: how far a region reaches into the next, so that no edge shows
)

// NewField is the field of a head with its hairline.
func NewField(head *scalp.Head, hairline *scalp.Hairline) *Field {
	mark := func(name string, side scalp.Side) scalp.Vec {
		return hairline.Landmark(scalp.Landmark{Name: name, Side: side})
	}
	midline := func(height scalp.MM) scalp.Vec { return head.LineAt(height).Point(0) }
	f := &Field{head: head, hairline: hairline, edge: newEdge(hairline.Points()), regions: []region{
		{midline(head.TopHeight()), shareVertex},
		{midline(head.HeightAtLevel(0)), shareBack},
		{mark(scalp.FrontCentre, scalp.Middle), shareFront},
		{mark(scalp.EarTop, scalp.Left), shareSide},
		{mark(scalp.EarTop, scalp.Right), shareSide},
		{mark(scalp.NapeCentre, scalp.Middle), shareNape},
	}}
	f.wholeMM2 = head.Integral(integralSteps, f.Share)
	return f
}

// integralSteps is how finely the scalp is summed; the hairline is then right to 0.3 % of its area.
const integralSteps = 90

// Share is the density at a point of the head as a share of that at the back; 0 outside the hairline.
func (f *Field) Share(p scalp.Vec) float64 {
	near, inside := f.edge.at(p, f.hairline.Contains)
	if !inside {
		return 0
	}
	whole := math.Min(math.Max((near-marginFrom)/(marginTo-marginFrom), 0), 1)
	return f.region(p) * (shareMargin + (1-shareMargin)*whole)
}

// region blends the shares of the regions by how near their middles are.
func (f *Field) region(p scalp.Vec) float64 {
	sum, weights := 0.0, 0.0
	for _, r := range f.regions {
		d := p.Minus(r.at)
		w := math.Exp(-d.Dot(d)/(2*spreadOfRegion*spreadOfRegion)) + 1e-9 // far from all, the mean
		sum += w * r.share
		weights += w
	}
	return sum / weights
}

// Hairs is how many hairs the head has when so many grow on a cm² at the back.
func (f *Field) Hairs(d Density) float64 { return d.PerMM2() * f.wholeMM2 }

// FromHairs is the density at the back of a head that has so many hairs.
func (f *Field) FromHairs(hairs float64) Density { return Density(hairs / f.wholeMM2 * 100) }

// Scalp is the area within the hairline, in cm².
func (f *Field) Scalp() float64 {
	return f.head.Integral(integralSteps, func(p scalp.Vec) float64 {
		if f.hairline.Contains(p) {
			return 1
		}
		return 0
	}) / 100
}

// edge finds how far a point is from the hairline, where that is less than marginTo. Space is cut into
// boxes that know which points of the hairline may be that near; one without any lies inside the
// hairline or outside it as a whole, and remembers which.
type edge struct {
	points []scalp.Vec
	near   [][]int32
	side   []atomic.Int32
}

const (
	boxSize  = marginTo
	boxReach = 12 // boxes from the middle of the head each way
	boxSide  = 2*boxReach + 1
	inside   = 1
	outside  = 2
)

func newEdge(points []scalp.Vec) edge {
	e := edge{points: points, near: make([][]int32, boxSide*boxSide*boxSide), side: make([]atomic.Int32, boxSide*boxSide*boxSide)}
	for i, p := range points {
		for dx := -boxSize; dx <= boxSize; dx += boxSize {
			for dy := -boxSize; dy <= boxSize; dy += boxSize {
				for dz := -boxSize; dz <= boxSize; dz += boxSize {
					b := box(p.Plus(scalp.Vec{X: dx, Y: dy, Z: dz}))
					e.near[b] = append(e.near[b], int32(i))
				}
			}
		}
	}
	return e
}

// box is the number of the box that holds a point. Those beyond the last share it.
func box(p scalp.Vec) int {
	at := func(v float64) int { return min(max(int(math.Floor(v/boxSize))+boxReach, 0), boxSide-1) }
	return (at(p.X)*boxSide+at(p.Y))*boxSide + at(p.Z)
}

// at is how far a point is from the hairline, at most marginTo, and whether it is inside.
func (e *edge) at(p scalp.Vec, contains func(scalp.Vec) bool) (near float64, in bool) {
	b := box(p)
	if len(e.near[b]) > 0 {
		least := marginTo * marginTo
		for _, i := range e.near[b] {
			d := e.points[i].Minus(p)
			least = math.Min(least, d.Dot(d))
		}
		return math.Sqrt(least), contains(p)
	}
	side := e.side[b].Load()
	if side == 0 {
		side = outside
		if contains(p) {
			side = inside
		}
		e.side[b].Store(side)
	}
	return marginTo, side == inside
}
