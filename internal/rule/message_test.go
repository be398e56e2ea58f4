package rule_test

import (
	"testing"

	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
)

func TestMessage(t *testing.T) {
	for _, c := range []struct {
		finding rule.Finding
		want    string
	}{
		{rule.Finding{Value: 12.44, Limit: 20, Unit: "mm", What: "from the nape hairline"}, "12.4 mm from the nape hairline, at least 20.0 mm"},
		{rule.Finding{Value: 19.949, Limit: 20, Unit: "mm", What: "from the parting"}, "19.9 mm from the parting, at least 20.0 mm"},
		{rule.Finding{Value: 19.96, Limit: 20.02, Unit: "mm", What: "from the parting"}, "19.96 mm from the parting, at least 20.02 mm"},
		{rule.Finding{Value: 0, Limit: 0.06, Unit: "mm", What: "from the parting"}, "0.0 mm from the parting, at least 0.1 mm"},
		{rule.Finding{Value: 23.08, Limit: 10, Unit: "%", AtMost: true, What: "more on the left"}, "23.1 % more on the left, at most 10.0"},
		{rule.Finding{Value: 10.06, Limit: 10, Unit: "%", AtMost: true, What: "more on the left"}, "10.1 % more on the left, at most 10.0"},
		{rule.Finding{Value: 4.754, Limit: 0, Unit: "mm", AtMost: true, What: "inside the fringe triangle"}, "4.8 mm inside the fringe triangle"},
		{rule.Finding{Value: 3, Limit: 4, What: "beyond the end of the line"}, "beyond the end of the line"},
	} {
		if got := c.finding.Message(); got != c.want {
			t.Errorf("%q, and not %q", got, c.want)
		}
	}
}

func TestWhere(t *testing.T) {
	on := func(at sheet.Place, slot int) sheet.Concern {
		return sheet.Concern{Rule: "nape", Row: at, On: sheet.OnSlot, Slot: slot}
	}
	for _, c := range []struct {
		concern sheet.Concern
		want    string
	}{
		{sheet.Concern{Rule: "balance"}, "the sheet"},
		{sheet.Concern{Rule: "row-gap", Row: level(60), On: sheet.OnRow}, "height 60"},
		{sheet.Concern{Rule: "row-gap", Row: along(-24), On: sheet.OnRow}, "front to back, 24 left"},
		{on(level(10), -3), "height 10, slot 3 left"},
		{on(level(10), 12), "height 10, slot 12 right"},
		{on(level(7.5), 0), "height 7.5, slot 0, the centre"},
		{on(along(16), -3), "front to back, 16 right, slot 3 back"},
		{on(along(-16), 3), "front to back, 16 left, slot 3 front"},
		{on(along(0), 0), "front to back, middle, slot 0, over the ears"},
	} {
		if got := rule.Where(c.concern); got != c.want {
			t.Errorf("%q, and not %q", got, c.want)
		}
		if got := (rule.Finding{Concern: c.concern}).Where(); got != c.want {
			t.Errorf("%q, and not %q", got, c.want)
		}
	}
}

func TestSeverity(t *testing.T) {
	for s, want := range map[rule.Severity]string{rule.Note: "note", rule.Caution: "caution", rule.Stop: "stop"} {
		if s.String() != want {
			t.Errorf("%q, and not %q", s, want)
		}
	}
	if !(rule.Stop > rule.Caution && rule.Caution > rule.Note) {
		t.Error("a stop is graver than a caution, and that than a note")
	}
}

// An empty sheet has no finding, on any head and whatever is wished for and worn, but for acceptances left over.
func TestEmptySheet(t *testing.T) {
	for _, head := range heads() {
		for _, look := range sheet.Looks {
			s := head.With(func(c *sheet.Sheet) { c.Wish, c.Worn = []sheet.Look{look}, sheet.Wears })
			s = s.WithAccepted(sheet.Accepted{Concern: sheet.Concern{Rule: "wish"}, Reason: "agreed"})
			if rep := check(t, s); len(rep.Findings) > 0 || !rep.Clear() || len(rep.Stale) != 1 {
				t.Errorf("stale %v, found:\n%s", rep.Stale, listed(rep))
			}
		}
	}
}

// A row that has no line on this head has one stop, whatever is on it, and keeps no other row from being checked.
func TestRowWithoutLine(t *testing.T) {
	s := laid(medium(), level(60), -2, 0, 2)
	s = laid(s, level(80), -2, 0, 2)
	row, _ := s.Row(level(80))
	row.Offset = true
	s = s.WithRow(row).WithLimit(sheet.LimitRowGap, 25)
	usual := check(t, s)
	if len(of(usual, "row-gap")) != 1 || len(of(usual, "stacked")) != 3 || len(usual.Findings) != 4 {
		t.Fatalf("before:\n%s", listed(usual))
	}
	without := []sheet.Place{level(70), level(990), along(-800), along(-16), along(16), along(800)}
	s = s.With(func(c *sheet.Sheet) { c.LineGap, c.HoleSpacing = 20, 12 }) // so that 70, and 16 from the middle, lie between lines
	want := len(check(t, s).Findings) + len(without)
	for _, at := range without {
		s = laid(s, at, -20, 0, 20)
	}
	rep := check(t, s)
	for i, f := range of(rep, "off-scalp") {
		if f.On != sheet.OnRow || f.Row != without[i] || f.Message() != "no line of the map is there on this head" || f.Severity != rule.Stop {
			t.Errorf("%s", told(f))
		}
		fixes := rule.Fixes(s, tableOf(t, s), f)
		if len(fixes) != 1 || fixes[0].Label != "clear the row" || fixes[0].Do(s).Bonds() != s.Bonds()-3 {
			t.Errorf("%s: %d fixes", told(f), len(fixes))
		}
	}
	if len(rep.Findings) != want || len(of(rep, "row-gap")) != 1 || len(of(rep, "stacked")) != 3 || len(of(rep, "off-scalp")) != len(without) {
		t.Errorf("with rows that have no line:\n%s", listed(rep))
	}
}
