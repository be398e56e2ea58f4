package sheetfile

import (
	"math/rand/v2"
	"reflect"
	"testing"

	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
	"example.org/underveil/internal/tally"
	"example.org/underveil/internal/visit"
)

// What the rules find and what is counted on a sheet, with its visits, its acceptances and all the ways in which it is worn, is what they find and
// count on the sheet that comes back from its file.
func TestRulesAndTotalsOfASheetThatComesBack(t *testing.T) {
	sheets := 60
	if testing.Short() {
		sheets = 15
	}
	r := rand.New(rand.NewPCG(20, 91))
	visits, accepted, findings := 0, 0, 0
	for n := range sheets {
		s := randomSheet(t, r)
		if len(s.Worn) == 0 {
			s = s.With(func(c *sheet.Sheet) { c.Worn = some(r, sheet.Wears) })
		}
		s = someAccepted(t, r, s)
		data := Encode(s)
		back, _, err := Decode("back.toml", data)
		if err != nil {
			t.Fatalf("sheet %d does not come back: %v\n%s", n, err, data)
		}
		today := randomDate(r) // which no file has
		look := func(s *sheet.Sheet) (*rule.Report, tally.Totals, any) {
			s = s.With(func(c *sheet.Sheet) { c.Today = today })
			table, err := slots.For(s, nil)
			if err != nil {
				t.Fatalf("sheet %d: %v\n%s", n, err, data)
			}
			return rule.Check(s, table), tally.Count(s, table), visit.Now(s)
		}
		report, totals, in := look(s)
		reportBack, totalsBack, inBack := look(back)
		if !reflect.DeepEqual(report, reportBack) {
			t.Fatalf("sheet %d: the rules find something else\n%+v\nand before\n%+v\n%s", n, reportBack.Findings, report.Findings, data)
		}
		if !reflect.DeepEqual(totals, totalsBack) {
			t.Fatalf("sheet %d: the totals are\n%+v\nand before\n%+v\n%s", n, totalsBack, totals, data)
		}
		if !reflect.DeepEqual(in, inBack) {
			t.Fatalf("sheet %d: other bonds are in the head\n%s", n, data)
		}
		visits += len(s.Visits)
		accepted += report.Accepted
		findings += len(report.Findings)
	}
	t.Logf("%d sheets, %d visits, %d findings, %d accepted", sheets, visits, findings, accepted)
	if visits < sheets || findings < 10*sheets || accepted < sheets/2 {
		t.Errorf("%d sheets have %d visits, %d findings and %d of them accepted, which tries little", sheets, visits, findings, accepted)
	}
}

// someAccepted is the sheet with some of what the rules find on it accepted.
func someAccepted(t *testing.T, r *rand.Rand, s *sheet.Sheet) *sheet.Sheet {
	t.Helper()
	table, err := slots.For(s, nil)
	if err != nil {
		t.Fatal(err)
	}
	found := rule.Check(s, table).Findings
	for range min(len(found), r.IntN(4)) {
		s = s.WithAccepted(sheet.Accepted{Concern: pick(r, found).Concern, Reason: "a reason " + randomText(r), By: randomText(r), Date: randomDate(r)})
	}
	return s
}
