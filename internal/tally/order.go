package tally

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"example.org/underveil/internal/money"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/studio"
	"example.org/underveil/internal/unit"
	"example.org/underveil/internal/visit"
)

// Order is what a sheet takes of a studio: strands to buy and from the drawer, chair time, and the estimate.
//
// The client pays the strands planned, each its share of the price of a pack, wherever they come from. Spare strands, and what
// is left of the packs bought, go into the drawer and wait for the next client, so nobody pays for them twice; what
// the packs come to stands beside it, for the order. Each line is rounded once, to the smallest unit of the currency and from
// halves away from zero, and so is the chair, on the whole seconds of all the work. The total is exactly the sum of
// the lines and the chair. What has no price is in no sum, and Unpriced tells of it.
type Order struct {
	Title, Client string    // of the sheet; either may be empty
	Studio        string    // may be empty
	Units         unit.Unit // that Text shows lengths in

	Lines    []OrderLine // one for each shade and length with bonds, in the order of the sheet
	Work     []WorkStep  // none while there is no bond
	In       int         // bonds that are in the head already, so that what is planned need not be bought for them again
	Tips     int         // new tips for the strands that came out in the refit that is going on
	Spare    int         // strands at hand for those that go wrong, in % of those planned
	Duration time.Duration

	Currency money.Currency
	Hour     money.Amount // of chair time
	Buying   money.Amount // all the packs to buy
	Hair     money.Amount // all the lines, as the client pays them
	Chair    money.Amount // all the work
	Total    money.Amount // hair and chair
	Unpriced []string     // what no sum has in it and why, a phrase each
}

// OrderLine is the strands of one name and length, new ones and re-used ones apart. Shades of the sheet with the same of both are one line, whatever
// their letters, so that halves pair across them. Numbers are strands unless they say otherwise.
type OrderLine struct {
	Name   string
	Length scalp.MM
	Grams  float64 // of one strand, as the sheet has it
	Counts

	Planned  int // whole strands: two halves make one
	Spare    int // the studio's % of those planned, rounded up
	Needed   int // planned and spare
	OnHand   int // in the drawer
	Taken    int // from the drawer: no more than are needed
	ToBuy    int
	Pack     int // strands in a pack: the studio's figure, or the sheet's where the studio has no such strand
	Packs    int // whole packs to buy
	LeftOver int // of the packs bought, to carry into the drawer

	Missing   int          // of re-used strands, those planned that did not come out: they are in no sum
	Reused    bool         // strands that came out of the client's head: none to buy, nothing to pay
	Stocked   bool         // whether the studio has the strand
	Elsewhere []scalp.MM   // lengths in which it has the name, shortest first, where it does not
	Priced    bool         // whether there is a price of a pack
	Price     money.Amount // of a pack
	Bought    money.Amount // the packs to buy
	Sum       money.Amount // what the client pays: the strands planned
}

// WorkStep is a part of the work.
type WorkStep struct {
	Name      string
	Count     int // how many times it is done
	Each, All time.Duration
}

// OrderOf is the order and the estimate for a sheet, of which totals are the counts. Without a studio nothing has a price.
func OrderOf(s *sheet.Sheet, totals Totals, st *studio.Studio) Order {
	if st == nil {
		st = &studio.Studio{}
	}
	o := Order{Title: s.Title, Client: s.Client, Studio: st.Name, Currency: st.Currency,
		Spare: max(0, st.Service.Spare), Hour: max(0, st.Service.Hour)}
	if last := s.LastVisit(); last != nil && last.Open {
		o.Tips = last.Tips()
	}
	if totals.Bonds() == 0 {
		return o
	}
	o.Lines = orderLines(totals)
	for i := range o.Lines {
		o.Lines[i].reckon(st, o.Spare)
	}
	o.countMissing(s)
	if _, open := visit.Open(s); !open {
		o.In = len(visit.Now(s))
	}
	o.Work = workSteps(totals, st.Service)
	o.addUp()
	return o
}

// countMissing takes re-used strands that are not there out of the drawer again.
func (o *Order) countMissing(s *sheet.Sheet) {
	for key, short := range visit.Missing(s) {
		h, _ := s.Shade(key)
		for i := range o.Lines {
			if l := &o.Lines[i]; l.Reused && l.Name == h.Name && l.Length == h.Length {
				l.Missing += (short.Halves() + 1) / 2
				l.Taken = max(0, l.Planned-l.Missing)
			}
		}
	}
}

// addUp fills in the sums, and what is in none of them.
func (o *Order) addUp() {
	for _, l := range o.Lines {
		o.Buying, o.Hair = plus(o.Buying, l.Bought), plus(o.Hair, l.Sum)
		if !l.Priced && !l.Reused {
			o.Unpriced = append(o.Unpriced, l.label()+": "+l.whyUnpriced())
		}
	}
	for _, w := range o.Work {
		o.Duration += w.All
	}
	o.Chair = o.Hour.Portion(int64(o.Duration/time.Second), int64(time.Hour/time.Second))
	if why := o.whyNoChair(); why != "" {
		o.Unpriced = append(o.Unpriced, "chair time: "+why)
	}
	o.Total = plus(o.Hair, o.Chair)
}

// whyNoChair says why chair time has no price, or nothing where it has one.
func (o Order) whyNoChair() string {
	switch {
	case len(o.Work) == 0:
		return ""
	case o.Hour == 0:
		return "the studio has no price for an hour"
	case o.Duration == 0:
		return "the studio does not say how long its work takes"
	}
	return ""
}

// orderLines are the lines of an order with what they have from the sheet alone.
func orderLines(totals Totals) []OrderLine {
	var lines []OrderLine
	for _, o := range totals.Shades {
		i := slices.IndexFunc(lines, func(l OrderLine) bool { return l.Name == o.Name && l.Length == o.Length && l.Reused == (o.Used > 0) })
		if i < 0 {
			i = len(lines)
			lines = append(lines, OrderLine{Name: o.Name, Length: o.Length, Grams: o.Shade.Grams, Pack: o.Pack, Reused: o.Used > 0})
		}
		l := &lines[i]
		l.Whole += o.Whole
		l.Split += o.Split
		l.Trimmed += o.Trimmed
	}
	return lines
}

// reckon fills in what the studio has and charges. spare is in %.
func (l *OrderLine) reckon(st *studio.Studio, spare int) {
	l.Planned = l.Strands()
	if l.Reused {
		l.Needed, l.Taken, l.Pack = l.Planned, l.Planned, 1
		return
	}
	l.Spare = (l.Planned*spare + 99) / 100
	l.Needed = l.Planned + l.Spare
	if kind := st.Find(l.Name, l.Length); kind != nil {
		l.Stocked, l.Pack, l.OnHand = true, kind.Pack, max(0, kind.OnHand)
		l.Priced, l.Price = kind.Price > 0, max(0, kind.Price)
	} else {
		l.Elsewhere = lengthsOf(l.Name, st)
	}
	l.Pack = max(1, l.Pack) // sold singly is a pack of one
	l.Taken = min(l.OnHand, l.Needed)
	l.ToBuy = l.Needed - l.Taken
	l.Packs = (l.ToBuy + l.Pack - 1) / l.Pack
	l.LeftOver = l.Packs*l.Pack - l.ToBuy
	l.Bought = l.Price.Times(l.Packs)
	l.Sum = l.Price.Portion(int64(l.Planned), int64(l.Pack))
}

// lengthsOf are the lengths in which a studio has strands of a name, the shortest first.
func lengthsOf(name string, st *studio.Studio) []scalp.MM {
	var lengths []scalp.MM
	for _, kind := range st.Strands {
		if kind.Name == name {
			lengths = append(lengths, kind.Length)
		}
	}
	slices.Sort(lengths)
	return slices.Compact(lengths)
}

// label is the strand in words: "oat, 500 mm".
func (l OrderLine) label() string { return fmt.Sprintf("%s, %g mm", l.Name, float64(l.Length)) }

// whyUnpriced says why there is no price of a pack.
func (l OrderLine) whyUnpriced() string {
	switch {
	case l.Reused:
		return "re-used"
	case l.Stocked:
		return "the studio has no price for it"
	case l.Elsewhere == nil:
		return "the studio does not have it"
	}
	lengths := make([]string, len(l.Elsewhere))
	for i, length := range l.Elsewhere {
		lengths[i] = fmt.Sprintf("%g mm", float64(length))
	}
	return "the studio does not have this length; it has " + strings.Join(lengths, ", ")
}

// workSteps are the parts of the work in the order in which they are done.
func workSteps(totals Totals, service studio.Service) []WorkStep {
	rows := 0
	for _, r := range totals.Rows {
		if r.Bonds() > 0 {
			rows++
		}
	}
	steps := []WorkStep{
		{Name: "laying out", Count: 1, Each: service.Setup},
		{Name: "parting and strip", Count: rows, Each: service.Row},
		{Name: "bonds", Count: totals.Bonds(), Each: service.Bond},
		{Name: "looking again", Count: totals.Bonds(), Each: service.Check},
		{Name: "cut and aftercare", Count: 1, Each: service.Finish},
	}
	for i := range steps {
		steps[i].All = time.Duration(steps[i].Count) * steps[i].Each
	}
	return steps
}

// plus is the sum of two amounts of at least zero. What has no room in an Amount becomes the largest that has.
func plus(a, b money.Amount) money.Amount {
	if a > math.MaxInt64-b {
		return math.MaxInt64
	}
	return a + b
}
