package visit

import (
	"fmt"
	"strings"
	"time"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// Line says what happened in the n-th visit: "118 fitted".
func Line(s *sheet.Sheet, n int) string {
	v, a := &s.Visits[n], AccountOf(s, n)
	var parts []string
	add := func(count int, word string) {
		if count > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", count, word))
		}
	}
	if v.Kind == sheet.Inspection {
		add(len(v.Seen), fmt.Sprintf("of %d looked at", a.Before))
		counts := Count(s, n)
		for _, info := range sheet.SeenMarks {
			if info.Mend != "" && info.Mark != sheet.Lost && info.Mark != sheet.Slipped {
				add(counts[info.Mark], info.Words)
			}
		}
	}
	add(a.Out, "taken out")
	if v.Kind.TakesOut() {
		add(a.Lost, "not found")
	} else {
		add(a.Lost, "lost")
	}
	add(a.Slipped, "slipped")
	if v.Kind.Fits() {
		add(a.Fitted, "fitted")
	} else {
		add(a.Fitted, "replaced")
	}
	add(len(LeftToMend(s, n)), "left to mend")
	if v.Open {
		parts = append(parts, "not finished")
	}
	parts = append(parts, fmt.Sprintf("%d in", a.After))
	return strings.Join(parts, ", ")
}

// Became says what became of strands that came out: "40 oat, 500 mm: re-tipped, now 490 mm and 0.78 g".
func Became(s *sheet.Sheet, o sheet.Outcome) string {
	var parts []string
	into, _ := s.Shade(o.Into)
	if o.Retipped > 0 {
		parts = append(parts, fmt.Sprintf("%d re-tipped", o.Retipped))
	}
	if o.Halved > 0 {
		parts = append(parts, fmt.Sprintf("%d halved", o.Halved))
	}
	if o.Into != 0 {
		grams, each := into.Grams, ""
		switch {
		case o.Split:
			grams /= 2
		case o.Halved > 0:
			each = ", each half of it"
		}
		now := fmt.Sprintf("now %.4g mm and %.3g g%s", float64(into.Length), grams, each)
		if length, short := Promised(s, into); short {
			now += fmt.Sprintf(", shorter than the %.4g mm wished for", float64(length))
		}
		parts = append(parts, now)
	}
	if o.Kept > 0 {
		parts = append(parts, fmt.Sprintf("%d put by", o.Kept))
	}
	if o.Thrown > 0 {
		parts = append(parts, fmt.Sprintf("%d thrown away", o.Thrown))
	}
	return Name(s, Kind{o.Shade, o.Split}) + ": " + strings.Join(parts, ", ")
}

// Outlook says where the client stands on a day and what comes next, a line each.
func Outlook(s *sheet.Sheet, today time.Time) []string {
	var first []string
	if n, open := Open(s); open {
		first = []string{fmt.Sprintf("%s of %s is not finished", The(s.Visits[n].Kind), s.Visits[n].Date)}
	}
	return append(first, standing(s, today, len(first) > 0)...)
}

// standing is what Outlook says but for a visit that is open.
func standing(s *sheet.Sheet, today time.Time, open bool) []string {
	due, in := NextDue(s)
	if !in {
		if open {
			return nil
		}
		if len(s.Visits) > 0 {
			return []string{"nothing is in"}
		}
		return []string{"nothing has been fitted yet"}
	}
	days := Days(due.Fitted, today)
	date := func(t time.Time) string { return t.Format(time.DateOnly) }
	if days < 0 {
		return []string{fmt.Sprintf("%s in, by a visit dated %s, which is still to come", printable.Count(len(Now(s)), "bond"), date(due.Fitted))}
	}
	lines := []string{fmt.Sprintf("%s in, the first of them since %s: %s", printable.Count(len(Now(s)), "bond"), date(due.Fitted), printable.Count(days, "day"))}
	if !Checked(s) && due.Check.After(due.Fitted) {
		lines = append(lines, "early check by "+date(due.Check))
	}
	state := "refit or removal by " + date(due.By)
	if due.From.Before(due.By) {
		state = "refit or removal from " + date(due.From) + " to " + date(due.By)
	}
	if due.StateOn(s, today) == Overdue {
		state += fmt.Sprintf(": %s overdue", printable.Count(Days(due.By, today), "day"))
	}
	lines = append(lines, state,
		fmt.Sprintf("growth so far %.0f mm, by %s %.0f mm", float64(Growth(s, days)), date(due.By), float64(Growth(s, Days(due.Fitted, due.By)))),
		fmt.Sprintf("of the own hairs in a bond about %.0f %% are shed so far and come out with it; by then %.0f %%", 100*Shed(s, days), 100*Shed(s, Days(due.Fitted, due.By))))
	return lines
}

// HistoryOf says where a kind of strand comes from: "oat, 480 mm: in twice before, re-tipped twice, 500 mm when new".
func HistoryOf(s *sheet.Sheet, h sheet.Shade) string {
	name := Name(s, Kind{Shade: h.Key})
	if h.Used == 0 {
		return name + ": new"
	}
	first, _ := s.Shade(New(s, h.Key))
	return fmt.Sprintf("%s: in %s before, re-tipped %s, %.4g mm when new", name, printable.Count(h.Used, "time"), printable.Count(h.Retipped, "time"), float64(first.Length))
}

// AtRefit says what the strands that are in come to when they are taken out and re-tipped: tips to order, how long and heavy
// they are then, and which are then too short. A line each; none where nothing is in.
func AtRefit(s *sheet.Sheet) []string {
	cut, _ := s.Limit(sheet.FigureRetip)
	pieces := map[Kind]int{}
	for _, h := range Now(s) {
		pieces[Kind{h.Shade, h.Split}]++
	}
	var lines []string
	tips := 0
	for _, kind := range sorted(pieces) {
		n := pieces[kind]
		tips += n
		h, _ := s.Shade(kind.Shade)
		after := Recut(h, scalp.MM(cut))
		grams := after.Grams
		if kind.Split {
			grams /= 2
		}
		line := fmt.Sprintf("%d of %s: %.4g mm and %.3g g each after %.3g mm are cut off", n, Name(s, kind), float64(after.Length), grams, cut)
		if length, short := Promised(s, after); short {
			line += fmt.Sprintf("; shorter than the %.4g mm wished for", float64(length))
		}
		lines = append(lines, line)
	}
	if tips > 0 {
		lines = append(lines, printable.Count(tips, "new tip")+", less those for strands lost or thrown away by then")
	}
	return lines
}

// Part is a part of the story of a sheet, under its heading.
type Part struct {
	Head  string
	Lines []string
}

// Story tells where the client stands on a day, of each visit, of the strands re-used and at hand, and of what a refit would come
// to. Parts that have nothing to say are left out.
func Story(s *sheet.Sheet, today time.Time) []Part {
	parts := []Part{{"where it stands", Outlook(s, today)}}
	add := func(head string, lines []string) {
		if len(lines) > 0 {
			parts = append(parts, Part{head, lines})
		}
	}
	add("visits", visitLines(s))
	var strands []string
	drawer := Drawer(s)
	for _, h := range s.Shades {
		if have, ok := drawer[h.Key]; ok {
			strands = append(strands, fmt.Sprintf("%s; at hand %d whole, %d in halves", HistoryOf(s, h), max(0, have.Whole), max(0, have.Half)))
		}
	}
	add("re-used strands", strands)
	add("when they are re-tipped", AtRefit(s))
	return parts
}

func visitLines(s *sheet.Sheet) []string {
	var lines []string
	for i, v := range s.Visits {
		by := ""
		if v.By != "" {
			by = " by " + v.By
		}
		lines = append(lines, fmt.Sprintf("%s  %s%s: %s", v.Date, v.Kind, by, Line(s, i)))
		for _, o := range v.Strands {
			lines = append(lines, "  "+Became(s, o))
		}
		if tips := v.Tips(); tips > 0 {
			lines = append(lines, "  "+printable.Count(tips, "new tip"))
		}
		for _, l := range LeftToMend(s, i) {
			lines = append(lines, fmt.Sprintf("  to mend: %s: %s", l.Spot, l.Words))
		}
		if v.Notes != "" {
			lines = append(lines, "  "+v.Notes)
		}
	}
	return lines
}
