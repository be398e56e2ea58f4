package tui

import (
	"fmt"

	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

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

const howToCarry = "arrows move, Enter puts down, Esc takes back"

// carry moves the selection on, and the cursor with it, so that it stays in sight.
func (d *document) carry(right, up int) string {
	m := d.moving
	next, ok := d.carried(m.right+right, m.up+up)
	defer func() { d.picked = m.selection.moved(m.right, m.up) }()
	if !ok {
		return "the map ends here"
	}
	if err := d.extend(&m.stepped, "move the selection", next); err != nil {
		return err.Error()
	}
	m.right, m.up = m.right+right, m.up+up
	d.move(right, up)
	if n := d.covered(); n > 0 {
		return fmt.Sprintf("%s under it would go; %s", printable.Count(n, "bond"), howToCarry)
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
	lines, slots := up, right
	if at.Along {
		lines, slots = right, up
	}
	to, err := d.table.Over(at, lines)
	return to, slots, err == nil
}

// putDown ends the move; takeBack undoes it.
func (d *document) putDown() string {
	told := "put down"
	if n := d.covered(); n > 0 {
		told = fmt.Sprintf("put down; %s under it went. %s takes it back", printable.Count(n, "bond"), d.keys.of("undo"))
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
