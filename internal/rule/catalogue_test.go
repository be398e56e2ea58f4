package rule_test

import (
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// severities are the most that each rule reports.
var severities = map[string]rule.Severity{
	"off-scalp": rule.Stop, "nape": rule.Stop, "ear": rule.Stop, "temple": rule.Stop, "fringe": rule.Stop, "part": rule.Stop,
	"face": rule.Stop, "keep-off": rule.Stop, "bond-gap": rule.Stop,
	"thin-veil": rule.Stop, "shows-up": rule.Stop,
	"row-gap": rule.Caution, "balance": rule.Caution, "wish": rule.Caution, "falls-aside": rule.Caution,
	"load": rule.Caution, "split": rule.Caution, "total-load": rule.Caution, "length-blend": rule.Caution,
	"stacked": rule.Note, "trim": rule.Note,
	"shade": rule.Caution, "refer": rule.Stop, "overdue": rule.Caution, "re-used": rule.Caution,
}

func TestRules(t *testing.T) {
	if err := rule.Validate(rule.All); err != nil {
		t.Error(err)
	}
	if len(rule.All) != len(severities) {
		t.Errorf("%d rules, and severities of %d", len(rule.All), len(severities))
	}
	for _, r := range rule.All {
		if s, ok := severities[r.ID]; !ok || s != r.Severity {
			t.Errorf("%s: its severity is %s, and should be %s", r.ID, r.Severity, s)
		}
		if found, ok := rule.ByID(r.ID); !ok || found != r {
			t.Errorf("%s is not found by its id", r.ID)
		}
		if strings.ContainsAny(r.Title+r.Doc, "\n\t") || strings.Contains(r.Doc, "  ") || !strings.HasSuffix(r.Doc, ".") {
			t.Errorf("%s: the text is not one paragraph of whole sentences: %q", r.ID, r.Doc)
		}
	}
	if _, ok := rule.ByID("shows-through"); ok {
		t.Error("a rule that is not there is found")
	}
}

// Validate refuses a rule that lacks anything.
func TestValidate(t *testing.T) {
	good := func() *rule.Rule {
		return &rule.Rule{ID: "shows-through", Title: "a bond that shows", Since: "0.2", Doc: strings.Repeat("It shows. ", 8), Check: func(*rule.Pass) {}}
	}
	if err := rule.Validate([]*rule.Rule{good()}); err != nil {
		t.Errorf("a good rule: %v", err)
	}
	for _, c := range []struct {
		spoil func(*rule.Rule)
		says  string
	}{
		{func(r *rule.Rule) { r.ID = "" }, "lower case"},
		{func(r *rule.Rule) { r.ID = "Shows-through" }, "lower case"},
		{func(r *rule.Rule) { r.ID = "nape" }, "nape is there twice"},
		{func(r *rule.Rule) { r.Title = "" }, "shows-through: a title"},
		{func(r *rule.Rule) { r.Title = "a bond that shows." }, "shows-through: a title"},
		{func(r *rule.Rule) { r.Doc = "It shows." }, "shows-through is not explained"},
		{func(r *rule.Rule) { r.Since = "" }, "since when"},
		{func(r *rule.Rule) { r.Check = nil }, "checks nothing"},
	} {
		bad := good()
		c.spoil(bad)
		if err := rule.Validate(append(slices.Clone(rule.All), bad)); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%q: %v", c.says, err)
		}
	}
}

// Each rule has a folder of sheets that show it at its limit, to both sides of it, with another limit, and accepted.
func TestEveryRuleHasFixtures(t *testing.T) {
	for _, r := range rule.All {
		for name, want := range map[string]func(found, accepted int) bool{
			"at-limit":     func(found, accepted int) bool { return found == 0 },
			"just-inside":  func(found, accepted int) bool { return found > 0 && accepted == 0 },
			"just-outside": func(found, accepted int) bool { return found == 0 },
			"limit-set":    func(found, accepted int) bool { return accepted == 0 },
			"accepted":     func(found, accepted int) bool { return accepted > 0 },
		} {
			path := filepath.Join(fixtures, r.ID, name+".toml")
			if _, err := os.Stat(path); err != nil {
				t.Errorf("%s has no sheet: %v", r.ID, err)
				continue
			}
			s := open(t, path)
			found, accepted := of(check(t, s), r.ID), 0
			for _, f := range found {
				if f.Accepted != nil {
					accepted++
				}
			}
			if s.Bonds() == 0 || !want(len(found), accepted) {
				t.Errorf("%s: %d bonds, %d findings, of them %d accepted", short(path), s.Bonds(), len(found), accepted)
			}
			if name == "limit-set" && len(s.Limits)+len(s.Moved) > 0 {
				usual := of(check(t, s.With(func(c *sheet.Sheet) { c.Limits, c.Moved = nil, nil })), r.ID)
				if slices.EqualFunc(usual, found, func(a, b rule.Finding) bool { return a.Concern == b.Concern }) {
					t.Errorf("%s: with the usual limits the findings are the same", short(path))
				}
			}
		}
	}
	folders, err := os.ReadDir(fixtures)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range folders {
		_, ok := rule.ByID(f.Name())
		if f.IsDir() && !ok && !slices.Contains([]string{"ordinary", "once-false", "once-missed", "worked"}, f.Name()) {
			t.Errorf("testdata/rules/%s belongs to no rule", f.Name())
		}
	}
}

// lesser are the rules that have findings of less than their own severity: a row that is closer than its look needs, a
// bond that hangs out under the nape only as it grows, one with some hair over it but not enough, a shade that nobody has
// measured, what has not been asked yet, and a client who is due and not overdue.
var lesser = []string{"wish", "nape", "thin-veil", "shows-up", "shade", "refer", "overdue"}

// A finding is never graver than its rule; only some rules have findings of less. One with a measured value says what
// against and where that comes from, and the value is on the wrong side of the limit, in what is read as well.
func TestFindings(t *testing.T) {
	each(t, 12, 15, func(t *testing.T, _ *rand.Rand, s *sheet.Sheet, _ *slots.Table, rep *rule.Report) {
		for _, f := range rep.Findings {
			r, ok := rule.ByID(f.Rule)
			switch {
			case !ok:
				t.Errorf("a finding of %q", f.Rule)
				continue
			case f.Severity > r.Severity, f.Severity < r.Severity && !slices.Contains(lesser, f.Rule):
				t.Errorf("%s: the rule has %s", told(f), r.Severity)
			case f.Reason() != r.Doc:
				t.Errorf("%s: because %q", told(f), f.Reason())
			case f.What == "" || f.Where() == "":
				t.Errorf("%s: nothing is said", told(f))
			case f.Unit == "":
				if f.Message() != f.What {
					t.Errorf("%s: nothing was measured, and %q is said", told(f), f.What)
				}
			case f.Source == "":
				t.Errorf("%s: no source", told(f))
			case f.AtMost && f.Value <= f.Limit, !f.AtMost && f.Value > f.Limit-0.05:
				t.Errorf("%s: %.3f, %.3f", told(f), f.Value, f.Limit)
			}
		}
	})
}
