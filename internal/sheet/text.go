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

// Text writes the marks of one row as Row.Text writes its bonds: a letter for each, a dot for a slot that has none.
func (m Marks) Text(at Place) string {
	row := m.On(at)
	lo, hi := 0, 0
	for slot := range row {
		lo, hi = min(lo, slot), max(hi, slot)
	}
	var b strings.Builder
	for slot := lo; slot <= hi; slot++ {
		mark := row[slot]
		if mark == NoMark {
			mark = '.'
		}
		if slot == 0 {
			b.WriteString("(" + string(rune(mark)) + ")")
		} else {
			b.WriteByte(byte(mark))
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
	var bonds []Bond
	from, err := readSlots(text, func(i int) *TextError {
		switch c := text[i]; {
		case c == '.':
			bonds = append(bonds, Bond{})
		case c >= 'a' && c <= 'z':
			bonds = append(bonds, Bond{Shade: c})
		case c >= 'A' && c <= 'Z':
			bonds = append(bonds, Bond{Shade: c - 'A' + 'a', Split: true})
		case c == '\'':
			last := len(bonds) - 1
			if last < 0 || !bonds[last].Placed() || bonds[last].Trimmed || text[i-1] == '(' || text[i-1] == ')' {
				return &TextError{i, "' marks the bond before it as trimmed, and there is none"}
			}
			bonds[last].Trimmed = true
		default:
			return &TextError{i, "a slot is a dot, a letter of a shade (capital for a split strand), or a letter and ' for a trimmed bond"}
		}
		return nil
	}, func() int { return len(bonds) })
	if err != nil {
		return Row{}, err
	}
	r := Row{Place: at, first: from, bonds: bonds}
	return r.tight(), nil
}

// ParseMarks reads what Marks.Text writes, by slot. known tells which letters are marks. Its error is a *TextError.
func ParseMarks(text string, known func(Mark) bool) (map[int]Mark, error) {
	marks := make([]Mark, 0, len(text))
	from, err := readSlots(text, func(i int) *TextError {
		switch c := Mark(text[i]); {
		case c == '.':
			marks = append(marks, NoMark)
		case known(c):
			marks = append(marks, c)
		default:
			return &TextError{i, "a slot is a dot, or the letter of a mark"}
		}
		return nil
	}, func() int { return len(marks) })
	if err != nil {
		return nil, err
	}
	row := make(map[int]Mark, len(marks)-strings.Count(text, "."))
	for i, mark := range marks {
		if mark != NoMark {
			row[from+i] = mark
		}
	}
	return row, nil
}

// readSlots reads a string of slots of which the centre stands in brackets: mark takes what is at a byte of it, count
// says how many slots that made so far. from is the number of the first slot.
func readSlots(text string, mark func(i int) *TextError, count func() int) (from int, err error) {
	centre, open := -1, -1
	for i := 0; i < len(text); i++ {
		switch c := text[i]; {
		case c == '(' && centre < 0:
			centre, open = count(), i
		case c == '(':
			return 0, &TextError{i, "the centre slot is marked twice"}
		case c == ')' && open >= 0:
			if count() != centre+1 {
				return 0, &TextError{open, "the brackets stand round one slot, the centre"}
			}
			open = -1
		case c == ')':
			return 0, &TextError{i, "there is no ( before this )"}
		default:
			if wrong := mark(i); wrong != nil {
				return 0, wrong
			}
		}
	}
	switch {
	case open >= 0:
		return 0, &TextError{open, "this ( has no )"}
	case centre < 0:
		return 0, &TextError{len(text), "the centre slot is not marked; put it in brackets, like a.(a).a"}
	case count()-centre-1 > MaxSlot || centre > MaxSlot:
		return 0, &TextError{0, fmt.Sprintf("a row reaches at most %d slots from the centre", MaxSlot)}
	}
	return -centre, nil
}
