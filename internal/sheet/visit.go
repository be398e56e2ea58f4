package sheet

import (
	"cmp"
	"fmt"
	"maps"
	"slices"

	"example.org/underveil/internal/scalp"
)

// Spot is a slot of a row.
type Spot struct {
	At   Place
	Slot int
}

// Compare orders spots row by row as the map does, and from left to right in a row.
func (p Spot) Compare(q Spot) int {
	return cmp.Or(p.At.compare(q.At), cmp.Compare(p.Slot, q.Slot))
}

// String is the spot in words: "height 60, slot 7 left".
func (p Spot) String() string {
	minus, plus := p.At.Ways()
	switch {
	case p.Slot < 0:
		return fmt.Sprintf("%s, slot %d %s", p.At, -p.Slot, minus)
	case p.Slot > 0:
		return fmt.Sprintf("%s, slot %d %s", p.At, p.Slot, plus)
	}
	return p.At.String() + ", slot 0"
}

// Visit is one time in the chair, as it was recorded. What it does not say was not seen or not done. Visits stand on the
// sheet in the order in which they were.
type Visit struct {
	Kind    VisitKind
	Date    string // ISO 8601
	By      string
	Notes   string
	Seconds int  // at the chair, as far as the editor was open for it
	Open    bool // it is not finished
	Aside   bool // its bonds were fitted with the strip half a hole to the right: see Sheet.Aside

	Seen    Marks     // of the bonds that were in the head when it began
	Ticks   Marks     // of those to be fitted and not bonded yet: Pulled or LeftOut
	Fitted  []Row     // the bonds made, as they really are, in map order
	Strands []Outcome // what became of the strands that came out
}

// VisitKind is what a visit is for.
type VisitKind string

// The kinds of visit.
const (
	Fitting    VisitKind = "fitting"
	Inspection VisitKind = "inspection" // of every bond: when all are in, and after a week or two
	Refit      VisitKind = "refit"      // all out, and in again
	Removal    VisitKind = "removal"
)

// VisitKinds lists every kind.
var VisitKinds = []VisitKind{Fitting, Inspection, Refit, Removal}

// Fits reports whether bonds are placed by a plan in a visit of the kind.
func (k VisitKind) Fits() bool { return k == Fitting || k == Refit }

// TakesOut reports whether all bonds are taken out in a visit of the kind.
func (k VisitKind) TakesOut() bool { return k == Refit || k == Removal }

// Marks are marks by slot. A slot that is not there has none. Marks are never changed: With makes others.
type Marks map[Spot]Mark

// With is the marks with another mark in a slot; NoMark takes one away.
func (m Marks) With(at Spot, mark Mark) Marks {
	next := maps.Clone(m)
	if next == nil {
		next = Marks{}
	}
	if mark == NoMark {
		delete(next, at)
	} else {
		next[at] = mark
	}
	return next
}

// Places are the rows that have a mark, in map order.
func (m Marks) Places() []Place {
	seen := map[Place]bool{}
	for at := range m {
		seen[at.At] = true
	}
	return slices.SortedFunc(maps.Keys(seen), Place.compare)
}

// On are the marks of one row by slot.
func (m Marks) On(at Place) map[int]Mark {
	row := map[int]Mark{}
	for spot, mark := range m {
		if spot.At == at {
			row[spot.Slot] = mark
		}
	}
	return row
}

// Mark is one letter about a slot. What is wrong with a bond is in lower case while it has to be mended, and a capital
// once that is done.
type Mark byte

// The marks of bonds that were in the head.
const (
	NoMark      Mark = 0
	Sealed      Mark = 's'
	SealAgain   Mark = 'g'
	TooMuch     Mark = 'm' // of the client's own hair is in the bond
	TooLittle   Mark = 'l'
	NotStraight Mark = 'n'
	TooNear     Mark = 'c' // close to a neighbour, which then pulls on its hair
	Slipped     Mark = 'p'
	Lost        Mark = 'x'
	TakenOut    Mark = 'o'
)

// The marks of slots where a bond is to be.
const (
	Pulled  Mark = 'h' // the hair is through the hole and was looked at, before any heat
	LeftOut Mark = 'x' // no bond was made here after all
)

// MarkInfo explains a mark of a bond.
type MarkInfo struct {
	Mark
	Short string // "much"
	Words string // as what is seen: "too much hair taken"
	Mend  string // what is done about it, or empty where nothing is
}

// SeenMarks are the marks of bonds that were in the head, in the order in which they are offered. What mends them is
// common practice, no source.
var SeenMarks = []MarkInfo{
	{Sealed, "sealed", "sealed", ""},
	{SealAgain, "again", "seal again", "warm it again and roll it closed all round"},
	{TooMuch, "much", "too much hair taken", "open it, let hair out, bond it again"},
	{TooLittle, "little", "too little hair taken", "open it, take more hair or half a strand, bond it again"},
	{NotStraight, "askew", "not falling straight", "open it, turn it to the way the hair falls, bond it again"},
	{TooNear, "near", "too near a neighbour", "part the hair of the two, or take one of them out"},
	{Slipped, "slipped", "slipped", "open it, clean the hair, bond it again near the root"},
	{Lost, "lost", "lost", "bond another strand there, or leave the slot empty"},
	{TakenOut, "out", "taken out", ""},
}

// TickMarks are the marks of slots where a bond is to be.
var TickMarks = []MarkInfo{
	{Pulled, "pulled", "hair pulled and looked at", ""},
	{LeftOut, "out", "left out", ""},
}

// Plain is the mark in lower case: what was seen, whether it is mended or not.
func (m Mark) Plain() Mark {
	if m >= 'A' && m <= 'Z' {
		return m - 'A' + 'a'
	}
	return m
}

// Mended is the mark of a bond that was wrong and no longer is. What was not wrong stays as it is.
func (m Mark) Mended() Mark {
	if m.ToMend() {
		return m - 'a' + 'A'
	}
	return m
}

// ToMend reports whether the mark is of something that is still to be put right.
func (m Mark) ToMend() bool {
	info, ok := m.Info()
	return ok && info.Mend != "" && m == m.Plain()
}

// Info explains the mark of a bond; ok is false where there is no such mark.
func (m Mark) Info() (info MarkInfo, ok bool) {
	for _, info := range SeenMarks {
		if info.Mark == m.Plain() && (m == m.Plain() || info.Mend != "") {
			return info, true
		}
	}
	return MarkInfo{}, false
}

// Outcome is what became of the strands of one kind that came out in a visit. Numbers are pieces: whole strands, or
// halves of them.
type Outcome struct {
	Shade    byte // as it was in the bonds
	Split    bool // the pieces are halves
	Retipped int  // cut back and given a new tip
	Halved   int  // split lengthwise and given two new tips; whole strands only
	Kept     int  // put by as they are
	Thrown   int

	Cut  scalp.MM // what cutting back took off each of those re-tipped or halved
	Into byte     // the shade that stands for them from then on; 0 where there are none
}

// Pieces is how many pieces it speaks of.
func (o Outcome) Pieces() int { return o.Retipped + o.Halved + o.Kept + o.Thrown }

// Tips is how many new tips the strands take that came out in a visit.
func (v Visit) Tips() int {
	tips := 0
	for _, o := range v.Strands {
		tips += o.Retipped + 2*o.Halved
	}
	return tips
}

// LastVisit is the visit that was last, or nil.
func (s *Sheet) LastVisit() *Visit {
	if len(s.Visits) == 0 {
		return nil
	}
	return &s.Visits[len(s.Visits)-1]
}

// WithVisit replaces a visit, or adds one where n is the number of them.
func (s *Sheet) WithVisit(n int, v Visit) *Sheet {
	return s.change(func(c *Sheet) {
		c.Visits = slices.Clone(c.Visits)
		if n == len(c.Visits) {
			c.Visits = append(c.Visits, v)
		} else {
			c.Visits[n] = v
		}
	})
}

// WithoutVisit takes a visit away.
func (s *Sheet) WithoutVisit(n int) *Sheet {
	return s.change(func(c *Sheet) {
		if c.Visits = slices.Delete(slices.Clone(c.Visits), n, n+1); len(c.Visits) == 0 {
			c.Visits = nil
		}
	})
}

// FittedRow is the row of the bonds that a visit made at a place.
func (v Visit) FittedRow(at Place) Row {
	for _, r := range v.Fitted {
		if r.Place == at {
			return r
		}
	}
	return Row{Place: at}
}

// WithFitted is the visit with another bond in a slot; the zero Bond takes one away.
func (v Visit) WithFitted(at Spot, b Bond) Visit {
	row := v.FittedRow(at.At).With(map[int]Bond{at.Slot: b})
	v.Fitted = slices.DeleteFunc(slices.Clone(v.Fitted), func(r Row) bool { return r.Place == at.At })
	if !row.Empty() {
		i, _ := slices.BinarySearchFunc(v.Fitted, at.At, func(r Row, p Place) int { return r.Place.compare(p) })
		v.Fitted = slices.Insert(v.Fitted, i, row)
	}
	if len(v.Fitted) == 0 {
		v.Fitted = nil
	}
	return v
}

// Equal reports whether two visits are the same in everything.
func (v Visit) Equal(w Visit) bool {
	return v.Kind == w.Kind && v.Date == w.Date && v.By == w.By && v.Notes == w.Notes && v.Seconds == w.Seconds &&
		v.Open == w.Open && v.Aside == w.Aside && maps.Equal(v.Seen, w.Seen) && maps.Equal(v.Ticks, w.Ticks) &&
		slices.EqualFunc(v.Fitted, w.Fitted, Row.Equal) && slices.Equal(v.Strands, w.Strands)
}
