package tally

import (
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/underveil/internal/money"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/studio"
)

var (
	euro = money.Currency{Code: "EUR", Decimals: 2}
	yen  = money.Currency{Code: "JPY"}
)

// taking are the totals of a sheet with so many bonds of shades, in rows of one bond; one count for each shade.
func taking(shades []sheet.Shade, counts ...Counts) Totals {
	var total Totals
	for i, c := range counts {
		total.Whole += c.Whole
		total.Split += c.Split
		total.Shades = append(total.Shades, OfShade{Shade: shades[i], Counts: c})
	}
	total.Rows = make([]OfRow, total.Bonds())
	for i := range total.Rows {
		total.Rows[i].Whole = 1
	}
	return total
}

// stock is a strand of 500 mm in a studio.
func stock(name string, pack, onHand int, price money.Amount) studio.Strand {
	return studio.Strand{Shade: sheet.Shade{Name: name, Length: 500, Pack: pack}, OnHand: onHand, Price: price}
}

func TestOrderLineWorkedByHand(t *testing.T) {
	for _, c := range []struct {
		name  string
		has   studio.Strand
		spare int
		takes Counts
		want  OrderLine // its numbers and sums only
	}{
		// 25 strands are one pack of 25: 1 x 64.50 to order, and the client pays 25/25 of it.
		{"exactly a pack", stock("oat", 25, 0, 6450), 0, Counts{Whole: 25},
			OrderLine{Planned: 25, Needed: 25, ToBuy: 25, Packs: 1, Bought: 6450, Sum: 6450}},
		// 26 strands open a second pack and leave 50 - 26 = 24: 2 x 64.50 = 129.00 to order. The client pays 26/25 of 64.50 = 67.08.
		{"one more than a pack", stock("oat", 25, 0, 6450), 0, Counts{Whole: 26},
			OrderLine{Planned: 26, Needed: 26, ToBuy: 26, Packs: 2, LeftOver: 24, Bought: 12900, Sum: 6708}},
		// 24 strands leave 1; 24/25 of 64.50 = 61.92.
		{"one less than a pack", stock("oat", 25, 0, 6450), 0, Counts{Whole: 24},
			OrderLine{Planned: 24, Needed: 24, ToBuy: 24, Packs: 1, LeftOver: 1, Bought: 6450, Sum: 6192}},
		// 23 whole and 4 halves are 23 + 2 = 25 strands.
		{"halves that pair", stock("oat", 25, 0, 6450), 0, Counts{Whole: 23, Split: 4},
			OrderLine{Planned: 25, Needed: 25, ToBuy: 25, Packs: 1, Bought: 6450, Sum: 6450}},
		// 23 whole and 5 halves are 23 + 3 = 26 strands, the last of them for one half.
		{"an odd half", stock("oat", 25, 0, 6450), 0, Counts{Whole: 23, Split: 5},
			OrderLine{Planned: 26, Needed: 26, ToBuy: 26, Packs: 2, LeftOver: 24, Bought: 12900, Sum: 6708}},
		// 10 % of 20 are 2: 22, and 3 are left of 25. The client pays the 20: 20/25 of 64.50 = 51.60.
		{"spare that comes out even", stock("oat", 25, 0, 6450), 10, Counts{Whole: 20},
			OrderLine{Planned: 20, Spare: 2, Needed: 22, ToBuy: 22, Packs: 1, LeftOver: 3, Bought: 6450, Sum: 5160}},
		// 10 % of 21 are 2.1, so 3: 24, and 1 is left. 21/25 of 64.50 = 54.18.
		{"spare rounded up", stock("oat", 25, 0, 6450), 10, Counts{Whole: 21},
			OrderLine{Planned: 21, Spare: 3, Needed: 24, ToBuy: 24, Packs: 1, LeftOver: 1, Bought: 6450, Sum: 5418}},
		// 1 % of 1 is 0.01, so 1. 1/25 of 64.50 = 2.58.
		{"spare of a single strand", stock("oat", 25, 0, 6450), 1, Counts{Whole: 1},
			OrderLine{Planned: 1, Spare: 1, Needed: 2, ToBuy: 2, Packs: 1, LeftOver: 23, Bought: 6450, Sum: 258}},
		// 23 and 10 % of it, 2.3 so 3, are 26: the spare strands are what opens the second pack. 23/25 of 64.50 = 59.34.
		{"spare that opens a pack", stock("oat", 25, 0, 6450), 10, Counts{Whole: 23},
			OrderLine{Planned: 23, Spare: 3, Needed: 26, ToBuy: 26, Packs: 2, LeftOver: 24, Bought: 12900, Sum: 5934}},
		// 60 and 6 are 66, 10 of them from the drawer: 56 to buy, 3 packs, 75 - 56 = 19 left. 3 x 64.50 = 193.50 to
		// order. The client pays 60/25 of 64.50 = 154.80.
		{"some from the drawer", stock("oat", 25, 10, 6450), 10, Counts{Whole: 60},
			OrderLine{Planned: 60, Spare: 6, Needed: 66, OnHand: 10, Taken: 10, ToBuy: 56, Packs: 3, LeftOver: 19,
				Bought: 19350, Sum: 15480}},
		// 22 needed, 22 in the drawer: nothing to buy. 20/25 of 64.50 = 51.60.
		{"just enough in the drawer", stock("oat", 25, 22, 6450), 10, Counts{Whole: 20},
			OrderLine{Planned: 20, Spare: 2, Needed: 22, OnHand: 22, Taken: 22, Sum: 5160}},
		// 40 in the drawer, 10 needed: 10 are taken, and the 30 that stay are not left of a pack. 10/25 of 64.50 = 25.80.
		{"more in the drawer than needed", stock("oat", 25, 40, 6450), 0, Counts{Whole: 10},
			OrderLine{Planned: 10, Needed: 10, OnHand: 40, Taken: 10, Sum: 2580}},
		// 1/10 of 1.05 is 10.5 cents, so 11.
		{"a share that ends on a half", stock("oat", 10, 1, 105), 0, Counts{Whole: 1},
			OrderLine{Planned: 1, Needed: 1, OnHand: 1, Taken: 1, Sum: 11}},
		// 2/3 of 1.00 are 66.67 cents, so 67, where two shares of 33 each would be 66.
		{"a share rounded once", stock("oat", 3, 2, 100), 0, Counts{Whole: 2},
			OrderLine{Planned: 2, Needed: 2, OnHand: 2, Taken: 2, Sum: 67}},
		// In yen: 5/20 of 9990 are 2497.5, so 2498; 5 - 3 = 2 to buy are one pack for 9990, 18 left.
		{"without decimals", stock("oat", 20, 3, 9990), 0, Counts{Whole: 5},
			OrderLine{Planned: 5, Needed: 5, OnHand: 3, Taken: 3, ToBuy: 2, Packs: 1, LeftOver: 18, Bought: 9990, Sum: 2498}},
		// Sold singly: 3 strands are 3 packs of one.
		{"sold singly", stock("oat", 0, 0, 300), 0, Counts{Whole: 3},
			OrderLine{Planned: 3, Needed: 3, ToBuy: 3, Packs: 3, Bought: 900, Sum: 900}},
		// Nothing planned needs nothing spare.
		{"nothing", stock("oat", 25, 5, 6450), 50, Counts{}, OrderLine{OnHand: 5}},
		// What makes no sense counts as nothing: no strands short of none, and no price below none.
		{"less than nothing", stock("oat", 25, -5, -6450), -10, Counts{Whole: 1},
			OrderLine{Planned: 1, Needed: 1, ToBuy: 1, Packs: 1, LeftOver: 24}},
	} {
		t.Run(c.name, func(t *testing.T) {
			oat := sheet.Shade{Key: 'a', Name: "oat", Length: 500, Grams: 0.8, Pack: 40} // the studio's pack counts, not this
			st := &studio.Studio{Strands: []studio.Strand{c.has}, Service: studio.Service{Spare: c.spare}}
			l := orderLines(taking([]sheet.Shade{oat}, c.takes))[0]
			l.reckon(st, max(0, c.spare))
			want := c.want
			want.Name, want.Length, want.Grams, want.Counts, want.Stocked = "oat", 500, 0.8, c.takes, true
			want.Pack, want.Price, want.Priced = max(1, c.has.Pack), max(0, c.has.Price), c.has.Price > 0
			if !reflect.DeepEqual(l, want) {
				t.Errorf("%+v\nwant %+v", l, want)
			}
		})
	}
}

// Two letters for the same strand: 1 whole and 3 halves of a, 3 halves of c, are 1 + 6/2 = 4 strands on one line, where apart
// they would be 3 and 2. b is another strand, and d one of another length.
func TestShadesOfOneStrandAreOneLine(t *testing.T) {
	shades := []sheet.Shade{{Key: 'a', Name: "oat", Length: 500, Pack: 25}, {Key: 'b', Name: "honey", Length: 500, Pack: 10},
		{Key: 'c', Name: "oat", Length: 500, Pack: 25}, {Key: 'd', Name: "oat", Length: 400, Pack: 25}}
	s := sheetOf(t, shades, written{20, "a.A.A.(A).C.C.C"}, written{30, "b.d.(.).d"})
	o := OrderOf(s, Count(s, holes(8)), &studio.Studio{})
	var got []string
	planned := map[string]int{}
	for _, l := range o.Lines {
		got = append(got, l.label())
		planned[l.label()] = l.Planned
	}
	if want := []string{"oat, 500 mm", "honey, 500 mm", "oat, 400 mm"}; !slices.Equal(got, want) {
		t.Fatalf("lines %q, want %q", got, want)
	}
	if planned["oat, 500 mm"] != 4 || planned["honey, 500 mm"] != 1 || planned["oat, 400 mm"] != 2 {
		t.Errorf("planned %v", planned)
	}
}

func TestOrderWorkedByHand(t *testing.T) {
	service := studio.Service{Setup: 20 * time.Minute, Row: 5 * time.Minute, Bond: 90 * time.Second, Check: 15 * time.Second,
		Finish: 40 * time.Minute, Hour: 4999, Spare: 10}
	st := &studio.Studio{Name: "by the mill", Currency: euro, Service: service, Strands: []studio.Strand{stock("oat", 25, 4, 6450)}}
	s := sheetOf(t, []sheet.Shade{{Key: 'a', Name: "oat", Length: 500, Pack: 25}}, written{20, "a.A.(a).A'.a"}, written{30, "a.(.).a"})
	o := OrderOf(s, Count(s, holes(8)), st)
	// 5 whole and 2 halves are 6 strands and 7 bonds in 2 rows.
	want := []WorkStep{
		{"laying out", 1, 20 * time.Minute, 20 * time.Minute},
		{"parting and strip", 2, 5 * time.Minute, 10 * time.Minute},
		{"bonds", 7, 90 * time.Second, 630 * time.Second},
		{"looking again", 7, 15 * time.Second, 105 * time.Second},
		{"cut and aftercare", 1, 40 * time.Minute, 40 * time.Minute},
	}
	if !slices.Equal(o.Work, want) {
		t.Errorf("work %v\nwant %v", o.Work, want)
	}
	// 20 + 10 + 40 = 70 min are 4200 s, and 630 and 105 make 4935 s: 82 min 15 s.
	if o.Duration != 4935*time.Second {
		t.Errorf("time %v", o.Duration)
	}
	// Hair: 6 and 1 spare are 7, 4 of them from the drawer and 3 to buy in one pack: 64.50 to order. The client pays the 6:
	// 6/25 of 64.50 = 15.48.
	// Chair: 4935/3600 of 49.99 = 68.5279, so 68.53.
	if o.Buying != 6450 || o.Hair != 1548 || o.Chair != 6853 || o.Total != 8401 || o.Unpriced != nil {
		t.Errorf("hair %d, chair %d, total %d, without a price %q", o.Hair, o.Chair, o.Total, o.Unpriced)
	}
	// By 3600 s at 0.01 in 2 h 30 min, 2.5 smallest units are 3.
	st.Service = studio.Service{Setup: 150 * time.Minute, Hour: 1}
	if o := OrderOf(s, Count(s, holes(8)), st); o.Chair != 3 {
		t.Errorf("chair %d, want 3", o.Chair)
	}
}

func TestWhatHasNoPrice(t *testing.T) {
	st := &studio.Studio{Currency: yen, Strands: []studio.Strand{stock("oat", 20, 3, 0), stock("honey", 10, 0, 900), stock("ash", 10, 0, 500)}}
	st.Strands = append(st.Strands, st.Strands[1], st.Strands[1])
	st.Strands[3].Length, st.Strands[4].Length = 600, 400
	shades := []sheet.Shade{{Name: "oat", Length: 500, Pack: 25}, {Name: "honey", Length: 450, Pack: 12}, {Name: "plum", Length: 500, Pack: 30},
		{Name: "ash", Length: 500, Pack: 25}}
	o := OrderOf(&sheet.Sheet{}, taking(shades, Counts{Whole: 4}, Counts{Whole: 13}, Counts{Whole: 1}, Counts{Whole: 11}), st)
	want := []string{
		"oat, 500 mm: the studio has no price for it",
		"honey, 450 mm: the studio does not have this length; it has 400 mm, 500 mm, 600 mm",
		"plum, 500 mm: the studio does not have it",
		"chair time: the studio has no price for an hour",
	}
	if !slices.Equal(o.Unpriced, want) {
		t.Errorf("without a price %q\nwant %q", o.Unpriced, want)
	}
	// honey: the sheet's packs of 12 count, 13 strands are two. The drawer of oat is used all the same: 4 - 3 = 1 to buy.
	oat, honey := o.Lines[0], o.Lines[1]
	if oat.Taken != 3 || oat.ToBuy != 1 || oat.Pack != 20 || honey.Pack != 12 || honey.Packs != 2 || honey.LeftOver != 11 {
		t.Errorf("oat %+v\nhoney %+v", oat, honey)
	}
	// ash alone has a price: 11 strands are 11/10 of a pack at 500, and 2 packs to order.
	if o.Hair != 550 || o.Buying != 1000 || o.Chair != 0 || o.Total != 550 || oat.Priced || honey.Priced || oat.Sum != 0 || honey.Sum != 0 {
		t.Errorf("hair %d, total %d", o.Hair, o.Total)
	}
	st.Service.Hour = 6000
	if last := OrderOf(&sheet.Sheet{}, taking(shades, Counts{Whole: 1}), st).Unpriced[1]; last != "chair time: the studio does not say how long its work takes" {
		t.Errorf("%q", last)
	}
}

func TestOrderWithoutBondsOrStudio(t *testing.T) {
	s := sheetOf(t, []sheet.Shade{oat})
	st := &studio.Studio{Currency: euro, Service: studio.Service{Setup: time.Hour, Finish: time.Hour, Hour: 6000}}
	o := OrderOf(s, Count(s, holes(8)), st)
	if o.Lines != nil || o.Work != nil || o.Duration != 0 || o.Total != 0 || o.Unpriced != nil {
		t.Errorf("a sheet without bonds takes %+v", o)
	}
	if text := o.Text(80); !strings.Contains(text, "nothing to order yet") {
		t.Errorf("%s", text)
	}
	o = OrderOf(s, taking([]sheet.Shade{{Name: "oat", Length: 500, Pack: 25}}, Counts{Whole: 26}), nil)
	if l := o.Lines[0]; l.Packs != 2 || l.Spare != 0 || l.Priced || o.Total != 0 {
		t.Errorf("without a studio %+v", o)
	}
}

func TestSumsWithoutRoomStayLarge(t *testing.T) {
	if got := plus(math.MaxInt64-1, 2); got != math.MaxInt64 {
		t.Errorf("%d", got)
	}
	if got := plus(math.MaxInt64-2, 2); got != math.MaxInt64 {
		t.Errorf("%d", got)
	}
}
