package rule

import (
	"fmt"

	"example.org/underveil/internal/fibre"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

var lengthBlend = &Rule{
	ID: "length-blend", Since: "0.2", Severity: Caution,
	Title: "too little added hair at the ends of the own hair for the length to look natural",
	Doc: "Where the own hair ends, all that goes on is the added hair. If that is a small share of what hangs there, the eye sees a thick " +
		"head of short hair with wisps under it. A strand is thinner towards its tips, so less of it counts the further down the own " +
		"hair ends. Asked only where length is wished for and strands are longer than the own hair.",
	Limits: []sheet.LimitName{sheet.LimitBlend, sheet.FigureFibre, sheet.FigurePacking, sheet.FigureTip},
	Check: func(p *Pass) {
		least, source := p.Sheet.Limit(sheet.LimitBlend)
		own := p.Sheet.Hair.Length
		added := p.addedAt(own)
		if !p.Sheet.Wishes(sheet.Length) || own == 0 || added == 0 {
			return
		}
		hair := p.hair()
		all := hair.roots.Hairs(hair.Density)
		if share := 100 * added / (added + all); short(share, least) {
			p.found = append(p.found, Finding{Concern: sheet.Concern{Rule: p.rule.ID}, Severity: p.rule.Severity,
				Value: share, Limit: least, Unit: "%", Source: source,
				What: fmt.Sprintf("of the hair is added at %.0f mm, where the own hair ends: %.0f hairs to %.0f own", float64(own), added, all)})
		}
	},
}

// addedAt is how many added hairs reach so far from the root, of strands that are longer than that.
func (p *Pass) addedAt(own scalp.MM) float64 {
	hair := p.hair()
	sum := 0.0
	for i := range p.Bonds {
		shade, _ := p.Sheet.Shade(p.Bonds[i].Shade)
		tip, _ := p.Sheet.EndsOf(shade)
		sum += fibre.InStrand(shade.GramsOf(p.Bonds[i].Bond), shade.Length, hair.Linear) * fibre.Reaching(own, shade.Length, tip/100)
	}
	return sum
}
