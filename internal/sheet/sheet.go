// Package sheet is the document: one client's head sheet, its edits, and their
// undo and redo.
//
// A Sheet is never changed. Every edit returns a new one that shares with the
// old what the edit left alone, which is what makes undo a list of sheets and
// lets the checker read a sheet while the next one is being made.
package sheet

import (
	"maps"
	"slices"

	"example.org/underveil/internal/fibre"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/shade"
)

// Sheet is one client's document. Lengths are millimetres, masses grams.
type Sheet struct {
	Title  string
	Client string // a number or initials; the file is private, but a name need not be in it
	Date   string // of the fitting, ISO 8601, or empty
	Notes  string

	Measures scalp.Measures
	Moved    map[scalp.Landmark]scalp.Shift // hairline points moved from their default
	Turns    map[Turn]scalp.Shift           // whorl, ties and section line moved from their default

	HoleSpacing scalp.MM // between the holes of the spacing strip
	Aside       bool     // the strip lies half a hole to the right, so that sections used before can rest
	LineGap     scalp.MM // between the lines of the map, up the midline

	Partings []scalp.Parting
	Worn     []Wear
	Wish     []Look
	Amounts  Amounts // of the looks wished for
	Hair     Hair
	Asked    Consultation
	KeepOff  []KeepOff
	Limits   map[LimitName]float64 // set for this client; the rest are the studio's, or defaults
	House    map[LimitName]float64 // the studio's own limits; they are in its file, not in the sheet's
	HouseOf  string                // whose those are in place of the studio's: a college; or empty

	Shades   []Shade
	Rows     []Row // in map order: level and ear-to-ear rows by height, then front-to-back rows by place
	Accepted []Accepted

	Visits []Visit // in the order in which they were
	Today  string  // the day on which the sheet is looked at, ISO 8601, or empty; it is not in the file
	Tried  Tried   // what a learner did besides; it is in the file of an attempt, not in the sheet's
}

// Wear is a way the client wears the hair.
type Wear string

// The ways of wearing hair that a sheet knows.
const (
	WornDown     Wear = "down"
	WornHalfUp   Wear = "half up"
	WornLowTail  Wear = "low ponytail"
	WornHighTail Wear = "high ponytail"
)

// Wears lists every way of wearing hair.
var Wears = []Wear{WornDown, WornHalfUp, WornLowTail, WornHighTail}

// Look is what added hair is for.
type Look string

// The looks that can be asked for.
const (
	Length     Look = "length"
	Volume     Look = "volume"
	Highlights Look = "highlights"
)

// Looks lists every look.
var Looks = []Look{Length, Volume, Highlights}

// Turn is a place where the hair turns: from where it falls, or to where it is tied.
type Turn string

// The turns. A section line has a height and no side.
const (
	Whorl         Turn = "whorl"
	HalfUpSection Turn = "half up section"
	HalfUpTie     Turn = "half up tie"
	LowTie        Turn = "low tie"
	HighTie       Turn = "high tie"
)

// Turns lists every turn.
var Turns = []Turn{Whorl, HalfUpSection, HalfUpTie, LowTie, HighTie}

// What a tape round all the hair, tied tightly, may read: from the wispiest to the fullest heads that a
// count in the usual range gives, with room.
const (
	MinPonytail scalp.MM = 20
	MaxPonytail scalp.MM = 250
)

// Hair is the client's own, as seen, felt and measured. What is 0 or empty nobody has said.
type Hair struct {
	Length   scalp.MM
	Density  string   // one of Densities, by eye
	Ponytail scalp.MM // round all the hair, tied tightly
	Count    float64  // hairs on a cm² at the back of the head
	Texture  string   // one of Textures

	Root, Mid, Ends shade.Reading // the colour at the root, halfway and at the ends
}

// Densities and Textures are the words for hair by eye and hand.
var (
	Densities = []string{"fine", "medium", "thick"}
	Textures  = []string{"straight", "wavy", "curly", "coily"}
)

// KeepOff is a round patch of scalp that is left alone.
type KeepOff struct {
	Height scalp.MM // of the line through its middle
	Right  scalp.MM // of its middle along that line from the centre; negative is left
	Radius scalp.MM
	Why    string
}

// Shade is a kind of strand that the sheet uses.
type Shade struct {
	Key    byte // the letter that stands for it in a row, 'a' to 'z'
	Name   string
	Length scalp.MM
	Grams  float64 // of one whole strand
	Pack   int     // strands in a pack

	Colour  shade.Reading // empty where nobody has measured it
	Texture string        // one of Textures, or empty where nobody has said
	Ends    float64       // % of its hair that reaches its full length; 0 where nobody has said
	Toned   string        // how it is to be toned before the fitting, or empty

	Used     int  // how often these strands have been in a head before
	Retipped int  // how often they were given a new tip
	Was      byte // the shade that they were before that, or 0
}

// GramsOf is what a bond of the shade weighs: a split strand has half the hair.
func (h Shade) GramsOf(b Bond) float64 { return h.Grams * b.Strands() }

// Accepted is a finding that somebody decided to live with, and why.
type Accepted struct {
	Concern
	Reason string
	By     string
	Date   string // ISO 8601, or empty
}

// Concern is what a finding is about: a rule, and the row, slot or whole sheet
// it speaks of. It identifies the finding however the figures change.
type Concern struct {
	Rule  string
	Row   Place // nothing where On is OnSheet
	On    Scope
	Slot  int
	About string // what it is about on the sheet as a whole, where a rule may speak of several things: a question
}

// Scope is how much of the sheet a concern covers.
type Scope uint8

// A concern is about the sheet, one row, or one slot.
const (
	OnSheet Scope = iota
	OnRow
	OnSlot
)

// Shade finds a shade by its letter.
func (s *Sheet) Shade(key byte) (Shade, bool) {
	for _, h := range s.Shades {
		if h.Key == key {
			return h, true
		}
	}
	return Shade{}, false
}

// FreeKey is the first letter that no shade of the sheet has, or 0 where all are taken.
func (s *Sheet) FreeKey() byte {
	for k := byte('a'); k <= 'z'; k++ {
		if _, taken := s.Shade(k); !taken {
			return k
		}
	}
	return 0
}

// EndsOf is the share, in %, of a strand's hair that reaches its full length, and where that comes from.
func (s *Sheet) EndsOf(h Shade) (share float64, source string) {
	if h.Ends > 0 {
		return h.Ends, "the strand's own"
	}
	return s.Limit(FigureTip)
}

// Wears reports whether the client wears the hair that way.
func (s *Sheet) Wears(w Wear) bool { return slices.Contains(s.Worn, w) }

// WornDown reports whether the client ever wears the hair down, as hair is of which nobody said how it is worn.
func (s *Sheet) WornDown() bool { return len(s.Worn) == 0 || s.Wears(WornDown) }

// WornUp reports whether the client ever wears the hair off the nape.
func (s *Sheet) WornUp() bool { return s.Wears(WornLowTail) || s.Wears(WornHighTail) }

// Hang is how far from its root a bond hangs some weeks after the fitting: the stand-off it was fitted
// with, and what has grown since.
func (s *Sheet) Hang(weeks int) scalp.MM {
	off, _ := s.Limit(FigureStandOff)
	daily, _ := s.Limit(FigureGrowth)
	return scalp.MM(off) + fibre.Grown(float64(7*weeks), daily)
}

// Wishes reports whether a look is wished for.
func (s *Sheet) Wishes(l Look) bool { return slices.Contains(s.Wish, l) }

// LookOf is what a row is for: what it says, or else the first wish.
func (s *Sheet) LookOf(r Row) Look {
	if r.Look == "" && len(s.Wish) > 0 {
		return s.Wish[0]
	}
	return r.Look
}

// Bonds counts the bonds of the sheet.
func (s *Sheet) Bonds() int {
	n := 0
	for _, r := range s.Rows {
		n += r.Count()
	}
	return n
}

// New is an empty sheet for a head, with ordinary defaults: worn down, volume
// wished for, a parting in the middle, one shade.
func New(m scalp.Measures) *Sheet {
	return &Sheet{
		Title:       "new sheet",
		Measures:    m,
		HoleSpacing: 8,
		LineGap:     10,
		Partings:    []scalp.Parting{{Right: 0, Length: 120}},
		Worn:        []Wear{WornDown},
		Wish:        []Look{Volume},
		Hair:        Hair{Length: 300, Density: "medium", Texture: "straight"},
		Shades:      []Shade{{Key: 'a', Name: "shade a", Length: 500, Grams: 0.8, Pack: 25}},
	}
}

// change returns a copy of the sheet after f has changed it. f must replace, not write
// into, the slices and maps it changes.
func (s *Sheet) change(f func(*Sheet)) *Sheet {
	c := *s
	f(&c)
	return &c
}

// WithLandmark moves a hairline point; the zero shift puts it back.
func (s *Sheet) WithLandmark(l scalp.Landmark, by scalp.Shift) *Sheet {
	return s.change(func(c *Sheet) {
		c.Moved = maps.Clone(c.Moved)
		if c.Moved == nil {
			c.Moved = map[scalp.Landmark]scalp.Shift{}
		}
		if by == (scalp.Shift{}) {
			delete(c.Moved, l)
		} else {
			c.Moved[l] = by
		}
	})
}

// WithTurn moves a turn; the zero shift puts it back.
func (s *Sheet) WithTurn(t Turn, by scalp.Shift) *Sheet {
	return s.change(func(c *Sheet) {
		c.Turns = maps.Clone(c.Turns)
		if c.Turns == nil {
			c.Turns = map[Turn]scalp.Shift{}
		}
		if by == (scalp.Shift{}) {
			delete(c.Turns, t)
		} else {
			c.Turns[t] = by
		}
	})
}

// WithLimit sets a limit for this client.
func (s *Sheet) WithLimit(name LimitName, value float64) *Sheet {
	return s.change(func(c *Sheet) {
		c.Limits = maps.Clone(c.Limits)
		if c.Limits == nil {
			c.Limits = map[LimitName]float64{}
		}
		c.Limits[name] = value
	})
}

// WithoutLimit puts a limit back to its default.
func (s *Sheet) WithoutLimit(name LimitName) *Sheet {
	return s.change(func(c *Sheet) {
		c.Limits = maps.Clone(c.Limits)
		delete(c.Limits, name)
	})
}

// WithAccepted records that a finding is accepted, in place of any earlier
// acceptance of the same.
func (s *Sheet) WithAccepted(a Accepted) *Sheet {
	return s.change(func(c *Sheet) {
		c.Accepted = slices.DeleteFunc(slices.Clone(c.Accepted), func(b Accepted) bool { return b.Concern == a.Concern })
		c.Accepted = append(c.Accepted, a)
	})
}

// WithoutAccepted takes an acceptance back.
func (s *Sheet) WithoutAccepted(of Concern) *Sheet {
	return s.change(func(c *Sheet) {
		c.Accepted = slices.DeleteFunc(slices.Clone(c.Accepted), func(b Accepted) bool { return b.Concern == of })
	})
}

// With changes any of the plain fields at once, as a form does. f must replace,
// not write into, slices and maps.
func (s *Sheet) With(f func(*Sheet)) *Sheet { return s.change(f) }
