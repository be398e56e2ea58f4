package tui

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/unit"
)

var errNoSpot = errors.New(`say where: "60 left 8", "left 8", "60", "along 24 right 3 front"`)

// spotWord is one word of a place: a number, a side, or what the next number is.
type spotWord struct {
	number float64
	side   string // "left", "right", "back", "front", "centre"; empty for a number
}

// parseSpot reads a place as it is said: "60 left 8", "height 60 slot 8 left", "left 8", "60", "along 24 left 3 front". What is not said
// stays as at the cursor. The error says what would do.
func parseSpot(d *document, text string) (figure.Spot, error) {
	at := d.cursor
	text = strings.NewReplacer("front to back", "along", "front-to-back", "along", "over the ears", "centre", ",", " ").Replace(strings.ToLower(text))
	isAlong := at.At.Along
	heightNext, slotNext := false, false
	var height, slot []spotWord
	fields := joinUnits(strings.Fields(text))
	for i, f := range fields {
		w, known := spotWordOf(f)
		switch {
		case f == "along":
			isAlong, heightNext = true, true
		case f == "height" || f == "line":
			isAlong, heightNext = false, true
		case f == "slot":
			slotNext, heightNext = true, false
		case f == "to" || f == "at" || f == "the" || f == "row":
		case !known:
			return at, fmt.Errorf("%s is no place; %w", printable.Quote(f), errNoSpot)
		case slotNext || w.side == "back" || w.side == "front" || len(height) > 0 && !heightNext:
			slot = append(slot, w)
		case heightNext && (w.side == "" || isAlong):
			height = append(height, w)
			heightNext = isAlong && w.side != "centre" && len(height) == 1 && (w.side != "" || i+1 < len(fields) && sideOfAlong(fields[i+1]))
		case w.side != "" || isSlotNumber(fields[i:]):
			slot, slotNext = append(slot, w), true
		default:
			isAlong, height = false, append(height, w)
		}
	}
	if len(height) > 0 {
		mm, err := signed(height, "left", "right")
		if err != nil {
			return at, err
		}
		at.At = sheet.Place{Along: isAlong, At: scalp.MM(mm)}
	}
	line, err := d.table.Line(at.At)
	if err != nil {
		return at, err
	}
	at.At = line.Place()
	if len(slot) == 0 {
		if len(height) == 0 {
			return at, errNoSpot
		}
		if at.At.Along != d.cursor.At.Along {
			at.Slot = 0
		}
		at.Slot = min(max(at.Slot, line.First), line.Last())
		return at, nil
	}
	minus, plus := at.At.Ways()
	n, err := signed(slot, minus, plus)
	if err != nil {
		return at, err
	}
	if at.Slot = int(n); float64(at.Slot) != n || line.At(at.Slot) == nil {
		return at, fmt.Errorf("%s has slots from %s to %s", at.At, sideOf(at.At, line.First), sideOf(at.At, line.Last()))
	}
	return at, nil
}

// joinUnits puts a number and its unit together where they were said as two words.
func joinUnits(words []string) []string {
	var out []string
	for _, w := range words {
		if n := len(out); n > 0 && (w == "mm" || w == "cm") {
			out[n-1] += w
			continue
		}
		out = append(out, w)
	}
	return out
}

func spotWordOf(f string) (spotWord, bool) {
	switch f {
	case "left", "right", "back", "front":
		return spotWord{side: f}, true
	case "centre", "center", "middle":
		return spotWord{side: "centre"}, true
	}
	mm, err := unit.Length(f)
	return spotWord{number: float64(mm)}, err == nil
}

// isSlotNumber reports whether a number, the first of some words, is that of a slot: a side comes after it, and no number after that, as
// in "60 left 8".
func isSlotNumber(words []string) bool {
	if len(words) < 2 {
		return false
	}
	side, ok := spotWordOf(words[1])
	if !ok || side.side == "" || side.side == "centre" {
		return false
	}
	if len(words) > 2 {
		if after, ok := spotWordOf(words[2]); ok && after.side == "" {
			return false
		}
	}
	return true
}

// sideOfAlong reports whether a word can say on which side of the middle a row front to back lies.
func sideOfAlong(f string) bool { return f == "left" || f == "right" || f == "middle" }

// signed is a number with its side: "8 left" is -8.
func signed(words []spotWord, minus, plus string) (float64, error) {
	v, numbers, sign := 0.0, 0, 0.0
	for _, w := range words {
		switch {
		case w.side == "":
			v, numbers = w.number, numbers+1
		case w.side == "centre" && len(words) == 1:
			return 0, nil
		case w.side == minus && sign == 0:
			sign = -1
		case w.side == plus && sign == 0:
			sign = 1
		default:
			return 0, fmt.Errorf("%q does not fit there; here it is %s or %s", w.side, minus, plus)
		}
	}
	switch {
	case numbers != 1:
		return 0, errNoSpot
	case sign == 0:
		return v, nil
	case v < 0:
		return 0, fmt.Errorf("%g and a side at once; say %s %s", v, strconv.FormatFloat(-v, 'g', -1, 64), minus)
	}
	return sign * v, nil
}

// sideOf is a slot as short as it can be said: "8 left", "centre".
func sideOf(at sheet.Place, slot int) string {
	minus, plus := at.Ways()
	switch {
	case slot < 0:
		return fmt.Sprintf("%d %s", -slot, minus)
	case slot > 0:
		return fmt.Sprintf("%d %s", slot, plus)
	}
	return strings.TrimPrefix(rule.SlotName(at, 0), "slot 0, ")
}
