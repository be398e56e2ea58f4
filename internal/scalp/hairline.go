package scalp

import (
	"fmt"
	"math"
	"slices"
)

// Landmark names one point of the hairline. Points off the midline come twice,
// once a side.
type Landmark struct {
	Name string
	Side Side
}

// Side is a side of the client's head.
type Side int8

// The midline, and the client's own left and right.
const (
	Left   Side = -1
	Middle Side = 0
	Right  Side = 1
)

// String is the side as a word, empty for the midline.
func (s Side) String() string {
	switch s {
	case Left:
		return "left"
	case Right:
		return "right"
	}
	return ""
}

// String is the landmark as people say it: "temple point left".
func (l Landmark) String() string {
	if l.Side == Middle {
		return l.Name
	}
	return l.Name + " " + l.Side.String()
}

// The names of the hairline's points, from the nape up the side to the front.
const (
	NapeCentre      = "nape centre"
	NapeCorner      = "nape corner"
	BehindEar       = "behind the ear"
	EarBack         = "ear back"
	EarTop          = "ear top"
	EarFront        = "ear front"
	SideburnBack    = "sideburn back"
	SideburnFront   = "sideburn front"
	TemplePoint     = "temple point"
	RecessionCorner = "recession corner"
	FrontCentre     = "front centre"
)

// Shift moves a landmark on the map from where it is by default: to the right along
// its level, and up by height. Left and right are the map's, as the back of
// the head is seen.
type Shift struct{ Right, Up MM }

// Mirrored is the same shift for the landmark on the other side.
func (s Shift) Mirrored() Shift { return Shift{-s.Right, s.Up} }

// MaxShift is the most a landmark may be moved either way.
const MaxShift MM = 60

// place is where a landmark lies by default: azimuth in degrees and level z.
// Apart from the nape corner and the front centre, which the tapes give, these
// are an ordinary hairline drawn by us (assumption: no published means were
// found), which is why every one of them can be moved.
func (h *Head) place(name string) (azimuth, z float64) {
	switch name {
	case NapeCentre:
		return 0, h.midlinePoint(0).Z
	case NapeCorner:
		return h.corner, h.midlinePoint(napeCornerUp).Z
	case BehindEar:
		return 64, math.Max(-earBelow-24, -0.9*h.low) // on the head, however small it is
	case EarBack:
		return 70, -earBelow + 6
	case EarTop:
		return 82, -earBelow + 27
	case EarFront:
		return 92, -earBelow + 18
	case SideburnBack:
		return 94, -earBelow + 2
	case SideburnFront:
		return 103, -earBelow + 3
	case TemplePoint:
		return 113, 18
	case RecessionCorner:
		return 138, math.Min(h.roundZ+6, (h.roundZ+h.top)/2)
	default: // FrontCentre
		return 180, h.roundZ
	}
}

// rightSide lists the landmarks from the nape up the client's right side.
var rightSide = []string{
	NapeCentre, NapeCorner, BehindEar, EarBack, EarTop, EarFront,
	SideburnBack, SideburnFront, TemplePoint, RecessionCorner, FrontCentre,
}

// Landmarks lists every point of the hairline in order: up the client's right side from
// the nape to the front, and down the left.
func Landmarks() []Landmark {
	ring := make([]Landmark, 0, 2*len(rightSide)-2)
	for _, name := range rightSide {
		side := Right
		if name == NapeCentre || name == FrontCentre {
			side = Middle
		}
		ring = append(ring, Landmark{name, side})
	}
	for i := len(rightSide) - 2; i > 0; i-- {
		ring = append(ring, Landmark{rightSide[i], Left})
	}
	return ring
}

// hairStep is the longest piece of the hairline between two of its vertices, in mm.
const hairStep = 2.5

// Hairline is the closed curve round the hair: straight on the map from
// landmark to landmark, in pieces of at most 2.5 mm.
type Hairline struct {
	head  *Head
	marks map[Landmark]Vec
	// The vertices as azimuth and level, once round from the nape centre with
	// the azimuth running on past 180 degrees, and where each landmark is among them.
	azimuth, level []float64
	least, most    float64 // of the azimuths
	start          map[Landmark]int
}

// Hairline draws the head's hairline with some landmarks moved.
func (h *Head) Hairline(moved map[Landmark]Shift) (*Hairline, error) {
	line := &Hairline{head: h, marks: map[Landmark]Vec{}, start: map[Landmark]int{}}
	ring := Landmarks()
	type corner struct{ azimuth, z float64 }
	corners := make([]corner, 0, len(ring)+1)
	for _, l := range ring {
		az, z, err := h.moved(l, moved[l])
		if err != nil {
			return nil, err
		}
		line.marks[l] = h.atLevel(az, z)
		if l.Side == Left {
			az += 360
		}
		corners = append(corners, corner{az, z})
	}
	corners = append(corners, corner{corners[0].azimuth + 360, corners[0].z})
	for i, l := range ring {
		from, to := corners[i], corners[i+1]
		line.start[l] = len(line.level)
		at := func(t float64) (azimuth, z float64) {
			return from.azimuth + t*(to.azimuth-from.azimuth), from.z + t*(to.z-from.z)
		}
		pieces := h.pieces(at)
		for k := range pieces {
			az, z := at(float64(k) / float64(pieces))
			line.azimuth = append(line.azimuth, az)
			line.level = append(line.level, z)
		}
	}
	line.azimuth = append(line.azimuth, corners[0].azimuth+360)
	line.level = append(line.level, corners[0].z)
	line.least, line.most = slices.Min(line.azimuth), slices.Max(line.azimuth)
	return line, nil
}

// pieces is how many equal steps of t from 0 to 1 cut a line of the map into pieces of at
// most hairStep. The pieces differ, since a degree is longer at the widest level.
func (h *Head) pieces(at func(t float64) (azimuth, z float64)) int {
	for n := 1; ; {
		longest := 0.0
		before := h.atLevel(at(0))
		for k := 1; k <= n; k++ {
			p := h.atLevel(at(float64(k) / float64(n)))
			longest = math.Max(longest, p.Minus(before).Length())
			before = p
		}
		if longest <= hairStep {
			return n
		}
		n = max(n+1, int(math.Ceil(float64(n)*longest/hairStep)))
	}
}

// moved is a landmark's azimuth and level after its shift.
func (h *Head) moved(l Landmark, by Shift) (azimuth, z float64, err error) {
	azimuth, z = h.place(l.Name)
	if l.Side == Left {
		azimuth = -azimuth
	}
	if by == (Shift{}) {
		return azimuth, z, nil
	}
	if math.Abs(float64(by.Right)) > float64(MaxShift) || math.Abs(float64(by.Up)) > float64(MaxShift) {
		return 0, 0, fmt.Errorf("%s is moved by more than %.0f mm", l, float64(MaxShift))
	}
	height := h.HeightAtLevel(z) + by.Up
	if top := h.heightOf(Vec{Z: h.top}); height > top-20 {
		return 0, 0, fmt.Errorf("%s is moved too near the top of the head", l)
	}
	z = h.midlinePoint(height).Z
	if z < -0.97*h.low {
		return 0, 0, fmt.Errorf("%s is moved under the head", l)
	}
	level := section{s: &h.Surface, o: Vec{Z: z}, u: Vec{Y: -1}, v: Vec{X: 1}}
	turn, _ := level.advance(azimuth*math.Pi/180, float64(by.Right), h.a)
	return turn * 180 / math.Pi, z, nil
}

// Landmark is where a landmark lies on the head.
func (l *Hairline) Landmark(m Landmark) Vec { return l.marks[m] }

// Points are the vertices of the hairline, once round from the nape centre up the client's right, at
// most 2.5 mm apart.
func (l *Hairline) Points() []Vec {
	pts := make([]Vec, len(l.level)-1) // the last vertex is the first again
	for i := range pts {
		pts[i] = l.head.atLevel(l.azimuth[i], l.level[i])
	}
	return pts
}

// Contains reports whether a point of the head is inside the hairline. It
// counts how often the hairline is crossed on the way straight up to the top of
// the head, which is always inside; the hairline may overhang, as above the ears.
func (l *Hairline) Contains(p Vec) bool {
	inside := true
	// The vertices' azimuths run on past 360 degrees, or back past 0, where a
	// landmark is moved across the centre back.
	az := p.Azimuth()
	for az += 360 * math.Ceil((l.least-az)/360); az <= l.most; az += 360 {
		for i := 1; i < len(l.azimuth); i++ {
			a, b := l.azimuth[i-1], l.azimuth[i]
			if (a <= az) == (b <= az) {
				continue
			}
			t := (az - a) / (b - a)
			if l.level[i-1]+t*(l.level[i]-l.level[i-1]) > p.Z {
				inside = !inside
			}
		}
	}
	return inside
}

// between is the piece of the hairline from one landmark on to another, as a curve.
func (l *Hairline) between(from, to Landmark) Curve {
	i, end := l.start[from], l.start[to]
	var pts []Vec
	for {
		pts = append(pts, l.head.atLevel(l.azimuth[i], l.level[i]))
		if i == end {
			return l.head.Curve(pts)
		}
		if i++; i == len(l.azimuth)-1 { // the last vertex is the first again
			i = 0
		}
	}
}
