package sheet

import (
	"fmt"
	"strings"
)

// Hand is what painting lays down.
type Hand struct {
	Pattern Pattern
	Split   bool
	Trimmed bool
	Shades  string // letters used in turn, from the centre outwards
}

// Pattern is a skip pattern: 'x' for a slot used and '.' for a slot left, read
// from the centre outwards, the same on both sides, over and over.
type Pattern string

// The patterns with names.
const (
	EverySlot   Pattern = "x"
	EverySecond Pattern = "x."
	EveryThird  Pattern = "x.."
	EveryFourth Pattern = "x..."
)

// Patterns are the patterns with names, closest first.
var Patterns = []Pattern{EverySlot, EverySecond, EveryThird, EveryFourth}

// MaxPattern is the longest written pattern.
const MaxPattern = 24

// ParsePattern reads a written pattern.
func ParsePattern(s string) (Pattern, error) {
	switch {
	case s == "" || strings.Trim(s, "x.") != "":
		return "", fmt.Errorf("a pattern is written with x for a slot used and . for a slot left: xx. or x.. for example")
	case !strings.Contains(s, "x"):
		return "", fmt.Errorf("a pattern needs at least one x, or nothing would be placed")
	case len(s) > MaxPattern:
		return "", fmt.Errorf("a pattern has at most %d slots", MaxPattern)
	}
	return Pattern(s), nil
}

// String is the pattern's name, or how it is written.
func (p Pattern) String() string {
	switch p {
	case EverySlot:
		return "every slot"
	case EverySecond:
		return "every second"
	case EveryThird:
		return "every third"
	case EveryFourth:
		return "every fourth"
	}
	return "pattern " + string(p)
}

// Uses reports whether the pattern uses a slot, when it begins phase slots
// outwards of the centre.
func (p Pattern) Uses(slot, phase int) bool {
	i := (abs(slot) - phase) % len(p)
	if i < 0 {
		i += len(p)
	}
	return p[i] == 'x'
}

// Bond is one bond from the hand: the n-th from the centre, counted from 0.
func (h Hand) Bond(n int) Bond {
	return Bond{Shade: h.Shades[n%len(h.Shades)], Split: h.Split, Trimmed: h.Trimmed}
}

// Lay is what the hand puts into the slots given, by its pattern from the
// given phase. The shades run from the centre outwards, the same on both sides.
func (h Hand) Lay(slots []int, phase int) map[int]Bond {
	laid := map[int]Bond{}
	for _, slot := range slots {
		if h.Pattern.Uses(slot, phase) {
			laid[slot] = h.Bond(h.order(slot, phase))
		}
	}
	return laid
}

// order is how many slots the pattern uses between the centre and a slot.
func (h Hand) order(slot, phase int) int {
	n := 0
	for k := range abs(slot) {
		if h.Pattern.Uses(k, phase) {
			n++
		}
	}
	return n
}

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}
