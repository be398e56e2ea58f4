package sheet

import (
	"fmt"
	"strings"
)

// Text writes the row's bonds as one short string. Each slot is one letter of a
// shade, lower case for a whole strand and capital for a split one, with ' after it
// when trimmed; a dot is an empty slot; the centre slot stands in brackets:
//
//	a.a.A'.(a).a.a.A'
func (r Row) Text() string {
	var b strings.Builder
	lo, hi := min(r.First(), 0), max(r.Last(), 0)
	if r.Empty() {
		lo, hi = 0, 0
	}
	for slot := lo; slot <= hi; slot++ {
		if slot == 0 {
			b.WriteByte('(')
		}
		writeBond(&b, r.Bond(slot))
		if slot == 0 {
			b.WriteByte(')')
		}
	}
	return b.String()
}

func writeBond(b *strings.Builder, bond Bond) {
	switch {
	case !bond.Placed():
		b.WriteByte('.')
		return
	case bond.Split:
		b.WriteByte(bond.Shade - 'a' + 'A')
	default:
		b.WriteByte(bond.Shade)
	}
	if bond.Trimmed {
		b.WriteByte('\'')
	}
}

// TextError says what is wrong with a row's string, and at which byte of it.
type TextError struct {
	At      int
	Problem string
}

func (e *TextError) Error() string { return e.Problem }

// ParseBonds reads what Text writes. Its error is a *TextError.
func ParseBonds(at Place, text string) (Row, error) {
	if text == "" {
		return Row{}, &TextError{0, "a row needs its bonds; (.) is an empty centre slot"}
	}
	bonds, centre, err := readSlots(text)
	if err != nil {
		return Row{}, err
	}
	if centre < 0 {
		return Row{}, &TextError{len(text), "the centre slot is not marked; put it in brackets, like a.(a).a"}
	}
	if len(bonds)-centre-1 > MaxSlot || centre > MaxSlot {
		return Row{}, &TextError{0, fmt.Sprintf("a row reaches at most %d slots from the centre", MaxSlot)}
	}
	r := Row{Place: at, first: -centre, bonds: bonds}
	return r.tight(), nil
}

// readSlots reads the slots of a row's string, and which of them is the centre.
func readSlots(text string) (bonds []Bond, centre int, err error) {
	centre = -1
	open := -1
	for i := 0; i < len(text); i++ {
		c := text[i]
		switch {
		case c == '.':
			bonds = append(bonds, Bond{})
		case c >= 'a' && c <= 'z':
			bonds = append(bonds, Bond{Shade: c})
		case c >= 'A' && c <= 'Z':
			bonds = append(bonds, Bond{Shade: c - 'A' + 'a', Split: true})
		case c == '\'':
			last := len(bonds) - 1
			if last < 0 || !bonds[last].Placed() || bonds[last].Trimmed || text[i-1] == '(' || text[i-1] == ')' {
				return nil, 0, &TextError{i, "' marks the bond before it as trimmed, and there is none"}
			}
			bonds[last].Trimmed = true
		case c == '(' && centre < 0:
			centre, open = len(bonds), i
		case c == '(':
			return nil, 0, &TextError{i, "the centre slot is marked twice"}
		case c == ')' && open >= 0:
			if len(bonds) != centre+1 {
				return nil, 0, &TextError{open, "the brackets stand round one slot, the centre"}
			}
			open = -1
		case c == ')':
			return nil, 0, &TextError{i, "there is no ( before this )"}
		default:
			return nil, 0, &TextError{i, "a slot is a dot, a letter of a shade (capital for a split strand), or a letter and ' for a trimmed bond"}
		}
	}
	if open >= 0 {
		return nil, 0, &TextError{open, "this ( has no )"}
	}
	return bonds, centre, nil
}
