package rule

import (
	"math"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// Zones are the no-go zones of a sheet with their limits, looked up once for a
// whole check.
type Zones struct {
	limit map[sheet.LimitName]float64
	nape  sheet.LimitName
	keep  []sheet.KeepOff
}

// ZonesOf are the no-go zones of a sheet.
func ZonesOf(s *sheet.Sheet) Zones {
	z := Zones{limit: map[sheet.LimitName]float64{}, nape: s.Nape(), keep: s.KeepOff}
	for _, name := range []sheet.LimitName{
		z.nape, sheet.LimitEar, sheet.LimitTemple, sheet.LimitFace, sheet.LimitFringe, sheet.LimitPart,
	} {
		z.limit[name], _ = s.Limit(name)
	}
	return z
}

// Zone is a no-go zone by name.
type Zone uint8

// The zones; NoZone is usable scalp.
const (
	NoZone Zone = iota
	NapeZone
	EarZone
	TempleZone
	FringeZone
	PartZone
	FaceZone
	KeepOffZone
)

// String is the zone's name.
func (z Zone) String() string {
	return [...]string{"", "nape", "ear", "temple", "fringe", "part", "face", "keep-off"}[z]
}

// room is how far a slot lies outside each zone: negative inside it.
func (z *Zones) room(s *slots.Slot, yield func(Zone, scalp.MM)) {
	yield(NapeZone, s.Nape-scalp.MM(z.limit[z.nape]))
	yield(EarZone, s.Ear-scalp.MM(z.limit[sheet.LimitEar]))
	yield(TempleZone, s.Temple-scalp.MM(z.limit[sheet.LimitTemple]))
	yield(FringeZone, min(s.Front-scalp.MM(z.limit[sheet.LimitFringe]), s.Fringe))
	yield(PartZone, s.Part-scalp.MM(z.limit[sheet.LimitPart]))
	yield(FaceZone, min(s.Temple, s.Front)-scalp.MM(z.limit[sheet.LimitFace]))
	for i, d := range s.KeepOff {
		yield(KeepOffZone, d-z.keep[i].Radius)
	}
}

// Nearest is the zone whose edge is nearest to a slot, and the distance to that
// edge; negative inside the zone, where the zone reached deepest into is meant.
func (z *Zones) Nearest(s *slots.Slot) (Zone, scalp.MM) {
	zone, least := NoZone, scalp.MM(math.Inf(1))
	z.room(s, func(at Zone, d scalp.MM) {
		if d < least {
			zone, least = at, d
		}
	})
	return zone, least
}

// In is the zone that a slot lies in, as the map shows it, or NoZone.
func (z *Zones) In(s *slots.Slot) Zone {
	if zone, d := z.Nearest(s); short(float64(d), 0) {
		return zone
	}
	return NoZone
}

// Free reports whether a slot has hair and lies in no zone.
func (z *Zones) Free(s *slots.Slot) bool { return s.OnScalp && z.In(s) == NoZone }

// Free are the slots of a line that have hair and lie in no zone, left to right.
func Free(s *sheet.Sheet, line *slots.Line) []int {
	z := ZonesOf(s)
	var free []int
	for i := range line.Slots {
		if z.Free(&line.Slots[i]) {
			free = append(free, line.First+i)
		}
	}
	return free
}

// zoneCheck reports every bond on the scalp that is nearer than a limit.
func zoneCheck(p *Pass, name sheet.LimitName, what string, distance func(*slots.Slot) scalp.MM) {
	least, source := p.Sheet.Limit(name)
	for i := range p.Bonds {
		b := &p.Bonds[i]
		if b.On == nil || !b.On.OnScalp {
			continue // off-scalp speaks of it
		}
		if d := float64(distance(b.On)); short(d, least) {
			p.reportBond(b, Finding{Value: d, Limit: least, Unit: "mm", Source: source, What: what})
		}
	}
}
