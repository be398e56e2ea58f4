package tui

import (
	"strings"
	"testing"

	"example.org/underveil/internal/plan"
	"example.org/underveil/internal/sheet"
)

// A plan that arrives when the sheet has changed is not shown, for it is of another sheet; nor is one in front of a dialog.
func TestLatePlan(t *testing.T) {
	e := edit(t, plainSheet(t), setup{})
	late := e.m.planRows()
	e.press("space")
	e.run(late)
	if len(e.m.dialogs) > 0 {
		t.Fatalf("a plan of another sheet is shown:\n%s", e.m.Screen())
	}
	e.says("the sheet has changed since")

	e.press("m")
	late = e.m.planRows()
	e.run(late)
	if len(e.m.dialogs) > 0 {
		t.Error("a plan is shown while a row is being moved")
	}
	e.press("Esc")

	late = e.m.planRows()
	e.press("?")
	e.run(late)
	if _, keys := e.m.dialogs[0].(*keyPage); len(e.m.dialogs) != 1 || !keys {
		t.Errorf("the plan lies over another dialog:\n%s", e.m.Screen())
	}
}

// What is taken of a plan is what was marked, in one step; and the sheet's acceptances stay.
func TestPlanTakenInOneStep(t *testing.T) {
	accepted := sheet.Accepted{Concern: sheet.Concern{Rule: "trim", On: sheet.OnSlot, Row: height(150), Slot: 3}, Reason: "agreed"}
	s := plainSheet(t).WithAccepted(accepted).WithBond(height(90), 0, sheet.Bond{Shade: 'a'})
	e := edit(t, s, setup{})
	made := plan.Make(e.m.doc.sheet(), e.m.doc.table, plan.Means{Repeat: "a"})
	e.press("R", "Enter")
	got := e.m.doc.sheet()
	if len(got.Rows) != len(made.Sheet.Rows) || got.Bonds() != made.Sheet.Bonds() {
		t.Errorf("%d rows, and the plan has %d", len(got.Rows), len(made.Sheet.Rows))
	}
	if steps := e.steps(); len(steps) != 1 || steps[0] != "take the plan" {
		t.Errorf("the steps are %q", steps)
	}
	if len(got.Accepted) != 1 || got.Accepted[0] != accepted {
		t.Errorf("accepted is %+v", got.Accepted)
	}
	if e.press("u"); e.m.doc.sheet().Bonds() != 1 {
		t.Errorf("taken back there are %d bonds", e.m.doc.sheet().Bonds())
	}
}

// A plan that can't be refuses with what binds, and with ? says what would help; Enter takes nothing.
func TestRefusedPlan(t *testing.T) {
	for _, size := range [][2]int{{80, 24}, {120, 40}, {200, 60}} {
		s := plainSheet(t).With(func(c *sheet.Sheet) { c.Hair.Length = 45 }).WithBond(height(60), 0, sheet.Bond{Shade: 'a'})
		e := edit(t, s, setup{w: size[0], h: size[1]})
		before := e.m.doc.sheet()
		e.press("R")
		e.says("nothing worth fitting")
		e.says("thin-veil")
		e.press("?")
		e.says("own hair grown to")
		if e.press("Enter"); len(e.m.dialogs) > 0 || e.m.doc.sheet() != before {
			t.Errorf("a refused plan changes the sheet, or stays in front")
		}
	}
}

// On the map the plan is shown as the sheet would be with the rows marked, and Tab shows it as it is.
func TestPlanPreview(t *testing.T) {
	e := edit(t, plainSheet(t), setup{w: 80, h: 24})
	bond := string(e.m.opts.Glyphs.Whole)
	mapOf := func() string {
		l := e.m.layout()
		text := ""
		for y := l.figure.Y; y < l.figure.Y+l.figure.H; y++ {
			for x := l.figure.X; x < l.figure.X+l.figure.W; x++ {
				text += string(e.m.scr.At(x, y).Rune)
			}
		}
		return text
	}
	before := strings.Count(mapOf(), bond)
	e.press("R")
	all := strings.Count(mapOf(), bond)
	e.press("space")
	fewer := strings.Count(mapOf(), bond)
	e.press("Tab")
	now := strings.Count(mapOf(), bond)
	if !(before < fewer && fewer < all) || now != before {
		t.Errorf("%d bonds on the map, %d with the plan, %d without one of its rows, %d as it is", before, all, fewer, now)
	}
}

// Without a studio the editor works, and says why there is none where it would be needed.
func TestNoStudio(t *testing.T) {
	e := edit(t, plainSheet(t), setup{})
	e.m.opts.Studio, e.m.opts.From = nil, "underveil: studio.toml:9:9: price -66.00 is below zero"
	e.press("E")
	e.says("studio.toml:9:9: price -66.00 is below zero")
	e.press("Esc", "M", "Tab")
	e.write("#8a5a32")
	before := e.m.doc.sheet()
	e.press("Enter")
	e.says("there is no stock to match with")
	if got := e.m.doc.sheet().Hair.Mid; e.m.doc.sheet() == before || got != "#8a5a32" {
		t.Errorf("a reading that nothing can be matched to is not kept: %q", got)
	}
	if e.press("R", "Enter"); e.m.doc.sheet().Bonds() < 20 {
		t.Errorf("%d bonds are planned without a studio", e.m.doc.sheet().Bonds())
	}
}
