package rule

import (
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

var part = &Rule{
	ID: "part", Since: "0.1", Severity: Stop,
	Title: "a bond too near a parting",
	Doc: "Hair falls away from a parting to both sides, so right beside it nothing lies over a bond. Every parting that the client " +
		"uses counts, not only the one worn today.",
	Limits: []sheet.LimitName{sheet.LimitPart},
	Check: func(p *Pass) {
		zoneCheck(p, sheet.LimitPart, "from the parting", func(s *slots.Slot) scalp.MM { return s.Part })
	},
	Fixes: liftOrMove,
}
