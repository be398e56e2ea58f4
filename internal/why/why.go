// Package why writes out how a figure came about: the measures, what was assumed, the formula with
// its numbers, the limit and where the limit comes from, in plain lines.
package why

import (
	"fmt"
	"math"
	"slices"

	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// InMM is said below sections whose lengths are shown in another unit: their sums would not come out in it.
const InMM = "Sums stay in mm, in which they are worked."

// Section is one step of a derivation.
type Section struct {
	Title   string
	Lines   []string
	Reading rule.Reading // of the map whose figure it derives; the zones where it derives none
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
		ways := slices.DeleteFunc(slots.Ways(s), func(w slots.Way) bool { return w.Wear != sheet.WornDown && !s.Wears(w.Wear) })
		for _, w := range ways {
			a.cover(w, line, slot)
		}
		a.growth(line, slot, ways...)
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
	a.since()
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
		if slices.Contains(byOwnHair, f.Rule) {
			a.ownHair()
			a.added()
		}
		if f.Rule == "overdue" {
			a.since()
		}
		return append(a.out, result(f))
	}
	on := line.At(f.Slot)
	a.place(line, on, f.Slot)
	switch f.Reading.Kind {
	case rule.ByCover:
		a.density(on)
		a.cover(f.Reading.Way, line, f.Slot)
		a.growth(line, f.Slot, f.Reading.Way)
	case rule.ByLoad:
		a.density(on)
		a.load(s.Bond(f.Row, f.Slot), on)
	default:
		if slices.Contains(byDistance, f.Rule) {
			a.distances(on)
		}
	}
	return append(a.out, result(f))
}

// byOwnHair are the rules that measure what is added against all of the own hair.
var byOwnHair = []string{"total-load", "length-blend"}

// byDistance are the rules that measure a distance from a bond to a zone.
var byDistance = []string{"nape", "ear", "temple", "fringe", "part", "face", "keep-off", "trim"}

// result is what a finding says, with its limit and where that comes from.
func result(f rule.Finding) Section {
	sec := Section{Title: f.Severity.String() + ", " + f.Rule}
	sec.say("%s: %s", f.Where(), f.Message())
	if f.Source != "" {
		sec.say("the limit: %s", f.Source)
	}
	for _, other := range f.Near {
		sec.say("together with %s", rule.Where(other))
	}
	return sec
}

// measures are the tapes and the head that they give.
func (a *account) measures() {
	m, sec := a.sheet.Measures, a.section("the head")
	sec.say("tapes: %g mm round, %g mm ear to ear, %g mm front to nape, %g mm across the nape",
		float64(m.Circumference), float64(m.EarToEar), float64(m.FrontToNape), float64(m.NapeWidth))
	sec.say("the head that meets them has its top %.0f mm above the ears and %.0f cm² of scalp within the hairline",
		float64(a.table.Head.EarToTop()), a.table.Roots().Scalp())
}

// place is where a slot is.
func (a *account) place(line *slots.Line, on *slots.Slot, slot int) {
	sec := a.section("the place")
	at := line.Place()
	sec.say("%s, %s, %.0f mm along the line", at, rule.SlotName(at, slot), math.Abs(float64(a.table.Begin+scalp.MM(slot)*a.table.Spacing)))
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
		sec.say("%s%.1f mm from %s, at least %g mm (%s)", estimate, float64(d), what, least, source)
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
		sec.say("%.1f mm from the middle of patch %d, at least %g mm (the patch on this sheet)", float64(d), i+1, float64(a.sheet.KeepOff[i].Radius))
	}
}
