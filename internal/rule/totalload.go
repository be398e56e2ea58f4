package rule

import (
	"fmt"

	"example.org/underveil/internal/sheet"
)

var totalLoad = &Rule{
	ID: "total-load", Since: "0.2", Severity: Caution,
	Title: "more hair added than the own hair is a match for",
	Doc: "All the strands together hang from the client's own hair. What that weighs comes from its length, its density and the size of " +
		"the scalp; where nobody has said how long it is, nothing is compared. No published limit was found: it is a working rule, " +
		"not a medical limit.",
	Limits: []sheet.LimitName{sheet.LimitTotalLoad, sheet.FigureFibre, sheet.FigurePacking},
	Check: func(p *Pass) {
		most, source := p.Sheet.Limit(sheet.LimitTotalLoad)
		own, added := p.hair().Grams(), p.added()
		if own == 0 || added == 0 {
			return
		}
		if share := 100 * added / own; over(share, most) {
			p.found = append(p.found, Finding{Concern: sheet.Concern{Rule: p.rule.ID}, Severity: p.rule.Severity,
				Value: share, Limit: most, Unit: "%", AtMost: true, Source: source,
				What: fmt.Sprintf("of the own hair: %.1f g added to about %.0f g", added, own)})
		}
	},
}

// added is what all the bonds weigh, in grams.
func (p *Pass) added() float64 {
	sum := 0.0
	for i := range p.Bonds {
		sum += p.grams(&p.Bonds[i])
	}
	return sum
}
