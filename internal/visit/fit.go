package visit

import (
	"slices"

	"example.org/underveil/internal/sheet"
)

// Stage is how far a planned bond has come.
type Stage uint8

// The stages, in their order.
const (
	ToDo    Stage = iota
	Pulled        // the hair is through the hole and was looked at, before any heat
	Bonded        // bonded, and looked at again
	LeftOut       // not to be made after all
)

// StageOf is how far the bond in a slot has come in the n-th visit.
func StageOf(s *sheet.Sheet, n int, at sheet.Spot) Stage {
	v := &s.Visits[n]
	switch {
	case v.FittedRow(at.At).Bond(at.Slot).Placed():
		return Bonded
	case v.Ticks[at] == sheet.Pulled:
		return Pulled
	case v.Ticks[at] == sheet.LeftOut:
		return LeftOut
	}
	return ToDo
}

// Tick takes the bond planned in a slot one stage on: hair pulled and looked at, then bonded and looked at. What is done
// stays as it is.
func Tick(s *sheet.Sheet, n int, at sheet.Spot) *sheet.Sheet {
	planned := s.Bond(at.At, at.Slot)
	if !planned.Placed() {
		return s
	}
	switch StageOf(s, n, at) {
	case ToDo:
		return Change(s, n, func(v *sheet.Visit) { v.Ticks = v.Ticks.With(at, sheet.Pulled) })
	case Pulled:
		return Fit(s, n, at, planned)
	}
	return s
}

// Fit records what was really bonded in a slot, whatever was planned. Where an old bond is still in none is made.
func Fit(s *sheet.Sheet, n int, at sheet.Spot, b sheet.Bond) *sheet.Sheet {
	if _, in := In(s, n)[at]; in && !gone(s.Visits[n].Seen[at]) {
		return s
	}
	return Change(s, n, func(v *sheet.Visit) {
		*v = v.WithFitted(at, b)
		v.Ticks = tidy(v.Ticks.With(at, sheet.NoMark))
	})
}

// Leave records that no bond is made in a slot after all.
func Leave(s *sheet.Sheet, n int, at sheet.Spot) *sheet.Sheet {
	return Change(s, n, func(v *sheet.Visit) {
		*v = v.WithFitted(at, sheet.Bond{})
		v.Ticks = v.Ticks.With(at, sheet.LeftOut)
	})
}

// Undone takes a slot back to where nothing has been done.
func Undone(s *sheet.Sheet, n int, at sheet.Spot) *sheet.Sheet {
	return Change(s, n, func(v *sheet.Visit) {
		*v = v.WithFitted(at, sheet.Bond{})
		v.Ticks = tidy(v.Ticks.With(at, sheet.NoMark))
	})
}

// TickAll takes every bond of a piece of a row to the next stage that the piece as a whole has not reached: all pulled, then all
// bonded.
func TickAll(s *sheet.Sheet, n int, piece []sheet.Spot) *sheet.Sheet {
	next := Bonded
	for _, at := range piece {
		if StageOf(s, n, at) == ToDo {
			next = Pulled
		}
	}
	for _, at := range piece {
		if stage := StageOf(s, n, at); stage < next {
			s = Tick(s, n, at)
		}
	}
	return s
}

// tidy is no marks at all where there are none, so that equal visits are equal values.
func tidy(m sheet.Marks) sheet.Marks {
	if len(m) == 0 {
		return nil
	}
	return m
}

// Progress is how far a fitting, or a piece of it, has come.
type Progress struct {
	Planned int // bonds
	Pulled  int // of these, at least so far
	Bonded  int
	LeftOut int

	Next sheet.Spot // the slot that is next
	Done bool       // every planned bond is made or left out; then there is no next
}

// Begun reports whether anything has been done.
func (p Progress) Begun() bool { return p.Pulled+p.LeftOut > 0 }

// ProgressIn is how far a piece of a row has come in the n-th visit. All of its hair is pulled and looked at before anything is bonded.
func ProgressIn(s *sheet.Sheet, n int, piece []sheet.Spot) Progress {
	p := Progress{Planned: len(piece)}
	first := map[Stage]sheet.Spot{}
	for _, at := range piece {
		stage := StageOf(s, n, at)
		switch stage {
		case Pulled:
			p.Pulled++
		case Bonded:
			p.Pulled++
			p.Bonded++
		case LeftOut:
			p.LeftOut++
		}
		if _, ok := first[stage]; !ok {
			first[stage] = at
		}
	}
	next, toDo := first[ToDo]
	if !toDo {
		next, toDo = first[Pulled]
	}
	p.Next, p.Done = next, !toDo
	return p
}

// And is how far two pieces have come together, of which the other is fitted after this one.
func (p Progress) And(q Progress) Progress {
	all := Progress{Planned: p.Planned + q.Planned, Pulled: p.Pulled + q.Pulled, Bonded: p.Bonded + q.Bonded, LeftOut: p.LeftOut + q.LeftOut,
		Next: p.Next, Done: p.Done && q.Done}
	if p.Done {
		all.Next = q.Next
	}
	return all
}

// Difference is a slot where something else was bonded than was planned.
type Difference struct {
	sheet.Spot
	Planned, Fitted sheet.Bond // either may be empty
}

// Differences are the slots of the n-th visit where something else was bonded than the sheet now plans, in map order. What has
// not been done yet is none.
func Differences(s *sheet.Sheet, n int) []Difference {
	v := &s.Visits[n]
	var list []Difference
	add := func(at sheet.Spot, planned, fitted sheet.Bond) {
		if planned != fitted {
			list = append(list, Difference{at, planned, fitted})
		}
	}
	for _, r := range v.Fitted {
		for slot, b := range r.All() {
			add(sheet.Spot{At: r.Place, Slot: slot}, s.Bond(r.Place, slot), b)
		}
	}
	for at, mark := range v.Ticks {
		if mark == sheet.LeftOut {
			add(at, s.Bond(at.At, at.Slot), sheet.Bond{})
		}
	}
	slices.SortFunc(list, func(a, b Difference) int { return a.Compare(b.Spot) })
	return list
}

// AsFitted is the sheet with the plan made what was really fitted in the n-th visit.
func AsFitted(s *sheet.Sheet, n int) *sheet.Sheet {
	for _, d := range Differences(s, n) {
		s = s.WithBond(d.At, d.Slot, d.Fitted)
	}
	return s
}

// Round is the sheet with the bonds that the n-th visit has to do with as its rows: those planned, and those made where none is planned.
func Round(s *sheet.Sheet, n int) *sheet.Sheet {
	for _, d := range Differences(s, n) {
		if !d.Planned.Placed() && d.Fitted.Placed() {
			s = s.WithBond(d.At, d.Slot, d.Fitted)
		}
	}
	return s
}

// NotDone are the bonds planned on the sheet that are neither made nor left out in the n-th visit, in map order.
func NotDone(s *sheet.Sheet, n int) []sheet.Spot {
	var list []sheet.Spot
	for _, r := range s.Rows {
		for slot := range r.All() {
			at := sheet.Spot{At: r.Place, Slot: slot}
			if stage := StageOf(s, n, at); stage == ToDo || stage == Pulled {
				list = append(list, at)
			}
		}
	}
	return list
}

// LeaveRest leaves out whatever is not done.
func LeaveRest(s *sheet.Sheet, n int) *sheet.Sheet {
	for _, at := range NotDone(s, n) {
		s = Leave(s, n, at)
	}
	return s
}
