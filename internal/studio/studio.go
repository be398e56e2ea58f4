// Package studio is what a studio has and charges: strands in stock, the time that the work takes, rates, and
// limits of its own.
package studio

import (
	"time"

	"example.org/underveil/internal/money"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// Studio is one studio.
type Studio struct {
	Name     string
	Contact  string // whom a client calls, as it stands on the card
	Currency money.Currency
	Service  Service
	Strands  []Strand                    // in the order of its file
	Limits   map[sheet.LimitName]float64 // in place of the defaults, for every client
	LimitsOf string                      // whose those are in place of the studio's own: a college; or empty
}

// Service is the time that the parts of the work take, and what an hour costs.
type Service struct {
	Setup  time.Duration // once: cloth, looking at hair and scalp, laying out
	Row    time.Duration // for each row: parting, strip on and off
	Bond   time.Duration // for each bond: hair through the hole, look, bond
	Check  time.Duration // for each bond: look again when it is cold
	Finish time.Duration // once: blending cut, aftercare
	Hour   money.Amount  // for an hour of chair time
	Spare  int           // strands at hand for those that go wrong, in % of those planned
}

// Strand is a kind of strand in stock. Its letter is empty: a sheet gives it one.
type Strand struct {
	sheet.Shade
	Tip    string       // of the strand, as the studio calls it
	Price  money.Amount // of a pack, as the client pays it
	OnHand int          // single strands in the drawer
}

// Find is the strand of a name and length, or nil. A name alone does not do: a shade comes in several lengths.
func (s *Studio) Find(name string, length scalp.MM) *Strand {
	for i := range s.Strands {
		if st := &s.Strands[i]; st.Name == name && st.Length == length {
			return st
		}
	}
	return nil
}

// House is a sheet with the studio's own limits under those of the client.
func (s *Studio) House(sh *sheet.Sheet) *sheet.Sheet {
	if len(s.Limits) == 0 {
		return sh
	}
	return sh.With(func(c *sheet.Sheet) { c.House, c.HouseOf = s.Limits, s.LimitsOf })
}

// First is a new sheet with a shade from stock instead of the one that it begins with: the first strand of the length that
// serves. Without one it stays as it is.
func (s *Studio) First(sh *sheet.Sheet) *sheet.Sheet {
	strands := s.Suitable(sh)
	if len(strands) == 0 || len(sh.Shades) == 0 {
		return sh
	}
	h := strands[0].Shade
	h.Key = sh.Shades[0].Key
	return sh.With(func(c *sheet.Sheet) { c.Shades = []sheet.Shade{h} })
}
