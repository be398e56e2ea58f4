package visit

import (
	"strings"
	"testing"

	"example.org/underveil/internal/sheet"
)

// refitted is a sheet with a refit open in which all has come out but one that was lost: 2 whole and 1 half of oat, 1 whole of rye.
func refitted(t *testing.T) (*sheet.Sheet, int) {
	t.Helper()
	row, err := sheet.ParseBonds(sheet.Place{At: 60}, "a.b.(a).A.a")
	if err != nil {
		t.Fatal(err)
	}
	s := planned(t).With(func(c *sheet.Sheet) {
		c.Rows = []sheet.Row{row}
		c.Visits = []sheet.Visit{{Kind: sheet.Fitting, Date: "2026-03-02", Fitted: []sheet.Row{row}}}
	})
	if s, err = Begin(s, sheet.Refit, "2026-04-27", ""); err != nil {
		t.Fatal(err)
	}
	s = See(s, 1, spot60(4), sheet.Lost)
	for _, at := range Unseen(s, 1) {
		s = See(s, 1, at, sheet.TakenOut)
	}
	return s, 1
}

func spot60(slot int) sheet.Spot { return sheet.Spot{At: sheet.Place{At: 60}, Slot: slot} }

// What is said of strands that came out has to add up, kind by kind.
func TestOutcomesAddUp(t *testing.T) {
	s, n := refitted(t)
	oat, half, rye := sheet.Outcome{Shade: 'a', Retipped: 2, Cut: 10}, sheet.Outcome{Shade: 'a', Split: true, Retipped: 1, Cut: 10}, sheet.Outcome{Shade: 'b', Thrown: 1}
	with := func(o sheet.Outcome, f func(*sheet.Outcome)) sheet.Outcome { f(&o); return o }
	for _, c := range []struct {
		says string
		list []sheet.Outcome
	}{
		{"", []sheet.Outcome{oat, half, rye}},
		{"2 pieces came out, and 1 are accounted for", []sheet.Outcome{with(oat, func(o *sheet.Outcome) { o.Retipped = 1 }), half, rye}},
		{"fewer than no pieces", []sheet.Outcome{with(oat, func(o *sheet.Outcome) { o.Retipped, o.Thrown = 4, -2 }), half, rye}},
		{"a half is not halved again", []sheet.Outcome{oat, with(half, func(o *sheet.Outcome) { o.Retipped, o.Halved = 0, 1 }), rye}},
		{"460 mm cannot be cut off", []sheet.Outcome{with(oat, func(o *sheet.Outcome) { o.Cut = 460 }), half, rye}},
		{"nothing says what became of them", []sheet.Outcome{oat, half}},
		{"there is no shade z", []sheet.Outcome{oat, half, rye, {Shade: 'z', Kept: 1}}},
	} {
		_, err := Resolve(s, n, c.list)
		if c.says == "" != (err == nil) || err != nil && !strings.Contains(err.Error(), c.says) {
			t.Errorf("want %q, got %v", c.says, err)
		}
	}
}

// Another mark of a bond that came out is another sum, so what was said of the strands no longer holds.
func TestOutcomesFollowTheMarks(t *testing.T) {
	s, n := refitted(t)
	s, err := Resolve(s, n, Proposed(s, n))
	if err != nil || !Resolved(s, n) {
		t.Fatal(err)
	}
	if again := See(s, n, spot60(4), sheet.TakenOut); Resolved(again, n) || again.Visits[n].Strands != nil {
		t.Error("one more came out, and all is accounted for")
	}
	if same := See(s, n, spot60(4), sheet.Lost); !Resolved(same, n) {
		t.Error("nothing has changed, and the strands are not accounted for")
	}
	if none := See(s, n, spot60(9), sheet.Lost); none != s {
		t.Error("a bond that was never there is lost")
	}
}

// No bond is made where an old one is still in, and none is replaced where all are taken out.
func TestNoBondOnABond(t *testing.T) {
	s, n := refitted(t)
	if in := See(s, n, spot60(0), sheet.NoMark); Fit(in, n, spot60(0), sheet.Bond{Shade: 'b'}) != in {
		t.Error("a bond is made on one that is in")
	}
	if Replace(s, n, spot60(4), sheet.Bond{Shade: 'a'}) != s {
		t.Error("a bond is replaced in a refit")
	}
	if made := Fit(s, n, spot60(0), sheet.Bond{Shade: 'b'}); StageOf(made, n, spot60(0)) != Bonded {
		t.Error("where the old one came out none can be made")
	}
}

// A visit begins where the strip lies now, on its own day, which is no later than today, and becomes the day of the fitting.
func TestBegin(t *testing.T) {
	s := planned(t).With(func(c *sheet.Sheet) { c.Aside, c.Today, c.Date = true, "2026-05-04", "2026-03-02" })
	begun, err := Begin(s, sheet.Fitting, "2026-05-04", "R")
	if err != nil {
		t.Fatal(err)
	}
	if v := begun.LastVisit(); !v.Aside || !v.Open || v.By != "R" || begun.Date != "2026-05-04" {
		t.Errorf("%+v, fitted %s", v, begun.Date)
	}
	for date, says := range map[string]string{"2026-05-05": "after today", "5 May": "is not a date"} {
		if _, err := Begin(s, sheet.Fitting, date, ""); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: %v", date, err)
		}
	}
	if _, err := Begin(begun, sheet.Inspection, "2026-05-04", ""); err == nil || !strings.Contains(err.Error(), "not finished yet") {
		t.Errorf("a second visit: %v", err)
	}
}
