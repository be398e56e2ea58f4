package fall

import (
	"math"

	"example.org/underveil/internal/scalp"
)

// Line is a fall line: the geodesic from a source to a place on the scalp.
type Line struct {
	At   []scalp.Station // equal steps apart, from the source to the place
	Step scalp.MM
	bend float64 // how fast lines beside it spread as they set out, per mm
	fan  bool    // they set out from one point
}

// Length is how far the place is from the source.
func (l *Line) Length() scalp.MM { return l.Step * scalp.MM(len(l.At)-1) }

// End is the place that the line leads to.
func (l *Line) End() scalp.Station { return l.At[len(l.At)-1] }

// Spread is how far apart lines beside this one have come at a station: 1 where they set out from a
// curve, and mm per radian where they set out from a point. Where they have met it is 0 or less.
func (l *Line) Spread(at scalp.Station) float64 {
	if l.fan {
		return at.Fan
	}
	return at.Line + l.bend*at.Fan
}

// misses is how far a line ends from a place, in mm.
func (l *Line) misses(p scalp.Vec) float64 { return p.Minus(l.End().Point).Length() }

// start is how a line sets out: from the side of the source, or from an end of it.
type start struct {
	tip   int     // 0 from the side, 1 from the far end, -1 from the near end or from a source of one point
	along float64 // of the place on the source, where from the side
	side  float64 // 1 to the left, -1 to the right
	turn  float64 // at an end: radians from the left through straight ahead, π being right; all round at a point
}

const (
	longStep  = 10   // mm: while the line is being looked for
	fineStep  = 5    // mm: the line as it is kept
	hitWithin = 0.02 // mm: near enough to the place
	tries     = 16
	aroundBy  = 0.4 // radians: how far to the side a shorter line is looked for
)

// To is the line from the source to a place on the scalp: the shortest one. Where several are nearly as
// short, on the far side of the head, it may be another of them.
func (c *Source) To(p scalp.Vec) Line {
	at, far := c.aim(p)
	l := c.seek(p, at, far)
	if l.fan && l.End().Fan <= 0 { // past where lines meet there is a shorter one to the side
		at.turn += aroundBy
		if round := c.seek(p, at, far); round.Length() < l.Length() && round.misses(p) <= math.Max(l.misses(p), hitWithin) {
			return round
		}
	}
	return l
}

// seek goes from a first guess to the line that hits the place, by Newton's method: the spread is how much
// the end of a line moves for its start. Where the source turns sharply, and the spread is smoothed, how much it
// has just moved says it better.
func (c *Source) seek(p scalp.Vec, at start, far float64) Line {
	best, bestFar, least := at, far, math.Inf(1)
	var before start
	var missed float64 // to the left, by the line before
	for try := range tries {
		end, l := c.shoot(at, far)
		off := p.Minus(end.Point)
		if miss := off.Length(); miss < least {
			best, bestFar, least = at, far, miss
		}
		if least < hitWithin {
			break
		}
		across := off.Dot(c.surface.Normal(end.Point).Cross(end.Dir))
		moves := at.moves(l.Spread(end), end.Fan)
		if by := at.after(before); try > 0 && by != 0 {
			if seen := (missed - across) / by; seen*moves > 0 {
				moves = seen
			}
		}
		before, missed = at, across
		far = math.Max(0, far+off.Dot(end.Dir))
		at = c.swing(at, across/moves)
	}
	return c.trace(best, bestFar)
}

// moves is how far the end of a line moves to its left for a mm along the source, or for a radian at an end of it.
func (at start) moves(spread, fan float64) float64 {
	if at.tip == 0 {
		return -at.side * math.Max(spread, 0.05)
	}
	return -float64(at.tip) * math.Max(fan, 1)
}

// after is how far a start lies from another, in mm or radians; 0 where the two do not compare.
func (at start) after(other start) float64 {
	switch {
	case at.tip != other.tip || at.side != other.side:
		return 0
	case at.tip == 0:
		return at.along - other.along
	}
	return at.turn - other.turn
}

// aim is a first guess of how the line to a place sets out and how long it is.
func (c *Source) aim(p scalp.Vec) (start, float64) {
	nearest, far := 0, math.Inf(1)
	for i := range c.knots {
		if d := float64(c.surface.Estimate(c.knots[i].at, p)); d < far {
			nearest, far = i, d
		}
	}
	k := &c.knots[nearest]
	way := p.Minus(k.at)
	ahead, left := way.Dot(k.ahead), way.Dot(k.left)
	last := len(c.knots) - 1
	switch {
	case last == 0:
		return start{tip: -1, turn: math.Atan2(-ahead, left)}, far
	case c.closed:
	case nearest == last && ahead > 0:
		return start{tip: 1, turn: math.Atan2(ahead, left)}, far
	case nearest == 0 && ahead < 0:
		return start{tip: -1, turn: math.Atan2(-ahead, left)}, far
	}
	return start{along: k.along, side: math.Copysign(1, left)}, far
}

// swing moves the start of a line by some mm along the source, or radians at an end of it.
func (c *Source) swing(at start, by float64) start {
	const mostAlong, mostTurn = 15, 0.5 // of one correction: where lines meet, none means anything
	if at.tip == 0 {
		at.along += math.Max(-mostAlong, math.Min(by, mostAlong))
		return c.overEnd(at)
	}
	at.turn += math.Max(-mostTurn, math.Min(by, mostTurn))
	if len(c.knots) == 1 || at.turn >= 0 && at.turn <= math.Pi {
		return at
	}
	side := start{side: 1, along: 0}
	if at.turn > math.Pi {
		side.side = -1
	}
	if at.tip == 1 {
		side.along = c.length()
	}
	return side
}

// overEnd takes a start that has been moved past an end of the source round that end.
func (c *Source) overEnd(at start) start {
	long := c.length()
	switch {
	case at.along >= 0 && at.along <= long:
		return at
	case c.closed:
		at.along = math.Mod(at.along+long, long)
		return at
	}
	const little = 0.02
	tip := start{tip: 1, turn: little}
	if at.along < 0 {
		tip.tip = -1
	}
	if at.side < 0 {
		tip.turn = math.Pi - little
	}
	return tip
}

// leave is the first station of a line, and the line without its stations.
func (c *Source) leave(at start) (scalp.Station, Line) {
	if at.tip == 0 {
		k := c.on(at.along)
		return c.surface.Leave(k.at, k.left.Times(at.side)), Line{bend: -at.side * k.bend}
	}
	k := &c.knots[0]
	out := k.ahead.Times(-1)
	if at.tip > 0 {
		k = &c.knots[len(c.knots)-1]
		out = k.ahead
	}
	sin, cos := math.Sincos(at.turn)
	return c.surface.Leave(k.at, k.left.Times(cos).Along(out, sin)), Line{bend: c.fanBend(k, at.turn), fan: c.whorl == 0}
}

// fanBend is how fast lines spread from an end of the source: as from its side where that is next, and
// within roundOff of it as from a whorl.
func (c *Source) fanBend(k *knot, turn float64) float64 {
	if c.whorl == 0 {
		return 0
	}
	if len(c.knots) == 1 {
		return 1 / c.whorl
	}
	const roundOff = math.Pi / 3
	from, bend := turn, -k.bend
	if turn > math.Pi/2 {
		from, bend = math.Pi-turn, k.bend
	}
	t := math.Min(math.Max(from/roundOff, 0), 1)
	t *= t * (3 - 2*t)
	return bend*(1-t) + t/c.whorl
}

// shoot is where a line ends after some mm.
func (c *Source) shoot(at start, far float64) (scalp.Station, Line) {
	st, l := c.leave(at)
	return c.surface.Travel(st, scalp.MM(far), longStep), l
}

// trace is a line with its stations.
func (c *Source) trace(at start, far float64) Line {
	st, l := c.leave(at)
	steps := math.Max(1, math.Ceil(far/fineStep))
	l.Step = scalp.MM(far / steps)
	l.At = make([]scalp.Station, 1, int(steps)+1)
	l.At[0] = st
	for range int(steps) {
		st = c.surface.Follow(st, far/steps)
		l.At = append(l.At, st)
	}
	return l
}
