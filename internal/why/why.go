// Package why writes out how a figure came about: the measures, what was assumed, the formula with
// its numbers, the limit and where the limit comes from, in plain lines.
package why

import (
	"fmt"
	"math"

	"example.org/underveil/internal/fall"
	"example.org/underveil/internal/fibre"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// Section is one step of a derivation.
type Section struct {
	Title string
	Lines []string
}

func (s *Section) say(format string, args ...any) {
	s.Lines = append(s.Lines, fmt.Sprintf(format, args...))
}

// account is a derivation being written.
type account struct {
	sheet *sheet.Sheet
	table *slots.Table
	hair  rule.Hair
	out   []Section
}

func begin(s *sheet.Sheet, t *slots.Table) *account {
	return &account{sheet: s, table: t, hair: rule.HairOf(s, t)}
}

func (a *account) section(title string) *Section {
	a.out = append(a.out, Section{Title: title})
	return &a.out[len(a.out)-1]
}

// Slot is all that is worked out about one slot of a line, whether it has a bond or not, with what the
// rules found there. Its error says why there is no such slot.
func Slot(s *sheet.Sheet, t *slots.Table, rep *rule.Report, at sheet.Place, slot int) ([]Section, error) {
	line, err := t.Line(at)
	if err != nil {
		return nil, err
	}
	on := line.At(slot)
	if on == nil {
		return nil, fmt.Errorf("%s has slots from %d to %d", at, line.First, line.Last())
	}
	a := begin(s, t)
	a.measures()
	a.place(line, on, slot)
	a.distances(on)
	if on.OnScalp {
		a.density(on)
		a.load(s.Bond(at, slot), on)
		for _, w := range slots.Ways(s) {
			if w.Wear == sheet.WornDown || s.Wears(w.Wear) {
				a.cover(w, line, slot)
			}
		}
		a.growth(line, slot)
	}
	for _, f := range rep.Findings {
		if f.On == sheet.OnSlot && f.Row == at && f.Slot == slot {
			a.out = append(a.out, result(f))
		}
	}
	return a.out, nil
}

// Sheet is all that is worked out about the sheet as a whole, with what the rules found about it and its rows.
func Sheet(s *sheet.Sheet, t *slots.Table, rep *rule.Report) []Section {
	a := begin(s, t)
	a.measures()
	a.ownHair()
	a.added()
	for _, f := range rep.Findings {
		if f.On != sheet.OnSlot {
			a.out = append(a.out, result(f))
		}
	}
	return a.out
}

// Finding is how a finding came about: the parts of the slot's or the sheet's derivation that its rule
// measures.
func Finding(s *sheet.Sheet, t *slots.Table, f rule.Finding) []Section {
	a := begin(s, t)
	line, err := t.Line(f.Row)
	if f.On != sheet.OnSlot || err != nil || line.At(f.Slot) == nil {
		if f.On == sheet.OnSheet {
			a.ownHair()
			a.added()
		}
		return append(a.out, result(f))
	}
	on := line.At(f.Slot)
	a.place(line, on, f.Slot)
	switch f.Reading.Kind {
	case rule.ByCover:
		a.density(on)
		a.cover(f.Reading.Way, line, f.Slot)
		a.growth(line, f.Slot)
	case rule.ByLoad:
		a.density(on)
		a.load(s.Bond(f.Row, f.Slot), on)
	default:
		a.distances(on)
	}
	return append(a.out, result(f))
}

// result is what a finding says, with its limit and where that comes from.
func result(f rule.Finding) Section {
	sec := Section{Title: f.Severity.String() + ", " + f.Rule}
	sec.say("%s: %s", f.Where(), f.Message())
	if f.Source != "" {
		sec.say("the limit: %s", f.Source)
	}
	return sec
}

// measures are the tapes and the head that they give.
func (a *account) measures() {
	m, sec := a.sheet.Measures, a.section("the head")
	sec.say("tapes: %g mm round, %g ear to ear, %g front to nape, %g across the nape",
		float64(m.Circumference), float64(m.EarToEar), float64(m.FrontToNape), float64(m.NapeWidth))
	sec.say("the head that meets them has its top %.0f mm above the ears and %.0f cm² of scalp within the hairline",
		float64(a.table.Head.EarToTop()), a.table.Roots().Scalp())
}

// place is where a slot is.
func (a *account) place(line *slots.Line, on *slots.Slot, slot int) {
	sec := a.section("the place")
	at := line.Place()
	sec.say("%s, %s, %.0f mm along the line", at, rule.SlotName(at, slot), math.Abs(float64(slot)*float64(a.table.Spacing)))
	if b := a.sheet.Bond(at, slot); b.Placed() {
		sec.say("a bond: %s, shade %c", b, b.Shade)
	}
	if !on.OnScalp {
		sec.say("no hair grows here: it is %.1f mm outside the hairline", float64(on.Edge()))
	}
}

// distances are how far a slot is from all that it must stay away from.
func (a *account) distances(on *slots.Slot) {
	sec := a.section("distances along the scalp")
	against := func(what string, d scalp.MM, name sheet.LimitName) {
		if math.IsInf(float64(d), 1) {
			return
		}
		least, source := a.sheet.Limit(name)
		estimate := ""
		if d > scalp.FarReach {
			estimate = "about "
		}
		sec.say("%s%.1f mm from %s, at least %g (%s)", estimate, float64(d), what, least, source)
	}
	against("the nape hairline", on.Nape, a.sheet.Nape())
	against("the hairline round the ear", on.Ear, sheet.LimitEar)
	against("the temple hairline", on.Temple, sheet.LimitTemple)
	against("the front hairline at the fringe", on.Front, sheet.LimitFringe)
	against("the front hairline or the temple", min(on.Front, on.Temple), sheet.LimitFace)
	against("the nearest parting", on.Part, sheet.LimitPart)
	if !math.IsInf(float64(on.Fringe), 1) {
		where := "outside"
		if on.Fringe < 0 {
			where = "inside"
		}
		sec.say("%.1f mm %s the fringe triangle", math.Abs(float64(on.Fringe)), where)
	}
	for i, d := range on.KeepOff {
		sec.say("%.1f mm from the middle of patch %d, at least %g (the patch on this sheet)", float64(d), i+1, float64(a.sheet.KeepOff[i].Radius))
	}
}

// density is how thickly the hair grows at a slot.
func (a *account) density(on *slots.Slot) {
	sec := a.section("density")
	share := a.table.Roots().Share(on.Point)
	sec.say("at the back %.0f hairs/cm² (%s)", float64(a.hair.Density), a.hair.How)
	sec.say("here %.2f of that, for the region and the margin at the hairline (%s)", share, sheet.Assumption)
	sec.say("%.0f × %.2f = %.0f hairs/cm²", float64(a.hair.Density), share, float64(a.hair.Here(on)))
}

// load is what a bond puts on the hair of its section; of an empty slot, what a whole strand of the first
// shade would.
func (a *account) load(b sheet.Bond, on *slots.Slot) {
	sec := a.section("load")
	if len(a.sheet.Shades) == 0 {
		sec.say("no shade is on the sheet")
		return
	}
	shade, what := a.sheet.Shades[0], "a whole strand"
	if b.Placed() {
		shade, _ = a.sheet.Shade(b.Shade)
		what = "the bond, " + b.String()
	} else {
		b.Shade = shade.Key
	}
	grams, own := shade.GramsOf(b), a.hair.Section(on)
	linear, source := a.sheet.Limit(sheet.FigureFibre)
	sec.say("section: %.0f hairs/cm² × %g mm × %g mm / 100 = %.1f own hairs", float64(a.hair.Here(on)), float64(a.hair.Width), float64(a.hair.Thickness), own)
	sec.say("%s: %.2f g of %g mm at %g µg/cm (%s) is %.0f hairs", what, grams, float64(shade.Length), linear, source, fibre.InStrand(grams, shade.Length, linear))
	mg := fibre.Load(grams, own)
	sec.say("load: %.0f mg / %.1f = %.1f mg on each own hair", grams*1000, own, mg)
	sec.say("reference: %.0f mg on %g × %g mm of %.0f hairs/cm², %.1f hairs, is %.1f mg on each",
		rule.ReferenceGrams*1000, float64(rule.ReferenceWidth), float64(rule.ReferenceThickness), float64(fibre.Unsaid),
		fibre.InSection(fibre.Unsaid, rule.ReferenceWidth, rule.ReferenceThickness), rule.ReferenceLoad())
	most, from := a.sheet.Limit(sheet.LimitLoad)
	sec.say("%.1f / %.1f = %.0f %% of the reference, at most %g (%s)", mg, rule.ReferenceLoad(), 100*mg/rule.ReferenceLoad(), most, from)
	sec.say("hanging still, %.1f mg pull with %.3f mN, %.2f %% of the %g N that pull a hair out (Chase 1981, Smelser 1982)", mg,
		1000*fibre.Pull(mg), 100*fibre.Pull(mg)/fibre.PullOut, fibre.PullOut)
	sec.say("what loosens hair is uneven pull, wet combing and snags: this is a comparison, not a medical limit, and none was found")
}

// cover is the hair over a slot, worn one way.
func (a *account) cover(w slots.Way, line *slots.Line, slot int) {
	sec := a.section("own hair over it, " + w.In(a.sheet))
	style, own := a.table.Worn(w), a.table.Own()
	p := line.At(slot).Point
	k := style.Working(p, own, 0)
	if k.Tied {
		sec.say("the tie is %.1f mm away; the hair rooted farther out on the same line is drawn over the bond", float64(k.Line))
	} else {
		sec.say("the fall line comes %.1f mm from %s", float64(k.Line), source(w))
		if own.Length > 0 {
			sec.say("own hair of %g mm has to reach %g mm past the bond", float64(own.Length), float64(own.Past))
		} else {
			sec.say("nobody said how long the own hair is: taken to be long enough")
		}
	}
	if c := a.table.Cover(w, line, slot); c.Tied {
		sec.say("hair grows on %.1f mm of the line beyond the bond", float64(c.Rooted))
	}
	shown := thinned(k.Samples)
	if len(shown) < len(k.Samples) {
		sec.say("along the line, every fourth step of %.1f mm shown:", float64(k.Samples[1].At-k.Samples[0].At))
	}
	for _, s := range shown {
		sec.say("  at %5.1f mm: density share %.2f, and %.2f of that hair passes over a mm here", float64(s.At), s.Share, s.Ratio)
	}
	if n := len(k.Samples); n > 0 {
		sec.say("the sum of share × passing × mm, from %.1f to %.1f mm in steps of 5, is %.1f mm", float64(k.Samples[0].At), float64(k.Samples[n-1].At), float64(k.Depth))
	}
	name := sheet.LimitVeil
	if w.Wear != sheet.WornDown {
		name = sheet.LimitVeilUp
	}
	least, from := a.sheet.Limit(name)
	c := a.table.Cover(w, line, slot)
	for i, weeks := range fall.Weeks {
		when := "at the fitting"
		if weeks > 0 {
			when = fmt.Sprintf("in %d weeks", weeks)
		}
		sec.say("%s: %.1f mm × %.2f hairs/mm² = %.1f hairs/mm", when, float64(c.Depth[i]), a.hair.Density.PerMM2(), c.Hairs(a.hair.Density, i))
	}
	sec.say("at least %g hairs/mm (%s)", least, from)
	if !c.Tied {
		most, from := a.sheet.Limit(sheet.LimitAside)
		sec.say("the hair falls %.0f° from straight down, at most %g (%s)", c.Aside, most, from)
	}
}

// source is what hair falls from, in words.
func source(w slots.Way) string {
	if w.Wear == sheet.WornHalfUp {
		return "the section line"
	}
	return "the parting or the whorl"
}

// thinned is every fourth of some samples, with the first and the last.
func thinned(all []fall.Sample) []fall.Sample {
	var some []fall.Sample
	for i, s := range all {
		if i%4 == 0 || i == len(all)-1 {
			some = append(some, s)
		}
	}
	return some
}

// growth is where the bond will hang.
func (a *account) growth(line *slots.Line, slot int) {
	sec := a.section("growing out")
	off, from := a.sheet.Limit(sheet.FigureStandOff)
	daily, source := a.sheet.Limit(sheet.FigureGrowth)
	sec.say("fitted %g mm off the scalp (%s); %g mm of growth a day (%s)", off, from, daily, source)
	for _, weeks := range fall.Weeks[1:] {
		sec.say("in %d weeks: %g + %d × %g = %.1f mm off; of the own hairs in the bond %.1f %% are shed by then", weeks, off, 7*weeks, daily,
			float64(a.sheet.Hang(weeks)), 100*fibre.Shed(float64(7*weeks), fibre.TelogenShare, fibre.TelogenDays))
	}
	c := a.table.Cover(slots.Ways(a.sheet)[0], line, slot)
	if !math.IsInf(float64(c.Edge), 1) {
		sec.say("down its fall line the hairline is %.1f mm away", float64(c.Edge))
	}
}

// ownHair is what all the own hair weighs.
func (a *account) ownHair() {
	sec := a.section("own hair")
	hairs := a.table.Roots().Hairs(a.hair.Density)
	sec.say("%.0f hairs/cm² at the back (%s), over %.0f cm² of scalp and thinner at the sides and margins: %.0f hairs",
		float64(a.hair.Density), a.hair.How, a.table.Roots().Scalp(), hairs)
	if a.sheet.Hair.Length == 0 {
		sec.say("nobody said how long it is, so it is not weighed")
		return
	}
	sec.say("%.0f hairs × %g mm × %g µg/cm = %.0f g", hairs, float64(a.sheet.Hair.Length), a.hair.Linear, a.hair.Grams())
}

// added is what is added, and how it compares.
func (a *account) added() {
	sec := a.section("added hair")
	grams, reach := 0.0, 0.0
	tip, from := a.sheet.Limit(sheet.FigureTip)
	for _, r := range a.sheet.Rows {
		for _, b := range r.All() {
			shade, _ := a.sheet.Shade(b.Shade)
			g := shade.GramsOf(b)
			grams += g
			reach += fibre.InStrand(g, shade.Length, a.hair.Linear) * fibre.Reaching(a.sheet.Hair.Length, shade.Length, tip/100)
		}
	}
	sec.say("%d bonds, %.1f g", a.sheet.Bonds(), grams)
	if own := a.hair.Grams(); own > 0 {
		most, source := a.sheet.Limit(sheet.LimitTotalLoad)
		sec.say("%.1f / %.0f = %.0f %% of the own hair, at most %g (%s)", grams, own, 100*grams/own, most, source)
		all := a.table.Roots().Hairs(a.hair.Density)
		least, source := a.sheet.Limit(sheet.LimitBlend)
		sec.say("at %g mm, where the own hair ends, %.0f added hairs still hang (%g %% of a strand reach its end: %s)", float64(a.sheet.Hair.Length), reach, tip, from)
		sec.say("%.0f / (%.0f + %.0f) = %.0f %% of the hair there; for length at least %g (%s)", reach, reach, all, 100*reach/(reach+all), least, source)
	}
}
