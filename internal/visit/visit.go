// Package visit is what happens to a client's strands over time: fittings, inspections, refits and removals, recorded
// on the sheet; what is in the head, what is due when, and what becomes of strands that come out.
//
// A visit is recorded bond by bond, by functions that take a sheet and give another one. What is in the head is never
// written down: it follows from the visits.
package visit

import (
	"errors"
	"fmt"
	"time"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/sheet"
)

// Held is a bond that is in the head.
type Held struct {
	sheet.Spot
	sheet.Bond
	Since int // the visit in which it was made, by its place in Sheet.Visits
}

// In are the bonds that are in the head when the n-th visit begins, counted from 0; with the number of visits, now.
func In(s *sheet.Sheet, n int) map[sheet.Spot]Held {
	in := map[sheet.Spot]Held{}
	for i := range s.Visits[:n] {
		apply(in, &s.Visits[i], i)
	}
	return in
}

// Now are the bonds that are in the head after all visits, an open one as far as it has come.
func Now(s *sheet.Sheet) map[sheet.Spot]Held { return In(s, len(s.Visits)) }

// apply makes of what is in the head before a visit what is in it afterwards.
func apply(in map[sheet.Spot]Held, v *sheet.Visit, n int) {
	for at, mark := range v.Seen {
		if gone(mark) {
			delete(in, at)
		}
	}
	for _, r := range v.Fitted {
		for slot, b := range r.All() {
			at := sheet.Spot{At: r.Place, Slot: slot}
			in[at] = Held{Spot: at, Bond: b, Since: n}
		}
	}
}

// gone reports whether a bond with the mark is no longer in the head.
func gone(m sheet.Mark) bool { return m.Plain() == sheet.Lost || m == sheet.TakenOut }

// Account is how the bonds in the head changed in a visit: After is Before less Lost and Out, and Fitted besides.
type Account struct {
	Before, Lost, Out, Fitted, After int

	Slipped, Replaced int // Replaced are those fitted where one was lost or taken out in the same visit, no refit
}

// AccountOf counts the n-th visit.
func AccountOf(s *sheet.Sheet, n int) Account {
	v := &s.Visits[n]
	in := In(s, n)
	a := Account{Before: len(in)}
	for at, mark := range v.Seen {
		switch {
		case mark.Plain() == sheet.Lost:
			a.Lost++
		case mark == sheet.TakenOut:
			a.Out++
		case mark.Plain() == sheet.Slipped:
			a.Slipped++
		}
		if gone(mark) && !v.Kind.Fits() && v.FittedRow(at.At).Bond(at.Slot).Placed() {
			a.Replaced++
		}
	}
	for _, r := range v.Fitted {
		a.Fitted += r.Count()
	}
	apply(in, v, n)
	a.After = len(in)
	return a
}

// Open is the visit that is not finished, by its place in Sheet.Visits; ok is false where there is none. Only the last
// one can be open.
func Open(s *sheet.Sheet) (n int, ok bool) {
	n = len(s.Visits) - 1
	return n, n >= 0 && s.Visits[n].Open
}

// Begin adds a visit. One in which strands are fitted is from then on the day of the fitting, against which the patch test is measured.
// Its error says what stands against it.
func Begin(s *sheet.Sheet, kind sheet.VisitKind, date, by string) (*sheet.Sheet, error) {
	day, err := Day(date)
	if err != nil {
		return nil, err
	}
	if last := s.LastVisit(); last != nil {
		if last.Open {
			return nil, fmt.Errorf("%s of %s is not finished yet", The(last.Kind), last.Date)
		}
		if before, err := Day(last.Date); err == nil && day.Before(before) {
			return nil, fmt.Errorf("%s is before %s of %s, and visits stand in the order in which they were", date, The(last.Kind), last.Date)
		}
	}
	if today, err := Day(s.Today); err == nil && day.After(today) {
		return nil, fmt.Errorf("%s is after today, %s: a visit is recorded when it is there", date, s.Today)
	}
	in := len(Now(s))
	switch {
	case kind == sheet.Fitting && in > 0:
		return nil, fmt.Errorf("there are %s in the head already: a refit takes them out first", printable.Count(in, "bond"))
	case kind == sheet.Fitting && s.Bonds() == 0:
		return nil, errors.New("no bond is placed on the sheet yet, so there is nothing to fit")
	case kind != sheet.Fitting && in == 0:
		return nil, fmt.Errorf("there is no bond in the head, so there is nothing for %s", A(kind))
	}
	if kind.Fits() {
		s = s.With(func(c *sheet.Sheet) { c.Date = date })
	}
	return s.WithVisit(len(s.Visits), sheet.Visit{Kind: kind, Date: date, By: by, Open: true, Aside: s.Aside}), nil
}

// Change is the sheet with the n-th visit changed.
func Change(s *sheet.Sheet, n int, f func(*sheet.Visit)) *sheet.Sheet {
	v := s.Visits[n]
	f(&v)
	return s.WithVisit(n, v)
}

// Day reads a date, as a day in no time zone. Its error says how one is written.
func Day(date string) (time.Time, error) {
	day, err := time.Parse(time.DateOnly, date)
	if err != nil {
		return time.Time{}, fmt.Errorf("%s is not a date: write it like 2026-03-02", printable.Quote(date))
	}
	return day, nil
}

// The and A are a kind of visit in a sentence.
func The(k sheet.VisitKind) string { return "the " + string(k) }

func A(k sheet.VisitKind) string {
	if k == sheet.Inspection {
		return "an " + string(k)
	}
	return "a " + string(k)
}

// Rows are bonds in the head as rows, in map order.
func Rows(in map[sheet.Spot]Held) []sheet.Row {
	var v sheet.Visit // which knows how to keep rows in order
	for at, h := range in {
		v = v.WithFitted(at, h.Bond)
	}
	return v.Fitted
}

// Finish ends the n-th visit. A refit in which nothing was fitted again is a removal. Its error says what is still open: bonds that were not looked at or not taken out, strands
// of which nobody said what became of them, bonds that are planned and neither made nor left out.
func Finish(s *sheet.Sheet, n int) (*sheet.Sheet, error) {
	v := &s.Visits[n]
	if v.Kind != sheet.Fitting {
		if unseen := len(Unseen(s, n)); unseen > 0 {
			return nil, fmt.Errorf("%s: nothing is recorded of them yet", printable.Count(unseen, "bond"))
		}
	}
	if !Resolved(s, n) {
		return nil, errors.New("strands came out, and nothing says what became of them")
	}
	if v.Kind.Fits() {
		if left := len(NotDone(s, n)); left > 0 {
			return nil, fmt.Errorf("%s planned, and neither made nor left out", printable.Count(left, "bond"))
		}
		if len(v.Fitted) == 0 && v.Kind == sheet.Fitting {
			return nil, errors.New("no bond was made, so this is no fitting; leave it, and u takes it back")
		}
	}
	return Change(s, n, func(v *sheet.Visit) {
		v.Open = false
		if v.Kind == sheet.Refit && len(v.Fitted) == 0 {
			v.Kind, v.Ticks = sheet.Removal, nil
		}
	}), nil
}
