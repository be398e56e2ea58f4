package card

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"example.org/underveil/internal/care"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/tally"
	"example.org/underveil/internal/visit"
)

// home is the page for the client.
type home struct {
	worn    []string // what was fitted, or is to be
	dates   []dated
	daily   []string
	watch   []care.Step
	normal  string
	studio  string
	contact string
	sources []string
}

// dated is a day and what it is for.
type dated struct{ when, what string }

func homeOf(s *sheet.Sheet, o Options) home {
	h := home{studio: clipped(o.Studio, longText), contact: clipped(o.Contact, longText), watch: care.WatchFor}
	fitted, in := fittedOn(s)
	h.worn = wornOf(s, fitted, in)
	h.dates = datesOf(s, fitted)
	for _, it := range care.Aftercare {
		text := it.Do
		if it.Caution != "" {
			text += " " + it.Caution
		}
		h.daily = append(h.daily, text)
	}
	h.normal = normal(s)
	h.sources = sourcesOf(care.Aftercare, care.WatchFor, []care.Step{{Source: care.NormalSource}})
	return h
}

// fittedOn is the day of the fitting: of what is in the head, or else the sheet's own where no visit has come after it; zero
// where nobody has said. in reports whether anything is in the head by the visits recorded.
func fittedOn(s *sheet.Sheet) (day time.Time, in bool) {
	if due, ok := visit.NextDue(s); ok {
		return due.Fitted, true
	}
	day, err := visit.Day(s.Date)
	if err != nil {
		return time.Time{}, false
	}
	if last := s.LastVisit(); last != nil && last.Date >= s.Date {
		return time.Time{}, false
	}
	return day, false
}

// wornOf says what was fitted, or, before any fitting is recorded, what is to be.
func wornOf(s *sheet.Sheet, fitted time.Time, in bool) []string {
	held := map[byte]tally.Counts{}
	bonds, grams := 0, 0.0
	count := func(b sheet.Bond) {
		c := held[b.Shade]
		if b.Split {
			c.Split++
		} else {
			c.Whole++
		}
		held[b.Shade] = c
		bonds++
	}
	if in {
		for _, b := range visit.Now(s) {
			count(b.Bond)
		}
	} else {
		for _, r := range s.Rows {
			for _, b := range r.All() {
				count(b)
			}
		}
	}
	if bonds == 0 {
		return []string{"Nothing is planned on the sheet yet."}
	}
	var hair []string
	for _, sh := range s.Shades {
		c, ok := held[sh.Key]
		if !ok {
			continue
		}
		grams += sh.Grams * (float64(c.Whole) + float64(c.Split)/2)
		hair = append(hair, fmt.Sprintf("%s, %s mm long: %s", named(sh.Name), number(sh.Length), printable.Count(c.Bonds(), "bond")))
	}
	text := fmt.Sprintf("%s, %.1f g of hair", printable.Count(bonds, "bond"), grams)
	switch {
	case in:
		text += ", fitted on " + onDay(fitted) + "."
	case fitted.IsZero():
		text += ", to be fitted."
	default:
		text += ", for the fitting on " + onDay(fitted) + "."
	}
	return append([]string{text}, hair...)
}

// datesOf are the days on which the client is expected, and how much will have grown by then.
func datesOf(s *sheet.Sheet, fitted time.Time) []dated {
	check, _ := s.Limit(sheet.FigureCheck)
	from, _ := s.Limit(sheet.LimitReturn)
	by, _ := s.Limit(sheet.LimitOverdue)
	if from > by {
		from = by
	}
	least, most := fmt.Sprintf("%.0f", visit.Growth(s, daysIn(from))), fmt.Sprintf("%.0f", visit.Growth(s, daysIn(by)))
	grown := "By then your hair has grown about " + most + " mm, and the bonds sit that much further from the scalp."
	if least != most {
		grown = strings.Replace(grown, most, least+" to "+most, 1)
	}
	const (
		early = "Early check. Every bond is looked at again, and what slipped or was lost is put right."
		back  = "The bonds come out, or are moved up. "
	)
	var list []dated
	if fitted.IsZero() {
		if check > 0 {
			list = append(list, dated{"within " + weeks(check) + " of the fitting", early})
		}
		when := weeks(by) + " after the fitting"
		if from < by {
			when = inLetters(from) + " to " + when
		}
		return append(list, dated{when, back + grown})
	}
	due := visit.DueFrom(s, fitted)
	if due.From.After(due.By) {
		due.From = due.By
	}
	if check > 0 {
		list = append(list, dated{"by " + onDay(due.Check), early})
	}
	when := "on " + onDay(due.By)
	if due.From.Before(due.By) {
		when = "from " + onDay(due.From) + " to " + onDay(due.By)
	}
	return append(list, dated{when, back + grown})
}

func daysIn(weeks float64) int { return int(7*weeks + 0.5) }

// onDay is a day in words, with the day of the week.
func onDay(t time.Time) string { return t.Format("Monday 2 January 2006") }

func weeks(n float64) string {
	if n == 1 {
		return "one week"
	}
	return inLetters(n) + " weeks"
}

// inLetters is a small whole number in letters, and any other in figures.
func inLetters(n float64) string {
	names := []string{"no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"}
	if i := int(n); float64(i) == n && i >= 0 && i < len(names) {
		return names[i]
	}
	return strconv.FormatFloat(n, 'g', 3, 64)
}

// normal is what a client may take for damage and is none, with how many hairs it is.
func normal(s *sheet.Sheet) string {
	from, _ := s.Limit(sheet.LimitReturn)
	by, _ := s.Limit(sheet.LimitOverdue)
	least, most := 100*visit.Shed(s, daysIn(min(from, by))), 100*visit.Shed(s, daysIn(by))
	share := fmt.Sprintf("%.0f", most)
	if low := fmt.Sprintf("%.0f", least); low != share {
		share = low + " to " + share
	}
	return care.Normal + " By the time you are due it is about " + share + " of every 100 of your own hairs in a bond; people differ."
}

// sourcesOf are the published sources of steps, each once. What has none is common practice.
func sourcesOf(lists ...[]care.Step) []string {
	var list []string
	seen := map[string]bool{sheet.Practice: true}
	for _, steps := range lists {
		for _, it := range steps {
			if !seen[it.Source] && !strings.HasPrefix(it.Source, sheet.Practice) {
				list = append(list, it.Source)
			}
			seen[it.Source] = true
		}
	}
	return list
}
