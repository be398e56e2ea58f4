package rule_test

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// Each rule names what it measures against and reckons with: whatever else among the limits and figures of a sheet is
// changed, to the least and to the most that it may be, its findings stay the same to the last digit; and each one that it
// names changes them on some sheet.
func TestLimits(t *testing.T) {
	type pair struct{ rule, limit string }
	moved := map[pair]bool{}
	for i, path := range paths(t, "*") {
		if testing.Short() && i%16 != 0 {
			continue
		}
		for k, s := range limitSheets(open(t, path), short(path)) {
			table := tableOf(t, s)
			before := rule.Check(s, table)
			for _, l := range sheet.Limits {
				if l.Name == sheet.LimitFringeDepth && i%5 != 0 && !strings.HasPrefix(short(path), "f") {
					continue // all distances are measured again
				}
				values := []float64{l.Low, l.High}
				if folder, _, _ := strings.Cut(short(path), "/"); !names(folder, l.Name) {
					values = values[i/4%2:][:1] // on so many sheets one at a time will do
				}
				for _, v := range values {
					other := s.WithLimit(l.Name, v)
					changed, err := slots.For(other, table)
					if err != nil {
						continue // no head has such a figure
					}
					after := rule.Check(other, changed)
					for _, r := range rule.All {
						if reflect.DeepEqual(unaccepted(before, r.ID), unaccepted(after, r.ID)) {
							continue
						}
						moved[pair{r.ID, string(l.Name)}] = true
						if !names(r.ID, l.Name) {
							t.Fatalf("%s, %d: %s does not name %s, and with %g\n%sbecomes\n%s", short(path), k, r.ID, l.Name, v, listed(before), listed(after))
						}
					}
				}
			}
		}
	}
	for _, r := range rule.All {
		for _, name := range r.Limits {
			if !moved[pair{r.ID, string(name)}] && !testing.Short() {
				t.Errorf("%s names %s, which changes nothing on any sheet", r.ID, name)
			}
		}
	}
}

// limitSheets is a sheet of a rule as it is, and as it would be in cases that few sheets have: where the density comes from
// a ponytail's tape, where the hair hardly reaches the tie, and where the limit at the face reaches farther than the fringe.
func limitSheets(s *sheet.Sheet, path string) []*sheet.Sheet {
	list := []*sheet.Sheet{s}
	folder, _, _ := strings.Cut(path, "/")
	if folder == "shows-up" {
		list = append(list, s.With(func(c *sheet.Sheet) { c.Hair.Length = 180 }))
	}
	switch folder {
	case "thin-veil", "shows-up", "load", "split", "total-load", "length-blend":
		list = append(list, s.With(func(c *sheet.Sheet) { c.Hair.Count, c.Hair.Ponytail = 0, 70 }))
	case "face", "fringe":
		list = append(list, s.WithLimit(sheet.LimitFace, 80).WithLimit(sheet.LimitFringe, 5))
	}
	return list
}

// names reports whether a rule names a limit.
func names(id string, name sheet.LimitName) bool {
	r, ok := rule.ByID(id)
	return ok && slices.Contains(r.Limits, name)
}

// unaccepted are the findings of a rule without what was accepted of them.
func unaccepted(rep *rule.Report, id string) []rule.Finding {
	found := of(rep, id)
	for i := range found {
		found[i].Accepted = nil
	}
	return found
}

// Validate refuses a rule that names a limit which is none, or one of them twice.
func TestValidateLimits(t *testing.T) {
	for _, names := range [][]sheet.LimitName{{"neck"}, {sheet.LimitEar, sheet.LimitNape, sheet.LimitEar}} {
		bad := *rule.All[0]
		bad.Limits = names
		if err := rule.Validate([]*rule.Rule{&bad}); err == nil || !strings.Contains(err.Error(), string(names[len(names)-1])) {
			t.Errorf("%v: %v", names, err)
		}
	}
}
