package rule

import (
	"fmt"
	"time"

	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/visit"
)

var overdue = &Rule{
	ID: "overdue", Since: "0.4", Severity: Caution,
	Title: "strands that have been in longer than the interval",
	Doc: "As hair grows, a bond moves away from the scalp and turns on less of its hair, and hair that is shed stays in it and tangles. Six to eight weeks " +
		"after the fitting strands are taken out, or up; that is common practice, and what a review of studies says of weaves and extensions. From six weeks on there is a note " +
		"that the client is due; past eight a caution. Also noted: no look at every bond a week or two after the fitting.",
	Limits: []sheet.LimitName{sheet.LimitReturn, sheet.LimitOverdue, sheet.FigureCheck, sheet.FigureGrowth},
	Check: func(p *Pass) {
		today, err := visit.Day(p.Sheet.Today)
		due, in := visit.NextDue(p.Sheet)
		if err != nil || !in {
			return
		}
		days := visit.Days(due.Fitted, today)
		grown := fmt.Sprintf("%.0f mm of growth", float64(visit.Growth(p.Sheet, days)))
		state := due.StateOn(p.Sheet, today)
		about := fmt.Sprintf("%s %s", state, due.Fitted.Format(time.DateOnly)) // an acceptance holds for this time
		found := Finding{Concern: p.about(about), Value: float64(days) / 7, Unit: "weeks", AtMost: true}
		switch state {
		case visit.Overdue:
			found.Severity = Caution
			found.Limit, found.Source = p.Sheet.Limit(sheet.LimitOverdue)
			found.What = "since the fitting of " + due.Fitted.Format(time.DateOnly) + ", with " + grown
		case visit.DueNow:
			found.Limit, found.Source = p.Sheet.Limit(sheet.LimitReturn)
			found.Unit = ""
			found.What = fmt.Sprintf("due for a refit or removal by %s, %d days after the fitting, with %s", due.By.Format(time.DateOnly), days, grown)
		case visit.CheckUp:
			found.Limit, found.Source = p.Sheet.Limit(sheet.FigureCheck)
			found.Unit = ""
			found.What = fmt.Sprintf("the early check of every bond is due by %s", due.Check.Format(time.DateOnly))
		default:
			return
		}
		p.found = append(p.found, found)
	},
}

var reused = &Rule{
	ID: "re-used", Since: "0.4", Severity: Caution,
	Title: "more re-used strands planned, or bonded, than came out",
	Doc: "Strands that came out and got a new tip are a kind of their own: shorter, lighter, and only so many. What the plan takes beyond them has to be new strands, or " +
		"other ones; and where more were bonded in than ever came out, the visits do not add up. A split bond takes half a strand: halves first, then a whole one is halved.",
	Check: func(p *Pass) {
		missing, drawer := visit.Missing(p.Sheet), visit.Drawer(p.Sheet)
		for _, h := range p.Sheet.Shades {
			short, did := float64(missing[h.Key].Halves())/2, "planned"
			if over := float64(-drawer[h.Key].Halves()) / 2; over > 0 {
				short, did = over, "bonded"
			}
			if short <= 0 {
				continue
			}
			p.found = append(p.found, Finding{Concern: sheet.Concern{Rule: p.rule.ID, About: string(rune(h.Key))}, Severity: Caution, Source: "counted",
				What: fmt.Sprintf("%s, used %d before: %g more %s than came out", h.Name, h.Used, short, did)})
		}
	},
}
