package sheet

import "example.org/underveil/internal/scalp"

// Amounts is how much of each look is wished for. What is 0 nobody has said; Amount then gives what is usual.
type Amounts struct {
	Length     scalp.MM // that the hair is to have, from root to end
	Volume     float64  // hairs added, in % of the client's own
	Highlights int      // bonds
}

// What is usual where nobody has said how much. Common practice, no source.
const (
	UsualLength     scalp.MM = 500
	UsualVolume     float64  = 20
	UsualHighlights int      = 24
)

// What a whole strand may weigh, in g.
const (
	MinGrams = 0.05
	MaxGrams = 5.0
)

// The range of each amount.
const (
	MinLength     scalp.MM = 50
	MaxLength     scalp.MM = 1200
	MaxVolume     float64  = 200
	MaxHighlights int      = 400
)

// Wanted are the amounts with what is usual for those that nobody has said.
func (a Amounts) Wanted() Amounts {
	if a.Length == 0 {
		a.Length = UsualLength
	}
	if a.Volume == 0 {
		a.Volume = UsualVolume
	}
	if a.Highlights == 0 {
		a.Highlights = UsualHighlights
	}
	return a
}

// StrandLength is how long strands should be: as long as the hair is wished to be, or for anything but length as long as
// the client's own, which they are cut to.
func (s *Sheet) StrandLength() scalp.MM {
	if s.Wishes(Length) || s.Hair.Length == 0 {
		return s.Amounts.Wanted().Length
	}
	return s.Hair.Length
}
