package visit

import (
	"slices"

	"example.org/underveil/internal/sheet"
)

// See records what was seen of a bond that was in the head when the n-th visit began; NoMark takes it back. Of a slot that had none
// nothing is recorded.
func See(s *sheet.Sheet, n int, at sheet.Spot, m sheet.Mark) *sheet.Sheet {
	if _, in := In(s, n)[at]; !in {
		return s
	}
	return Change(s, n, func(v *sheet.Visit) {
		was := v.Seen[at]
		v.Seen = tidy(v.Seen.With(at, m))
		if !gone(m) && v.FittedRow(at.At).Bond(at.Slot).Placed() {
			*v = v.WithFitted(at, sheet.Bond{}) // another was bonded in its place, and now it was never gone
		}
		if (was == sheet.TakenOut) != (m == sheet.TakenOut) {
			v.Strands = nil // others came out than those accounted for
		}
	})
}

// SeeRest records the same of every bond of a row that has no mark yet.
func SeeRest(s *sheet.Sheet, n int, row sheet.Place, m sheet.Mark) *sheet.Sheet {
	for _, at := range Unseen(s, n) {
		if at.At == row {
			s = See(s, n, at, m)
		}
	}
	return s
}

// Mend records that what was wrong with a bond has been put right.
func Mend(s *sheet.Sheet, n int, at sheet.Spot) *sheet.Sheet {
	mark := s.Visits[n].Seen[at]
	if !mark.ToMend() {
		return s
	}
	return Change(s, n, func(v *sheet.Visit) { v.Seen = v.Seen.With(at, mark.Mended()) })
}

// Replace records that another strand was bonded where one was lost or taken out. In a visit that takes all out nothing is
// replaced.
func Replace(s *sheet.Sheet, n int, at sheet.Spot, b sheet.Bond) *sheet.Sheet {
	if v := s.Visits[n]; v.Kind.TakesOut() || !gone(v.Seen[at]) {
		return s
	}
	return Change(s, n, func(v *sheet.Visit) {
		*v = v.WithFitted(at, b)
		v.Seen = v.Seen.With(at, v.Seen[at].Mended())
	})
}

// Unseen are the bonds that were in the head when the n-th visit began and of which nothing is recorded, in the order of
// the map. An inspection is done when there are none, and so is taking out.
func Unseen(s *sheet.Sheet, n int) []sheet.Spot {
	var list []sheet.Spot
	for at := range In(s, n) {
		if s.Visits[n].Seen[at] == sheet.NoMark {
			list = append(list, at)
		}
	}
	slices.SortFunc(list, sheet.Spot.Compare)
	return list
}

// ToMend is a bond with which something is still wrong.
type ToMend struct {
	sheet.Spot
	sheet.MarkInfo
}

// LeftToMend are the bonds with which something is still wrong after the n-th visit, in map order.
func LeftToMend(s *sheet.Sheet, n int) []ToMend {
	var list []ToMend
	for at, mark := range s.Visits[n].Seen {
		if info, ok := mark.Info(); ok && mark.ToMend() && !s.Visits[n].Kind.TakesOut() {
			list = append(list, ToMend{at, info})
		}
	}
	slices.SortFunc(list, func(a, b ToMend) int { return a.Compare(b.Spot) })
	return list
}

// Count is how many bonds have each mark in the n-th visit, mended or not.
func Count(s *sheet.Sheet, n int) map[sheet.Mark]int {
	counts := map[sheet.Mark]int{}
	for _, mark := range s.Visits[n].Seen {
		counts[mark.Plain()]++
	}
	return counts
}
