package slots

import (
	"reflect"
	"slices"
	"testing"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

func TestTableIsKept(t *testing.T) {
	s := lopsided(medium())
	table := fresh(t, s)
	bond := sheet.Bond{Shade: 'a'}
	for name, next := range map[string]*sheet.Sheet{
		"the same sheet": s,
		"a bond":         s.WithBond(level(60), 3, bond),
		"another title":  s.With(func(c *sheet.Sheet) { c.Title, c.Client, c.Notes = "x", "y", "z" }),
		"another limit":  s.WithLimit(sheet.LimitNape, 33),
		"an acceptance":  s.WithAccepted(sheet.Accepted{Concern: sheet.Concern{Rule: "nape"}}),
		"other hair":     s.With(func(c *sheet.Sheet) { c.Hair.Density = "thick" }),
		"worn up":        s.With(func(c *sheet.Sheet) { c.Worn = []sheet.Wear{sheet.WornHighTail} }),
		"another wish":   s.With(func(c *sheet.Sheet) { c.Wish = []sheet.Look{sheet.Length} }),
		"other shades":   s.With(func(c *sheet.Sheet) { c.Shades = nil }),
		"equal lists":    s.With(func(c *sheet.Sheet) { c.Partings, c.KeepOff = slices.Clone(c.Partings), slices.Clone(c.KeepOff) }),
		"moved and back": s.WithLandmark(scalp.Landmark{Name: scalp.FrontCentre}, scalp.Shift{Up: 1}).WithLandmark(scalp.Landmark{Name: scalp.FrontCentre}, scalp.Shift{}),
		"the fringe depth that it was": func() *sheet.Sheet {
			depth, _ := s.Limit(sheet.LimitFringeDepth)
			return s.WithLimit(sheet.LimitFringeDepth, depth)
		}(),
	} {
		got, err := For(next, table)
		if err != nil || got != table {
			t.Errorf("%s: a new table, error %v", name, err)
		}
	}
}

func TestTableIsMadeAnew(t *testing.T) {
	s := lopsided(medium())
	table := fresh(t, s)
	front := scalp.Landmark{Name: scalp.FrontCentre}
	for name, next := range map[string]*sheet.Sheet{
		"circumference": s.With(func(c *sheet.Sheet) { c.Measures.Circumference++ }),
		"ear to ear":    s.With(func(c *sheet.Sheet) { c.Measures.EarToEar++ }),
		"front to nape": s.With(func(c *sheet.Sheet) { c.Measures.FrontToNape++ }),
		"nape width":    s.With(func(c *sheet.Sheet) { c.Measures.NapeWidth++ }),
		"a landmark":    s.WithLandmark(front, scalp.Shift{Up: 1}),
		"hole spacing":  spaced(s, 9, 10),
		"line gap":      spaced(s, 8, 11),
		"fringe depth":  s.WithLimit(sheet.LimitFringeDepth, 50),
		"a parting": s.With(func(c *sheet.Sheet) {
			c.Partings = slices.Clone(c.Partings)
			c.Partings[1].Length++
		}),
		"no partings": s.With(func(c *sheet.Sheet) { c.Partings = nil }),
		"a patch": s.With(func(c *sheet.Sheet) {
			c.KeepOff = slices.Clone(c.KeepOff)
			c.KeepOff[0].Right++
		}),
		"no patches": s.With(func(c *sheet.Sheet) { c.KeepOff = nil }),
	} {
		got, err := For(next, table)
		if err != nil || got == table {
			t.Errorf("%s: the old table, error %v", name, err)
			continue
		}
		if want := fresh(t, next); !sameSlots(got, want) {
			t.Errorf("%s: the table differs from one made from nothing", name)
		}
		if sameSlots(got, table) {
			t.Errorf("%s: the new table is as the old", name)
		}
	}
	if _, err := For(s.With(func(c *sheet.Sheet) { c.HoleSpacing = 0 }), table); err == nil {
		t.Error("the old table hides an error")
	}
}

// sameSlots reports whether two tables have the same slots, with all that is near them.
func sameSlots(a, b *Table) bool {
	return slices.EqualFunc(a.Lines, b.Lines, func(l, m *Line) bool {
		return l.ID == m.ID && l.First == m.First && reflect.DeepEqual(l.Slots, m.Slots)
	})
}
