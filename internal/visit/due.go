package visit

import (
	"math"
	"time"

	"example.org/underveil/internal/fibre"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// Due is when a client is expected again, reckoned from a day: the fitting of the bonds that have been in longest.
type Due struct {
	Fitted time.Time
	Check  time.Time // by when every bond is looked at again; the day of the fitting where no early check is kept
	From   time.Time // from when on the client is due back; after By where there is only a last day
	By     time.Time // from the day after on the client is overdue
}

// NextDue is when the client with what is now in the head is expected. ok is false where nothing is.
func NextDue(s *sheet.Sheet) (d Due, ok bool) {
	oldest := -1
	for _, h := range Now(s) {
		if oldest < 0 || h.Since < oldest {
			oldest = h.Since
		}
	}
	if oldest < 0 {
		return Due{}, false
	}
	day, err := Day(s.Visits[oldest].Date)
	if err != nil {
		return Due{}, false
	}
	return DueFrom(s, day), true
}

// DueFrom is when a client fitted on a day is expected again, by the limits of the sheet.
func DueFrom(s *sheet.Sheet, fitted time.Time) Due {
	after := func(name sheet.LimitName) time.Time {
		weeks, _ := s.Limit(name)
		return fitted.AddDate(0, 0, int(math.Round(7*weeks)))
	}
	return Due{Fitted: fitted, Check: after(sheet.FigureCheck), From: after(sheet.LimitReturn), By: after(sheet.LimitOverdue)}
}

// Checked reports whether all bonds were looked at after the day on which the last were made.
func Checked(s *sheet.Sheet) bool {
	fitted, checked := "", false
	for _, v := range s.Visits {
		switch {
		case v.Kind.Fits():
			fitted, checked = v.Date, false
		case v.Kind == sheet.Inspection && !v.Open && v.Date > fitted:
			checked = true
		}
	}
	return checked
}

// Days is how many days lie between two days. Days are counted on the calendar, so that the hour which a change of the
// clocks takes or gives is none of its business.
func Days(from, to time.Time) int {
	return int((dayOf(to).Unix() - dayOf(from).Unix()) / (24 * 60 * 60))
}

// dayOf is the day of a moment, where it is, in no time zone.
func dayOf(t time.Time) time.Time {
	return time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, time.UTC)
}

// Growth is how much the client's hair grows in so many days, by the rate of the sheet.
func Growth(s *sheet.Sheet, days int) scalp.MM {
	rate, _ := s.Limit(sheet.FigureGrowth)
	return fibre.Grown(float64(days), rate)
}

// Shed is the share of the client's own hairs in a bond that are shed in so many days and stay in it: they come out with it
// and are no damage.
func Shed(s *sheet.Sheet, days int) float64 {
	share, _ := s.Limit(sheet.FigureTelogen)
	rest, _ := s.Limit(sheet.FigureRest)
	return fibre.Shed(float64(days), share/100, rest)
}

// State is where a client stands on a day.
type State string

// The states, the most pressing first.
const (
	Overdue State = "overdue"
	DueNow  State = "due"
	CheckUp State = "early check"
	Wearing State = "wearing"
	NotIn   State = "nothing in" // nothing fitted, or all taken out
)

// StateOn is where a client stands on a day.
func StateOn(s *sheet.Sheet, today time.Time) State {
	d, ok := NextDue(s)
	if !ok {
		return NotIn
	}
	return d.StateOn(s, today)
}

// StateOn is where a client who is expected so stands on a day.
func (d Due) StateOn(s *sheet.Sheet, today time.Time) State {
	today = dayOf(today)
	switch {
	case today.After(d.By):
		return Overdue
	case !today.Before(d.From):
		return DueNow
	case d.Check.After(d.Fitted) && !Checked(s) && Days(d.Fitted, today) >= min(7, Days(d.Fitted, d.Check)):
		return CheckUp
	}
	return Wearing
}
