package lesson

import (
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// reportWhere is what the rules find on a sheet whose bonds lie off the middle of their slots, and the table by which they found it.
//
// The table is another one, in which the slot of such a bond lies where the bond does. So whatever a rule asks about that place
// is measured there: hairlines, fringe, partings and patches, the scalp itself, the hair over it and in its section, how far it is from
// the line of another row, and from the next bond. What hangs straight below what, and what a row
// serves, goes by slots as ever.
func (j *Judge) reportWhere(s *sheet.Sheet, off []Off) (*rule.Report, *slots.Table, error) {
	s = j.Under(s)
	t, err := slots.For(s, j.table)
	if err != nil {
		return nil, nil, err
	}
	j.table = t // of the slots as they are
	to := map[sheet.Spot]scalp.Vec{}
	for _, l := range lay(s, off, t.Head) {
		if l.on && l.off {
			to[sheet.Spot{At: l.At, Slot: l.Slot}] = l.point
		}
	}
	if len(to) > 0 {
		t = t.Moved(to)
	}
	return rule.Check(s, t), t, nil
}
