package tui

import (
	"fmt"

	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// zoneItem is one thing to move: a limit, or a hairline point or a turn one way; or a heading.
type zoneItem struct {
	head  string
	limit sheet.LimitName
	point scalp.Landmark
	turn  sheet.Turn
	up    bool // the height of a point or a turn rather than its place along the line
}

// name is the item in words: "nape", "half up tie, up".
func (it zoneItem) name() string {
	if it.limit != "" {
		return it.limit.Words()
	}
	name := it.point.String()
	if it.turn != "" {
		name = string(it.turn)
	}
	if it.up {
		name += ", up"
	}
	return name
}

// unit is what the item's value is in.
func (it zoneItem) unit() string {
	if info, ok := it.limit.Info(); ok {
		return info.Unit
	}
	return "mm"
}

// reading is what of a map shows what the item changes; ok is false where that is the zones, or nothing.
func (it zoneItem) reading(s *sheet.Sheet) (r rule.Reading, ok bool) {
	cover := func(w sheet.Wear) (rule.Reading, bool) {
		return rule.Reading{Kind: rule.ByCover, Way: slots.Way{Wear: w}}, true
	}
	switch {
	case it.turn == sheet.HalfUpSection || it.turn == sheet.HalfUpTie:
		return cover(sheet.WornHalfUp)
	case it.turn == sheet.LowTie:
		return cover(sheet.WornLowTail)
	case it.turn == sheet.HighTie:
		return cover(sheet.WornHighTail)
	case it.turn == sheet.Whorl || it.limit == sheet.LimitVeil || it.limit == sheet.LimitReach || it.limit == sheet.FigureWhorl:
		return cover(sheet.WornDown)
	case it.limit == sheet.LimitVeilUp:
		for _, w := range slots.Ways(s) {
			if w.Wear != sheet.WornDown && s.Wears(w.Wear) {
				return cover(w.Wear)
			}
		}
		return cover(sheet.WornHighTail)
	case it.limit == sheet.LimitLoad || it.limit == sheet.FigureWidth || it.limit == sheet.FigureThickness:
		return rule.Reading{Kind: rule.ByLoad}, true
	}
	return rule.Reading{}, false
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
		way := "right of where it ordinarily is"
		if it.up {
			way = "up from where it ordinarily is"
		}
		if it.turn != "" {
			return it.orIdle(s, fmt.Sprintf("%s: mm %s (%s)", it.turn, way, it.turnSource()))
		}
		return fmt.Sprintf("hairline, %s: mm %s", it.point, way)
	}
	info, _ := it.limit.Info()
	v, source := s.Limit(it.limit)
	if source == sheet.Practice {
		source = "practice"
	}
	return it.orIdle(s, fmt.Sprintf("%g %s %s (%s)", v, info.Unit, info.Title, source))
}

// orIdle is a text that says so where the item holds for other clients only.
func (it zoneItem) orIdle(s *sheet.Sheet, text string) string {
	if it.idle(s) {
		text += "; not in use for this client"
	}
	return text
}

// turnSource is where the ordinary place of a turn comes from. The survey speaks of the height of the whorl; to
// which side it lies the surveys do not agree.
func (it zoneItem) turnSource() string {
	if it.turn == sheet.Whorl && it.up {
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
	case it.limit == sheet.LimitVeil || it.limit == sheet.LimitAside || it.limit == sheet.FigureWhorl || it.turn == sheet.Whorl:
		return !s.WornDown()
	case it.limit == sheet.FigurePacking:
		return !slots.Taped(s)
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
		return string(it.turn), fmt.Sprintf("%+g mm", v)
	case it.up:
		return "  higher", fmt.Sprintf("%+g mm", v)
	case it.turn != "":
		return string(it.turn), fmt.Sprintf("%+g mm", v)
	}
	return it.point.String(), fmt.Sprintf("%+g mm", v)
}
