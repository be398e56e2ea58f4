package rule

import "example.org/underveil/internal/sheet"

var showsUp = &Rule{
	ID: "shows-up", Since: "0.2", Severity: Stop,
	Title: "too little own hair over a bond, worn half up or up",
	Doc: "Drawn up to a tie, the hair that grows between a bond and the hairline is combed over the bond and hides it: the nearer " +
		"to the hairline, the less there is. Worn half up, the hair below the section line hangs from it, so a bond close under " +
		"that line has nothing above it. A place that is right for hair worn down may be wrong in a ponytail.",
	Limits: []sheet.LimitName{sheet.LimitVeilUp, sheet.LimitReach, sheet.FigureStandOff, sheet.FigureGrowth, sheet.FigureFibre, sheet.FigurePacking},
	Check:  func(p *Pass) { p.covering(sheet.LimitVeilUp, p.up()) },
	Fixes:  func(p *Pass, f Finding) []Fix { return p.liftOrCover(f, p.up()) },
}
