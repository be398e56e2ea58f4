package bust

import (
	"math"

	"example.org/underveil/internal/scalp"
)

// mask tells hair from skin as scalp.Hairline.Contains does, in a few nanoseconds instead of
// several hundred: the levels at which the hairline is crossed are worked out beforehand for
// directions all round the head.
type mask struct {
	crossings [directionsRound][]float64 // levels z, in no order
}

// directionsRound is how finely the directions are told apart: about 0.6 mm on the head.
const directionsRound = 1024

// quarter grows round the head like the azimuth, from 0 to 4 and a quarter of the way for each
// 90 degrees, without a call of the arc tangent.
func quarter(p scalp.Vec) float64 {
	x, back := p.X, -p.Y
	along := x / (math.Abs(x) + math.Abs(back))
	switch {
	case back < 0:
		return 2 - along
	case x < 0:
		return 4 + along
	}
	return along
}

// direction is the number of the direction in which a quarter lies.
func direction(q float64) int { return int(q*directionsRound/4) & (directionsRound - 1) }

func newMask(line []scalp.Vec) *mask {
	m := &mask{}
	for i, p := range line {
		next := line[(i+1)%len(line)]
		m.cross(quarter(p), p.Z, quarter(next), next.Z)
	}
	return m
}

// cross notes where a piece of the hairline passes the middles of the directions.
func (m *mask) cross(q, z, q2, z2 float64) {
	q2 = q + math.Remainder(q2-q, 4) // the short way round
	if q2 < q {
		q, z, q2, z2 = q2, z2, q, z
	}
	const step = 4.0 / directionsRound
	for k := math.Ceil(q/step - 0.5); ; k++ {
		at := (k + 0.5) * step
		if at >= q2 { // the end belongs to the next piece
			return
		}
		i := int(k) & (directionsRound - 1)
		m.crossings[i] = append(m.crossings[i], z+(z2-z)*(at-q)/(q2-q))
	}
}

// hair reports whether a point of the head is inside the hairline: the top is, and each
// crossing on the way up to it changes sides.
func (m *mask) hair(p scalp.Vec) bool {
	inside := true
	for _, z := range m.crossings[direction(quarter(p))] {
		if z > p.Z {
			inside = !inside
		}
	}
	return inside
}
