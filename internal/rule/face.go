package rule

import "example.org/underveil/internal/sheet"

var face = &Rule{
	ID: "face", Since: "0.1", Severity: Stop,
	Title: "a bond too near the face",
	Doc: "Whatever the zones at the temple and the fringe allow, a bond close behind the front hairline shows from in front as soon as " +
		"the hair is pushed back. A bond that those zones already report is not reported again.",
	Limits: []sheet.LimitName{sheet.LimitFace, sheet.LimitTemple, sheet.LimitFringe, sheet.LimitFringeDepth},
	Check: func(p *Pass) {
		least, source := p.Sheet.Limit(sheet.LimitFace)
		temple, _ := p.Sheet.Limit(sheet.LimitTemple)
		fringe, _ := p.Sheet.Limit(sheet.LimitFringe)
		for i := range p.Bonds {
			b := &p.Bonds[i]
			if b.On == nil || !b.On.OnScalp || short(float64(b.On.Temple), temple) ||
				short(float64(b.On.Front), fringe) || short(float64(b.On.Fringe), 0) {
				continue
			}
			if d := float64(min(b.On.Temple, b.On.Front)); short(d, least) {
				p.reportBond(b, Finding{Value: d, Limit: least, Unit: "mm", Source: source, What: "from the front hairline"})
			}
		}
	},
	Fixes: liftOrMove,
}
