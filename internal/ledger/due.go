package ledger

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/unit"
	"example.org/underveil/internal/visit"
)

// Where a client stands besides the states of a visit.
const (
	NotFinished visit.State = "not finished" // wearing, or nothing in yet, and a visit was begun and not finished
	Planned     visit.State = "planned"      // rows are planned, nothing is in, and there was no visit yet
)

// States lists where clients stand, the most pressing first.
var States = []visit.State{visit.Overdue, visit.DueNow, visit.CheckUp, NotFinished, Planned, visit.Wearing}

// Line is where the client of one sheet stands on a day.
type Line struct {
	File, Title, Client string // as they are: not yet safe to show
	State               visit.State

	visit.Due            // with nothing in, its days are zero
	Days        int      // since the fitting of the bonds that have been in longest
	Grown       scalp.MM // since then
	NotFinished string   // the visit that is open, in words: "fitting of 2026-11-20"; or empty
	Begun       string   // its date
	Planned     string   // the date of a planned fitting, or empty
}

// Held reports whether there are bonds in.
func (l Line) Held() bool { return !l.Fitted.IsZero() }

// Day is the day that the state is about, as ISO 8601: by when the client is to be back, or looked at, or from when on; when the open
// visit was begun, or the fitting is planned for. It is empty where no such day is known.
func (l Line) Day() string {
	switch l.State {
	case visit.CheckUp:
		return iso(l.Check)
	case visit.Wearing:
		return iso(l.From)
	case NotFinished:
		return l.Begun
	case Planned:
		return l.Planned
	}
	return iso(l.By)
}

func iso(day time.Time) string { return day.Format(time.DateOnly) }

// LineOf is where the client of a sheet stands. ok is false where there is nothing to say: nothing in, and nothing planned.
func LineOf(file string, s *sheet.Sheet, today time.Time) (l Line, ok bool) {
	l = Line{File: file, Title: strings.Clone(s.Title), Client: strings.Clone(s.Client), State: visit.NotIn} // cloned, or they would hold on to all of the file
	if due, in := visit.NextDue(s); in {
		l.Due, l.State = due, due.StateOn(s, today)
		l.Days = visit.Days(l.Fitted, today)
		l.Grown = visit.Growth(s, l.Days)
	}
	if n, open := visit.Open(s); open {
		v := s.Visits[n]
		l.NotFinished, l.Begun = string(v.Kind)+" of "+v.Date, strings.Clone(v.Date)
	}
	switch {
	case l.NotFinished != "" && (l.State == visit.Wearing || l.State == visit.NotIn):
		l.State = NotFinished
	case l.State == visit.NotIn && len(s.Visits) == 0 && s.Bonds() > 0:
		l.State, l.Planned = Planned, strings.Clone(s.Date)
	}
	return l, l.State != visit.NotIn
}

// List is who is due on a day.
type List struct {
	Today  time.Time
	All    bool // also those that are just wearing, and planned fittings
	Lines  []Line
	Counts map[visit.State]int // of every state, listed or not
	Sheets int                 // that were read
	Units  unit.Unit           // that Text shows lengths in
}

// Due lists who of the clients in a folder is due on a day, the most pressing first. all also lists who is just wearing, and
// planned fittings. What could not be read, and the error, are as those of Each.
func Due(folder string, today time.Time, all bool, house func(*sheet.Sheet) *sheet.Sheet) (List, []Unread, error) {
	list := List{Today: today, All: all, Counts: map[visit.State]int{}}
	sheets, unread, err := Each(folder,
		func(file string, s *sheet.Sheet) (Line, bool) { return LineOf(file, house(s), today) },
		func(l Line) {
			list.Counts[l.State]++
			if all || l.State != visit.Wearing && l.State != Planned {
				list.Lines = append(list.Lines, l)
			}
		})
	list.Sheets = sheets
	slices.SortFunc(list.Lines, Line.compare)
	return list, unread, err
}

// compare orders lines by how pressing they are, then by day, those without one last, and by name.
func (l Line) compare(m Line) int {
	return cmp.Or(cmp.Compare(slices.Index(States, l.State), slices.Index(States, m.State)),
		-cmp.Compare(min(len(l.Day()), 1), min(len(m.Day()), 1)), cmp.Compare(l.Day(), m.Day()), cmp.Compare(l.File, m.File))
}
