package rule

import (
	"fmt"
	"strings"
	"time"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/sheet"
)

var refer = &Rule{
	ID: "refer", Since: "0.3", Severity: Stop,
	Title: "a question about scalp and skin answered with yes, or not asked",
	Doc: "Some conditions of the scalp and the hair are reasons to wait, and it is not for a sheet to decide which: a doctor or a licensed " +
		"practitioner does, and local codes apply. A yes is therefore a stop that refers on. It can be accepted with what was decided and by " +
		"whom. The sheet never clears anyone: no finding here means that the questions were asked, not that the answers are safe.",
	Check: func(p *Pass) {
		p.referOn()
		p.patchTest()
		p.notAsked()
	},
}

// decides is who does, in the words of every finding that refers on.
const decides = "a doctor or licensed practitioner decides, and local codes apply"

// about is the pass's rule speaking of one thing on the sheet as a whole.
func (p *Pass) about(what string) sheet.Concern {
	return sheet.Concern{Rule: p.rule.ID, About: what}
}

// referOn reports each question that was answered with yes.
func (p *Pass) referOn() {
	for _, q := range p.Sheet.Asked.AnsweredYes() {
		p.found = append(p.found, Finding{Concern: p.about(string(q.ID)), Severity: Stop, Source: sheet.Practice,
			What: "yes to " + q.Asks + ": " + decides})
	}
}

// patchDays is how long before the fitting a patch test is done, in days: what shows late, shows by then.
// Common practice, no source; what the maker of the bond says goes before it.
const patchDays = 2

// patchOld is after how long a patch test is done again, in days: skin changes. Common practice, no source.
const patchOld = 183

// patchTest cautions of a patch test that was done too shortly before the fitting to show anything, or too long.
func (p *Pass) patchTest() {
	fitted, err := time.Parse(time.DateOnly, p.Sheet.Date)
	tested, wrong := time.Parse(time.DateOnly, p.Sheet.Asked.PatchTest)
	if err != nil || wrong != nil {
		return // there is a note for what is not dated
	}
	days := fitted.Sub(tested).Hours() / 24
	if days < 0 {
		p.found = append(p.found, Finding{Concern: p.about("patch test"), Severity: Caution, Source: sheet.Practice,
			What: "the patch test is dated after the fitting: the other way round it is of use"})
		return
	}
	if days > patchOld {
		p.found = append(p.found, Finding{Concern: p.about("patch test"), Severity: Caution, Value: days, Limit: patchOld, Unit: "days", AtMost: true,
			Source: sheet.Practice, What: "from the patch test to the fitting"})
	}
	if short(days, patchDays) {
		p.found = append(p.found, Finding{Concern: p.about("patch test"), Severity: Caution, Value: days, Limit: patchDays, Unit: "days",
			Source: sheet.Practice, What: "from the patch test to the fitting"})
	}
}

// notAsked notes all that is still open, in one finding: it is a list to go through, not so many faults.
func (p *Pass) notAsked() {
	asked := p.Sheet.Asked
	var open []string
	if n := len(asked.Open()); n > 0 {
		open = append(open, printable.Count(n, "question")+" about scalp and skin")
	}
	if asked.PatchTest == "" {
		open = append(open, "the patch test")
	}
	if asked.Agreed == "" {
		open = append(open, "the signed agreement")
	}
	if len(open) > 0 {
		p.found = append(p.found, Finding{Concern: sheet.Concern{Rule: p.rule.ID}, Severity: Note, Source: sheet.Practice,
			What: fmt.Sprintf("still open: %s", strings.Join(open, ", "))})
	}
}
