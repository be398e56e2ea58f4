package why

import (
	"fmt"
	"math"
	"strings"

	"example.org/underveil/internal/fibre"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
	"example.org/underveil/internal/tally"
)

// density is how thickly the hair grows at a slot.
func (a *account) density(on *slots.Slot) {
	sec := a.section("density")
	sec.Reading.Kind = rule.ByDensity
	share := a.table.Roots().Share(on.Point)
	sec.say("at the back %.0f hairs/cm² (%s)", float64(a.hair.Density), a.hair.How)
	a.tape(sec)
	sec.say("here %.2f of that, for the region and the margin at the hairline (%s)", share, sheet.Assumption)
	sec.say("%s × %s = %s hairs/cm²", sum{product, 0, []figure{{float64(a.hair.Density), 0}, {share, 2}}}.printed()...)
}

// tape is how a density comes from a ponytail's tape.
func (a *account) tape(sec *Section) {
	if !slots.Taped(a.sheet) {
		return
	}
	packing, from := a.sheet.Limit(sheet.FigurePacking)
	area, round := fibre.Section(a.hair.Linear)/1e6, float64(a.sheet.Hair.Ponytail)
	sec.say("a bundle %g mm round, %g %% filled with hair (%s), each %.5f mm² across:", round, packing, from, area)
	bundle := func(v []float64) float64 { return v[0] / 100 * v[1] * v[1] / (4 * math.Pi) / v[2] }
	sec.say("%s %% of %s² / 4π / %s = %s hairs on the head", sum{bundle, 0, []figure{{packing, 0}, {round, 0}, {area, 5}}}.printed()...)
	sec.say("spread over %.0f cm² of scalp, thinner at the sides and margins", a.table.Roots().Scalp())
}

// load is what a bond puts on the hair of its section; of an empty slot, what a whole strand of the first
// shade would.
func (a *account) load(b sheet.Bond, on *slots.Slot) {
	sec := a.section("load")
	sec.Reading.Kind = rule.ByLoad
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
	section := func(v []float64) float64 { return product(v) / 100 }
	sec.say("section: %s hairs/cm² × %s mm × %s mm / 100 = %s own hairs",
		sum{section, 1, []figure{{float64(a.hair.Here(on)), 0}, {float64(a.hair.Width), 0}, {float64(a.hair.Thickness), 0}}}.printed()...)
	sec.say("%s: %.2f g of %g mm at %g µg/cm (%s) is %.0f hairs", what, grams, float64(shade.Length), linear, source, fibre.InStrand(grams, shade.Length, linear))
	ratio := func(v []float64) float64 { return v[0] / v[1] }
	mg := fibre.Load(grams, own)
	sec.say("load: %s mg / %s = %s mg on each own hair", sum{ratio, 1, []figure{{grams * 1000, 0}, {own, 1}}}.printed()...)
	sec.say("reference: %.0f mg on %g × %g mm of %.0f hairs/cm², %.1f hairs, is %.1f mg on each",
		rule.ReferenceGrams*1000, float64(rule.ReferenceWidth), float64(rule.ReferenceThickness), float64(fibre.Unsaid),
		fibre.InSection(fibre.Unsaid, rule.ReferenceWidth, rule.ReferenceThickness), rule.ReferenceLoad())
	most, from := a.sheet.Limit(sheet.LimitLoad)
	sec.say("%s / %s = %s %% of the reference, at most %g (%s)",
		append(sum{perCent, 0, []figure{{mg, 1}, {rule.ReferenceLoad(), 1}}}.printed(), most, from)...)
	sec.say("hanging still, %.1f mg pull with %.3f mN, %.2f %% of the %g N that pull a hair out (Chase 1981, Smelser 1982)", mg,
		1000*fibre.Pull(mg), 100*fibre.Pull(mg)/fibre.PullOut, fibre.PullOut)
	sec.say("what loosens hair is uneven pull, wet combing and snags: this is a comparison, not a medical limit, and none was found")
}

// ownHair is what all the own hair weighs.
func (a *account) ownHair() {
	sec := a.section("own hair")
	hairs := a.table.Roots().Hairs(a.hair.Density)
	sec.say("%.0f hairs/cm² at the back (%s), over %.0f cm² of scalp and thinner at the sides and margins: %.0f hairs",
		float64(a.hair.Density), a.hair.How, a.table.Roots().Scalp(), hairs)
	a.tape(sec)
	if a.sheet.Hair.Length == 0 {
		sec.say("nobody said how long it is, so it is not weighed")
		return
	}
	grams := func(v []float64) float64 { return product(v) / 1e7 }
	sec.say("%s hairs × %s mm × %s µg/cm = %s g",
		sum{grams, 0, []figure{{hairs, 0}, {float64(a.sheet.Hair.Length), 0}, {a.hair.Linear, 0}}}.printed()...)
}

// added is what is added, and how it compares.
func (a *account) added() {
	sec := a.section("added hair")
	totals := tally.Count(a.sheet, a.table)
	grams := totals.Grams
	sec.say("%s, %.1f g", printable.Count(a.sheet.Bonds(), "bond"), grams)
	own := a.hair.Grams()
	if own == 0 || grams == 0 {
		return
	}
	most, source := a.sheet.Limit(sheet.LimitTotalLoad)
	sec.say("%s / %s = %s %% of the own hair, at most %g (%s)",
		append(sum{perCent, 0, []figure{{grams, 1}, {own, 0}}}.printed(), most, source)...)
	a.blend(totals.Shades)
}

// blend is how much of the hair is added where the own hair ends, by what there is of each shade.
func (a *account) blend(shades []tally.OfShade) {
	sec := a.section("where the own hair ends")
	own := a.sheet.Hair.Length
	tip, from := a.sheet.Limit(sheet.FigureTip)
	sec.say("it ends at %g mm; from the middle of a strand on its hairs grow fewer, to %g %% at its end (%s)", float64(own), tip, from)
	var reaching []figure
	added := 0.0
	for _, shade := range shades {
		ends, _ := a.sheet.EndsOf(shade.Shade)
		hairs, share := fibre.InStrand(shade.Grams, shade.Length, a.hair.Linear), fibre.Reaching(own, shade.Length, ends/100)
		if hairs == 0 {
			continue
		}
		name := fmt.Sprintf("%s, %g mm: %.1f g at %g µg/cm", shade.Name, float64(shade.Length), shade.Grams, a.hair.Linear)
		if shade.Ends > 0 {
			name += fmt.Sprintf(", %g %% of them at its end", shade.Ends)
		}
		if share == 0 {
			sec.say("%s ends before it", name)
			continue
		}
		sec.say("%s: %s hairs × %s that reach so far = %s", append([]any{name}, sum{product, 0, []figure{{hairs, 0}, {share, 2}}}.printed()...)...)
		reaching = append(reaching, figure{hairs * share, 0})
		added += hairs * share
	}
	if reaching == nil {
		sec.say("no strand is longer than the own hair, so there is nothing to blend")
		return
	}
	all := a.table.Roots().Hairs(a.hair.Density)
	if len(reaching) > 1 {
		sec.say("%s = %s added hairs", joined(sum{total, 0, reaching}.printed())...)
	}
	least, source := a.sheet.Limit(sheet.LimitBlend)
	sec.say("%s / (%s + %s) = %s %% of the hair there; for length at least %g (%s)",
		append(sum{perCent, 0, []figure{{added, 0}, {added, 0}, {all, 0}}}.printed(), least, source)...)
	if !a.sheet.Wishes(sheet.Length) {
		sec.say("length is not wished for, so this is not asked")
	}
}

// joined is the figures of a sum with plus signs between them, and the result.
func joined(printed []any) []any {
	last := len(printed) - 1
	words := make([]string, last)
	for i := range words {
		words[i] = printed[i].(string)
	}
	return []any{strings.Join(words, " + "), printed[last]}
}
