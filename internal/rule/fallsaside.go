package rule

import (
	"fmt"

	"example.org/underveil/internal/fall"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// ledFor is how far from the parting or the whorl hair is led by it; beyond, it hangs by its own weight.
// Common practice, no source.
const ledFor scalp.MM = 80

var fallsAside = &Rule{
	ID: "falls-aside", Since: "0.2", Severity: Caution,
	Title: "a bond where the hair falls far from straight down",
	Doc: "A bond hangs with the hair that it is in. Where that hair is led across the head, away from a parting or round a whorl, " +
		"gravity pulls the strand another way than its roots point: it stands off, crosses its neighbours and twists its bond. " +
		"Rows on the top are not checked, for there is no way down there, and neither is hair more than 80 mm from where it is " +
		"parted, which hangs by its own weight.",
	Limits: []sheet.LimitName{sheet.LimitAside},
	Check: func(p *Pass) {
		most, source := p.Sheet.Limit(sheet.LimitAside)
		ways := p.down()
		for i := range p.Bonds {
			b := &p.Bonds[i]
			if b.On == nil || !b.On.OnScalp {
				continue
			}
			worst, aside := worn{}, 0.0
			for _, w := range ways {
				c := w.Cover(b.Line, b.Slot)
				if asked, _ := AsksAside(b.Line, c); asked && c.Aside > aside+alike {
					worst, aside = w, c.Aside
				}
			}
			if over(aside, most) {
				p.reportBond(b, Finding{Value: aside, Limit: most, Unit: "°", AtMost: true, Source: source,
					What: "between the hair and straight down, " + worst.In(p.Sheet), Reading: Reading{Kind: ByCover, Way: worst.Way}})
			}
		}
	},
	Fixes: func(p *Pass, f Finding) []Fix {
		fixes := []Fix{lift(f)}
		line, err := p.Table.Line(f.Row)
		if err != nil {
			return fixes
		}
		ways := p.down()
		if slot, ok := p.nearestRoom(f, func(slot int) bool {
			for _, w := range ways {
				c := w.Cover(line, slot)
				if asked, _ := AsksAside(line, c); asked && over(c.Aside, f.Limit) {
					return false
				}
			}
			return true
		}); ok {
			fixes = append(fixes, moveTo(f, slot))
		}
		return fixes
	},
}

var hangsFreely = fmt.Sprintf("hair over %g mm from where it is parted hangs by its own weight", float64(ledFor))

// AsksAside reports whether falls-aside looks at hair that falls so over a slot of a line; where it does not, why.
func AsksAside(line *slots.Line, c *fall.Cover) (asked bool, why string) {
	switch {
	case line.ID.Kind != scalp.Level:
		return false, "there is no way down on the top"
	case c.Line > ledFor:
		return false, hangsFreely
	}
	return true, ""
}
