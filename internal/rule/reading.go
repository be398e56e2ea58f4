package rule

import (
	"example.org/underveil/internal/fibre"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// ReadingKind is a kind of figure that the map can be shaded by.
type ReadingKind uint8

// The kinds of readings.
const (
	ByZone ReadingKind = iota
	ByCover
	ByLoad
	ByDensity
)

// Reading is what the map is shaded by: the zones, the cover in one way of wearing the hair at one time,
// the load of a strand, or the density.
type Reading struct {
	Kind ReadingKind
	Way  slots.Way // of a cover
	Time int       // of a cover, an index of fall.Weeks
}

// Readings lists the readings of a sheet, the zones first.
func Readings(s *sheet.Sheet) []Reading {
	list := []Reading{{Kind: ByZone}}
	for _, w := range slots.Ways(s) {
		list = append(list, Reading{Kind: ByCover, Way: w})
	}
	return append(list, Reading{Kind: ByLoad}, Reading{Kind: ByDensity})
}

// Name is the reading in words: "veil, parting 30 mm right".
func (r Reading) Name(s *sheet.Sheet) string {
	switch r.Kind {
	case ByCover:
		switch {
		case r.Way.Wear != sheet.WornDown:
			return "cover, " + string(r.Way.Wear)
		case r.Way.Parting < len(s.Partings):
			return "veil, " + s.Partings[r.Way.Parting].String()
		}
		return "veil, no parting"
	case ByLoad:
		return "load, whole strands"
	case ByDensity:
		return "density"
	}
	return "zones"
}

// Unit is the unit of the reading's figures.
func (r Reading) Unit() string {
	switch r.Kind {
	case ByCover:
		return "hairs/mm"
	case ByLoad:
		return "% of the reference"
	case ByDensity:
		return "hairs/cm²"
	}
	return ""
}

// Scale is a reading made ready for one sheet: its figures, and what of them is enough.
type Scale struct {
	Reading
	Limit  float64 // what the rules ask for; of a density what is usual
	AtMost bool    // the limit is the most allowed, not the least
	Source string  // where the limit comes from
	table  *slots.Table
	hair   Hair
	grams  float64 // of a whole strand of the first shade
}

// ScaleOf makes a reading ready.
func ScaleOf(r Reading, s *sheet.Sheet, t *slots.Table) Scale {
	sc := Scale{Reading: r, table: t, hair: HairOf(s, t)}
	if len(s.Shades) > 0 {
		sc.grams = s.Shades[0].Grams
	}
	switch r.Kind {
	case ByCover:
		sc.Limit, sc.Source = s.Limit(CoverLimit(r.Way.Wear))
	case ByLoad:
		sc.Limit, sc.Source = s.Limit(sheet.LimitLoad)
		sc.AtMost = true
	case ByDensity:
		sc.Limit, sc.Source = float64(fibre.Unsaid), sheet.Assumption
	}
	return sc
}

// At is the reading's figure for a slot of a line; ok is false where there is no hair. A load is that
// of a whole strand of the first shade.
func (sc *Scale) At(line *slots.Line, slot int) (value float64, ok bool) {
	on := line.At(slot)
	if on == nil || !on.OnScalp {
		return 0, false
	}
	switch sc.Kind {
	case ByCover:
		return sc.table.Cover(sc.Way, line, slot).Hairs(sc.hair.Density, sc.Time), true
	case ByLoad:
		return sc.load(sc.grams, on), true
	case ByDensity:
		return float64(sc.hair.Here(on)), true
	}
	return 0, false
}

// LoadOf is the load of a bond of the sheet at a place, in the unit of the scale of loads.
func (sc *Scale) LoadOf(s *sheet.Sheet, b sheet.Bond, on *slots.Slot) float64 {
	shade, _ := s.Shade(b.Shade)
	return sc.load(shade.GramsOf(b), on)
}

// load is what so many grams put on the section at a place, in per cent of the reference.
func (sc *Scale) load(grams float64, on *slots.Slot) float64 {
	return 100 * sc.hair.Load(grams, on) / ReferenceLoad()
}

// Steps is how many steps a scale has.
const Steps = 4

// Bounds are the figures at which a scale goes from one step to the next, from the worst step to the
// best: half of the limit, the limit, and twice the limit; of a load half as much again, the limit, and four
// fifths of it; of a density three, four and five fifths of what is usual.
func (sc *Scale) Bounds() [Steps - 1]float64 {
	switch {
	case sc.Kind == ByDensity:
		return [...]float64{sc.Limit * 0.6, sc.Limit * 0.8, sc.Limit}
	case sc.AtMost:
		return [...]float64{sc.Limit * 1.5, sc.Limit, sc.Limit * 0.8}
	}
	return [...]float64{sc.Limit / 2, sc.Limit, sc.Limit * 2}
}

// Step is the step of a figure, 0 the worst. It agrees with the rules on what misses the limit.
func (sc *Scale) Step(value float64) int {
	for i, bound := range sc.Bounds() {
		if sc.AtMost && over(value, bound) || !sc.AtMost && short(value, bound) {
			return i
		}
	}
	return Steps - 1
}

// Fill works out all that the reading shows of the map, on two goroutines.
func (sc *Scale) Fill() {
	if sc.Kind == ByCover {
		sc.table.Fill(sc.Way)
	}
}
