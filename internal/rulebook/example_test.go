package rulebook

import (
	"slices"
	"strings"
	"testing"

	"example.org/underveil/assets"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheetfile"
)

func exampleOf(t testing.TB, r *rule.Rule) *Example {
	t.Helper()
	return pageOf(t, r).Example
}

// Every rule has an example. Wrong is reported by this rule and by no other, as gravely as it may be or nearly; right is not
// reported by any rule at all. Both say what is to be seen, and the words of the picture are not those of the rule.
func TestExamples(t *testing.T) {
	for _, r := range rule.All {
		x := exampleOf(t, r)
		for _, f := range x.Wrong.Report.Findings {
			if f.Rule != r.ID || f.Accepted != nil {
				t.Errorf("%s, wrong: %s, %s: %s", r.ID, f.Rule, f.Where(), f.Message())
			}
		}
		found := x.Wrong.of(r)
		if len(found) == 0 {
			t.Errorf("%s, wrong: the rule finds nothing", r.ID)
		} else if least := max(r.Severity, rule.Note+1) - 1; found[0].Severity < least {
			t.Errorf("%s, wrong: at most a %s", r.ID, found[0].Severity)
		}
		for _, f := range x.Right.Report.Findings {
			t.Errorf("%s, right: %s %s, %s: %s", r.ID, f.Severity, f.Rule, f.Where(), f.Message())
		}
		if x.Wrong.Says == x.Right.Says || strings.Contains(r.Doc, x.Wrong.Says) {
			t.Errorf("%s: the captions are %q and %q", r.ID, x.Wrong.Says, x.Right.Says)
		}
		for _, says := range []string{x.Wrong.Says, x.Right.Says} {
			if len(says) < 12 || len(says) > 180 || !strings.HasSuffix(says, ".") {
				t.Errorf("%s: %q is no caption", r.ID, says)
			}
		}
		if len(x.Right.Sheet.Accepted) > 0 || x.Right.Sheet.Bonds() == 0 && r.ID != "overdue" {
			t.Errorf("%s, right: mended by an acceptance, or by taking all away", r.ID)
		}
	}
}

// The demonstrations are read without a word, are of one step, and belong to a rule each.
func TestDemonstrations(t *testing.T) {
	entries, err := assets.Rules.ReadDir("rules")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		id, _ := strings.CutSuffix(e.Name(), ".toml")
		if _, ok := rule.ByID(id); !ok {
			t.Errorf("rules/%s belongs to no rule", e.Name())
		}
		data, err := assets.Rules.ReadFile("rules/" + e.Name())
		if err != nil {
			t.Fatal(err)
		}
		script, notices, err := sheetfile.DecodeScript(e.Name(), data)
		if err != nil {
			t.Error(err)
			continue
		}
		notices = slices.DeleteFunc(notices, func(n sheetfile.Notice) bool { return n.Text == sheetfile.RemarksLost })
		if len(notices) > 0 || script.Title != id || script.About == "" || len(script.Steps) != 1 {
			t.Errorf("%s: %v, title %q, about %q, %d steps", e.Name(), notices, script.Title, script.About, len(script.Steps))
		}
	}
}

// A rule without a demonstration has no page, and that is said.
func TestNoExample(t *testing.T) {
	if _, err := Of(&rule.Rule{ID: "shows-through"}, nil); err == nil || !strings.Contains(err.Error(), "shows-through has no example") {
		t.Errorf("%v", err)
	}
}

func TestFind(t *testing.T) {
	for _, r := range rule.All {
		if found, err := Find(r.ID); err != nil || found != r {
			t.Errorf("%s: %v", r.ID, err)
		}
	}
	for id, says := range map[string]string{
		"naep": "did you mean nape?", "row_gap": "did you mean row-gap?", "Thin Veil": "did you mean thin-veil?",
		"wig": "underveil rules lists them", "": "underveil rules lists them", "\x1b[31m": "underveil rules lists them",
	} {
		_, err := Find(id)
		if err == nil || !strings.HasSuffix(err.Error(), says) || strings.Contains(err.Error(), "\x1b") {
			t.Errorf("%q: %v", id, err)
		}
	}
}
