package sheetfile

import (
	"strings"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
)

// accepted reads the findings that are accepted. They need not be there any more, nor their rows.
func (d *decoder) accepted(t table) {
	seen := map[sheet.Concern]bool{}
	for _, t := range t.list("accept") {
		var a sheet.Accepted
		ok := t.need("rule", "reason") && t.ruleID("rule", &a.Rule)
		if t.has("height") || t.has("along") {
			a.On = sheet.OnRow
			var placed bool
			a.Row, placed = d.place(t)
			ok = ok && placed
		}
		if t.text("about", &a.About) && a.On != sheet.OnSheet {
			t.fail("about", "about is for a finding about the whole sheet, and this one has a place", "take one of the two out")
			ok = false
		}
		switch {
		case t.has("slot") && a.On == sheet.OnSheet:
			t.fail("slot", "a slot is on a row, and there is none", "add a line like "+t.sample("accept", "height"))
			ok = false
		case t.has("slot"):
			a.On = sheet.OnSlot
			ok = t.whole("slot", bounds{-sheet.MaxSlot, sheet.MaxSlot, ""}, &a.Slot) && ok
		}
		if t.text("reason", &a.Reason) && strings.TrimSpace(a.Reason) == "" {
			t.fail("reason", "the reason is empty", "say in a few words why the finding is accepted")
		}
		t.text("by", &a.By)
		t.date("date", &a.Date)
		if ok && seen[a.Concern] {
			t.fail("rule", "this finding is accepted twice", "take one of the two out")
		}
		seen[a.Concern] = true
		d.sheet.Accepted = append(d.sheet.Accepted, a)
	}
}

// ruleID reads the id of a rule.
func (t table) ruleID(key string, to *string) bool {
	s, ok := t.str(key)
	if !ok {
		return false
	}
	known, ok := rule.ByID(s)
	if !ok {
		ids := make([]string, len(rule.All))
		for i, r := range rule.All {
			ids[i] = r.ID
		}
		t.fail(key, "there is no rule "+printable.Quote(s), oneOf(s, ids))
		return false
	}
	*to = known.ID
	return true
}
