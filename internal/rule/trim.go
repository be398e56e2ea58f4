package rule

import (
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

var trim = &Rule{
	ID: "trim", Since: "0.1", Severity: Note,
	Title: "a full-height bond at the side where a trimmed one hides better",
	Doc: "Towards the temple the hair over a bond grows thinner. With the top of the bond cut off there is less to see and to feel, and " +
		"the strand holds all its hair.",
	Limits: []sheet.LimitName{sheet.LimitTrim},
	Check: func(p *Pass) {
		within, source := p.Sheet.Limit(sheet.LimitTrim)
		for i := range p.Bonds {
			b := &p.Bonds[i]
			if b.Trimmed || b.On == nil || !b.On.OnScalp || b.Line.ID.Kind != scalp.Level {
				continue
			}
			if d := float64(b.On.Temple); short(d, within) {
				p.reportBond(b, Finding{Value: d, Limit: within, Unit: "mm", Source: source,
					What: "from the temple hairline at full height"})
			}
		}
	},
	Fixes: func(p *Pass, f Finding) []Fix {
		return []Fix{remake(f, "trim it", func(b *sheet.Bond) { b.Trimmed = true }), lift(f)}
	},
}
