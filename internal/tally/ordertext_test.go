package tally

import (
	"strings"
	"testing"
	"time"

	"example.org/underveil/internal/money"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/studio"
)

const orderOnAPage = `order and estimate: plain, client 014
studio: by the mill

hair, in strands
  shade             length   each  planned  spare  drawer  to buy    packs  left
  ash blonde 18     500 mm  0.8 g       60      6      10      56  3 of 25    19
  honey with copper, as last time
                    450 mm    1 g       22      3       0      25  2 of 20    15
  Spare strands are 10 % of those planned, rounded up.

work
                                              times        each         together
  laying out                                      1      20 min           20 min
  parting and strip                               4       5 min           20 min
  bonds                                          83  1 min 30 s   2 h 4 min 30 s
  looking again                                  83        15 s      20 min 45 s
  cut and aftercare                               1      45 min           45 min
  chair time                                                     3 h 50 min 15 s

estimate, in EUR
                                                   a pack  to order  client pays
  ash blonde 18, 500 mm                             64.50    193.50       154.80
  honey with copper, as last time, 450 mm                               no price
  hair                                                       193.50       154.80
  chair, 3 h 50 min 15 s at 60.00 an hour                                 230.25
  total of what has a price                                               385.05

Not in the total:
  honey with copper, as last time, 450 mm: the studio does not have this length;
  it has 600 mm
The client pays the strands planned, each its share of the price of a pack.
Spare strands and what is left of the packs go into the drawer.
This is an estimate. It stands only after hair and scalp have been looked at,
and may change until then.
`

// ash: 58 whole and 3 halves are 60, worked out in TestOrderLineWorkedByHand. honey: 22 and 10 % of it, 2.2 so 3, are 25:
// two packs of 20 leave 15. 3 h 50 min 15 s are 13815 s, at 60.00 an hour 230.25.
func TestTextWrittenOut(t *testing.T) {
	st := &studio.Studio{Name: "by the mill", Currency: euro, Service: studio.Service{Setup: 20 * time.Minute, Row: 5 * time.Minute,
		Bond: 90 * time.Second, Check: 15 * time.Second, Finish: 45 * time.Minute, Hour: 6000, Spare: 10},
		Strands: []studio.Strand{stock("ash blonde 18", 25, 10, 6450), stock("honey with copper, as last time", 20, 0, 6450)}}
	st.Strands[1].Length = 600
	shades := []sheet.Shade{{Name: "ash blonde 18", Length: 500, Grams: 0.8, Pack: 25},
		{Name: "honey with copper, as last time", Length: 450, Grams: 1, Pack: 20}}
	totals := taking(shades, Counts{Whole: 58, Split: 3}, Counts{Whole: 22})
	totals.Rows = totals.Rows[:5]
	totals.Rows[4] = OfRow{} // a row without bonds takes no time
	got := OrderOf(&sheet.Sheet{Title: "plain", Client: "014"}, totals, st).Text(80)
	if got != orderOnAPage {
		t.Errorf("%s\nwant\n%s", got, orderOnAPage)
	}
}

// TestTextFitsThePage holds random orders with hard names to the width, and to what is safe to show.
func TestTextFitsThePage(t *testing.T) {
	rng := seeded(59)
	for range fewer(1000, 100) {
		o, _ := randomOrder(rng.IntN, randomSheet(rng))
		for i := range o.Lines { // as wide as figures get
			if rng.IntN(3) == 0 {
				o.Lines[i].Length, o.Lines[i].Grams, o.Lines[i].Pack = 1158.8123, 0.8123456, 1000
				o.Lines[i].Price, o.Lines[i].Bought, o.Lines[i].Sum = 1e11, 999999999999, 999999999999
			}
		}
		width := []int{72, 80, 120}[rng.IntN(3)]
		text := o.Text(width)
		for line := range strings.Lines(text) {
			line = strings.TrimSuffix(line, "\n")
			if printable.Width(line) > width || !printable.Clean(line) || strings.TrimRight(line, " ") != line {
				t.Fatalf("%d columns of %d: %q\n%s", printable.Width(line), width, line, text)
			}
		}
		for _, l := range o.Lines { // however it is broken over lines, no name is cut
			if squeezed := strings.Join(strings.Fields(printable.Line(l.Name)), ""); !strings.Contains(strings.Join(strings.Fields(text), ""), squeezed) {
				t.Fatalf("%q is not in\n%s", l.Name, text)
			}
		}
	}
}

func TestSpareInWords(t *testing.T) {
	totals := taking([]sheet.Shade{{Name: "oat", Length: 500, Pack: 25}}, Counts{Whole: 1})
	for spare, want := range map[int]string{0: "  No spare strands are planned.", 1: "  Spare strands are 1 % of those planned, "} {
		text := OrderOf(&sheet.Sheet{}, totals, &studio.Studio{Currency: euro, Service: studio.Service{Spare: spare}}).Text(80)
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
}

// Chair time without a price is not shown as one of 0.00, and the total says that it leaves it out.
func TestChairWithoutPrice(t *testing.T) {
	st := &studio.Studio{Currency: euro, Service: studio.Service{Setup: 20 * time.Minute}, Strands: []studio.Strand{stock("oat", 25, 0, 6450)}}
	totals := taking([]sheet.Shade{{Name: "oat", Length: 500, Pack: 25}}, Counts{Whole: 1})
	for hour, want := range map[money.Amount][]string{
		0:    {"chair, 20 min no price", "total of what has a price 2.58", "chair time: the studio has no price for an hour"},
		-1:   {"chair, 20 min no price"},
		6000: {"chair, 20 min at 60.00 an hour 20.00", "total 22.58"},
	} {
		st.Service.Hour = hour
		text := strings.Join(strings.Fields(OrderOf(&sheet.Sheet{}, totals, st).Text(80)), " ")
		for _, w := range want {
			if !strings.Contains(text, w) {
				t.Errorf("at %d an hour there is no %q in\n%s", hour, w, text)
			}
		}
	}
}

func TestInHours(t *testing.T) {
	for d, want := range map[time.Duration]string{
		0: "0 min", 15 * time.Second: "15 s", 90 * time.Second: "1 min 30 s", time.Hour: "1 h", 155 * time.Minute: "2 h 35 min",
		time.Hour + time.Second: "1 h 1 s", 26 * time.Hour: "26 h", time.Millisecond: "0 min",
	} {
		if got := inHours(d); got != want {
			t.Errorf("%v is %q, want %q", d, got, want)
		}
	}
}
