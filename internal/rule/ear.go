package rule

import (
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

var ear = &Rule{
	ID: "ear", Since: "0.1", Severity: Stop,
	Title: "a bond too near the ear",
	Doc: "Hair is tucked behind the ear without thinking, and then all that lies close to it is bare. A bond there also rubs against " +
		"the ear, on spectacles and on the pillow.",
	Limits: []sheet.LimitName{sheet.LimitEar},
	Check: func(p *Pass) {
		zoneCheck(p, sheet.LimitEar, "from the hairline round the ear", func(s *slots.Slot) scalp.MM { return s.Ear })
	},
	Fixes: liftOrMove,
}
