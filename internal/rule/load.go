package rule

import (
	"fmt"

	"example.org/underveil/internal/fibre"
	"example.org/underveil/internal/sheet"
)

var load = &Rule{
	ID: "load", Since: "0.2", Severity: Caution,
	Title: "a bond that loads its own hair more than the reference does",
	Doc: "The hair taken in a section carries the strand. The load is the weight of the strand for each own hair in the section, set " +
		"against a whole strand of 0.8 g on 8 by 4.5 mm of hair of 190 hairs/cm². No published limit for it was found: this is a " +
		"comparison, not a medical limit, and a scalp that hurts or looks thin decides before any number. A wider section, a split " +
		"strand or a lighter one lowers the load.",
	Limits: []sheet.LimitName{sheet.LimitLoad, sheet.FigureWidth, sheet.FigureThickness, sheet.FigureFibre, sheet.FigurePacking},
	Check: func(p *Pass) {
		p.loads(func(b *BondOn, share, most float64) bool { return b.Split || over(share/2, most) })
	},
	Fixes: func(p *Pass, f Finding) []Fix { return []Fix{lift(f)} },
}

var split = &Rule{
	ID: "split", Since: "0.2", Severity: Caution,
	Title: "a whole strand where the section carries only half of one",
	Doc: "Where the hair is thin, at the sides and towards the hairline, a section of the usual size has fewer hairs to carry a strand. " +
		"Split lengthwise, a strand is two bonds of half the hair and half the load. The load is compared with the reference as for " +
		"the rule load; it is not a medical limit.",
	Limits: []sheet.LimitName{sheet.LimitLoad, sheet.FigureWidth, sheet.FigureThickness, sheet.FigureFibre, sheet.FigurePacking},
	Check: func(p *Pass) {
		p.loads(func(b *BondOn, share, most float64) bool { return !b.Split && !over(share/2, most) })
	},
	Fixes: func(p *Pass, f Finding) []Fix {
		return []Fix{remake(f, "split it", func(b *sheet.Bond) { b.Split = true }), lift(f)}
	},
}

// loads reports the bonds that load their section too much, of those that a rule speaks of.
func (p *Pass) loads(speaks func(b *BondOn, share, most float64) bool) {
	most, source := p.Sheet.Limit(sheet.LimitLoad)
	hair, reference := p.hair(), ReferenceLoad()
	for i := range p.Bonds {
		b := &p.Bonds[i]
		if b.On == nil || !b.On.OnScalp {
			continue
		}
		shade, _ := p.Sheet.Shade(b.Shade)
		grams, own := shade.GramsOf(b.Bond), p.section(b)
		each := fibre.Load(grams, own)
		share := 100 * each / reference
		if !over(share, most) || !speaks(b, share, most) {
			continue
		}
		p.reportBond(b, Finding{Value: share, Limit: most, Unit: "%", AtMost: true, Source: source,
			What: fmt.Sprintf("of the reference load: %.0f hairs of a strand on %.0f own hairs, %.1f mg on each",
				fibre.InStrand(grams, shade.Length, hair.Linear), own, each),
			Reading: Reading{Kind: ByLoad}})
	}
}
