package rule

import (
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/slots"
)

var nape = &Rule{
	ID: "nape", Since: "0.1", Severity: Stop,
	Title: "a bond too near the nape hairline",
	Doc: "The lowest hair has nothing above the hairline to hang over it, and the nape is the first place to show when the head " +
		"tips forward or the hair goes up. So the limit doubles for hair that is ever worn in a ponytail. The finest hair grows " +
		"here too, and pulls out soonest.",
	Check: func(p *Pass) {
		zoneCheck(p, p.Sheet.Nape(), "from the nape hairline", func(s *slots.Slot) scalp.MM { return s.Nape })
	},
	Fixes: liftOrMove,
}
