package rule_test

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
	"example.org/underveil/internal/slots"
)

var update = flag.Bool("update", false, "write testdata/rules/fixes.golden anew")

// Each fix of each finding on the sheets in testdata/rules does what it says, and what it says and does is in the
// golden.
func TestFixes(t *testing.T) {
	var told strings.Builder
	exercised := map[string]int{}
	for _, path := range paths(t, "*") {
		if filepath.Base(filepath.Dir(path)) == "ordinary" {
			continue // many of the same notes
		}
		s := open(t, path)
		table := tableOf(t, s)
		rep := rule.Check(s, table)
		if len(rep.Findings) > 0 {
			fmt.Fprintf(&told, "%s\n", short(path))
		}
		for _, f := range rep.Findings {
			fmt.Fprintf(&told, "  %s, %s\n", f.Rule, f.Where())
			fixes := rule.Fixes(s, table, f)
			if len(fixes) == 0 {
				fmt.Fprintln(&told, "    no fix")
			}
			seen := map[string]bool{}
			for _, fix := range fixes {
				if fix.Label == "" || seen[fix.Label] {
					t.Errorf("%s: %s has two fixes %q, or one without words", short(path), f.Where(), fix.Label)
				}
				seen[fix.Label] = true
				exercised[f.Rule]++
				fixed := applied(t, s, table, rep, f, fix)
				fmt.Fprintf(&told, "    %s\n", fix.Label)
				for _, change := range changes(s, fixed) {
					fmt.Fprintf(&told, "      %s\n", change)
				}
			}
		}
	}
	for _, r := range rule.All {
		if r.Fixes != nil && exercised[r.ID] == 0 {
			t.Errorf("no fix of %s is exercised", r.ID)
		}
	}
	golden(t, filepath.Join(fixtures, "fixes.golden"), told.String())
}

// applied is the sheet after a fix, which makes its finding go away and brings no new stop, and can be undone.
func applied(t *testing.T, s *sheet.Sheet, table *slots.Table, before *rule.Report, f rule.Finding, fix rule.Fix) *sheet.Sheet {
	t.Helper()
	was := sheetfile.Encode(s)
	h := sheet.NewHistory(s)
	h.Do(fix.Label, fix.Do(h.Sheet()))
	fixed := h.Sheet()
	is := sheetfile.Encode(fixed)
	switch label, ok := h.Undo(); {
	case !ok || label != fix.Label:
		t.Errorf("%s: %s makes no step", told(f), fix.Label)
	case !bytes.Equal(sheetfile.Encode(h.Sheet()), was):
		t.Errorf("%s: %s, and then undo, leaves another sheet:\n%s", told(f), fix.Label, sheetfile.Encode(h.Sheet()))
	}
	if h.Redo(); !bytes.Equal(sheetfile.Encode(h.Sheet()), is) {
		t.Errorf("%s: %s, undone and made again, is another sheet", told(f), fix.Label)
	}
	next, err := slots.For(fixed, table)
	if err != nil {
		t.Fatalf("%s: %s: %v", told(f), fix.Label, err)
	}
	after := rule.Check(fixed, next)
	for _, g := range after.Findings {
		had := slices.ContainsFunc(before.Findings, func(b rule.Finding) bool {
			return b.Concern == g.Concern && b.Severity == rule.Stop
		})
		switch {
		case g.Concern == f.Concern:
			t.Errorf("%s: still there after %s", told(f), fix.Label)
		case g.Severity == rule.Stop && !had:
			t.Errorf("%s: %s brings %s", told(f), fix.Label, told(g))
		}
	}
	return fixed
}

// changes are what differs between two sheets in rows and wishes, the new value of each.
func changes(a, b *sheet.Sheet) []string {
	var all []string
	if !slices.Equal(a.Wish, b.Wish) {
		all = append(all, fmt.Sprintf("wish: %v", b.Wish))
	}
	for _, r := range b.Rows {
		if was, ok := a.Row(r.Place); !ok || !was.Equal(r) {
			all = append(all, fmt.Sprintf("%s: %s", r.Place, r.Text()))
			if ok && (was.Look != r.Look || was.Offset != r.Offset) {
				all = append(all, fmt.Sprintf("look %q, offset %v", r.Look, r.Offset))
			}
		}
	}
	for _, r := range a.Rows {
		if _, ok := b.Row(r.Place); !ok {
			all = append(all, r.Place.String()+": no row")
		}
	}
	return all
}

// golden compares a text with what is kept of it.
func golden(t *testing.T, path, text string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	kept, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if text == string(kept) {
		return
	}
	is, was := strings.Split(text, "\n"), strings.Split(string(kept), "\n")
	for i := 0; ; i++ {
		if i >= len(is) || i >= len(was) || is[i] != was[i] {
			from := max(0, i-6)
			t.Fatalf("%s, line %d: it is\n%s\nand was\n%s", path, i+1, strings.Join(is[from:min(len(is), i+4)], "\n"), strings.Join(was[from:min(len(was), i+4)], "\n"))
		}
	}
}

// A finding of a rule that is not there has no fix, nor one that is not on the sheet.
func TestNoFix(t *testing.T) {
	s := laid(medium(), level(60), -4, -2, 0, 2, 4)
	for _, c := range []sheet.Concern{
		{Rule: "shows-through", Row: level(60), On: sheet.OnSlot, Slot: 0},
		{Rule: "stacked", Row: level(1000), On: sheet.OnSlot},
		{Rule: "wish", Row: level(1000), On: sheet.OnRow},
	} {
		if fixes := rule.Fixes(s, tableOf(t, s), rule.Finding{Concern: c}); len(fixes) > 0 {
			t.Errorf("%v: %q", c, fixes[0].Label)
		}
	}
}
