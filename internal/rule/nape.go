package rule

import (
	"fmt"

	"example.org/underveil/internal/fall"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

var nape = &Rule{
	ID: "nape", Since: "0.1", Severity: Stop,
	Title: "a bond too near the nape hairline",
	Doc: "The lowest hair has nothing above the hairline to hang over it, and the nape is the first place to show when the head " +
		"tips forward or the hair goes up. So the limit doubles for hair that is ever worn in a ponytail. The finest hair grows " +
		"here too, and pulls out soonest. A bond that grows out hangs lower, and may come out under the hairline before the strands are " +
		"moved up: that is a note.",
	Limits: []sheet.LimitName{sheet.LimitNape, sheet.LimitNapeUp, sheet.FigureStandOff, sheet.FigureGrowth},
	Check: func(p *Pass) {
		zoneCheck(p, p.Sheet.Nape(), "from the nape hairline", func(s *slots.Slot) scalp.MM { return s.Nape })
		p.grownOut()
	},
	Fixes: liftOrMove,
}

// grownOut notes the bonds out of the nape zone that hang out under the hairline as they grow, at the
// first of the weeks at which they do.
func (p *Pass) grownOut() {
	least, _ := p.Sheet.Limit(p.Sheet.Nape())
	ways, hang := p.down(), p.Table.Own().Hang
	for i := range p.Bonds {
		b := &p.Bonds[i]
		if b.On == nil || !b.On.OnScalp || short(float64(b.On.Nape), least) || b.On.Nape > b.On.Edge() ||
			b.On.Nape > hang[len(hang)-1] { // it cannot be nearer along the fall line
			continue
		}
		if w, time, out := p.hangsOut(b, ways); time > 0 {
			f := Finding{Concern: p.concern(b), Severity: Note, Value: float64(out), AtMost: true, Unit: "mm",
				Source:  p.growthSource(),
				What:    fmt.Sprintf("out under the nape hairline %s, %s", fall.When(time), w.In(p.Sheet)),
				Reading: Reading{Kind: ByCover, Way: w.Way, Time: time}}
			p.found = append(p.found, f)
		}
	}
}

// hangsOut is the first of the times after the fitting at which a bond hangs out under the hairline, worn
// down, how far, and with which parting; 0 when it does not.
func (p *Pass) hangsOut(b *BondOn, ways []worn) (w worn, time int, out scalp.MM) {
	hang := p.Table.Own().Hang
	for time := 1; time < len(hang); time++ {
		for _, w := range ways {
			out := hang[time] - w.Cover(b.Line, b.Slot).Edge
			if over(float64(out), 0) {
				return w, time, out
			}
		}
	}
	return worn{}, 0, 0
}

// growthSource is where the growth that is reckoned with comes from.
func (p *Pass) growthSource() string {
	daily, source := p.Sheet.Limit(sheet.FigureGrowth)
	return fmt.Sprintf("%g mm of growth a day: %s", daily, source)
}
