package tui

import (
	"cmp"
	"fmt"
	"maps"
	"slices"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
)

// Edits of the document. Each returns what to tell: what was done, or why nothing was.

// placeOrLift puts a bond into the slot at the cursor, or takes out the one that is there.
func (d *document) placeOrLift() string {
	s, at, slot := d.sheet(), d.cursor.At, d.cursor.Slot
	bond := sheet.Bond{}
	label := "lift a bond"
	if !s.Bond(at, slot).Placed() {
		bond, label = d.hand.Bond(d.inTurn()), "place a bond"
	}
	next := s.WithBond(at, slot, bond)
	if d.both {
		next = d.otherSide(next, at, slot, bond)
	}
	return d.tell(label, next, "")
}

// inTurn is how many bonds of the row lie between its centre and the cursor: whose turn it is
// in a repeat of shades.
func (d *document) inTurn() int {
	n, slot := 0, d.cursor.Slot
	for k := range d.row().All() {
		if abs(k) < abs(slot) && (k == 0 || (k < 0) == (slot < 0)) {
			n++
		}
	}
	return n
}

// otherSide does to the slot across the midline what was done to one.
func (d *document) otherSide(s *sheet.Sheet, at sheet.Place, slot int, b sheet.Bond) *sheet.Sheet {
	if at.Along {
		at.At = -at.At
	} else {
		slot = -slot
	}
	if s.Bond(at, slot) == b {
		return s
	}
	return s.WithBond(at, slot, b)
}

// tell makes the edit and says so, or says why it can't be.
func (d *document) tell(label string, s *sheet.Sheet, done string) string {
	if err := d.do(label, s); err != nil {
		return err.Error()
	}
	return done
}

// paintRow lays what is in hand on the whole line, between the edges of the zones; or on
// what is selected.
func (d *document) paintRow() string {
	if d.picked != nil {
		return d.paintPicked()
	}
	at := d.cursor.At
	free := rule.Free(d.sheet(), d.line())
	if len(free) == 0 {
		return fmt.Sprintf("%s has no slot outside the zones", at)
	}
	phase := 0
	if d.offset {
		phase = rule.OffsetPhase(d.sheet(), d.table, at, d.hand.Pattern)
	}
	old := d.row()
	row := sheet.NewRow(at, d.hand.Lay(free, phase))
	if row.Empty() {
		return fmt.Sprintf("%s uses no slot outside the zones here", d.hand.Pattern)
	}
	row.Look, row.Offset = old.Look, d.offset
	next := d.sheet().WithRow(row)
	done := fmt.Sprintf("%s: %s", at, printable.Count(row.Count(), "bond"))
	if other := (sheet.Place{Along: true, At: -at.At}); d.both && at.Along && at.At != 0 {
		if l, err := d.table.Line(other); err == nil {
			mirrored := sheet.NewRow(other, d.hand.Lay(rule.Free(d.sheet(), l), phase))
			old, _ := d.sheet().Row(other)
			mirrored.Look, mirrored.Offset = old.Look, d.offset
			next = next.WithRow(mirrored)
			done += ", and the same on the other side"
		}
	}
	return d.tell("paint "+theRow(at), next, done)
}

// paintPicked lays what is in hand on every line of the selection, and leaves the rest of each row.
func (d *document) paintPicked() string {
	next, n := d.sheet(), 0
	lines := slices.Clone(d.table.Lines)
	for _, r := range d.sheet().Rows {
		if l, err := d.table.Line(r.Place); err == nil && r.Along {
			lines = append(lines, l)
		}
	}
	for _, l := range lines {
		at := l.Place()
		free := slices.DeleteFunc(rule.Free(next, l), func(slot int) bool { return !d.isPicked(at, slot) })
		row, has := next.Row(at)
		if len(free) == 0 || d.picked.panel && !has {
			continue // a panel is painted where it has rows, not on each of its lines
		}
		changes := map[int]sheet.Bond{}
		for slot := range row.All() {
			if d.isPicked(at, slot) {
				changes[slot] = sheet.Bond{}
			}
		}
		phase := 0
		if d.offset {
			phase = rule.OffsetPhase(next, d.table, at, d.hand.Pattern)
		}
		for slot, b := range d.hand.Lay(free, phase) {
			changes[slot] = b
			n++
		}
		if row = row.With(changes); !has {
			row.Offset = d.offset
		}
		next = next.WithRow(row)
	}
	return d.tell("paint the selection", next, printable.Count(n, "bond")+" in the selection")
}

// asInHand makes the bonds that are there, in the selection or at the cursor, like the strand in hand.
// Shades of a repeat follow one another from the centre outwards.
func (d *document) asInHand() string {
	next, n := d.sheet(), 0
	for _, r := range d.sheet().Rows {
		changes, turn := map[int]sheet.Bond{}, map[bool]int{}
		order := slices.SortedFunc(maps.Keys(maps.Collect(r.All())), func(a, b int) int { return cmp.Or(cmp.Compare(abs(a), abs(b)), cmp.Compare(a, b)) })
		for _, slot := range order {
			side := slot < 0
			if here := r.Place == d.cursor.At && slot == d.cursor.Slot; d.picked == nil && here || d.picked != nil && d.isPicked(r.Place, slot) {
				changes[slot] = d.hand.Bond(turn[side])
				n++
			}
			turn[side]++
			if slot == 0 {
				turn[true]++
			}
		}
		next = next.WithBonds(r.Place, changes)
	}
	if n == 0 {
		return "there is no bond here"
	}
	return d.tell("change bonds to what is in hand", next, printable.Count(n, "bond")+" as in hand")
}

// clearRow empties the row, or what is selected.
func (d *document) clearRow() string {
	if d.picked != nil {
		next, n := d.without(d.sheet())
		d.picked = nil
		return d.tell("clear the selection", next, fmt.Sprintf("%s lifted", printable.Count(n, "bond")))
	}
	r := d.row()
	if r.Empty() {
		return "there is no bond on this line"
	}
	return d.tell("clear "+theRow(r.Place), d.sheet().WithRow(sheet.Row{Place: r.Place}),
		fmt.Sprintf("%s cleared", r.Place))
}

// without is the sheet with nothing where the selection is, and how many bonds were there.
func (d *document) without(s *sheet.Sheet) (*sheet.Sheet, int) {
	n := 0
	for _, r := range s.Rows {
		gone := map[int]sheet.Bond{}
		for slot := range r.All() {
			if d.isPicked(r.Place, slot) {
				gone[slot] = sheet.Bond{}
			}
		}
		if n += len(gone); len(gone) > 0 {
			s = s.WithRow(r.With(gone))
		}
	}
	return s, n
}

// shiftRow moves every bond of the row by one slot.
func (d *document) shiftRow(by int) string {
	r := d.row()
	if r.Empty() {
		return "there is no bond on this line to shift"
	}
	d.picked = nil
	if err := d.goOn("shift "+r.Place.String(), "shift "+theRow(r.Place), d.sheet().WithRow(r.Shifted(by))); err != nil {
		return err.Error()
	}
	return ""
}

// copyRow remembers the row; layCopied lays it on another line.
func (d *document) copyRow() string {
	r := d.row()
	if r.Empty() {
		return "there is no bond on this line to copy"
	}
	d.copied = &r
	return fmt.Sprintf("%s copied; v lays it on another line", r.Place)
}

func (d *document) layCopied() string {
	if d.copied == nil {
		return "no row is copied yet; c copies one"
	}
	r, gone := *d.copied, map[int]sheet.Bond{}
	r.Place = d.cursor.At
	for slot := range r.All() {
		if d.line().At(slot) == nil {
			gone[slot] = sheet.Bond{}
		}
	}
	if r = r.With(gone); r.Empty() {
		return "none of the copied bonds has a place on this line"
	}
	done := fmt.Sprintf("%s: %s", r.Place, printable.Count(r.Count(), "bond"))
	if len(gone) > 0 {
		done += fmt.Sprintf("; %d had no place on this line", len(gone))
	}
	return d.tell("lay a copied row: "+r.Place.String(), d.sheet().WithRow(r), done)
}

// nextLook changes what the row is for.
func (d *document) nextLook() string {
	r := d.row()
	if r.Empty() {
		return "there is no row on this line"
	}
	r.Look = following(sheet.Looks, d.sheet().LookOf(r))
	return d.tell(theRow(r.Place)+" is for "+string(r.Look), d.sheet().WithRow(r), fmt.Sprintf("%s is for %s", r.Place, r.Look))
}

// following is the item after one in a list, round to the first.
func following[T comparable](list []T, item T) T {
	for i, x := range list {
		if x == item {
			return list[(i+1)%len(list)]
		}
	}
	return list[0]
}

// theRow is a row in a sentence: "the row at height 60", "the row front to back, 16 left".
func theRow(at sheet.Place) string {
	if at.Along {
		return "the row " + at.String()
	}
	return "the row at " + at.String()
}

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}
