package rule

import "example.org/underveil/internal/sheet"

var thinVeil = &Rule{
	ID: "thin-veil", Since: "0.2", Severity: Stop,
	Title: "too little own hair over a bond, worn down",
	Doc: "Worn down, a bond is hidden by the hair that grows above it on its fall line, between it and the parting or the whorl. " +
		"Fine hair needs more of it, and so does a bond from which the hair fans out. Hair too short to reach past the bond hides " +
		"nothing. As own hair grows the bond hangs lower, and what covered it at the fitting may no longer. Every parting that the " +
		"client uses counts.",
	Limits: []sheet.LimitName{sheet.LimitVeil, sheet.LimitReach, sheet.FigureStandOff, sheet.FigureGrowth, sheet.FigureWhorl, sheet.FigureFibre, sheet.FigurePacking},
	Check:  func(p *Pass) { p.covering(sheet.LimitVeil, p.down()) },
	Fixes:  func(p *Pass, f Finding) []Fix { return p.liftOrCover(f, p.down()) },
}
