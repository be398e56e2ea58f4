package tui

import (
	"cmp"
	"fmt"
	"maps"
	"slices"

	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
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
	return d.tell("paint the row at "+at.String(), next, done)
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
		next = next.WithBonds(at, changes)
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
	return d.tell("clear the row at "+r.Place.String(), d.sheet().WithRow(sheet.Row{Place: r.Place}),
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
	if d.picked != nil {
		d.picked = nil
	}
	if err := d.goOn("shift "+r.Place.String(), "shift the row at "+r.Place.String(), d.sheet().WithRow(r.Shifted(by))); err != nil {
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
	r = r.With(gone)
	done := fmt.Sprintf("%s: %s", r.Place, printable.Count(r.Count(), "bond"))
	if len(gone) > 0 {
		done += fmt.Sprintf("; %d had no place on this line", len(gone))
	}
	return d.tell("lay a copied row at "+r.Place.String(), d.sheet().WithRow(r), done)
}

// nextLook changes what the row is for.
func (d *document) nextLook() string {
	r := d.row()
	if r.Empty() {
		return "there is no row on this line"
	}
	r.Look = following(sheet.Looks, d.sheet().LookOf(r))
	return d.tell("the row at "+r.Place.String()+" is for "+string(r.Look), d.sheet().WithRow(r), fmt.Sprintf("%s is for %s", r.Place, r.Look))
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

// moving is a selection on its way: how it was before, and how far it has gone.
type moving struct {
	before    *sheet.Sheet
	selection selection
	from      figure.Spot // where the cursor was
	right, up int
	stepped   bool
}

// takeUp begins to move the selection.
func (d *document) takeUp() string {
	chosen := d.picked
	if d.picked == nil { // the row
		l := d.line()
		if d.cursor.At.Along {
			at := d.cursor.At
			d.picked = &selection{row: &at}
		} else {
			i := d.table.Index(l)
			d.picked = &selection{anchor: slots.Spot{Line: i, Slot: l.First}, to: slots.Spot{Line: i, Slot: l.Last()}}
		}
	}
	if _, n := d.without(d.sheet()); n == 0 {
		d.picked = chosen
		return "there is no bond here to move"
	}
	d.moving = &moving{before: d.sheet(), selection: *d.picked, from: d.cursor}
	return howToCarry
}

const howToCarry = "arrows move it, Enter puts it down, Esc takes it back"

// carry moves the selection on, and the cursor with it, so that it stays in sight.
func (d *document) carry(right, up int) string {
	m := d.moving
	next, ok := d.carried(m.right+right, m.up+up)
	defer func() { d.picked = m.selection.moved(m.right, m.up) }()
	if !ok {
		return "the map ends here"
	}
	commit := func() {
		if m.stepped {
			d.history.Amend("move the selection", next)
		} else {
			d.history.Do("move the selection", next)
		}
		m.stepped = true
	}
	if err := d.step(next, commit); err != nil {
		return err.Error()
	}
	m.right, m.up = m.right+right, m.up+up
	d.move(right, up)
	if n := d.covered(); n > 0 {
		return fmt.Sprintf("%s under it would go. %s", printable.Count(n, "bond"), howToCarry)
	}
	return howToCarry
}

// covered is how many bonds the move has laid itself upon.
func (d *document) covered() int { return d.moving.before.Bonds() - d.sheet().Bonds() }

// moved is a stretch where it lies after it was carried. A panel or a row front to back is no stretch.
func (s selection) moved(right, up int) *selection {
	if s.panel || s.row != nil {
		return nil
	}
	by := func(at slots.Spot) slots.Spot { return slots.Spot{Line: at.Line + up, Slot: at.Slot + right} }
	s.anchor, s.to = by(s.anchor), by(s.to)
	return &s
}

// carried is the sheet from before with the selection moved; ok is false when some of it would
// have no line to lie on.
func (d *document) carried(right, up int) (*sheet.Sheet, bool) {
	m := d.moving
	selected := m.selection
	d.picked = &selected
	defer func() { d.picked = &selected }()
	next, _ := d.without(m.before)
	for _, r := range m.before.Rows {
		at, by, ok := d.movedPlace(r.Place, right, up)
		laid := map[int]sheet.Bond{}
		for slot, b := range r.All() {
			if d.isPicked(r.Place, slot) {
				if !ok || abs(slot+by) > sheet.MaxSlot {
					return nil, false
				}
				laid[slot+by] = b
			}
		}
		if len(laid) == 0 {
			continue
		}
		if there, _ := next.Row(at); !there.Empty() {
			next = next.WithBonds(at, laid)
			continue
		}
		row := sheet.NewRow(at, laid) // a row of its own stays what it is
		row.Look, row.Offset = r.Look, r.Offset
		next = next.WithRow(row)
	}
	return next, true
}

// movedPlace is where a row goes that is moved to the right and up, and by how many
// slots its bonds move along it.
func (d *document) movedPlace(at sheet.Place, right, up int) (to sheet.Place, slots int, ok bool) {
	to, slots = sheet.Place{At: at.At + scalp.MM(up)*d.table.Gap}, right
	if at.Along {
		to, slots = d.over(at, right), up
	}
	line, err := d.table.Line(to)
	if err != nil {
		return to, slots, false
	}
	return line.Place(), slots, true
}

// putDown ends the move; takeBack undoes it.
func (d *document) putDown() string {
	told := "put down"
	if n := d.covered(); n > 0 {
		told = fmt.Sprintf("put down; %s under it went. u takes it back", printable.Count(n, "bond"))
	}
	d.moving, d.picked = nil, nil
	return told
}

func (d *document) takeBack() string {
	stepped := d.moving.stepped
	d.cursor, d.wanted = d.moving.from, d.moving.from.Slot
	d.putDown()
	if stepped {
		return d.undo()
	}
	return ""
}

// drag is a mouse button held down on the map.
type drag struct {
	at     sheet.Place
	from   int
	place  bool // placing, or lifting
	before *sheet.Sheet
	dirty  bool
}

// press begins a drag at a slot: it places a bond, or lifts the one there.
func (d *document) press(at figure.Spot) error {
	d.cursor, d.wanted, d.picked = at, at.Slot, nil
	d.drag = &drag{at: at.At, from: at.Slot, before: d.sheet(), place: !d.sheet().Bond(at.At, at.Slot).Placed()}
	return d.dragTo(at.Slot)
}

// dragTo lays the pattern from where the drag began to a slot, or lifts all between.
// Where it began there is always a bond, or a click could place none.
func (d *document) dragTo(slot int) error {
	g := d.drag
	changes := map[int]sheet.Bond{}
	step, used := 1, 0
	if slot < g.from {
		step = -1
	}
	for k := g.from; k != slot+step; k += step {
		switch {
		case !g.place:
			changes[k] = sheet.Bond{}
		case k == g.from || d.hand.Pattern.Uses(k-g.from, 0):
			changes[k] = d.hand.Bond(used)
			used++
		}
	}
	next := g.before.WithBonds(g.at, changes)
	if d.both {
		for k, b := range changes {
			next = d.otherSide(next, g.at, k, b)
		}
	}
	label := "lift by hand"
	if g.place {
		label = "paint by hand"
	}
	if slot == g.from && !g.dirty {
		label = map[bool]string{true: "place a bond", false: "lift a bond"}[g.place]
	}
	commit := func() {
		if g.dirty {
			d.history.Amend(label, next)
		} else {
			d.history.Do(label, next)
		}
		g.dirty = true
	}
	err := d.step(next, commit)
	d.cursor, d.wanted = figure.Spot{At: g.at, Slot: slot}, slot
	return err
}

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}
