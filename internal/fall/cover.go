package fall

import (
	"math"

	"example.org/underveil/internal/fibre"
	"example.org/underveil/internal/scalp"
)

// Weeks are the times, in weeks from the fitting, for which the cover is worked out: at the fitting, and
// at the two ends of the usual interval before strands are moved up.
var Weeks = [...]int{0, 6, 8}

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
			c.Rooted = max(0, to-from)
		}
		c.Depth[time] = roots.depth(from, to, st.spreadAt(&line, hang, c.Tied))
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
	Samples []Sample // along the stretch that counts
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
	w := Working{Tied: roots.tied, Line: line.Length(), Spread: st.spreadAt(&line, own.Hang[time], roots.tied)}
	w.Depth = roots.depth(from, to, w.Spread)
	for i, at := range roots.at {
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
	return line.Spread(st.beyond(line.End(), hang))
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

// ratio is how much of the hair rooted at the i-th place passes over a mm where lines have spread so far.
// Lines that draw together count as if they ran side by side: straight hair on a real head crosses and lies
// over itself long before it would meet in a point.
func (g *strip) ratio(i int, spread float64) float64 {
	if g.spread[i] >= spread || spread <= 0 {
		return 1
	}
	return math.Max(g.spread[i], 0) / spread
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
		va, vb := g.share[i-1]*g.ratio(i-1, spread), g.share[i]*g.ratio(i, spread)
		slope := (vb - va) / (g.at[i] - g.at[i-1])
		sum += (b - a) * (va + slope*((a+b)/2-g.at[i-1]))
	}
	return scalp.MM(sum)
}

// beyond is the station some mm past another, or before it where that is less than 0.
func (st *Style) beyond(at scalp.Station, far scalp.MM) scalp.Station {
	steps := math.Ceil(math.Abs(float64(far)) / fineStep)
	for range int(steps) {
		at = st.Surface.Follow(at, float64(far)/steps)
	}
	return at
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
	bare := func(p scalp.Vec) bool { return st.Roots.Share(p) == 0 }
	for far := 0.0; far < float64(reach); far += fineStep {
		next := st.Surface.Follow(at, fineStep)
		if bare(next.Point) {
			_, short := st.last(at, fineStep, bare)
			return scalp.MM(far + short)
		}
		at = next
	}
	return scalp.MM(math.Inf(1))
}

// last is the last station within a step at which something has not come about that has by its end, and
// how far on it is.
func (st *Style) last(at scalp.Station, step float64, gone func(scalp.Vec) bool) (scalp.Station, float64) {
	in, out := 0.0, step
	for out-in > 0.02 {
		if mid := (in + out) / 2; gone(st.Surface.Follow(at, mid).Point) {
			out = mid
		} else {
			in = mid
		}
	}
	return st.Surface.Follow(at, in), in
}

// outward is the stretch from the root at the end of a line to the tie on outwards, to the last place whose
// hair is drawn over that root. On the far side of the head, where lines from a low tie come together from
// both sides, hair is combed straight on over the middle rather than parted there; so the stretch goes on
// to where neighbouring lines meet in a point.
func (st *Style) outward(line *Line, own Own) strip {
	roots := strip{tied: true}
	at, far := line.End(), float64(line.Length())
	farthest := math.Inf(1)
	if own.Length > 0 {
		farthest = float64(own.Length - own.Past) // what is rooted farther out does not reach the tie
	}
	add := func() { roots.add(far, st.Roots.Share(at.Point), at.Fan) }
	for add(); far < farthest && at.Fan > 0 && !st.ends(at.Point); add() {
		step := math.Min(fineStep, farthest-far)
		next := st.Surface.Follow(at, step)
		if st.ends(next.Point) {
			at, step = st.last(at, step, st.ends)
			far += step
			add()
			break
		}
		at, far = next, far+step
	}
	return roots
}

// ends reports whether hair that is drawn to the tie ends before a place: at the hairline, or at the
// section line.
func (st *Style) ends(p scalp.Vec) bool {
	return st.Roots.Share(p) == 0 || st.Falls != nil && p.Z < st.Section
}
