package lesson_test

import (
	"os"
	"path/filepath"
	"slices"
	"sync"
	"testing"

	"example.org/underveil/internal/plan"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
	"example.org/underveil/internal/slots"
)

// seedBase is a sheet with nothing wrong.
type seedBase struct {
	name  string
	sheet *sheet.Sheet
	table *slots.Table // to look at what was made
	lent  *slots.Table // to make it with
}

// cleanSheet is the sheet with nothing wrong that comes with the program.
func cleanSheet(t testing.TB) *sheet.Sheet {
	t.Helper()
	path := filepath.Join("..", "..", "assets", "sheets", "clean.toml")
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	s, _, err := sheetfile.Decode(path, text)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// freshTable is a table that nothing else has used.
func freshTable(t testing.TB, s *sheet.Sheet) *slots.Table {
	t.Helper()
	table, err := slots.For(s, nil)
	if err != nil {
		t.Fatal(err)
	}
	return table
}

// otherwise are ways in which a client and a strip can be otherwise than on the clean sheet. Each is planned anew.
var otherwise = []struct {
	name   string
	change func(*sheet.Sheet)
}{
	{"small head", func(c *sheet.Sheet) { c.Measures = scalp.Sizes[0].Measures }},
	{"large head", func(c *sheet.Sheet) { c.Measures = scalp.Sizes[2].Measures }},
	{"extra large head, length", func(c *sheet.Sheet) {
		c.Measures, c.Wish = scalp.Sizes[3].Measures, []sheet.Look{sheet.Length, sheet.Volume}
	}},
	{"highlights, worn down", func(c *sheet.Sheet) { c.Wish, c.Worn = []sheet.Look{sheet.Highlights}, nil }},
	{"high ponytail only", func(c *sheet.Sheet) { c.Worn = []sheet.Wear{sheet.WornHighTail} }},
	{"low ponytail and down", func(c *sheet.Sheet) { c.Worn = []sheet.Wear{sheet.WornDown, sheet.WornLowTail} }},
	{"holes 5 mm apart", func(c *sheet.Sheet) { c.HoleSpacing, c.LineGap = 5, 6 }},
	{"holes 12 mm apart", func(c *sheet.Sheet) { c.HoleSpacing = 12 }},
	{"half a hole aside", func(c *sheet.Sheet) { c.Aside = true }},
	{"fine hair", func(c *sheet.Sheet) { c.Hair.Count, c.Hair.Density, c.Worn = 130, "", nil }},
	{"a heavy strand besides", func(c *sheet.Sheet) {
		c.Worn = nil
		c.Shades = append(slices.Clone(c.Shades), sheet.Shade{Key: 'h', Name: "oat, four in one", Length: 500, Grams: 3.2, Pack: 25})
	}},
	{"patches", func(c *sheet.Sheet) {
		c.Worn = nil
		c.KeepOff = []sheet.KeepOff{{Height: 70, Right: 40, Radius: 18, Why: "old scar"}, {Height: 110, Right: -60, Radius: 22}}
	}},
	{"zones of a college", func(c *sheet.Sheet) {
		c.Worn = nil
		c.House = map[sheet.LimitName]float64{sheet.LimitTemple: 10, sheet.LimitFringe: 15, sheet.LimitFace: 30, sheet.LimitFringeDepth: 0, sheet.LimitVeil: 20}
	}},
	{"no parting", func(c *sheet.Sheet) {
		c.Worn, c.Partings = nil, nil
		c.Limits = map[sheet.LimitName]float64{sheet.LimitAside: 25, sheet.LimitVeil: 20}
	}},
	{"room to work", func(c *sheet.Sheet) { c.Limits = map[sheet.LimitName]float64{sheet.LimitBondGap: 10} }},
}

// seedBases are sheets with nothing wrong: the clean one as it is, in other words, without rows and with something accepted; and
// plans for other clients.
func seedBases(t testing.TB) []seedBase {
	t.Helper()
	basesOnce.Do(func() {
		clean := cleanSheet(t)
		bad := sheet.Concern{Rule: "nape", Row: sheet.Place{At: 40}, On: sheet.OnSlot, Slot: 9}
		accepted := clean.WithBond(bad.Row, bad.Slot, sheet.Bond{Shade: 'a'}).WithAccepted(sheet.Accepted{Concern: bad, Reason: "asked for", By: "ab"})
		add := func(name string, s *sheet.Sheet) {
			table := freshTable(t, s)
			if rep := rule.Check(s, table); rep.Stops+rep.Cautions > 0 {
				t.Errorf("%s begins with faults: %s, %s", name, rep.Findings[0].Where(), rep.Findings[0].Message())
				return
			}
			bases = append(bases, seedBase{name, s, table, freshTable(t, s)})
		}
		add("clean", clean)
		add("no rows", clean.With(func(c *sheet.Sheet) { c.Rows = nil }))
		add("looked at on a day", clean.With(func(c *sheet.Sheet) { c.Today = "2026-03-09" }))
		add("one accepted", accepted)
		add("closer than needed", clean.With(func(c *sheet.Sheet) { c.Wish = []sheet.Look{sheet.Highlights} })) // a note on every row
		for _, o := range otherwise {
			s := clean.With(o.change)
			made := plan.Make(s, freshTable(t, s), plan.Means{})
			if made.Refused {
				t.Errorf("%s: no plan", o.name)
			}
			add(o.name, made.Sheet)
		}
	})
	return bases
}

var (
	basesOnce sync.Once
	bases     []seedBase
)
