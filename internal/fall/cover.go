package fall

import (
	"fmt"
	"math"

	"example.org/underveil/internal/fibre"
	"example.org/underveil/internal/scalp"
)

// Weeks are the times, in weeks from the fitting, for which the cover is worked out: at the fitting, and
// at the two ends of the usual interval before strands are moved up.
var Weeks = [...]int{0, 6, 8}

// When is one of Weeks in words: "at the fitting", "in 6 weeks".
func When(time int) string {
	if time == 0 {
		return "at the fitting"
	}
	return fmt.Sprintf("in %d weeks", Weeks[time])
}

// Times is one value for each of Weeks.
type Times [len(Weeks)]scalp.MM

// Own is what the cover takes from the client's own hair and from the bonds in it.
type Own struct {
	Length scalp.MM // of the hair that covers, kept at that length; 0 where it is not known, and then it is long enough
	Past   scalp.MM // how far hair has to reach past a bond to hide it, or past the tie to be held by it
	Hang   Times    // how far from its root a bond hangs
}

// Style is the hair of one head worn one way.
type Style struct {
	Surface *scalp.Surface
	Roots   *fibre.Field
	Falls   *Source // what hair falls from, or nil where all of it is tied
	Tie     *Source // what hair is drawn to, or nil where all of it falls
	Section float64 // where some falls and some is tied, the level z from which up it is tied
}

// Tied reports whether hair rooted at a place is drawn to the tie.
func (st *Style) Tied(p scalp.Vec) bool {
	return st.Falls == nil || st.Tie != nil && p.Z > st.Section
}

// Cover is what lies over a bond rooted at one place of the scalp.
type Cover struct {
	Tied   bool
	Line   scalp.MM // from where the hair falls, or from the tie, to the root
	Rooted scalp.MM // how much of the line grows hair that lies over the bond at the fitting
	// Depth is the hair over the bond as mm of scalp as thick as the back of the head: times that
	// density, the hairs per mm of width over it.
	Depth Times
	// Full is Depth as it would be if the own hair were long enough; of hair that is tied it is Depth.
	Full Times
	// Aside is the angle between the hair and straight down, in degrees; 0 for hair that is tied.
	Aside float64
	// Edge is how far down the fall line from the root the hairline is; infinite for hair that is
	// tied, or where it is farther than a bond hangs at the last of the Times.
	Edge scalp.MM
}

// Hairs is how many hairs lie over a mm of width at one of the Times, where so many grow on a cm² at the back.
func (c *Cover) Hairs(d fibre.Density, time int) float64 {
	return d.PerMM2() * float64(c.Depth[time])
}

// At is the cover of a bond rooted at a place.
func (st *Style) At(p scalp.Vec, own Own) Cover {
	line, roots := st.over(p, own)
	c := Cover{Tied: st.Tied(p), Line: line.Length(), Edge: scalp.MM(math.Inf(1))}
	for time, hang := range own.Hang {
		from, to := roots.counting(c.Line, hang, own)
		if time == 0 {
			c.Rooted = roots.rooted(from, to)
		}
		spread := st.spreadAt(&line, hang, c.Tied)
		c.Depth[time] = roots.depth(from, to, spread)
		if c.Full[time] = c.Depth[time]; from > scalp.MM(roots.at[0]) {
			c.Full[time] = roots.depth(scalp.MM(roots.at[0]), to, spread)
		}
	}
	if !c.Tied {
		c.Aside = st.aside(line.End())
		c.Edge = st.edgeBelow(line.End(), own.Hang[len(own.Hang)-1])
	}
	return c
}

// Working is how the depth of a cover comes about: the depth is the sum of Share · Ratio over the samples,
// by trapezoids.
type Working struct {
	Tied    bool
	Line    scalp.MM // from the source, or from the tie, to the root
	Spread  float64  // of lines where the bond hangs: see Line.Spread
	From    scalp.MM // the stretch whose roots count, from the source or from the tie
	To      scalp.MM
	Samples []Sample // along that stretch
	Depth   scalp.MM
}

// Sample is one place of a working.
type Sample struct {
	At    scalp.MM // from the source, or from the tie
	Share float64  // of the density at the back
	Ratio float64  // of the hair rooted here that passes over a mm at the bond
}

// Working writes out the depth of the cover of a bond rooted at a place, at one of the Times.
func (st *Style) Working(p scalp.Vec, own Own, time int) Working {
	line, roots := st.over(p, own)
	from, to := roots.counting(line.Length(), own.Hang[time], own)
	w := Working{Tied: roots.tied, Line: line.Length(), From: from, To: to, Spread: st.spreadAt(&line, own.Hang[time], roots.tied)}
	w.Depth = roots.depth(from, to, w.Spread)
	for i, at := range roots.at {
		if i > 0 && float64(from) > roots.at[i-1] && float64(from) < at {
			w.Samples = append(w.Samples, roots.between(i, from, w.Spread))
		}
		if scalp.MM(at) >= from && scalp.MM(at) <= to {
			w.Samples = append(w.Samples, Sample{scalp.MM(at), roots.share[i], roots.ratio(i, w.Spread)})
		}
	}
	return w
}

// over is the fall line to a place, and the stretch of it, or of its going on from there, whose roots lie over the place.
func (st *Style) over(p scalp.Vec, own Own) (Line, strip) {
	if st.Tied(p) {
		line := st.Tie.To(p)
		return line, st.outward(&line, own)
	}
	line := st.Falls.To(p)
	roots := strip{}
	for i, at := range line.At {
		roots.add(float64(line.Step)*float64(i), st.Roots.Share(at.Point), line.Spread(at))
	}
	return line, roots
}

// spreadAt is how far lines have spread where a bond at the end of a line hangs: further down the line, or
// for hair that is tied nearer to the tie.
func (st *Style) spreadAt(line *Line, hang scalp.MM, tied bool) float64 {
	if tied {
		hang = -min(hang, line.Length())
	}
	return line.Spread(st.Surface.Travel(line.End(), hang, fineStep))
}

// strip is places along a line, mm from its source, with how thickly hair grows there and how far apart
// lines lie.
type strip struct {
	tied          bool
	at            []float64
	share, spread []float64
}

func (g *strip) add(at, share, spread float64) {
	g.at, g.share, g.spread = append(g.at, at), append(g.share, share), append(g.spread, spread)
}

// counting is the stretch of a strip whose hair counts for a bond that hangs some way from its root: worn
// down, the hair that reaches far enough past it.
func (g *strip) counting(root, hang scalp.MM, own Own) (from, to scalp.MM) {
	from, to = scalp.MM(g.at[0]), scalp.MM(g.at[len(g.at)-1])
	if !g.tied && own.Length > 0 {
		from = max(from, root+hang+own.Past-own.Length)
	}
	return from, to
}

// rooted is how much of the strip between two places grows hair.
func (g *strip) rooted(from, to scalp.MM) scalp.MM {
	sum := 0.0
	for i := 1; i < len(g.at); i++ {
		if a, b := math.Max(g.at[i-1], float64(from)), math.Min(g.at[i], float64(to)); a < b && g.share[i-1]+g.share[i] > 0 {
			sum += b - a
		}
	}
	return scalp.MM(sum)
}

// ratio is how much of the hair rooted at the i-th place passes over a mm where lines have spread so far.
// Lines that draw together count as if they ran side by side: straight hair on a real head crosses and lies
// over itself long before it would meet in a point.
func (g *strip) ratio(i int, spread float64) float64 {
	if g.spread[i] >= spread || spread <= 0 {
		return 1
	}
	return math.Max(g.spread[i], 0) / spread
}

// passing is how much hair rooted on a mm of the strip at the i-th place passes over a mm where lines have spread so far.
func (g *strip) passing(i int, spread float64) float64 { return g.share[i] * g.ratio(i, spread) }

// between is a place of the strip between the i-th and the one before, where lines have spread so far: so much hair passes as lies
// evenly between what passes at both.
func (g *strip) between(i int, at scalp.MM, spread float64) Sample {
	t := (float64(at) - g.at[i-1]) / (g.at[i] - g.at[i-1])
	s := Sample{At: at, Share: g.share[i-1] + t*(g.share[i]-g.share[i-1])}
	if s.Share > 0 {
		s.Ratio = (g.passing(i-1, spread)*(1-t) + g.passing(i, spread)*t) / s.Share
	}
	return s
}

// depth is the hair rooted between two places of the strip that passes over a mm where lines have spread so
// far: the sum of share · ratio · ds, by trapezoids.
func (g *strip) depth(from, to scalp.MM, spread float64) scalp.MM {
	sum := 0.0
	for i := 1; i < len(g.at); i++ {
		a, b := math.Max(g.at[i-1], float64(from)), math.Min(g.at[i], float64(to))
		if a >= b {
			continue
		}
		va, vb := g.passing(i-1, spread), g.passing(i, spread)
		slope := (vb - va) / (g.at[i] - g.at[i-1])
		sum += (b - a) * (va + slope*((a+b)/2-g.at[i-1]))
	}
	return scalp.MM(sum)
}

// aside is the angle, in degrees, between the way hair falls and the steepest way down.
func (st *Style) aside(at scalp.Station) float64 {
	n := st.Surface.Normal(at.Point)
	down := scalp.Vec{Z: -1}.Along(n, n.Z)
	long := down.Length()
	if long < 1e-9 {
		return 0 // at the very top there is no way down
	}
	return math.Acos(math.Max(-1, math.Min(at.Dir.Dot(down)/long, 1))) * 180 / math.Pi
}

// edgeBelow is how far along the fall line from a station the hair ends; infinite where that is farther than reach.
func (st *Style) edgeBelow(at scalp.Station, reach scalp.MM) scalp.MM {
	for far := 0.0; far < float64(reach); far += fineStep {
		next := st.Surface.Follow(at, fineStep)
		if st.Roots.Share(next.Point) == 0 {
			if short, _, _ := st.crossing(at, fineStep, st.Roots.Share); far+short <= float64(reach) {
				return scalp.MM(far + short)
			}
			break
		}
		at = next
	}
	return scalp.MM(math.Inf(1))
}

// crossing is where within a step from a station hair ends, or begins: how far on, how thick it is there, and how
// far geodesics from one point have spread.
func (st *Style) crossing(at scalp.Station, step float64, grows func(scalp.Vec) float64) (on, share, fan float64) {
	bare := grows(at.Point) == 0
	in, out := 0.0, step
	for out-in > 0.02 {
		if mid := (in + out) / 2; (grows(st.Surface.Follow(at, mid).Point) == 0) != bare {
			out = mid
		} else {
			in = mid
		}
	}
	a, b := st.Surface.Follow(at, in), st.Surface.Follow(at, out)
	return in, math.Max(grows(a.Point), grows(b.Point)), a.Fan
}

// outward is the stretch from the root at the end of a line to the tie on outwards, as far as hair is drawn
// along it: to where it would not reach the tie, or where neighbouring lines meet in a point. It goes on over
// bare skin, for hair in front of an ear is drawn back over it, and over the middle on the far side of the
// head, where hair is combed straight on rather than parted.
func (st *Style) outward(line *Line, own Own) strip {
	roots := strip{tied: true}
	at, far := line.End(), float64(line.Length())
	farthest := far + mostOutward
	if own.Length > 0 {
		farthest = math.Min(farthest, float64(own.Length-own.Past)) // what is rooted farther out does not reach the tie
	}
	for roots.add(far, st.drawn(at.Point), at.Fan); far < farthest && at.Fan >= 0; {
		step := math.Min(fineStep, farthest-far)
		next := st.Surface.Follow(at, step)
		share := st.drawn(next.Point)
		if before := roots.share[len(roots.share)-1]; (before == 0) != (share == 0) {
			on, thick, fan := st.crossing(at, step, st.drawn)
			for _, there := range [2]float64{before, share} { // hair ends, or begins, at once
				roots.add(far+on, edgeShare(there, thick), fan)
			}
		}
		at, far = next, far+step
		roots.add(far, share, at.Fan)
	}
	return roots
}

// edgeShare is how thick hair is at its edge, on the side on which it is there or not.
func edgeShare(beyond, thick float64) float64 {
	if beyond == 0 {
		return 0
	}
	return thick
}

// mostOutward is as far as hair is drawn over a bond, in mm: longer than the way over any head.
const mostOutward = 300

// drawn is how thickly the hair grows at a place, of that which is drawn to the tie.
func (st *Style) drawn(p scalp.Vec) float64 {
	if st.Falls != nil && p.Z < st.Section {
		return 0
	}
	return st.Roots.Share(p)
}
