package rule

import "example.org/underveil/internal/sheet"

var fringe = &Rule{
	ID: "fringe", Since: "0.1", Severity: Stop,
	Title: "a bond in the fringe",
	Doc: "The fringe lies on the face and moves with every breath of wind, so a bond in it shows from in front. The zone is the strip " +
		"behind the front hairline and the triangle behind that, from which a fringe is cut.",
	Limits: []sheet.LimitName{sheet.LimitFringe, sheet.LimitFringeDepth},
	Check: func(p *Pass) {
		least, source := p.Sheet.Limit(sheet.LimitFringe)
		_, deep := p.Sheet.Limit(sheet.LimitFringeDepth)
		for i := range p.Bonds {
			b := &p.Bonds[i]
			if b.On == nil || !b.On.OnScalp {
				continue
			}
			switch front, side := float64(b.On.Front), float64(b.On.Fringe); {
			case short(front, least):
				p.reportBond(b, Finding{Value: front, Limit: least, Unit: "mm", Source: source, What: "from the front hairline"})
			case short(side, 0):
				p.reportBond(b, Finding{Value: -side, Limit: 0, Unit: "mm", AtMost: true, Source: deep, What: "inside the fringe triangle"})
			}
		}
	},
	Fixes: liftOrMove,
}
