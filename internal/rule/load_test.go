package rule_test

import (
	"math/rand/v2"
	"testing"

	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// load and split find what weighing every bond finds, one of them for each bond that is too heavy: split where half of a
// whole strand would do, load where no splitting helps.
func TestLoadsAgainstAllBonds(t *testing.T) {
	found := map[string]int{}
	each(t, 18, 12, func(t *testing.T, _ *rand.Rand, s *sheet.Sheet, table *slots.Table, rep *rule.Report) {
		limit, _ := s.Limit(sheet.LimitLoad)
		count := float64(rule.HairOf(s, table).Density)
		want := map[string]map[sheet.Concern]float64{"load": {}, "split": {}}
		for _, row := range bondsOn(s, table) {
			for _, p := range row {
				if !p.on.OnScalp {
					continue
				}
				b := s.Bond(p.at, p.slot)
				shade, _ := s.Shade(b.Shade)
				grams := shade.Grams
				if b.Split {
					grams /= 2
				}
				// A section is 8 by 4.5 mm, and the reference 0.8 g on as much hair of 190 hairs/cm².
				own := count / 100 * table.Roots().Share(p.on.Point) * 8 * 4.5
				percent := 100 * (grams / own) / (0.8 / (190.0 / 100 * 8 * 4.5))
				if percent <= limit+0.05 {
					continue
				}
				id := "load"
				if !b.Split && percent/2 <= limit+0.05 {
					id = "split"
				}
				want[id][sheet.Concern{Rule: id, Row: p.at, On: sheet.OnSlot, Slot: p.slot}] = percent
			}
		}
		for id, bonds := range want {
			same(t, rep, id, bonds)
			found[id] += len(bonds)
		}
	})
	if found["load"] < 30 || found["split"] < 30 {
		t.Errorf("found: %v", found)
	}
}

// total-load and length-blend find what adding up all the bonds finds.
func TestTotalsAgainstAllBonds(t *testing.T) {
	found := map[string]int{}
	each(t, 19, 15, func(t *testing.T, _ *rand.Rand, s *sheet.Sheet, table *slots.Table, rep *rule.Report) {
		hairs := table.Roots().Hairs(rule.HairOf(s, table).Density)
		const perMM = 54e-6 / 10 // g in a mm of one hair
		own := float64(s.Hair.Length)
		tip, _ := s.Limit(sheet.FigureTip)
		added, hanging := 0.0, 0.0
		for _, r := range s.Rows { // those beyond the end of a line and off the head weigh as much as any
			for _, b := range r.All() {
				shade, _ := s.Shade(b.Shade)
				grams := shade.Grams
				if b.Split {
					grams /= 2
				}
				added += grams
				length := float64(shade.Length)
				reach := 1.0
				if own > length/2 { // all of it to the middle, and then evenly down to what the tips have
					reach = 1 - (1-tip/100)*(own-length/2)/(length/2)
				}
				if own < length {
					hanging += grams / (perMM * length) * reach
				}
			}
		}
		want := map[string]map[sheet.Concern]float64{"total-load": {}, "length-blend": {}}
		most, _ := s.Limit(sheet.LimitTotalLoad)
		if share := 100 * added / (hairs * perMM * own); own > 0 && share > most+0.05 {
			want["total-load"][sheet.Concern{Rule: "total-load"}] = share
		}
		least, _ := s.Limit(sheet.LimitBlend)
		if share := 100 * hanging / (hanging + hairs); own > 0 && s.Wishes(sheet.Length) && hanging > 0 && share < least-0.05 {
			want["length-blend"][sheet.Concern{Rule: "length-blend"}] = share
		}
		for id, sheets := range want {
			same(t, rep, id, sheets)
			found[id] += len(sheets)
		}
	})
	if found["total-load"] < 5 || found["length-blend"] < 5 {
		t.Errorf("found: %v", found)
	}
}
