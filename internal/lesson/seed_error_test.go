package lesson_test

import (
	"strings"
	"testing"

	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

func TestSeedErrors(t *testing.T) {
	clean := cleanSheet(t)
	nape := clean.WithBond(sheet.Place{At: 20}, 4, sheet.Bond{Shade: 'a', Split: true}).WithLimit(sheet.LimitBalance, 0)
	rep := rule.Check(nape, freshTable(t, nape))
	first := rep.Findings[0]
	if rep.Stops != 1 || rep.Cautions != 1 || first.Severity != rule.Stop {
		t.Fatalf("%d stops and %d cautions, %v first", rep.Stops, rep.Cautions, first)
	}
	heavy := clean.With(func(c *sheet.Sheet) {
		c.Rows, c.Shades = nil, []sheet.Shade{{Key: 'a', Name: "rope", Length: 500, Grams: 20, Pack: 25}}
		c.Limits = map[sheet.LimitName]float64{sheet.LimitTotalLoad: 1}
	})
	for _, c := range []struct {
		name  string
		sheet *sheet.Sheet
		count int
		says  []string
	}{
		{"none", clean, 0, []string{"0 faults", "1 to 12"}},
		{"fewer than none", clean, -3, []string{"-3 faults", "1 to 12"}},
		{"too many", clean, 13, []string{"13 faults", "1 to 12"}},
		{"a stop and a caution", nape, 2, []string{"mend it first: a fault sheet begins with a sheet that has nothing wrong: " + first.Where() + ": " + first.Message()}},
		{"a caution", clean.WithLimit(sheet.LimitTotalLoad, 1), 2, []string{"mend it first", "the sheet", "of the own hair"}},
		{"no shade", clean.With(func(c *sheet.Sheet) { c.Rows, c.Shades = nil, nil }), 2, []string{"no shade", "add one"}},
		{"no head", clean.With(func(c *sheet.Sheet) { c.Measures = scalp.Measures{} }), 2, []string{"circumference"}},
		{"no room at all", heavy, 1, []string{"no room", "another sheet"}},
	} {
		made, err := lesson.Seed(c.sheet, c.count, 1)
		if err == nil {
			t.Errorf("%s: %v", c.name, made.Faults)
			continue
		}
		for _, says := range c.says {
			if !strings.Contains(err.Error(), says) {
				t.Errorf("%s: %q says nothing of %q", c.name, err, says)
			}
		}
	}
}

// Where there is room for some faults and not for more, the error says for how many, and that is so.
func TestSeedLittleRoom(t *testing.T) {
	// With no difference allowed between the sides there is room in the middle only, or where a bond is moved.
	s := cleanSheet(t).WithLimit(sheet.LimitBalance, 0)
	_, err := lesson.Seed(s, lesson.MostFaults, 1)
	if err == nil {
		t.Fatal("there is room")
	}
	for room := range lesson.MostFaults {
		made, few := lesson.Seed(s, room+1, 1)
		if few == nil {
			if len(made.Faults) != room+1 {
				t.Errorf("%d faults of %d", len(made.Faults), room+1)
			}
			continue
		}
		want := map[int]string{0: "no room", 1: "room for 1 fault, not for 12"}[room]
		if want == "" {
			want = "room for " + string(rune('0'+room)) + " faults, not for 12"
		}
		if room == 0 || !strings.Contains(err.Error(), want) {
			t.Errorf("%d faults at most: %v", room, err)
		}
		return
	}
}
