package lesson

import (
	"fmt"
	"maps"
	"slices"

	"example.org/underveil/internal/sheet"
)

// Part is a part of a sheet that an exercise may leave to the learner.
type Part string

// The parts. Title, client, date and notes are nobody's business and always free.
const (
	Rows         Part = "rows"
	Shades       Part = "shades"
	Strip        Part = "strip" // hole spacing, half a hole aside, spacing of the lines
	Head         Part = "head"  // tapes, hairline, whorl and ties
	HairPart     Part = "hair"
	Wishes       Part = "wish"
	Worn         Part = "worn" // ways of wearing it, and partings
	Patches      Part = "patches"
	LimitsPart   Part = "limits"
	Consultation Part = "consultation"
	Acceptances  Part = "accept"
	Visits       Part = "visits"
)

// parts are all parts with how to tell whether two sheets have the same there, and what the part is called in a sentence.
var parts = []struct {
	part  Part
	words string
	same  func(a, b *sheet.Sheet) bool
}{
	{Rows, "the rows", func(a, b *sheet.Sheet) bool { return slices.EqualFunc(a.Rows, b.Rows, sheet.Row.Equal) }},
	{Shades, "the shades", func(a, b *sheet.Sheet) bool { return slices.Equal(a.Shades, b.Shades) }},
	{Strip, "the spacing strip and the lines of the map", func(a, b *sheet.Sheet) bool {
		return a.HoleSpacing == b.HoleSpacing && a.Aside == b.Aside && a.LineGap == b.LineGap
	}},
	{Head, "the measures and the hairline", func(a, b *sheet.Sheet) bool {
		return a.Measures == b.Measures && maps.Equal(a.Moved, b.Moved) && maps.Equal(a.Turns, b.Turns)
	}},
	{HairPart, "the client's hair", func(a, b *sheet.Sheet) bool { return a.Hair == b.Hair }},
	{Wishes, "the wishes", func(a, b *sheet.Sheet) bool { return slices.Equal(a.Wish, b.Wish) && a.Amounts == b.Amounts }},
	{Worn, "how the hair is worn and parted", func(a, b *sheet.Sheet) bool {
		return slices.Equal(a.Worn, b.Worn) && slices.Equal(a.Partings, b.Partings)
	}},
	{Patches, "the patches to keep off", func(a, b *sheet.Sheet) bool { return slices.Equal(a.KeepOff, b.KeepOff) }},
	{LimitsPart, "the limits", func(a, b *sheet.Sheet) bool { return maps.Equal(a.Limits, b.Limits) }},
	{Consultation, "the consultation", func(a, b *sheet.Sheet) bool { return a.Asked.Equal(b.Asked) }},
	{Acceptances, "the accepted findings", func(a, b *sheet.Sheet) bool { return slices.Equal(a.Accepted, b.Accepted) }},
	{Visits, "the visits", func(a, b *sheet.Sheet) bool { return slices.EqualFunc(a.Visits, b.Visits, sheet.Visit.Equal) }},
}

// Parts lists every part.
func Parts() []Part {
	all := make([]Part, len(parts))
	for i, p := range parts {
		all[i] = p.part
	}
	return all
}

// Words is the part in a sentence.
func (p Part) Words() string {
	for _, known := range parts {
		if known.part == p {
			return known.words
		}
	}
	return string(p)
}

// Changed lists the parts in which two sheets differ.
func Changed(a, b *sheet.Sheet) []Part {
	var changed []Part
	for _, p := range parts {
		if !p.same(a, b) {
			changed = append(changed, p.part)
		}
	}
	return changed
}

// Allows says, as an error to show, what of a sheet was changed against the start that the exercise does not leave to the learner.
func (x *Exercise) Allows(s *sheet.Sheet) error {
	for _, p := range Changed(x.Start, s) {
		if made := x.Task == Fit && p == Rows; !made && !slices.Contains(x.May, p) {
			return fmt.Errorf("%s: this exercise leaves that as it is", p.Words())
		}
	}
	return nil
}
