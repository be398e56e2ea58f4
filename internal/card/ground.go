package card

import (
	"math"
	"sort"

	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/slots"
)

// ground tells in which zone any place of the map lies, also between the slots: from distances that are drawn straight between
// those of the four slots around it.
type ground struct {
	parts [2][]*slots.Line // the lines of the back and of the top
	table *slots.Table
	zones rule.Zones
	mixed slots.Slot // the slot that is asked about, used again and again
}

func newGround(u *unrolled, zones rule.Zones) *ground {
	t := u.t
	return &ground{parts: [2][]*slots.Line{t.Lines[:t.Round()], t.Lines[t.Round():]}, table: t, zones: zones}
}

// zone is the zone at a place of one of the two parts.
func (g *ground) zone(part int, at spot) rule.Zone {
	lines := g.parts[part]
	if len(lines) == 0 {
		return rule.NoZone
	}
	i := sort.Search(len(lines), func(i int) bool { return float64(lines[i].ID.At) > at.height }) - 1
	low, high := lines[max(i, 0)], lines[min(i+1, len(lines)-1)]
	t := 0.0
	if low != high {
		t = (at.height - float64(low.ID.At)) / float64(high.ID.At-low.ID.At)
	}
	g.mixed = slots.Slot{KeepOff: g.mixed.KeepOff[:0]}
	g.add(low, at.right, 1-t)
	g.add(high, at.right, t)
	return g.zones.In(&g.mixed)
}

// add adds a share of the distances at a position of a line.
func (g *ground) add(l *slots.Line, right, share float64) {
	at := (right-float64(g.table.Begin))/float64(g.table.Spacing) - float64(l.First)
	at = min(max(at, 0), float64(len(l.Slots)-1))
	i := min(int(at), max(0, len(l.Slots)-2))
	t := at - float64(i)
	g.addSlot(&l.Slots[i], share*(1-t))
	if t > 0 {
		g.addSlot(&l.Slots[i+1], share*t)
	}
}

// addSlot adds a share of the distances of a slot. Outside the hair the distance to the hairline that is nearest counts below zero,
// so that it is nothing at the hairline and not beside it.
func (g *ground) addSlot(s *slots.Slot, share float64) {
	edge := s.Edge()
	add := func(to *scalp.MM, d scalp.MM, signed bool) {
		if signed && !s.OnScalp && d == edge {
			d = -d
		}
		switch {
		case math.IsInf(float64(d), 1) || math.IsInf(float64(*to), 1):
			*to = scalp.MM(math.Inf(1))
		default:
			*to += scalp.MM(share) * d
		}
	}
	m := &g.mixed
	add(&m.Nape, s.Nape, true)
	add(&m.Ear, s.Ear, true)
	add(&m.Temple, s.Temple, true)
	add(&m.Front, s.Front, true)
	add(&m.Fringe, s.Fringe, false)
	add(&m.Part, s.Part, false)
	for i, d := range s.KeepOff {
		if i == len(m.KeepOff) {
			m.KeepOff = append(m.KeepOff, 0)
		}
		add(&m.KeepOff[i], d, false)
	}
}
