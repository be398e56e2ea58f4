package sheetfile

import (
	"fmt"
	"strings"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// What a learner did besides in a step of an attempt stands in it as texts, what is different from the step before, a slot each:
//
//	tried = ["named nape 10 3", "let go 10 3", "seen 60 -3", "unseen 60 -3", "off 60 -3 2.5 -1"]
//
// A place is a height, or along and a number. Off gives mm to the right and up.
const (
	triedNamed  = "named"
	triedLetGo  = "let"
	triedSeen   = "seen"
	triedUnseen = "unseen"
	triedOff    = "off"
)

// triedBetween are the texts of what is different.
func triedBetween(before, after sheet.Tried) []string {
	var texts []string
	spot := func(at sheet.Spot) string { return rowText(at.At, fmt.Sprint(at.Slot)) }
	named := func(c sheet.Concern) sheet.Spot { return sheet.Spot{At: c.Row, Slot: c.Slot} }
	for _, c := range before.Marked {
		if after.MarkedAt(named(c)) == "" {
			texts = append(texts, triedLetGo+" go "+spot(named(c)))
		}
	}
	for _, c := range after.Marked {
		if before.MarkedAt(named(c)) != c.Rule {
			texts = append(texts, triedNamed+" "+c.Rule+" "+spot(named(c)))
		}
	}
	had, has := seenSet(before), seenSet(after)
	for _, at := range before.Seen {
		if !has[at] {
			texts = append(texts, triedUnseen+" "+spot(at))
		}
	}
	for _, at := range after.Seen {
		if !had[at] {
			texts = append(texts, triedSeen+" "+spot(at))
		}
	}
	for _, o := range before.Off {
		if after.OffAt(o.Spot) == (sheet.Off{Spot: o.Spot}) {
			texts = append(texts, triedOff+" "+spot(o.Spot)+" 0 0")
		}
	}
	for _, o := range after.Off {
		if before.OffAt(o.Spot) != o {
			texts = append(texts, triedOff+" "+spot(o.Spot)+" "+decimal(float64(o.Right))+" "+decimal(float64(o.Up)))
		}
	}
	return texts
}

func seenSet(t sheet.Tried) map[sheet.Spot]bool {
	set := make(map[sheet.Spot]bool, len(t.Seen))
	for _, at := range t.Seen {
		set[at] = true
	}
	return set
}

// tried reads what was done besides in a step, on from the step before.
func (t table) tried(on *sheet.Sheet, before sheet.Tried) sheet.Tried {
	texts, ok := t.texts("tried")
	if !ok {
		return before
	}
	for _, w := range texts {
		next, ok := t.triedText(on, before, strings.Fields(w.text))
		if !ok {
			t.reader.fail(w.value, "tried: "+printable.Quote(w.text)+" says nothing that a learner can have done", "write it like "+t.sample("step", "tried"))
			return before
		}
		before = next
	}
	return before
}

// triedText is what comes of one text, by its words.
func (t table) triedText(on *sheet.Sheet, before sheet.Tried, words []string) (after sheet.Tried, ok bool) {
	if len(words) < 3 {
		return before, false
	}
	verb, id := words[0], ""
	words = words[1:]
	switch verb {
	case triedNamed:
		if _, known := rule.ByID(words[0]); !known {
			return before, false
		}
		id, words = words[0], words[1:]
	case triedLetGo:
		if words[0] != "go" {
			return before, false
		}
		words = words[1:]
	}
	at, rest, ok := t.triedSpot(on, words)
	if !ok {
		return before, false
	}
	switch {
	case verb == triedOff && len(rest) == 2:
		return before.WithOff(sheet.Off{Spot: at, Right: scalp.MM(rest[0]), Up: scalp.MM(rest[1])}), true
	case len(rest) > 0:
		return before, false
	case verb == triedNamed, verb == triedLetGo:
		return before.WithMark(at, id), true
	case verb == triedSeen:
		return before.WithSeen(at), true
	case verb == triedUnseen:
		return before.WithoutSeen(at), true
	}
	return before, false
}

// triedSpot reads a place and a slot, and what numbers follow.
func (t table) triedSpot(on *sheet.Sheet, words []string) (at sheet.Spot, rest []float64, ok bool) {
	if len(words) > 0 && words[0] == alongWord {
		at.At.Along, words = true, words[1:]
	}
	var numbers []float64
	for _, word := range words {
		v, ok := plainNumber(word)
		if !ok || v < -tallest || v > tallest {
			return at, nil, false
		}
		numbers = append(numbers, v)
	}
	if len(numbers) < 2 || numbers[1] != float64(int(numbers[1])) || !at.At.Along && numbers[0] < 0 {
		return at, nil, false
	}
	at.At.At, at.Slot = scalp.MM(numbers[0]), int(numbers[1])
	at.At = (&decoder{reader: t.reader, sheet: on}).onLine(at.At)
	return at, numbers[2:], true
}
