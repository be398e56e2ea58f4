package lesson_test

import (
	"strings"
	"testing"

	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// slotOf is a rule speaking of a slot of a level row.
func slotOf(id string, height scalp.MM, slot int) sheet.Concern {
	return sheet.Concern{Rule: id, Row: sheet.Place{At: height}, On: sheet.OnSlot, Slot: slot}
}

// An exercise with faults that is in order has no problem, and each thing that can be wrong with one is said in one sentence.
func TestCheckFaults(t *testing.T) {
	clean := cleanSheet(t)
	light := sheet.Bond{Shade: 'a', Split: true, Trimmed: true}
	nape, both := slotOf("nape", 20, 4), slotOf("nape", 20, 8)
	start := clean.WithBond(nape.Row, nape.Slot, light)
	if all := findings(start, freshTable(t, start)); all[nape].Severity != rule.Stop {
		t.Fatal("the start has no stop at the nape")
	}
	elsewhere := clean.WithBond(sheet.Place{At: 20}, -4, light)
	twice := clean.WithBond(nape.Row, both.Slot, sheet.Bond{Shade: 'a', Trimmed: true}) // a whole one, where there is little hair
	split := slotOf("split", 20, both.Slot)
	if all := findings(twice, freshTable(t, twice)); all[both].Severity != rule.Stop || all[split].Severity != rule.Caution {
		t.Fatal("no two rules report one slot")
	}
	var note sheet.Concern
	for c, f := range findings(clean, freshTable(t, clean)) {
		if c.On == sheet.OnSlot && f.Severity == rule.Note {
			note = c
		}
	}
	lifted := clean.WithBond(note.Row, note.Slot, sheet.Bond{})
	accepted := start.WithAccepted(sheet.Accepted{Concern: nape, Reason: "asked for", By: "ab"})
	settled := twice.WithAccepted(sheet.Accepted{Concern: split, Reason: "asked for", By: "ab"})
	headless := clean.With(func(c *sheet.Sheet) { c.Measures = scalp.Measures{} })
	is := func(faults ...sheet.Concern) []sheet.Concern { return faults }
	for _, c := range []struct {
		name          string
		start, answer *sheet.Sheet
		faults        []sheet.Concern
		says          []string // of each sentence some words
	}{
		{"in order", start, clean, is(nape), nil},
		{"in order, accepted on both", accepted, accepted, nil, nil},
		{"in order, accepted on the start", accepted, clean, nil, nil},
		{"in order, the same on both", start, start, nil, nil},
		{"nothing there", clean, clean, is(nape), []string{"nape, height 20, slot 4 right: on the start the rule reports nothing there"}},
		{"by another rule", start, clean, is(slotOf("ear", 20, 4)), []string{"ear, height 20, slot 4 right: on the start the rule reports nothing there", "nape reports that slot as well", "not listed"}},
		{"still there", start, start, is(nape), []string{"nape, height 20, slot 4 right: on the answer the rule reports it still"}},
		{"not listed", start, clean, nil, []string{"nape, height 20, slot 4 right: the start has it and the answer has not"}},
		{"two answers", twice, clean, is(both, split), []string{"nape, height 20, slot 8 right: split reports that slot as well", "split, height 20, slot 8 right: nape reports that slot as well"}},
		{"two answers, one listed", twice, clean, is(both), []string{"split reports that slot as well", "split, height 20, slot 8 right: the start has it and the answer has not"}},
		{"two answers, one accepted", settled, clean, is(both), []string{"split reports that slot as well"}},
		{"listed twice", start, clean, is(nape, nape), []string{"nape, height 20, slot 4 right: this fault is listed twice"}},
		{"a note", clean, lifted, is(note), []string{"only a note"}},
		{"accepted", accepted, clean, is(nape), []string{"somebody has accepted that"}},
		{"on a row", start, clean, is(nape, sheet.Concern{Rule: "row-gap", Row: nape.Row, On: sheet.OnRow}), []string{"row-gap, height 20: a fault is in one slot"}},
		{"on the sheet", start, clean, is(nape, sheet.Concern{Rule: "balance"}), []string{"balance, the sheet: a fault is in one slot"}},
		{"no such rule", start, clean, is(nape, slotOf("nap\x1b", 20, 4)), []string{"no rule is called that"}},
		{"worse", start, elsewhere, is(nape), []string{"nape, height 20, slot 4 left: the answer has it and the start has not"}},
		{"no head to start with", headless, clean, is(nape), []string{"the start does not fit the head: "}},
		{"no head in the end", start, headless, is(nape), []string{"the answer does not fit the head: "}},
	} {
		problems := lesson.CheckFaults(c.start, c.answer, c.faults)
		if len(problems) != len(c.says) {
			t.Errorf("%s: %d problems, not %d:\n%s", c.name, len(problems), len(c.says), strings.Join(problems, "\n"))
			continue
		}
		for i, says := range c.says {
			if !strings.Contains(problems[i], says) || strings.Contains(problems[i], "\x1b") {
				t.Errorf("%s: %q, and not %q", c.name, problems[i], says)
			}
		}
	}
}

// What Seed makes is in order, and is no longer when one of its faults is left out.
func TestCheckSeeded(t *testing.T) {
	clean := cleanSheet(t)
	for seed := range uint64(5) {
		made, err := lesson.Seed(clean, 6, seed)
		if err != nil {
			t.Fatal(err)
		}
		if problems := lesson.CheckFaults(made.Sheet, clean, made.Faults); len(problems) > 0 {
			t.Errorf("seed %d: %s", seed, strings.Join(problems, "\n"))
		}
		if problems := lesson.CheckFaults(made.Sheet, clean, made.Faults[1:]); len(problems) != 1 || !strings.Contains(problems[0], rule.Where(made.Faults[0])) {
			t.Errorf("seed %d, one left out: %q", seed, problems)
		}
	}
}
