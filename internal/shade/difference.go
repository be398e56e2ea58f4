package shade

import (
	"cmp"
	"math"
	"slices"
)

// Perceptible is the difference by CIEDE2000 below which the eye hardly sees one. Studies of teeth found 0.8 to 1.7
// (review: Mustansiria Dental Journal 2023;19:280); none was found for hair, so that 1 is an assumption.
const Perceptible = 1.0

// Difference is how different two colours look by CIEDE2000, with the weights kL, kC and kH all 1. It is the same in
// either order. Source of all constants: Sharma, Wu and Dalal 2005, Color Research and Application 30:21-30,
// doi 10.1002/col.20070, whose symbols stand behind the names.
func Difference(a, b Lab) float64 {
	stretch := redStretch((math.Hypot(a.A, a.B) + math.Hypot(b.A, b.B)) / 2)
	p, q := polarOf(a, stretch), polarOf(b, stretch)
	lightness, chroma, hue := (p.lightness+q.lightness)/2, (p.chroma+q.chroma)/2, meanHue(p, q)

	fromGrey := (lightness - 50) * (lightness - 50)
	lightnessScale := 1 + 0.015*fromGrey/math.Sqrt(20+fromGrey)                   // S_L
	chromaScale := 1 + 0.045*chroma                                               // S_C
	hueScale := 1 + 0.015*chroma*hueWeight(hue)                                   // S_H
	fromBlue := (hue - radians(275)) / radians(25)                                // the hue at which blues are bent
	turn := radians(60) * math.Exp(-fromBlue*fromBlue)                            // 2Δθ
	rotation := -math.Sin(turn) * 2 * saturation(chroma)                          // R_T
	dL := (q.lightness - p.lightness) / lightnessScale                            // ΔL'/S_L
	dC := (q.chroma - p.chroma) / chromaScale                                     // ΔC'/S_C
	dH := 2 * math.Sqrt(p.chroma*q.chroma) * math.Sin(hueStep(p, q)/2) / hueScale // ΔH'/S_H
	// The rotation is never beyond 2 either side, so that the sum is only ever below zero by rounding.
	return math.Sqrt(math.Max(0, dL*dL+dC*dC+dH*dH+rotation*dC*dH))
}

// polar is a colour by its hue, in radians from 0 up to a full turn. Grey has any: beside grey a step of hue has no
// length, and all that is made of hues is only ever a factor to it.
type polar struct{ lightness, chroma, hue float64 }

// polarOf is a colour by its hue, after a* is stretched.
func polarOf(c Lab, stretch float64) polar {
	a := stretch * c.A
	hue := math.Atan2(c.B, a)
	if hue < 0 {
		hue += 2 * math.Pi
	}
	return polar{lightness: c.L, chroma: math.Hypot(a, c.B), hue: hue}
}

// halfTurn is π with room for rounding: hues that are just opposite each other are to count as such, since the mean
// hue jumps there.
const halfTurn = math.Pi + 1e-12

// hueStep is the turn from one hue to the other the shorter way round, Δh'.
func hueStep(p, q polar) float64 {
	step := q.hue - p.hue
	switch {
	case step > halfTurn:
		return step - 2*math.Pi
	case step < -halfTurn:
		return step + 2*math.Pi
	}
	return step
}

// meanHue is the hue halfway between two the shorter way round, h̄'.
func meanHue(p, q polar) float64 {
	sum := p.hue + q.hue
	switch {
	case math.Abs(p.hue-q.hue) <= halfTurn:
		return sum / 2
	case sum < 2*math.Pi:
		return sum/2 + math.Pi
	}
	return sum/2 - math.Pi
}

// redStretch is how much longer a* becomes for a mean chroma, so that differences between near greys come out
// even: 1 + G.
func redStretch(chroma float64) float64 { return 1 + 0.5*(1-saturation(chroma)) }

// saturation goes from 0 for grey to 1 for the strongest colours: √(C⁷/(C⁷+25⁷)).
func saturation(chroma float64) float64 {
	ratio := chroma / 25
	squared := ratio * ratio
	seventh := squared * squared * squared * ratio
	return math.Sqrt(seventh / (seventh + 1))
}

// hueWeight is how much more a step of hue counts at one hue than at another: T.
func hueWeight(hue float64) float64 {
	return 1 - 0.17*math.Cos(hue-radians(30)) + 0.24*math.Cos(2*hue) +
		0.32*math.Cos(3*hue+radians(6)) - 0.20*math.Cos(4*hue-radians(63))
}

func radians(degrees float64) float64 { return degrees * math.Pi / 180 }

// Near is a shade of stock, by its index, with its difference from what is wanted.
type Near struct {
	Index      int
	Difference float64
}

// Rank is the stock with what looks most like the target first; of equals the one that comes first in stock.
func Rank(target Lab, stock []Lab) []Near {
	ranked := make([]Near, len(stock))
	for i, c := range stock {
		ranked[i] = Near{Index: i, Difference: Difference(target, c)}
	}
	slices.SortStableFunc(ranked, func(a, b Near) int { return cmp.Compare(a.Difference, b.Difference) })
	return ranked
}
