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

// Plus is a + b.
func (a Vec) Plus(b Vec) Vec { return Vec{a.X + b.X, a.Y + b.Y, a.Z + b.Z} }

// Minus is a - b.
func (a Vec) Minus(b Vec) Vec { return Vec{a.X - b.X, a.Y - b.Y, a.Z - b.Z} }

// Times is k·a.
func (a Vec) Times(k float64) Vec { return Vec{a.X * k, a.Y * k, a.Z * k} }

// Along is a + k·d.
func (a Vec) Along(d Vec, k float64) Vec { return Vec{a.X + k*d.X, a.Y + k*d.Y, a.Z + k*d.Z} }

// Dot is the scalar product a·b.
func (a Vec) Dot(b Vec) float64 { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }

// Cross is the vector product a × b.
func (a Vec) Cross(b Vec) Vec {
	return Vec{a.Y*b.Z - a.Z*b.Y, a.Z*b.X - a.X*b.Z, a.X*b.Y - a.Y*b.X}
}

// Length is the length of a.
func (a Vec) Length() float64 { return math.Sqrt(a.Dot(a)) }

// Unit is a made one long. The zero vector has no direction and gives no number.
func (a Vec) Unit() Vec { return a.Times(1 / a.Length()) }

// Azimuth is the direction of the point seen from above, in degrees from the
// centre back, positive to the client's right, in (-180, 180]. It is singular
// at the top of the head.
func (a Vec) Azimuth() float64 { return math.Atan2(a.X, -a.Y) * 180 / math.Pi }
