package rule_test

import (
	"fmt"
	"path/filepath"
	"slices"
	"testing"

	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// crowd is a sheet of a fine map with a bond in every slot that has hair, from the nape up, until there are n.
func crowd(t testing.TB, n int) *sheet.Sheet {
	t.Helper()
	s := sheet.New(scalp.Sizes[3].Measures)
	s = s.With(func(c *sheet.Sheet) { c.HoleSpacing, c.LineGap = 4, 4 })
	for _, l := range tableOf(t, s).Lines {
		bonds := map[int]sheet.Bond{}
		for i := range l.Slots {
			if l.Slots[i].OnScalp && n > 0 {
				bonds[l.First+i] = sheet.Bond{Shade: 'a'}
				n--
			}
		}
		r := sheet.NewRow(l.Place(), bonds)
		r.Offset = true
		s = s.WithRow(r)
	}
	if n > 0 {
		t.Fatalf("the head has no room for %d more bonds", n)
	}
	return s
}

// calm is the sheet with limits so wide that next to nothing is found.
func calm(s *sheet.Sheet) *sheet.Sheet {
	figures := slices.IndexFunc(sheet.Limits, func(l sheet.LimitInfo) bool { return l.Name == sheet.FigureStandOff })
	for _, l := range sheet.Limits[:figures] {
		switch l.Name {
		case sheet.LimitFringeDepth: // which needs another table
		case sheet.LimitBalance, sheet.LimitAside, sheet.LimitLoad, sheet.LimitTotalLoad: // the most allowed
			s = s.WithLimit(l.Name, l.High)
		case sheet.LimitVeilUp: // at the hairline there is none
			s = s.WithLimit(l.Name, 0)
		default:
			s = s.WithLimit(l.Name, min(2, l.Default))
		}
	}
	rows := slices.Clone(s.Rows)
	for i := range rows {
		rows[i].Offset = false // every bond hangs on one
	}
	return s.With(func(c *sheet.Sheet) { c.Rows, c.Wish, c.Worn = rows, nil, []sheet.Wear{sheet.WornHighTail} })
}

// BenchmarkCheck shows how the time of a check grows with the bonds, where hardly anything is found and where nearly
// every bond is reported.
func BenchmarkCheck(b *testing.B) {
	for _, n := range []int{30, 300, 3000} {
		busy := crowd(b, n)
		for _, c := range []struct {
			name  string
			sheet *sheet.Sheet
		}{{"calm", calm(busy)}, {"busy", busy}} {
			b.Run(fmt.Sprintf("%s/%d", c.name, n), func(b *testing.B) {
				table := tableOf(b, c.sheet)
				found := len(rule.Check(c.sheet, table).Findings) // and fills what the table keeps
				b.ReportAllocs()
				for b.Loop() {
					rule.Check(c.sheet, table)
				}
				b.ReportMetric(float64(found), "findings")
				b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/bond")
			})
		}
	}
}

// BenchmarkFixes tries out the fixes of one finding on an ordinary sheet with one bond too near the nape.
func BenchmarkFixes(b *testing.B) {
	s := open(b, filepath.Join(fixtures, "ordinary", "medium-volume.toml"))
	s = laid(s, level(30), -8)
	table := tableOf(b, s)
	found := slices.DeleteFunc(rule.Check(s, table).Findings, func(f rule.Finding) bool { return f.Rule != "nape" || f.Severity != rule.Stop })
	if len(found) != 1 {
		b.Fatalf("%d findings", len(found))
	}
	b.ReportAllocs()
	for b.Loop() {
		rule.Fixes(s, table, found[0])
	}
}
