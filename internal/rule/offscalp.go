package rule

import "example.org/underveil/internal/sheet"

var offScalp = &Rule{
	ID: "off-scalp", Since: "0.1", Severity: Stop,
	Title: "a bond where there is no hair",
	Doc: "A bond holds on to the client's own hair. Outside the hairline, or in the bare skin round the ear, " +
		"there is none to take, and heat or solvent would touch the skin.",
	Check: func(p *Pass) {
		for _, r := range p.Rows {
			if r.Line == nil {
				p.found = append(p.found, Finding{Concern: p.onRow(r.Place), Severity: Stop,
					What: "no line of the map is there on this head"})
			}
		}
		for i := range p.Bonds {
			b := &p.Bonds[i]
			switch {
			case b.Line == nil:
			case b.On == nil:
				p.reportBond(b, Finding{What: "beyond the end of the line"})
			case !b.On.OnScalp:
				p.reportBond(b, Finding{Value: float64(b.On.Edge()), Limit: 0, Unit: "mm", AtMost: true,
					What: "outside the hairline", Source: "the hairline of this sheet"})
			}
		}
	},
	Fixes: func(p *Pass, f Finding) []Fix {
		if f.On == sheet.OnRow {
			return []Fix{{Label: "clear the row", Large: true, Do: func(s *sheet.Sheet) *sheet.Sheet { return s.WithRow(sheet.Row{Place: f.Row}) }}}
		}
		return liftOrMove(p, f)
	},
}
