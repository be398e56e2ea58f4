package tally

import (
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/underveil/internal/money"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/studio"
)

// randomStudio has some of the shades of a sheet, in other packs and lengths, with and without a price.
func randomStudio(s *sheet.Sheet, draw func(int) int) *studio.Studio {
	st := &studio.Studio{Currency: []money.Currency{euro, yen, {Code: "KWD", Decimals: 3}}[draw(3)], Service: studio.Service{
		Setup: time.Duration(draw(3600)) * time.Second, Row: time.Duration(draw(600)) * time.Second, Bond: time.Duration(draw(200)) * time.Second,
		Check: time.Duration(draw(60)) * time.Second, Finish: time.Duration(draw(7200)) * time.Second, Hour: money.Amount(draw(3) * draw(10000)), Spare: draw(30)}}
	for _, h := range s.Shades {
		if draw(4) == 0 {
			continue
		}
		h.Pack = draw(30)
		if draw(5) == 0 {
			h.Length += 100
		}
		st.Strands = append(st.Strands, studio.Strand{Shade: h, OnHand: draw(40), Price: money.Amount(draw(9) * draw(2000))})
	}
	return st
}

// names are hard ones: formulas, wide and joined signs, all that a page or a spreadsheet could stumble over.
var names = []string{"oat", "honey", "", "=HYPERLINK(\"https://example.org\")", "+1", "-x", "@x", "ash, \"light\"", "two\nlines", "亜麻色の髪の乙女",
	"a;=1", "\t=1", "＝1", strings.Repeat("long ", 40), strings.Repeat("w", 200), "\x1b[2J", "é e\u0301 👩\u200d🎤", "'quoted"}

// eight is a slot table with holes 8 mm apart, made once.
var eight = holes(8)

// randomOrder is the order for a random sheet with hard names, in which shades can be the same strand.
func randomOrder(draw func(int) int, s *sheet.Sheet) (Order, Totals) {
	s = s.With(func(c *sheet.Sheet) {
		c.Title, c.Client = names[draw(len(names))], names[draw(len(names))]
		c.Shades = slices.Clone(c.Shades)
		for i := range c.Shades {
			c.Shades[i].Name, c.Shades[i].Length = names[draw(len(names))], scalp.MM(400+100*draw(3))
		}
	})
	totals := Count(s, eight)
	return OrderOf(s, totals, randomStudio(s, draw)), totals
}

func TestOrdersAddUp(t *testing.T) {
	rng := seeded(31)
	for range fewer(3000, 300) {
		o, totals := randomOrder(rng.IntN, randomSheet(rng))
		var hair, buying money.Amount
		var all Counts
		for _, l := range o.Lines {
			if l.Packs*l.Pack < l.ToBuy || l.ToBuy > 0 && l.ToBuy <= (l.Packs-1)*l.Pack || l.ToBuy == 0 && l.Packs != 0 {
				t.Fatalf("too few or too many packs: %+v", l)
			}
			if l.Planned+l.Spare != l.Taken+l.ToBuy || l.LeftOver != l.Packs*l.Pack-l.ToBuy || l.LeftOver >= l.Pack || l.Taken > l.OnHand {
				t.Fatalf("strands do not add up: %+v", l)
			}
			if over := 100*l.Spare - l.Planned*o.Spare; over < 0 || over >= 100 {
				t.Fatalf("spare is not %d %% rounded up: %+v", o.Spare, l)
			}
			// What the sum is off by, times twice a pack, is within half a smallest unit, and a half is rounded up.
			pack := int64(l.Pack)
			off := 2*pack*int64(l.Sum) - 2*int64(l.Price)*int64(l.Planned)
			if l.Priced && (off > pack || off <= -pack) {
				t.Fatalf("sum is off: %+v", l)
			}
			if l.Bought != l.Price*money.Amount(l.Packs) {
				t.Fatalf("the packs cost something else: %+v", l)
			}
			buying += l.Bought
			if !l.Priced && l.Sum != 0 {
				t.Fatalf("a sum without a price: %+v", l)
			}
			hair += l.Sum
			all.Whole, all.Split = all.Whole+l.Whole, all.Split+l.Split
		}
		var took time.Duration
		for _, w := range o.Work {
			took += time.Duration(w.Count) * w.Each
		}
		off := 7200*int64(o.Chair) - 2*int64(o.Hour)*int64(took/time.Second)
		if hair != o.Hair || buying != o.Buying || o.Total != o.Hair+o.Chair || took != o.Duration || off > 3600 || off <= -3600 {
			t.Fatalf("sums do not add up: %+v", o)
		}
		if all.Whole != totals.Whole || all.Split != totals.Split {
			t.Fatalf("bonds are lost: %+v of %+v", all, totals.Counts)
		}
	}
}
