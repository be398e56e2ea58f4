package rule_test

import (
	"cmp"
	"maps"
	"math/rand/v2"
	"slices"
	"testing"

	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// zoneRules are the rules of the zones, and off-scalp, which keeps bonds where there is hair.
var zoneRules = []string{"off-scalp", "nape", "ear", "temple", "fringe", "part", "face", "keep-off"}

// inZones are the concerns of the findings of the zone rules.
func inZones(rep *rule.Report) map[sheet.Concern]bool {
	all := map[sheet.Concern]bool{}
	for _, f := range rep.Findings {
		if slices.Contains(zoneRules, f.Rule) {
			all[f.Concern] = true
		}
	}
	return all
}

// A lifted bond takes its own findings of the zones with it, and changes no other's.
func TestLiftedBond(t *testing.T) {
	lifted := 0
	each(t, 3, 30, func(t *testing.T, rng *rand.Rand, s *sheet.Sheet, table *slots.Table, rep *rule.Report) {
		for _, r := range s.Rows {
			for slot := range r.All() {
				if rng.IntN(12) > 0 {
					continue
				}
				want := inZones(rep)
				maps.DeleteFunc(want, func(c sheet.Concern, _ bool) bool {
					return c.Row == r.Place && (c.On == sheet.OnSlot && c.Slot == slot || r.Count() == 1)
				})
				if len(want) < len(inZones(rep)) {
					lifted++
				}
				if got := inZones(rule.Check(s.WithBond(r.Place, slot, sheet.Bond{}), table)); !maps.Equal(got, want) {
					t.Errorf("without slot %d at %s: %v, and not %v", slot, r.Place, got, want)
				}
			}
		}
	})
	if lifted < 100 {
		t.Errorf("only %d bonds with a finding were lifted", lifted)
	}
}

// Raising the limit of a zone takes none of its findings away.
func TestRaisedLimit(t *testing.T) {
	ruleOf := func(l sheet.LimitName) string {
		switch l {
		case sheet.LimitNapeUp:
			return "nape"
		case sheet.LimitFringeDepth:
			return "fringe"
		}
		return string(l)
	}
	more := map[sheet.LimitName]int{}
	each(t, 4, 15, func(t *testing.T, rng *rand.Rand, s *sheet.Sheet, table *slots.Table, rep *rule.Report) {
		names := zoneLimits
		if rng.IntN(5) == 0 {
			names = append(slices.Clone(names), sheet.LimitFringeDepth) // which needs another table
		}
		for _, name := range names {
			was, _ := s.Limit(name)
			info, _ := name.Info()
			raised := s.WithLimit(name, min(info.High, was+float64(1+rng.IntN(20))))
			before, after := of(rep, ruleOf(name)), of(check(t, raised), ruleOf(name))
			for _, f := range before {
				if !slices.ContainsFunc(after, func(g rule.Finding) bool { return g.Concern == f.Concern }) {
					t.Errorf("%s raised from %g: %s is gone", name, was, told(f))
				}
			}
			if len(after) > len(before) {
				more[name]++
			}
		}
	})
	for _, name := range append(slices.Clone(zoneLimits), sheet.LimitFringeDepth) {
		if more[name] == 0 {
			t.Errorf("raising %s never brought a finding", name)
		}
	}
}

// A wider patch keeps all that the narrower one reported.
func TestWiderPatch(t *testing.T) {
	patches := 0
	for _, head := range heads() {
		if len(head.KeepOff) == 0 {
			continue
		}
		patches++
		s := everySlot(head, tableOf(t, head))
		wider := s.With(func(c *sheet.Sheet) {
			c.KeepOff = slices.Clone(c.KeepOff)
			for i := range c.KeepOff {
				c.KeepOff[i].Radius += 7
			}
		})
		before, after := of(check(t, s), "keep-off"), of(check(t, wider), "keep-off")
		if len(after) <= len(before) {
			t.Errorf("%d bonds on patches, %d on wider ones", len(before), len(after))
		}
		for _, f := range before {
			if !slices.ContainsFunc(after, func(g rule.Finding) bool { return g.Concern == f.Concern }) {
				t.Errorf("with wider patches, %s is gone", told(f))
			}
		}
	}
	if patches == 0 {
		t.Error("no head has a patch")
	}
}

// Findings are in order, the accepted ones last; no rule speaks twice of the same, and the face never of a bond that
// temple or fringe report.
func TestOrder(t *testing.T) {
	each(t, 5, 15, func(t *testing.T, _ *rand.Rand, s *sheet.Sheet, table *slots.Table, rep *rule.Report) {
		seen := map[sheet.Concern]bool{}
		for i, f := range rep.Findings {
			if seen[f.Concern] {
				t.Errorf("twice: %s", told(f))
			}
			seen[f.Concern] = true
			if i > 0 && inOrder(rep.Findings[i-1], f) > 0 {
				t.Errorf("not in order: %s\n%s", told(rep.Findings[i-1]), told(f))
			}
		}
		for c := range seen {
			for _, other := range []string{"temple", "fringe"} {
				d := c
				if d.Rule = other; c.Rule == "face" && seen[d] {
					t.Errorf("%s: face as well as %s", rule.Where(c), other)
				}
			}
		}
		again := rule.Check(s, table)
		if listed(again) != listed(rep) {
			t.Errorf("checked again:\n%sand not\n%s", listed(again), listed(rep))
		}
	})
}

// inOrder is more than 0 if b should come before a: what is accepted comes last; then stops come before cautions and
// those before notes; then rows come from the nape up, rows front to back from left to right, and the sheet last.
func inOrder(a, b rule.Finding) int {
	group := func(f rule.Finding) int {
		n := 3 - int(f.Severity)
		if f.Accepted != nil {
			n += 10
		}
		return n
	}
	kind := func(f rule.Finding) int {
		switch {
		case f.On == sheet.OnSheet:
			return 2
		case f.Row.Along:
			return 1
		}
		return 0
	}
	ruled := func(f rule.Finding) int {
		return slices.IndexFunc(rule.All, func(r *rule.Rule) bool { return r.ID == f.Rule })
	}
	return cmp.Or(group(a)-group(b), kind(a)-kind(b), cmp.Compare(a.Row.At, b.Row.At), ruled(a)-ruled(b), a.Slot-b.Slot)
}

// Every finding counts once: as what it is, or as accepted. An acceptance without a finding is stale.
func TestCounts(t *testing.T) {
	each(t, 6, 12, func(t *testing.T, _ *rand.Rand, s *sheet.Sheet, _ *slots.Table, rep *rule.Report) {
		accepted := map[sheet.Concern]bool{}
		for _, a := range s.Accepted {
			accepted[a.Concern] = true
		}
		found := map[sheet.Concern]bool{}
		count := map[string]int{}
		for _, f := range rep.Findings {
			found[f.Concern] = true
			if accepted[f.Concern] != (f.Accepted != nil) || f.Accepted != nil && f.Accepted.Concern != f.Concern {
				t.Errorf("%s: %v", told(f), f.Accepted)
			}
			kind := f.Severity.String()
			if accepted[f.Concern] {
				kind = "accepted"
			}
			count[kind]++
		}
		if rep.Stops != count["stop"] || rep.Cautions != count["caution"] || rep.Notes != count["note"] || rep.Accepted != count["accepted"] {
			t.Errorf("%d stops, %d cautions, %d notes, %d accepted; they are %v", rep.Stops, rep.Cautions, rep.Notes, rep.Accepted, count)
		}
		if rep.Clear() != (count["stop"] == 0) {
			t.Errorf("clear: %v with %d stops", rep.Clear(), count["stop"])
		}
		var stale []sheet.Accepted
		for _, a := range s.Accepted {
			if !found[a.Concern] {
				stale = append(stale, a)
			}
		}
		if !slices.Equal(rep.Stale, stale) {
			t.Errorf("stale: %v, and not %v", rep.Stale, stale)
		}
	})
}
