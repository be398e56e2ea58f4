package rule

import (
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

var temple = &Rule{
	ID: "temple", Since: "0.1", Severity: Stop,
	Title: "a bond too near the temple hairline",
	Doc: "The hair at the temple is short, fine and sparse. It does not cover a bond, the wind lifts it off the face, and it is the " +
		"margin where hair under constant pull is lost first.",
	Limits: []sheet.LimitName{sheet.LimitTemple},
	Check: func(p *Pass) {
		zoneCheck(p, sheet.LimitTemple, "from the temple hairline", func(s *slots.Slot) scalp.MM { return s.Temple })
	},
	Fixes: liftOrMove,
}
