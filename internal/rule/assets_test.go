package rule_test

import (
	"slices"
	"testing"

	"example.org/underveil/assets"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
)

// asset is a sheet that comes with the program.
func asset(t *testing.T, name string) *sheet.Sheet {
	t.Helper()
	data, err := assets.Sheets.ReadFile("sheets/" + name)
	if err != nil {
		t.Fatal(err)
	}
	s, notices, err := sheetfile.Decode(name, data)
	if err != nil || len(notices) > 0 {
		t.Fatalf("%s: %v %v", name, notices, err)
	}
	return s.With(func(c *sheet.Sheet) { c.Today = "2026-04-07" })
}

// Of the sheets that come with the program the clean one is clean, the one with faults has every fault there is, and
// the demonstration has a few things to put right, one of them for being worn half up, and something that was accepted.
func TestAssets(t *testing.T) {
	want := map[string]func(*rule.Report) string{
		"clean.toml": func(rep *rule.Report) string {
			if rep.Stops+rep.Cautions+rep.Accepted+len(rep.Stale) > 0 {
				return "it is not clean"
			}
			return ""
		},
		"faults.toml": func(rep *rule.Report) string {
			for _, r := range rule.All {
				if !slices.ContainsFunc(of(rep, r.ID), func(f rule.Finding) bool { return f.Accepted == nil }) {
					return "it has no " + r.ID
				}
			}
			return ""
		},
		"demo.toml": func(rep *rule.Report) string {
			halfUp := slices.ContainsFunc(of(rep, "shows-up"), func(f rule.Finding) bool { return f.Reading.Way.Wear == sheet.WornHalfUp })
			switch {
			case rep.Stops == 0 || rep.Accepted == 0 || len(rep.Stale) > 0:
				return "it has no stop, nothing accepted, or an acceptance too many"
			case !halfUp:
				return "it has nothing that shows for being worn half up"
			case rep.Stops+rep.Cautions > 6:
				return "it has more to put right than a demonstration has time for"
			}
			return ""
		},
	}
	entries, err := assets.Sheets.ReadDir("sheets")
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, e := range entries {
		rep := check(t, asset(t, e.Name()))
		if wrong, ok := want[e.Name()]; ok {
			seen++
			if says := wrong(rep); says != "" {
				t.Errorf("%s: %s\n%s", e.Name(), says, listed(rep))
			}
		}
	}
	if seen != len(want) {
		t.Errorf("%d of %d sheets are there", seen, len(want))
	}
}

// What the sheets with faults have can be put right, finding by finding, but for what the whole of the strands is too much
// or too little for: more or fewer of them are another plan, and no fix.
func TestFaultsCanBeFixed(t *testing.T) {
	for _, name := range []string{"demo.toml", "faults.toml"} {
		s := asset(t, name)
		for range s.Bonds() + 1 {
			table := tableOf(t, s)
			rep := rule.Check(s, table)
			i := slices.IndexFunc(rep.Findings, func(f rule.Finding) bool {
				return f.Accepted == nil && f.Severity > rule.Note && len(rule.Fixes(s, table, f)) > 0
			})
			if i < 0 {
				break
			}
			s = rule.Fixes(s, table, rep.Findings[i])[0].Do(s)
		}
		for _, f := range check(t, s).Findings {
			if r, _ := rule.ByID(f.Rule); r.Fixes != nil && f.Accepted == nil && f.Severity > rule.Note {
				t.Errorf("%s: no fix is left for %s", name, told(f))
			}
		}
	}
}
