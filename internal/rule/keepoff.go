package rule

var keepOff = &Rule{
	ID: "keep-off", Since: "0.1", Severity: Stop,
	Title: "a bond on a patch to keep off",
	Doc: "A scar, a sore or thin place or a cowlick was marked at the consultation to be left alone. What is wrong with the scalp is for a " +
		"doctor or a licensed practitioner to judge; the sheet only keeps the bonds away from it.",
	Check: func(p *Pass) {
		for i := range p.Bonds {
			b := &p.Bonds[i]
			if b.On == nil || !b.On.OnScalp {
				continue
			}
			for k, d := range b.On.KeepOff {
				if patch := p.Sheet.KeepOff[k]; short(float64(d), float64(patch.Radius)) {
					what := "from the middle of the patch"
					if patch.Why != "" {
						what += " (" + patch.Why + ")"
					}
					p.reportBond(b, Finding{Value: float64(d), Limit: float64(patch.Radius), Unit: "mm",
						Source: "the patch on this sheet", What: what})
					break // one bond, one cause: the first patch that covers it
				}
			}
		}
	},
	Fixes: liftOrMove,
}
