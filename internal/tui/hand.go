package tui

import (
	"slices"

	"example.org/underveil/internal/sheet"
)

// handFor is what to take in hand for going on with a sheet, and whether rows are offset: as in its
// uppermost row of whole strands at full height, or else every second slot in the first shade.
func handFor(s *sheet.Sheet) (hand sheet.Hand, offset bool) {
	hand = sheet.Hand{Pattern: sheet.EverySecond, Shades: "a"}
	if len(s.Shades) > 0 {
		hand.Shades = string(s.Shades[0].Key)
	}
	for _, r := range slices.Backward(s.Rows) {
		if r.Along {
			continue
		}
		var gaps []int
		shades, last := "", 0
		plain := true
		for slot, b := range r.All() {
			plain = plain && !b.Split && !b.Trimmed
			if slot < 0 {
				continue
			}
			if shades != "" {
				gaps = append(gaps, slot-last)
			}
			shades, last = shades+string(b.Shade), slot
		}
		if !plain || len(gaps) < 2 {
			continue
		}
		slices.Sort(gaps)
		if step := gaps[len(gaps)/2]; step <= len(sheet.Patterns) {
			hand.Pattern = sheet.Patterns[step-1]
		}
		hand.Shades = repeatOf(shades)
		return hand, r.Offset
	}
	return hand, false
}

// repeatOf is the shortest repeat that makes up a run of shades.
func repeatOf(shades string) string {
	for n := 1; n < len(shades) && n <= maxRepeat; n++ {
		same := true
		for i := n; i < len(shades) && same; i++ {
			same = shades[i] == shades[i-n]
		}
		if same {
			return shades[:n]
		}
	}
	return shades[:1]
}

// switchSplit, switchTrimmed, switchOffset and switchBoth change how bonds are laid, and say how they are laid now.
func (d *document) switchSplit() string {
	d.hand.Split = !d.hand.Split
	return either(d.hand.Split, "split strands", "whole strands") + " in hand"
}

func (d *document) switchTrimmed() string {
	d.hand.Trimmed = !d.hand.Trimmed
	return either(d.hand.Trimmed, "trimmed bonds", "full bonds") + " in hand"
}

func (d *document) switchOffset() string {
	d.offset = !d.offset
	return either(d.offset, "rows are painted offset against the row below", "rows are painted from the centre, not offset")
}

func (d *document) switchBoth() string {
	d.both = !d.both
	return either(d.both, "placing and lifting on both sides at once", "placing and lifting on one side")
}

func either(is bool, yes, no string) string {
	if is {
		return yes
	}
	return no
}
