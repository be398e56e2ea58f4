package card

import (
	"fmt"
	"strings"

	"example.org/underveil/internal/card/letter"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/tally"
)

// patternOf says which holes of its strip a piece uses, counted from the first: "every second", "every second, not hole 9",
// or else the holes themselves. Empty holes that are named are fewer than a third of those that the step would use.
func patternOf(bonds []tally.Placed) string {
	if len(bonds) == 1 {
		return "one hole"
	}
	holes := make([]int, len(bonds))
	changes := map[int]sheet.Bond{}
	for i, b := range bonds {
		holes[i] = b.Slot - bonds[0].Slot + 1
		changes[b.Slot] = b.Bond
	}
	step := sheet.NewRow(sheet.Place{}, changes).Step()
	if empty, ok := emptyHoles(holes, step); ok && (len(bonds) > 2 || step == 1) {
		name := stepName(step)
		switch {
		case len(empty) == 0:
			return name
		case 3*len(empty) < len(holes):
			return name + ", not " + holesIn(empty)
		}
	}
	return holesIn(holes)
}

// emptyHoles are the holes that a step would use and the piece leaves empty; ok is false where it uses others.
func emptyHoles(holes []int, step int) (empty []int, ok bool) {
	next := 1
	for _, h := range holes {
		for ; next < h; next += step {
			empty = append(empty, next)
		}
		if next != h {
			return nil, false
		}
		next += step
	}
	return empty, true
}

func stepName(step int) string {
	pattern := sheet.Pattern("x" + strings.Repeat(".", step-1))
	for _, p := range sheet.Patterns {
		if p == pattern {
			return p.String()
		}
	}
	return fmt.Sprintf("every %dth", step)
}

// holesIn lists holes, neighbours as a range: "holes 1-4, 7".
func holesIn(holes []int) string {
	var parts []string
	for i := 0; i < len(holes); {
		k := i
		for k+1 < len(holes) && holes[k+1] == holes[k]+1 {
			k++
		}
		switch {
		case k > i+1:
			parts = append(parts, fmt.Sprintf("%d-%d", holes[i], holes[k]))
		case k > i:
			parts = append(parts, fmt.Sprint(holes[i]), fmt.Sprint(holes[k]))
		default:
			parts = append(parts, fmt.Sprint(holes[i]))
		}
		i = k + 1
	}
	if len(holes) == 1 {
		return "hole" + letter.NoBreak + parts[0]
	}
	return "holes " + strings.Join(parts, ", ")
}
