package figure

import (
	"math/rand/v2"
	"path/filepath"
	"testing"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/golden"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// seeded is a source of random numbers that repeats from run to run.
func seeded(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 20240229)) }

// row puts a row as a sheet's file has it into a sheet.
func row(t testing.TB, s *sheet.Sheet, at sheet.Place, bonds string) *sheet.Sheet {
	t.Helper()
	r, err := sheet.ParseBonds(at, bonds)
	if err != nil {
		t.Fatalf("%q: %v", bonds, err)
	}
	return s.WithRow(r)
}

func level(height scalp.MM) sheet.Place { return sheet.Place{At: height} }
func along(right scalp.MM) sheet.Place  { return sheet.Place{Along: true, At: right} }

// sample is a sheet of an ordinary head with a side parting, a patch, and rows of every kind of bond.
func sample(t testing.TB) *sheet.Sheet {
	t.Helper()
	s := sheet.New(scalp.Sizes[1].Measures).With(func(c *sheet.Sheet) {
		c.Partings = []scalp.Parting{{Right: 24, Length: 110}}
		c.KeepOff = []sheet.KeepOff{{Height: 110, Right: -56, Radius: 14, Why: "a scar"}}
		c.Shades = []sheet.Shade{{Key: 'a', Name: "oat", Grams: 0.8}, {Key: 'b', Name: "honey", Grams: 0.8}}
	})
	s = row(t, s, level(10), "(.)..a")
	s = row(t, s, level(30), "a.a.b.a.(a).a.b.a.a")
	s = row(t, s, level(50), "A.A.B.B.a.a.(b).a.a.B.B.A.A")
	s = row(t, s, level(80), "a'.a'.a'.a.a.a.a.(a).a.a.a.a.a'.a'.a'")
	s = row(t, s, level(100), "A'.A'.b..a..a..(a)..a..a..b.A'.A'")
	s = row(t, s, level(200), "a..b..(a)..b..a")
	return row(t, s, along(-24), "a.a.(b).a.a.A")
}

// reportOf is a report of one finding of every kind on the sample.
func reportOf() *rule.Report {
	finding := func(severity rule.Severity, on sheet.Scope, at sheet.Place, slot int) rule.Finding {
		return rule.Finding{Severity: severity, Concern: sheet.Concern{Rule: "nape", Row: at, On: on, Slot: slot}}
	}
	accepted := finding(rule.Stop, sheet.OnSlot, level(30), 0)
	accepted.Accepted = &sheet.Accepted{Concern: accepted.Concern, Reason: "so it was asked"}
	return &rule.Report{Findings: []rule.Finding{
		finding(rule.Stop, sheet.OnSlot, level(10), 3),
		finding(rule.Caution, sheet.OnSlot, along(-24), 7),
		finding(rule.Caution, sheet.OnRow, level(50), 0),
		finding(rule.Caution, sheet.OnSheet, sheet.Place{}, 0),
		finding(rule.Note, sheet.OnSlot, level(50), 0),
		accepted,
	}}
}

// viewOf is a view of a sheet, the whole map.
func viewOf(t testing.TB, s *sheet.Sheet, report *rule.Report) View {
	t.Helper()
	table, err := slots.For(s, nil)
	if err != nil {
		t.Fatal(err)
	}
	return View{Sheet: s, Ground: NewGround(table, rule.ZonesOf(s)), Report: report, Glyphs: Unicode, Top: len(table.Lines) - 1}
}

// drawn is a view on a screen as large as the map.
func drawn(v View) *cells.Screen {
	w, h := Size(v.Ground.Table, v.Wide)
	scr := cells.NewScreen(w, h)
	Draw(scr, cells.Rect{W: w, H: h}, v)
	return scr
}

// compare holds a drawing to testdata/figures.
func compare(t *testing.T, name, got string) {
	t.Helper()
	golden.Compare(t, filepath.Join("..", "..", "testdata", "figures", name+".txt"), got)
}
