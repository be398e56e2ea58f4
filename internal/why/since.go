package why

import (
	"time"

	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/visit"
)

// since is how long the bonds have been in, how much has grown since then, and when the client is expected back. Nothing is
// said where none is in, or where it is not known what day it is.
func (a *account) since() {
	due, in := visit.NextDue(a.sheet)
	today, err := visit.Day(a.sheet.Today)
	if !in || err != nil {
		return
	}
	sec := a.section("since the fitting")
	days := visit.Days(due.Fitted, today)
	daily, source := a.sheet.Limit(sheet.FigureGrowth)
	sec.say("the bonds that have been in longest are of %s; to %s that is %d days", due.Fitted.Format(time.DateOnly), today.Format(time.DateOnly), days)
	weeks := sum{func(v []float64) float64 { return v[0] / 7 }, 1, []figure{{float64(days), 0}}}
	sec.say("%s / 7 = %s weeks", weeks.printed()...)
	sec.say("grown since: %s × %s = %s mm ("+source+")", sum{product, 0, []figure{{float64(days), 0}, {daily, 2}}}.printed()...)
	for _, l := range []struct {
		what string
		name sheet.LimitName
		day  time.Time
	}{{"every bond is looked at by", sheet.FigureCheck, due.Check}, {"due back from", sheet.LimitReturn, due.From}, {"overdue after", sheet.LimitOverdue, due.By}} {
		weeks, source := a.sheet.Limit(l.name)
		sec.say("%s %s, %g weeks after the fitting (%s)", l.what, l.day.Format(time.DateOnly), weeks, source)
	}
}
