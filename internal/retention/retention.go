// Package retention is how many bonds stayed in, by where they were and what they were, as far as the visits tell; and what
// stands out in it, for so few bonds as a head has.
package retention

import (
	"cmp"
	"slices"

	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
	"example.org/underveil/internal/visit"
)

// Count is bonds by what became of them.
type Count struct {
	Made    int
	Known   int // of these, those that were looked at on a later day, or were lost
	Kept    int // of the known, those never lost until they were taken out or last looked at
	Slipped int // of the known, those that slipped at some time, whether they were kept or not
}

// Lost is how many of the known bonds were lost.
func (c Count) Lost() int { return c.Known - c.Kept }

// Share is the share kept of those known; 0 where none are.
func (c Count) Share() float64 {
	if c.Known == 0 {
		return 0
	}
	return float64(c.Kept) / float64(c.Known)
}

// Interval is where the share lies, 95 times of 100: see Wilson.
func (c Count) Interval() (low, high float64) { return Wilson(c.Kept, c.Known, z95) }

func (c *Count) add(l *life) {
	c.Made++
	if !l.known() {
		return
	}
	c.Known++
	if !l.lost {
		c.Kept++
	}
	if l.slipped {
		c.Slipped++
	}
}

// Group is the bonds that have something in common.
type Group struct {
	Name string // may hold what a file holds: the name of a shade
	Count
	Odd bool // it stands out: see Report.Odd
}

// Grouping is the groups that all bonds fall into by one thing.
type Grouping struct {
	Name   string // what they are parted by: "panel"
	Groups []Group
}

// Cycle is the bonds from one fitting or refit to the next, those bonded in between in place of lost ones among them.
type Cycle struct {
	Visit int // by its place in Sheet.Visits
	Kind  sheet.VisitKind
	Date  string // ISO 8601
	Days  int    // from then to when the last of its bonds was last looked at
	Count
}

// Report is what became of the bonds of one sheet.
type Report struct {
	All         Count
	Groupings   []Grouping
	Cycles      []Cycle
	Aside       bool  // some of the bonds were fitted half a hole aside
	Comparisons int   // of a group with the rest, in all groupings
	Odd         []Odd // the groups that stand out, the furthest from the rest first
}

// life is one bond from when it was made.
type life struct {
	sheet.Spot
	sheet.Bond
	made  int // the visit
	cycle int // the fitting or refit that it belongs to

	lost, slipped bool
	seen          string // when it was last looked at, on a later day than it was made; or empty
}

// known reports whether anything is known of how the bond held: what is seen on the day on which it was made, lost or sealed, is of
// how it was made.
func (l *life) known() bool { return l.seen != "" }

// Of counts the bonds of a sheet.
//
// A bond is kept if it was never marked as lost until it was taken out, or else until it was last looked at. It was looked at in
// a later visit that is finished, or that is open and has a mark for it. A look on the day on which it was made says nothing
// of how it holds; a bond without a later one is not known, and in no share.
//
// t says where a slot lies, and has to be measured (slots.For). Bonds fitted half a hole aside (Visit.Aside) are counted in the
// slot of their number on a head where nothing is aside, so that what is told of an earlier fitting stays as it was: between panels and
// zones half a hole is within what a hand does.
func Of(s *sheet.Sheet, t *slots.Table) Report {
	if s.Aside {
		if straight, err := slots.For(s.With(func(c *sheet.Sheet) { c.Aside = false }), nil); err == nil {
			t = straight
		}
	}
	all := lives(s)
	r := Report{Cycles: cycles(s, all)}
	for _, l := range all {
		r.All.add(l)
		r.Aside = r.Aside || s.Visits[l.made].Aside
	}
	for _, by := range traits(s, t) {
		r.Groupings = append(r.Groupings, by.group(all))
	}
	r.compare()
	return r
}

// lives follows every bond that was ever made through the visits, in the order of the map and then of the visits.
func lives(s *sheet.Sheet) []*life {
	var all []*life
	in := map[sheet.Spot]*life{}
	cycle := 0
	for n := range s.Visits {
		v := &s.Visits[n]
		for at, l := range in {
			mark := v.Seen[at]
			if (!v.Open || mark != sheet.NoMark) && v.Date > s.Visits[l.made].Date {
				l.seen = v.Date
			}
			switch mark.Plain() {
			case sheet.Slipped:
				l.slipped = true
			case sheet.Lost:
				l.lost = true
				delete(in, at)
			case sheet.TakenOut:
				delete(in, at)
			}
		}
		if v.Kind.Fits() {
			cycle = n
		}
		for _, r := range v.Fitted {
			for slot, b := range r.All() {
				at := sheet.Spot{At: r.Place, Slot: slot}
				in[at] = &life{Spot: at, Bond: b, made: n, cycle: cycle}
				all = append(all, in[at])
			}
		}
	}
	slices.SortStableFunc(all, func(a, b *life) int { return cmp.Or(a.Compare(b.Spot), cmp.Compare(a.made, b.made)) })
	return all
}

// cycles counts bonds by the fitting or refit that they belong to, in the order of the visits.
func cycles(s *sheet.Sheet, all []*life) []Cycle {
	var list []Cycle
	for n, v := range s.Visits {
		c := Cycle{Visit: n, Kind: v.Kind, Date: v.Date}
		last := ""
		for _, l := range all {
			if l.cycle == n {
				c.add(l)
				last = max(last, l.seen)
			}
		}
		if c.Made == 0 {
			continue
		}
		from, err := visit.Day(v.Date)
		to, err2 := visit.Day(last)
		if err == nil && err2 == nil {
			c.Days = visit.Days(from, to)
		}
		list = append(list, c)
	}
	return list
}
