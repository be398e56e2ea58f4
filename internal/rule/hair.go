package rule

import (
	"slices"
	"strings"

	"example.org/underveil/internal/fall"
	"example.org/underveil/internal/fibre"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// Hair is the client's own hair as the rules reckon with it, looked up once for a whole check.
type Hair struct {
	Density   fibre.Density // at the back of the head
	How       string        // how that is known
	Width     scalp.MM      // of the section taken for a bond
	Thickness scalp.MM
	Linear    float64 // µg/cm, of own hair and of strands alike
	roots     *fibre.Field
	own       scalp.MM
}

// The reference that loads are compared with: a whole strand of the usual weight on the usual section of
// hair of the usual density. All three are common practice, no source: no published limit of load was found.
const (
	ReferenceGrams              = 0.8
	ReferenceWidth     scalp.MM = 8
	ReferenceThickness scalp.MM = 4.5
)

// ReferenceLoad is the load of the reference, in mg for each own hair.
func ReferenceLoad() float64 {
	return fibre.Load(ReferenceGrams, fibre.InSection(fibre.Unsaid, ReferenceWidth, ReferenceThickness))
}

// HairOf is the hair of a sheet.
func HairOf(s *sheet.Sheet, t *slots.Table) Hair {
	h := Hair{own: s.Hair.Length, roots: t.Roots()}
	h.Density, h.How = t.Density(s)
	width, _ := s.Limit(sheet.FigureWidth)
	thickness, _ := s.Limit(sheet.FigureThickness)
	h.Width, h.Thickness = scalp.MM(width), scalp.MM(thickness)
	h.Linear, _ = s.Limit(sheet.FigureFibre)
	return h
}

// Here is the density at a place.
func (h *Hair) Here(on *slots.Slot) fibre.Density {
	return h.Density * fibre.Density(h.roots.Share(on.Point))
}

// Section is how many own hairs are in the section taken for a bond at a place.
func (h *Hair) Section(on *slots.Slot) float64 {
	return fibre.InSection(h.Here(on), h.Width, h.Thickness)
}

// Load is what a bond of so many grams puts on each own hair of its section, in mg.
func (h *Hair) Load(grams float64, on *slots.Slot) float64 { return fibre.Load(grams, h.Section(on)) }

// Grams is what all of the own hair weighs; 0 where nobody has said how long it is.
func (h *Hair) Grams() float64 {
	return fibre.Grams(h.roots.Hairs(h.Density), h.own, h.Linear)
}

// worn is a way of wearing the hair, with what it covers.
type worn struct {
	slots.Way
	*slots.Worn
}

// covering checks every bond with hair against the least cover in each of some ways, now and as it grows
// out, and reports each bond once: for the way and the time at which least is over it, the fitting first.
func (p *Pass) covering(limit sheet.LimitName, ways []worn) {
	if len(ways) == 0 {
		return
	}
	least, source := p.Sheet.Limit(limit)
	enough := scalp.MM((least - slack) / p.hair().Density.PerMM2()) // of depth
	covers := make([]*fall.Cover, len(ways))
	for i := range p.Bonds {
		b := &p.Bonds[i]
		if b.On == nil || !b.On.OnScalp {
			continue // off-scalp speaks of it
		}
		for k, w := range ways {
			covers[k] = w.Cover(b.Line, b.Slot)
		}
		if k, time := thinnest(covers, enough); k >= 0 {
			f := p.tooThin(ways, covers, k, time)
			f.Concern, f.Limit, f.Source = p.concern(b), least, source
			if time == 0 && short(f.Value, least/2) {
				f.Severity = Stop
			}
			p.found = append(p.found, f)
		}
	}
}

// alike is how near two depths, or two angles in degrees, may be for the first of two ways to be named: nearer, only
// the last digits of the arithmetic would decide.
const alike = 0.01

// thinnest is which of some covers is the thinnest at the first time at which one is not enough, and that time;
// -1 where all are enough at all times.
func thinnest(covers []*fall.Cover, enough scalp.MM) (which, time int) {
	for time := range fall.Weeks {
		which := 0
		for k, c := range covers {
			if c.Depth[time] < covers[which].Depth[time]-alike {
				which = k
			}
		}
		if covers[which].Depth[time] < enough {
			return which, time
		}
	}
	return -1, 0
}

// shortBy is how many times as much hair would lie over a bond, were it long enough, for its length to be named as
// what is wrong.
const shortBy = 1.1

// tooThin is the finding about a cover that is not enough, as a caution. It names the other ways in
// which too little is over the bond at that time as well.
func (p *Pass) tooThin(ways []worn, covers []*fall.Cover, which, time int) Finding {
	c, d := covers[which], p.hair().Density
	what := "over it " + ways[which].In(p.Sheet)
	if time > 0 {
		what += " " + fall.When(time)
	}
	if own := p.Table.Own(); own.Length > 0 {
		switch {
		case c.Tied && c.Line+own.Past > own.Length:
			what += ", where own hair is too short to reach the tie"
		case c.Full[time] > shortBy*c.Depth[time]+alike:
			what += ", where own hair is too short to reach past it"
		}
	}
	least, _ := p.Sheet.Limit(CoverLimit(ways[which].Wear))
	var others []string
	for k, w := range ways {
		if k != which && short(covers[k].Hairs(d, time), least) {
			others = append(others, w.In(p.Sheet))
		}
	}
	if others != nil {
		what += " (too little " + strings.Join(others, " and ") + " as well)"
	}
	return Finding{Severity: Caution, Value: c.Hairs(d, time), Unit: "hairs/mm", What: what,
		Reading: Reading{Kind: ByCover, Way: ways[which].Way, Time: time}}
}

// liftOrCover offers to lift a bond that is not covered, or to move it along its row to the nearest free slot with room
// to work where it is.
func (p *Pass) liftOrCover(f Finding, ways []worn) []Fix {
	fixes := []Fix{lift(f)}
	line, err := p.Table.Line(f.Row)
	if err != nil {
		return fixes
	}
	enough := scalp.MM((f.Limit - slack) / p.hair().Density.PerMM2())
	covers := make([]*fall.Cover, len(ways))
	if slot, ok := p.nearestRoom(f, func(slot int) bool {
		for k, w := range ways {
			covers[k] = w.Cover(line, slot)
		}
		k, _ := thinnest(covers, enough)
		return k < 0
	}); ok {
		fixes = append(fixes, moveTo(f, slot))
	}
	return fixes
}

// CoverLimit is the limit of the cover for a way of wearing the hair.
func CoverLimit(w sheet.Wear) sheet.LimitName {
	if w == sheet.WornDown {
		return sheet.LimitVeil
	}
	return sheet.LimitVeilUp
}

// wornNow are the ways in which the client wears the hair: down with each of the partings, half up, and
// up.
func wornNow(s *sheet.Sheet) []slots.Way {
	return slices.DeleteFunc(slots.Ways(s), func(w slots.Way) bool {
		return !s.Wears(w.Wear) && !(w.Wear == sheet.WornDown && s.WornDown())
	})
}

// Prepare works out beforehand, on two goroutines, what a check of the sheet will look up.
func Prepare(s *sheet.Sheet, t *slots.Table) { t.FillRows(s.Rows, wornNow(s)) }

// down are the ways in which the client wears the hair down.
func (p *Pass) down() []worn {
	return p.worn(func(w slots.Way) bool { return w.Wear == sheet.WornDown })
}

// up are the ways in which the client wears the hair half up or up.
func (p *Pass) up() []worn {
	return p.worn(func(w slots.Way) bool { return w.Wear != sheet.WornDown })
}

func (p *Pass) worn(takes func(slots.Way) bool) []worn {
	var ways []worn
	for _, w := range wornNow(p.Sheet) {
		if takes(w) {
			ways = append(ways, worn{w, p.Table.Worn(w)})
		}
	}
	return ways
}

// over reports whether a value is more than the most allowed.
func over(value, most float64) bool { return value > most+slack }
