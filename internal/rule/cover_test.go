package rule_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"example.org/underveil/internal/fall"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// waysWorn are the ways that a client wears the hair in, of those that a rule looks at: down, or anything but down. Who
// says nothing wears it down.
func waysWorn(s *sheet.Sheet, id string) []slots.Way {
	var ways []slots.Way
	for _, w := range slots.Ways(s) {
		down := w.Wear == sheet.WornDown
		worn := slices.Contains(s.Worn, w.Wear) || down && len(s.Worn) == 0
		if worn && down == (id != "shows-up") {
			ways = append(ways, w)
		}
	}
	return ways
}

// thin is what a rule about covers should say of one bond.
type thin struct {
	value float64
	stop  bool
	time  int
	ways  []slots.Way // all that are too thin at that time, the thinnest first
}

// thinAt looks at one slot, at all ways at one time after the other.
func thinAt(s *sheet.Sheet, table *slots.Table, ways []slots.Way, line *slots.Line, slot int, limit float64) (thin, bool) {
	perMM2 := float64(rule.HairOf(s, table).Density) / 100
	for time := range fall.Weeks {
		var short []slots.Way
		hairs := func(w slots.Way) float64 { return perMM2 * float64(table.Cover(w, line, slot).Depth[time]) }
		for _, w := range ways {
			if hairs(w) < limit-0.05 {
				short = append(short, w)
			}
		}
		if short != nil {
			least := 0 // the first of those within 0.01 mm of hair
			for i, w := range short {
				if hairs(w) < hairs(short[least])-0.01*perMM2 {
					least = i
				}
			}
			short[0], short[least] = short[least], short[0]
			value := hairs(short[0])
			return thin{value, time == 0 && value < limit/2-0.05, time, short}, true
		}
	}
	return thin{}, false
}

// thin-veil and shows-up find what looking at every bond in every way at every time finds, as grave as it is, and name the
// way with the least hair over the bond and all others with too little.
func TestCoversAgainstAllWays(t *testing.T) {
	found := map[string]int{}
	each(t, 13, 20, func(t *testing.T, _ *rand.Rand, s *sheet.Sheet, table *slots.Table, rep *rule.Report) {
		for id, name := range map[string]sheet.LimitName{"thin-veil": sheet.LimitVeil, "shows-up": sheet.LimitVeilUp} {
			limit, _ := s.Limit(name)
			ways := waysWorn(s, id)
			want, values := map[sheet.Concern]thin{}, map[sheet.Concern]float64{}
			for _, row := range bondsOn(s, table) {
				for _, b := range row {
					if !b.on.OnScalp {
						continue
					}
					if told, ok := thinAt(s, table, ways, b.line, b.slot, limit); ok {
						c := sheet.Concern{Rule: id, Row: b.at, On: sheet.OnSlot, Slot: b.slot}
						want[c], values[c] = told, told.value
					}
				}
			}
			same(t, rep, id, values)
			for _, f := range of(rep, id) {
				w := want[f.Concern]
				found[fmt.Sprint(id, " at ", w.time)]++
				if (f.Severity == rule.Stop) != w.stop {
					t.Errorf("%s: a stop is %v", told(f), w.stop)
				}
				later := strings.Contains(f.What, fmt.Sprintf(" in %d weeks", fall.Weeks[w.time]))
				if later != (w.time > 0) || strings.Contains(f.What, "weeks") != later {
					t.Errorf("%s: and it should be in %d weeks", told(f), fall.Weeks[w.time])
				}
				if f.Reading != (rule.Reading{Kind: rule.ByCover, Way: w.ways[0], Time: w.time}) {
					t.Errorf("%s: the map would be shaded by %+v", told(f), f.Reading)
				}
				if !strings.HasPrefix(f.What, "over it "+w.ways[0].In(s)) {
					t.Errorf("%s: the thinnest is %s", told(f), w.ways[0].In(s))
				}
				for _, other := range w.ways[1:] {
					found["several"]++
					if !strings.Contains(f.What, other.In(s)) {
						t.Errorf("%s: nothing of %s", told(f), other.In(s))
					}
				}
				if len(w.ways) == 1 && strings.Contains(f.What, "as well") {
					t.Errorf("%s: no other way is too thin", told(f))
				}
			}
		}
	})
	for _, what := range []string{"thin-veil at 0", "thin-veil at 1", "thin-veil at 2", "shows-up at 0", "shows-up at 1", "several"} {
		if found[what] < 5 {
			t.Errorf("%s: found %d times", what, found[what])
		}
	}
}

// falls-aside tells of every bond of a level row whose hair falls too far aside with any parting.
func TestFallsAsideAgainstAllWays(t *testing.T) {
	found := 0
	each(t, 14, 20, func(t *testing.T, _ *rand.Rand, s *sheet.Sheet, table *slots.Table, rep *rule.Report) {
		limit, _ := s.Limit(sheet.LimitAside)
		want := map[sheet.Concern]float64{}
		for _, row := range bondsOn(s, table) {
			for _, b := range row {
				if !b.on.OnScalp || b.line.ID.Kind != scalp.Level {
					continue
				}
				aside := 0.0
				for _, w := range waysWorn(s, "falls-aside") {
					c := table.Cover(w, b.line, b.slot)
					if c.Line <= 80 && c.Aside > aside+0.01 { // beyond, hair hangs by its own weight
						aside = c.Aside
					}
				}
				if aside > limit+0.05 {
					want[sheet.Concern{Rule: "falls-aside", Row: b.at, On: sheet.OnSlot, Slot: b.slot}] = aside
				}
			}
		}
		same(t, rep, "falls-aside", want)
		found += len(want)
	})
	if found < 50 {
		t.Errorf("%d bonds fall aside", found)
	}
}

// moreHair is the sheet with its hair counted, and with more of it.
func moreHair(s *sheet.Sheet, count float64) *sheet.Sheet {
	return s.With(func(c *sheet.Sheet) { c.Hair.Count = count })
}

// More hair on a cm² lowers no cover, raises no load, and brings no finding about either. On the whole it takes some away.
func TestMoreHair(t *testing.T) {
	rules := []string{"thin-veil", "shows-up", "falls-aside", "load", "split", "total-load"}
	gone, bonds := map[string]int{}, 0
	each(t, 15, 10, func(t *testing.T, rng *rand.Rand, s *sheet.Sheet, table *slots.Table, _ *rule.Report) {
		s = s.WithLimit(sheet.LimitTotalLoad, 15)
		count := float64(70 + rng.IntN(200))
		thinner, thicker := moreHair(s, count), moreHair(s, count+float64(5+rng.IntN(80)))
		before, after := rule.Check(thinner, table), rule.Check(thicker, table)
		for _, id := range rules {
			had := of(before, id)
			for _, f := range of(after, id) {
				i := slices.IndexFunc(had, func(g rule.Finding) bool { return g.Concern == f.Concern })
				switch {
				case id == "split" && i < 0: // half a strand is enough, where it was not before
					if !slices.ContainsFunc(of(before, "load"), func(g rule.Finding) bool { return g.Row == f.Row && g.Slot == f.Slot }) {
						t.Errorf("of more hair: %s", told(f))
					}
				case i < 0:
					t.Errorf("of more hair: %s", told(f))
				case f.Severity > had[i].Severity:
					t.Errorf("of more hair %s is graver than %s", told(f), told(had[i]))
				}
			}
			gone[id] += len(had) - len(of(after, id))
		}
		for _, r := range rule.Readings(s) {
			less, more := rule.ScaleOf(r, thinner, table), rule.ScaleOf(r, thicker, table)
			for _, row := range bondsOn(s, table) {
				for _, b := range row {
					if rng.IntN(10) > 0 {
						continue
					}
					bonds++
					v, ok := less.At(b.line, b.slot)
					w, too := more.At(b.line, b.slot)
					if ok != too || r.Kind == rule.ByLoad && w > v || r.Kind != rule.ByLoad && w < v {
						t.Errorf("%s, %s, slot %d: %.3f, and of more hair %.3f", r.Name(s), b.at, b.slot, v, w)
					}
				}
			}
		}
	})
	for _, id := range rules {
		if gone[id] == 0 && id != "falls-aside" || gone[id] != 0 && id == "falls-aside" {
			t.Errorf("%s: more hair takes %d findings away", id, gone[id])
		}
	}
	if bonds < 1000 {
		t.Errorf("only %d bonds were looked at", bonds)
	}
}

// The longer the own hair, the more of it reaches past a bond worn down: nothing is found that shorter hair does not have.
func TestLongerHair(t *testing.T) {
	gone := 0
	each(t, 16, 4, func(t *testing.T, rng *rand.Rand, s *sheet.Sheet, _ *slots.Table, _ *rule.Report) {
		length := scalp.MM(50 + 30*rng.IntN(3))
		of := func(length scalp.MM) []rule.Finding {
			s := s.With(func(c *sheet.Sheet) { c.Hair = sheet.Hair{Length: length}; c.Worn = []sheet.Wear{sheet.WornDown} })
			return of(check(t, s), "thin-veil")
		}
		before, after := of(length), of(length+40)
		for _, f := range after {
			if !slices.ContainsFunc(before, func(g rule.Finding) bool { return g.Concern == f.Concern }) {
				t.Errorf("hair of %.0f mm: %s", float64(length+40), told(f))
			}
		}
		gone += len(before) - len(after)
	})
	if gone < 20 {
		t.Errorf("longer hair takes %d findings away", gone)
	}
}

// Whatever is accepted counts as nothing else, for each of the rules that reckon with hair.
func TestAcceptedHair(t *testing.T) {
	rules := []string{"thin-veil", "shows-up", "falls-aside", "load", "split", "total-load", "length-blend"}
	accepted := map[string]int{}
	each(t, 17, 6, func(t *testing.T, _ *rand.Rand, s *sheet.Sheet, table *slots.Table, _ *rule.Report) {
		s = s.With(func(c *sheet.Sheet) { c.Accepted = nil })
		before := rule.Check(s, table)
		for _, f := range before.Findings {
			if slices.Contains(rules, f.Rule) {
				s = s.WithAccepted(sheet.Accepted{Concern: f.Concern, Reason: "agreed"})
			}
		}
		after := rule.Check(s, table)
		for _, f := range after.Findings {
			if (f.Accepted != nil) != slices.Contains(rules, f.Rule) {
				t.Errorf("%s: accepted is %v", told(f), f.Accepted)
			}
			accepted[f.Rule]++
		}
		if len(after.Findings) != len(before.Findings) || after.Accepted != len(s.Accepted) || len(after.Stale) > 0 {
			t.Errorf("%d findings and then %d; %d accepted, %d counted, %d stale",
				len(before.Findings), len(after.Findings), len(s.Accepted), after.Accepted, len(after.Stale))
		}
	})
	for _, id := range rules {
		if accepted[id] == 0 {
			t.Errorf("nothing of %s was accepted", id)
		}
	}
}
