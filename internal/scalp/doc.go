// Package scalp is the head in the chair as geometry: a smooth surface fitted
// to four tapes, the hairline and the no-go zones on it, distances along it,
// and the lines of the map on which rows of bonds are laid.
//
// # Frame
//
// x runs to the client's right, y forward, z up, in millimetres. z = 0 is the
// plane of the circumference tape, the widest level of the head. Positions
// round the head are azimuths in degrees from the centre back, positive to the
// client's right: 0 is the nape, 90 the right ear, 180 the forehead.
package scalp

import (
	"fmt"
	"math"
)

// MM is a length in millimetres. Every length that leaves this package is an
// MM; the arithmetic inside works on bare float64 coordinates in millimetres.
type MM float64

// String writes the length with one decimal and its unit, as a tape would read.
func (m MM) String() string { return fmt.Sprintf("%.1f mm", float64(m)) }

// Vec is a point or a direction in the frame of the package, in millimetres.
type Vec struct{ X, Y, Z float64 }

func (a Vec) plus(b Vec) Vec             { return Vec{a.X + b.X, a.Y + b.Y, a.Z + b.Z} }
func (a Vec) minus(b Vec) Vec            { return Vec{a.X - b.X, a.Y - b.Y, a.Z - b.Z} }
func (a Vec) times(k float64) Vec        { return Vec{a.X * k, a.Y * k, a.Z * k} }
func (a Vec) dot(b Vec) float64          { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }
func (a Vec) length() float64            { return math.Sqrt(a.dot(a)) }
func (a Vec) unit() Vec                  { return a.times(1 / a.length()) }
func (a Vec) along(d Vec, k float64) Vec { return Vec{a.X + k*d.X, a.Y + k*d.Y, a.Z + k*d.Z} }

func (a Vec) cross(b Vec) Vec {
	return Vec{a.Y*b.Z - a.Z*b.Y, a.Z*b.X - a.X*b.Z, a.X*b.Y - a.Y*b.X}
}

// Azimuth is the direction of the point seen from above, in degrees from the
// centre back, positive to the client's right, in (-180, 180]. It is singular
// at the top of the head.
func (a Vec) Azimuth() float64 { return math.Atan2(a.X, -a.Y) * 180 / math.Pi }
