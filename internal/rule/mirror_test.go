package rule_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// mirrored is the sheet with left and right changed.
func mirrored(s *sheet.Sheet) *sheet.Sheet {
	return s.With(func(c *sheet.Sheet) {
		c.Moved, c.Partings, c.KeepOff, c.Rows, c.Accepted = map[scalp.Landmark]scalp.Shift{}, nil, nil, nil, nil
		for l, by := range s.Moved {
			l.Side = -l.Side
			c.Moved[l] = by.Mirrored()
		}
		for _, p := range s.Partings {
			p.Right = -p.Right
			c.Partings = append(c.Partings, p)
		}
		for _, k := range s.KeepOff {
			k.Right = -k.Right
			c.KeepOff = append(c.KeepOff, k)
		}
		m := *c
		for _, r := range s.Rows {
			m = *m.WithRow(mirroredRow(r))
		}
		c.Rows = m.Rows
		for _, a := range s.Accepted {
			a.Concern = mirroredConcern(a.Concern)
			c.Accepted = append(c.Accepted, a)
		}
	})
}

func mirroredRow(r sheet.Row) sheet.Row {
	bonds := map[int]sheet.Bond{}
	for slot, b := range r.All() {
		if !r.Along {
			slot = -slot
		}
		bonds[slot] = b
	}
	m := sheet.NewRow(mirroredPlace(r.Place), bonds)
	m.Look, m.Offset = r.Look, r.Offset
	return m
}

func mirroredPlace(at sheet.Place) sheet.Place {
	if at.Along {
		at.At = 0 - at.At // and no negative zero
	}
	return at
}

func mirroredConcern(c sheet.Concern) sheet.Concern {
	if !c.Row.Along {
		c.Slot = -c.Slot
	}
	c.Row = mirroredPlace(c.Row)
	return c
}

// Mirror image in, mirror image out: the same findings on the other side, with the same figures, and fixes that are
// mirror images.
func TestMirrorImage(t *testing.T) {
	each(t, 2, 15, func(t *testing.T, rng *rand.Rand, s *sheet.Sheet, table *slots.Table, rep *rule.Report) {
		m := mirrored(s)
		other := check(t, m)
		if len(rep.Findings) != len(other.Findings) || rep.Stops != other.Stops || rep.Cautions != other.Cautions ||
			rep.Notes != other.Notes || rep.Accepted != other.Accepted || len(rep.Stale) != len(other.Stale) {
			t.Errorf("found:\n%sin the mirror:\n%s", listed(rep), listed(other))
		}
		for _, f := range rep.Findings {
			want := mirroredConcern(f.Concern)
			i := slices.IndexFunc(other.Findings, func(g rule.Finding) bool { return g.Concern == want })
			if i < 0 {
				t.Errorf("%s: not in the mirror, where there is\n%s", told(f), listed(other))
				continue
			}
			g := other.Findings[i]
			if !sameFinding(f, g) {
				t.Errorf("%s: in the mirror %s", told(f), told(g))
			}
			if rng.IntN(20) == 0 && f.Slot != 0 {
				mirroredFixes(t, s, m, f, g)
			}
		}
	})
}

func sameFinding(f, g rule.Finding) bool {
	what := f.What
	switch {
	case f.Rule == "balance" && strings.HasSuffix(what, "left"):
		what = strings.Replace(what, "left", "right", 1)
	case f.Rule == "balance":
		what = strings.Replace(what, "right", "left", 1)
	case f.Rule == "row-gap":
		what = "from the row at " + mirroredPlace(f.Near[0].Row).String()
	}
	return math.Abs(f.Value-g.Value) < 0.01 && what == g.What && f.Limit == g.Limit && f.Source == g.Source &&
		f.Severity == g.Severity && f.Unit == g.Unit && (f.Accepted == nil) == (g.Accepted == nil)
}

// mirroredFixes compares what the fixes of two findings, mirror images of each other, lead to.
func mirroredFixes(t *testing.T, s, m *sheet.Sheet, f, g rule.Finding) {
	t.Helper()
	fixes, others := rule.Fixes(s, tableOf(t, s), f), rule.Fixes(m, tableOf(t, m), g)
	if len(fixes) != len(others) {
		t.Errorf("%s: %d fixes, in the mirror %d", told(f), len(fixes), len(others))
		return
	}
	for i := range fixes {
		a, b := mirrored(fixes[i].Do(s)), others[i].Do(m)
		if !slices.EqualFunc(a.Rows, b.Rows, sheet.Row.Equal) {
			t.Errorf("%s: the mirror image of %s is not what comes of %s", told(f), fixes[i].Label, others[i].Label)
		}
	}
}
