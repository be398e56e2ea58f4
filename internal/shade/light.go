package shade

import "math"

// light is the light of a colour as CIE XYZ, where Y of white is 1. It is linear: that of two lights together is
// their sum, which the numbers of sRGB and of L*a*b* are not.
type light struct{ x, y, z float64 }

// fromRGB gives the light of sRGB's three primaries, each linear and 1 at full power. Its rows add up to white.
//
// Source: the chromaticities of the primaries in IEC 61966-2-1, R (0.64, 0.33), G (0.30, 0.60) and B (0.15, 0.06), and
// D65 as ASTM E308 has it for the 2° observer, (0.95047, 1, 1.08883); both from memory. The test works the matrix
// out of them.
var fromRGB = [3][3]float64{
	{0.4124564390896921, 0.35757607764390897, 0.18043748326639893},
	{0.21267285140562249, 0.71515215528781794, 0.072174993306559572},
	{0.019333895582329317, 0.11919202588130299, 0.95030407853636769},
}

// toRGB is the inverse of fromRGB.
var toRGB = [3][3]float64{
	{3.2404541621141055, -1.5371385127977167, -0.49853140955601624},
	{-0.96926603050518677, 1.8760108454466941, 0.041556017530349838},
	{0.055643430959114691, -0.20402591351675387, 1.0572251882231791},
}

// white is D65 as it comes out of fromRGB, so that sRGB's greys have no colour at all.
var white = apply(fromRGB, [3]float64{1, 1, 1})

// apply is a matrix times a column.
func apply(m [3][3]float64, v [3]float64) light {
	row := func(i int) float64 { return m[i][0]*v[0] + m[i][1]*v[1] + m[i][2]*v[2] }
	return light{row(0), row(1), row(2)}
}

// decode is the power, from 0 to 1, of a primary that is written as the given byte. Source: IEC 61966-2-1, from memory.
func decode(written uint8) float64 {
	v := float64(written) / 255
	if v <= 0.04045 {
		return v / 12.92
	}
	return math.Pow((v+0.055)/1.055, 2.4)
}

// encode is the byte that is nearest to a power: the inverse of decode. A power that no screen has, below 0 or
// above 1, becomes the nearest that it has.
func encode(power float64) uint8 {
	v := 12.92 * power
	if power > 0.0031308 {
		v = 1.055*math.Pow(power, 1/2.4) - 0.055
	}
	return uint8(math.Round(255 * math.Max(0, math.Min(v, 1))))
}

// ofRGB is the light of a colour in sRGB.
func ofRGB(red, green, blue uint8) light {
	return apply(fromRGB, [3]float64{decode(red), decode(green), decode(blue)})
}

// rgb is the light in sRGB, each primary by itself as near as a screen comes to it.
func (l light) rgb() (red, green, blue uint8) {
	powers := apply(toRGB, [3]float64{l.x, l.y, l.z})
	return encode(powers.x), encode(powers.y), encode(powers.z)
}

// The two constants of L*a*b*, as the exact fractions that join its two pieces without a step. Source: CIE 15:2004.
const (
	threshold = 216.0 / 24389 // below it lightness goes straight
	slope     = 24389.0 / 27  // how steeply L* goes there
)

// lab is the light in L*a*b*.
func (l light) lab() Lab {
	x, y, z := compress(l.x/white.x), compress(l.y/white.y), compress(l.z/white.z)
	return Lab{L: 116*y - 16, A: 500 * (x - y), B: 200 * (y - z)}
}

// light is the inverse of lab.
func (c Lab) light() light {
	y := (c.L + 16) / 116
	x, z := y+c.A/500, y-c.B/200
	return light{expand(x) * white.x, expand(y) * white.y, expand(z) * white.z}
}

// compress turns a share of white's light into the cube root that L*a*b* works with.
func compress(share float64) float64 {
	if share > threshold {
		return math.Cbrt(share)
	}
	return (slope*share + 16) / 116
}

// expand is the inverse of compress.
func expand(root float64) float64 {
	if cube := root * root * root; cube > threshold {
		return cube
	}
	return (116*root - 16) / slope
}

// add is this light and a share of another's.
func (l light) add(other light, share float64) light {
	return light{l.x + share*other.x, l.y + share*other.y, l.z + share*other.z}
}

// Part is a colour in a mixture, with how much there is of it in any unit, the same for all parts.
type Part struct {
	Colour Lab
	Share  float64
}

// Mix is the colour of parts that lie so fine beside each other that the eye does not tell them apart: the mean of
// their light. An assumption for hair, no source: light that goes from one fibre on to the next is left out. A part
// with no share above zero counts for nothing, and a mixture of nothing is black.
func Mix(parts []Part) Lab {
	var sum light
	var shares float64
	for _, p := range parts {
		if p.Share > 0 {
			sum, shares = sum.add(p.Colour.light(), p.Share), shares+p.Share
		}
	}
	if shares == 0 {
		return Lab{}
	}
	return light{}.add(sum, 1/shares).lab()
}
