package tui

import (
	"fmt"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// zoneItem is one thing to move: a limit, or a hairline point or a turn one way; or a heading.
type zoneItem struct {
	head  string
	limit sheet.LimitName
	point scalp.Landmark
	turn  sheet.Turn
	up    bool // the height of a point or a turn rather than its place along the line
}

// value is what the item is now; its range comes with it.
func (it zoneItem) value(s *sheet.Sheet) (v, low, high float64) {
	most := float64(scalp.MaxShift)
	switch {
	case it.limit != "":
		info, _ := it.limit.Info()
		v, _ = s.Limit(it.limit)
		return v, info.Low, info.High
	case it.up:
		return float64(it.shift(s).Up), -most, most
	}
	return float64(it.shift(s).Right), -most, most
}

// shift is how far the item's point or turn is moved.
func (it zoneItem) shift(s *sheet.Sheet) scalp.Shift {
	if it.turn != "" {
		return s.Turns[it.turn]
	}
	return s.Moved[it.point]
}

// step is how much one press changes the item.
func (it zoneItem) step() float64 {
	info, ok := it.limit.Info()
	switch {
	case !ok || info.High > 30:
		return 1
	case info.High < 1:
		return 0.01
	}
	return 0.5
}

// isSet reports whether the item is no longer as an ordinary sheet has it.
func (it zoneItem) isSet(s *sheet.Sheet) bool {
	if it.limit != "" {
		_, set := s.Limits[it.limit]
		return set
	}
	v, _, _ := it.value(s)
	return v != 0
}

// explained says what an item is and where its value comes from.
func (it zoneItem) explained(s *sheet.Sheet) string {
	if it.limit == "" {
		way := "left and right along its line"
		if it.up {
			way = "up and down"
		}
		if it.turn != "" {
			return fmt.Sprintf("%s: mm %s from where it ordinarily is (%s)", it.turn, way, turnSource(it.turn))
		}
		return fmt.Sprintf("hairline, %s: mm %s from where it ordinarily is", it.point, way)
	}
	info, _ := it.limit.Info()
	v, source := s.Limit(it.limit)
	if source == sheet.Practice {
		source = "practice"
	}
	text := fmt.Sprintf("%g %s %s (%s)", v, info.Unit, info.Title, source)
	if it.idle(s) {
		text += "; not in use for this client"
	}
	return text
}

// turnSource is where the ordinary place of a turn comes from.
func turnSource(t sheet.Turn) string {
	if t == sheet.Whorl {
		return "Park 2014, the mean of 952 men"
	}
	return "practice"
}

// idle reports whether an item holds for other clients only: one of the two limits for the nape always does,
// and so does what is for a way in which this client never wears the hair.
func (it zoneItem) idle(s *sheet.Sheet) bool {
	switch {
	case it.limit == sheet.LimitNape || it.limit == sheet.LimitNapeUp:
		return it.limit != s.Nape()
	case it.limit == sheet.LimitVeilUp:
		return !s.WornUp() && !s.Wears(sheet.WornHalfUp)
	case it.turn == sheet.HalfUpSection || it.turn == sheet.HalfUpTie:
		return !s.Wears(sheet.WornHalfUp)
	case it.turn == sheet.LowTie:
		return !s.Wears(sheet.WornLowTail)
	case it.turn == sheet.HighTie:
		return !s.Wears(sheet.WornHighTail)
	}
	return false
}

// label is the item's name and value as they stand in the list.
func (it zoneItem) label(s *sheet.Sheet) (name, value string) {
	v, _, _ := it.value(s)
	switch {
	case it.limit != "":
		info, _ := it.limit.Info()
		return it.limit.Words(), fmt.Sprintf("%g %s", v, info.Unit)
	case it.turn == sheet.HalfUpSection:
		return string(it.turn), fmt.Sprintf("%+g", v)
	case it.up:
		return "  higher", fmt.Sprintf("%+g", v)
	case it.turn != "":
		return string(it.turn), fmt.Sprintf("%+g", v)
	}
	return it.point.String(), fmt.Sprintf("%+g", v)
}
