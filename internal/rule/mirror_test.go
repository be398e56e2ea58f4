package rule_test

import (
	"math"
	"math/rand/v2"
	"regexp"
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
		c.Turns = map[sheet.Turn]scalp.Shift{}
		for turn, by := range s.Turns {
			c.Turns[turn] = by.Mirrored()
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
	each(t, 2, 15, func(t *testing.T, rng *rand.Rand, s *sheet.Sheet, table *slots.Table, _ *rule.Report) {
		s = withoutTwins(s)
		rep := rule.Check(s, table)
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

// withoutTwins is the sheet with no two rows as far from the middle, one on each side: of those the right one is to move when
// they are too near each other, mirrored or not.
func withoutTwins(s *sheet.Sheet) *sheet.Sheet {
	for _, r := range s.Rows {
		if _, twin := s.Row(mirroredPlace(r.Place)); twin && r.Along && r.At < 0 {
			s = s.WithRow(sheet.Row{Place: r.Place})
		}
	}
	return s
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
	case f.Rule == "falls-aside": // of two partings from which the hair falls alike either may be named
		what, _, _ = strings.Cut(what, ", ")
		g.What, _, _ = strings.Cut(g.What, ", ")
		g.Reading = f.Reading
	case f.Reading.Kind == rule.ByCover: // with the parting that it speaks of
		what = swapped.Replace(what)
		if strings.HasSuffix(what, "as well)") { // of two ways that are as bad to the last digit either may come first
			what, g.What, g.Reading = sortedWords(what), sortedWords(g.What), f.Reading
		}
	case f.Reading.Kind == rule.ByLoad, f.Rule == "total-load", f.Rule == "length-blend":
		what, g.What = numbers.ReplaceAllString(what, "n"), numbers.ReplaceAllString(g.What, "n") // one in the last digit is nothing
	}
	return math.Abs(f.Value-g.Value) < 0.01 && what == g.What && f.Reading == g.Reading && f.Limit == g.Limit && f.Source == g.Source &&
		f.Severity == g.Severity && f.Unit == g.Unit && (f.Accepted == nil) == (g.Accepted == nil)
}

var (
	swapped = strings.NewReplacer("left", "right", "right", "left")
	numbers = regexp.MustCompile(`[0-9.]+`)
)

// sortedWords are the words of a text in order.
func sortedWords(text string) string {
	words := strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" ,()", r) })
	slices.Sort(words)
	return strings.Join(words, " ")
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
