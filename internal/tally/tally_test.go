package tally

import (
	"testing"

	"example.org/underveil/internal/sheet"
)

// Two shades: a at 0.8 g in packs of 25, b at 1.0 g in packs of 10.
var (
	oat   = sheet.Shade{Key: 'a', Name: "oat", Grams: 0.8, Pack: 25}
	honey = sheet.Shade{Key: 'b', Name: "honey", Grams: 1, Pack: 10}
)

func TestCountWorkedByHand(t *testing.T) {
	for _, c := range []struct {
		name    string
		shades  []sheet.Shade
		rows    []written
		total   Counts
		strands int
		grams   float64
		want    []OfShade // without the shade itself
	}{
		{
			"an empty sheet", []sheet.Shade{oat, honey}, nil,
			Counts{}, 0, 0, nil,
		},
		{
			// 5 whole: 5 strands, 5 x 0.8 = 4.0 g, 5 of the first pack.
			"whole ones", []sheet.Shade{oat},
			[]written{{20, "a.a.(a).a.a"}},
			Counts{Whole: 5}, 5, 4.0,
			[]OfShade{{Counts: Counts{Whole: 5}, Grams: 4.0, Part: 5}},
		},
		{
			// 4 halves: 2 strands, 4 x 0.4 = 1.6 g, nothing left over.
			"halves that pair", []sheet.Shade{oat},
			[]written{{20, "A.A.(.).A.A"}},
			Counts{Split: 4}, 2, 1.6,
			[]OfShade{{Counts: Counts{Split: 4}, Grams: 1.6, Part: 2}},
		},
		{
			// 3 halves: 2 strands are opened, 3 x 0.4 = 1.2 g are worn, half a strand is left over.
			"an odd half", []sheet.Shade{oat},
			[]written{{20, "A.(A).A"}},
			Counts{Split: 3}, 2, 1.2,
			[]OfShade{{Counts: Counts{Split: 3}, Grams: 1.2, Part: 2, Spare: true}},
		},
		{
			// Trimming the top of a bond takes no hair off: 2 whole (one trimmed) and 1 half (trimmed) are
			// 2 + 1 = 3 strands and 2 x 0.8 + 0.4 = 2.0 g.
			"trimmed ones", []sheet.Shade{oat},
			[]written{{20, "a'.(a).A'"}},
			Counts{Whole: 2, Split: 1, Trimmed: 2}, 3, 2.0,
			[]OfShade{{Counts: Counts{Whole: 2, Split: 1, Trimmed: 2}, Grams: 2.0, Part: 3, Spare: true}},
		},
		{
			// One half of each shade: they can't come from one strand, so 2 strands are opened and half of each
			// is left over. 0.4 + 0.5 = 0.9 g.
			"odd halves of two shades", []sheet.Shade{oat, honey},
			[]written{{20, "A.(.).B"}},
			Counts{Split: 2}, 2, 0.9,
			[]OfShade{
				{Counts: Counts{Split: 1}, Grams: 0.4, Part: 1, Spare: true},
				{Counts: Counts{Split: 1}, Grams: 0.5, Part: 1, Spare: true},
			},
		},
		{
			// a: 3 halves over two rows are 2 strands, 1.2 g. b: 1 whole and 3 halves are 1 + 2 = 3 strands,
			// 1 + 1.5 = 2.5 g. Together 5 strands, 3.7 g.
			"odd halves in several rows", []sheet.Shade{oat, honey},
			[]written{{20, "A.B.(b).B.A"}, {30, "(A).B"}},
			Counts{Whole: 1, Split: 6}, 5, 3.7,
			[]OfShade{
				{Counts: Counts{Split: 3}, Grams: 1.2, Part: 2, Spare: true},
				{Counts: Counts{Whole: 1, Split: 3}, Grams: 2.5, Part: 3, Spare: true},
			},
		},
		{
			// b: 10 whole are exactly one pack of 10, 10 g.
			"one pack exactly", []sheet.Shade{honey},
			[]written{{20, "bbbbb(b)bbbb"}},
			Counts{Whole: 10}, 10, 10,
			[]OfShade{{Counts: Counts{Whole: 10}, Grams: 10, Packs: 1}},
		},
		{
			// b: 9 whole and 2 halves are 9 + 1 = 10 strands: one pack, with nothing of a second.
			"one pack exactly, with halves", []sheet.Shade{honey},
			[]written{{20, "bbbbB(b)Bbbbb"}},
			Counts{Whole: 9, Split: 2}, 10, 10,
			[]OfShade{{Counts: Counts{Whole: 9, Split: 2}, Grams: 10, Packs: 1}},
		},
		{
			// b: 10 whole and 1 half are 11 strands: one pack and 1 of the next. 10.5 g.
			"a pack and a part", []sheet.Shade{honey},
			[]written{{20, "bbbbb(b)bbbbB"}},
			Counts{Whole: 10, Split: 1}, 11, 10.5,
			[]OfShade{{Counts: Counts{Whole: 10, Split: 1}, Grams: 10.5, Packs: 1, Part: 1, Spare: true}},
		},
		{
			// b: 7 + 8 + 9 = 24 whole: two packs of 10 and 4 of the third. 24 g.
			"packs over several rows", []sheet.Shade{honey},
			[]written{{20, "bbb(b)bbb"}, {30, "bbbb(b)bbb"}, {40, "bbbb(b)bbbb"}},
			Counts{Whole: 24}, 24, 24,
			[]OfShade{{Counts: Counts{Whole: 24}, Grams: 24, Packs: 2, Part: 4}},
		},
		{
			// Sold singly: strands are counted, packs are not. 2 + 1 = 3 strands, 2.5 g.
			"no packs", []sheet.Shade{{Key: 'c', Grams: 1}},
			[]written{{20, "c.(c).C"}},
			Counts{Whole: 2, Split: 1}, 3, 2.5,
			[]OfShade{{Counts: Counts{Whole: 2, Split: 1}, Grams: 2.5, Spare: true}},
		},
		{
			// b is not used, so it is not listed; c comes after a as in the sheet. c weighs nothing yet.
			"an unused shade, and one not weighed", []sheet.Shade{oat, honey, {Key: 'c', Pack: 5}},
			[]written{{20, "c.(a).c"}},
			Counts{Whole: 3}, 3, 0.8,
			[]OfShade{
				{Counts: Counts{Whole: 1}, Grams: 0.8, Part: 1},
				{Counts: Counts{Whole: 2}, Part: 2},
			},
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := Count(sheetOf(t, c.shades, c.rows...), holes(8))
			if got.Counts != c.total || got.Bonds() != c.total.Whole+c.total.Split {
				t.Errorf("counts %+v, want %+v", got.Counts, c.total)
			}
			if got.Strands != c.strands || !nearly(got.Grams, c.grams) {
				t.Errorf("%d strands, %g g; want %d, %g g", got.Strands, got.Grams, c.strands, c.grams)
			}
			if len(got.Rows) != len(c.rows) || len(got.Shades) != len(c.want) {
				t.Fatalf("%d rows, %d shades; want %d, %d", len(got.Rows), len(got.Shades), len(c.rows), len(c.want))
			}
			for i, o := range got.Shades {
				want := c.want[i]
				if o.Counts != want.Counts || !nearly(o.Grams, want.Grams) || o.Packs != want.Packs || o.Part != want.Part || o.Spare != want.Spare {
					t.Errorf("shade %q: %+v\nwant %+v", o.Key, o, want)
				}
			}
		})
	}
}

func TestPacksInWords(t *testing.T) {
	for _, c := range []struct {
		pack, strands int
		buy           int
		words         string
	}{
		{25, 1, 1, "1 pack, 1 of 25 from it"},
		{25, 24, 1, "1 pack, 24 of 25 from it"},
		{25, 25, 1, "1 pack"},
		{25, 26, 2, "2 packs, 1 of 25 from the last"},
		{25, 50, 2, "2 packs"},
		{25, 118, 5, "5 packs, 18 of 25 from the last"},
		{1, 3, 3, "3 packs"},
		{0, 3, 0, "sold singly"},
		{-1, 3, 0, "sold singly"},
	} {
		shade := sheet.Shade{Key: 'a', Grams: 1, Pack: c.pack}
		bonds := map[int]sheet.Bond{}
		for slot := range c.strands {
			bonds[slot] = sheet.Bond{Shade: 'a'}
		}
		s := sheetOf(t, []sheet.Shade{shade}).WithRow(sheet.NewRow(sheet.Place{At: 20}, bonds))
		o := Count(s, holes(8)).Shades[0]
		if o.ToBuy() != c.buy || Packs(o) != c.words {
			t.Errorf("%d strands in packs of %d: %d to buy, %q; want %d, %q", c.strands, c.pack, o.ToBuy(), Packs(o), c.buy, c.words)
		}
	}
}
