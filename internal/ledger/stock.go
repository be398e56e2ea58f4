package ledger

import (
	"cmp"
	"iter"
	"maps"
	"slices"
	"strings"
	"time"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/studio"
	"example.org/underveil/internal/tally"
	"example.org/underveil/internal/unit"
	"example.org/underveil/internal/visit"
)

// StockWeeks is how far ahead Stock usually looks.
const StockWeeks = 8

// Stock is what the coming visits take: new strands and new tips.
//
// A planned fitting takes the strands of its rows. A refit takes new strands in place of those lost so far, and of those that
// will be shorter than was promised once they are cut back for a new tip, where a new one of their kind is long enough; and a new
// tip for each piece that is in, whatever becomes of it. Strands used before come out of the client's own drawer; what
// that lacks is new strands of the kind that they were. Two halves of one client make a strand; a half left over is a
// strand opened. Spare strands are as in an order.
type Stock struct {
	From, Until time.Time
	Sheets      int // that were read

	Fittings int // sheets with a planned fitting
	Undated  int // of these, without a date
	Past     int // of these, with a date gone by
	Later    int // planned for after Until, and not counted
	Idle     int // with rows, and all strands taken out since they were planned: not counted
	Returns  int // sheets with strands in that are due by Until
	Tips     int

	Units unit.Unit // that Text shows lengths in
	Needs []Need    // by name and length
	Spare int       // strands at hand for those that go wrong, in % of those needed

	strands map[kind]*sum
}

// Need is what the coming visits take of the strands of one name and length. Numbers are strands.
type Need struct {
	Parts
	Clients         int // sheets that it is for
	tally.OrderLine     // the strand, what the studio has of it, and is to buy. Its name is not yet safe to show
}

// Parts are what strands are needed for.
type Parts struct {
	Fitting int // planned fittings
	Instead int // of these, in place of strands used before of which there are too few
	Lost    int // in place of strands lost so far
	Short   int // in place of strands that will be too short
}

// New is how many strands it is in all.
func (p Parts) New() int { return p.Fitting + p.Lost + p.Short }

func (p *Parts) add(q Parts) {
	p.Fitting += q.Fitting
	p.Instead += q.Instead
	p.Lost += q.Lost
	p.Short += q.Short
}

// kind is what strands are bought by.
type kind struct {
	name   string
	length scalp.MM
}

// sum is a need while it is added up.
type sum struct {
	Parts
	clients int
	grams   float64
	pack    int
}

// StockOf adds up what the visits from one day to another take, over the sheets of a folder, and what of it a studio is to buy.
// What could not be read, and the error, are as those of Each.
func StockOf(folder string, from, until time.Time, st *studio.Studio) (Stock, []Unread, error) {
	stock := Stock{From: from, Until: until, Spare: max(0, st.Service.Spare), strands: map[kind]*sum{}}
	sheets, unread, err := Each(folder,
		func(_ string, s *sheet.Sheet) (share, bool) { return shareOf(st.House(s), from, until), true },
		stock.add)
	stock.Sheets = sheets
	stock.reckon(st)
	return stock, unread, err
}

// share is what one client takes.
type share struct {
	stands  standing
	tips    int
	strands map[kind]taken
}

// standing is how a sheet counts.
type standing uint8

const (
	neither standing = iota // nothing is planned, and nothing is in that is due
	fitting
	undated
	past
	later
	idle
	returns
)

// taken is what one client takes of a kind.
type taken struct {
	Parts
	like sheet.Shade // for its grams and packs
}

// shareOf is what the client of a sheet takes.
func shareOf(s *sheet.Sheet, from, until time.Time) share {
	in := visit.Now(s)
	if len(in) == 0 {
		return fittingOf(s, from, until)
	}
	if state := visit.StateOn(s, until); state != visit.Overdue && state != visit.DueNow {
		return share{}
	}
	return share{returns, len(in), returnOf(s, in)}
}

// fittingOf is what a planned fitting takes.
func fittingOf(s *sheet.Sheet, from, until time.Time) share {
	if s.Bonds() == 0 {
		return share{}
	}
	last := s.LastVisit()
	begun := last != nil && last.Open && last.Kind.Fits()
	if last != nil && !begun && s.Date <= last.Date {
		return share{stands: idle} // the rows may be those that were taken out
	}
	stands := fitting
	switch day, err := visit.Day(s.Date); {
	case begun:
	case err != nil:
		stands = undated
	case day.After(until):
		return share{stands: later}
	case day.Before(from):
		stands = past
	}
	fresh, instead := pieces{}, pieces{}
	for key, p := range visit.ByShade(sheet.BondsOf(s.Rows)) {
		if h, _ := s.Shade(key); h.Used == 0 {
			fresh.add(h, p)
			instead.add(h, p)
		}
	}
	for key, p := range visit.Missing(s) {
		h, _ := s.Shade(key)
		instead.add(firstOf(s, h), p)
	}
	strands := map[kind]taken{}
	for k, p := range instead {
		all := p.strands()
		strands[k] = taken{Parts{Fitting: all, Instead: all - fresh[k].strands()}, p.like}
	}
	return share{stands: stands, strands: strands}
}

// returnOf is what a refit takes of what is now in the head.
func returnOf(s *sheet.Sheet, in map[sheet.Spot]visit.Held) map[kind]taken {
	lost, all := pieces{}, pieces{}
	for key, p := range visit.ByShade(maps.Values(lostOf(s, in))) {
		h, _ := s.Shade(key)
		lost.add(firstOf(s, h), p)
		all.add(firstOf(s, h), p)
	}
	cut, _ := s.Limit(sheet.FigureRetip)
	for key, p := range visit.ByShade(bondsIn(in)) {
		h, _ := s.Shade(key)
		if promised, short := visit.Promised(s, visit.Recut(h, scalp.MM(cut))); short && firstOf(s, h).Length >= promised {
			all.add(firstOf(s, h), p)
		}
	}
	strands := map[kind]taken{}
	for k, p := range all {
		gone := lost[k].strands()
		strands[k] = taken{Parts{Lost: gone, Short: p.strands() - gone}, p.like}
	}
	return strands
}

// lostOf are the bonds lost since the last fitting or refit whose slots are empty.
func lostOf(s *sheet.Sheet, in map[sheet.Spot]visit.Held) map[sheet.Spot]sheet.Bond {
	since := 0
	for n, v := range s.Visits {
		if v.Kind.Fits() {
			since = n
		}
	}
	lost := map[sheet.Spot]sheet.Bond{}
	for n := since + 1; n < len(s.Visits); n++ {
		var before map[sheet.Spot]visit.Held
		for at, mark := range s.Visits[n].Seen {
			if _, filled := in[at]; filled || mark.Plain() != sheet.Lost {
				continue
			}
			if before == nil {
				before = visit.In(s, n)
			}
			if held, ok := before[at]; ok {
				lost[at] = held.Bond
			}
		}
	}
	return lost
}

// firstOf is the kind of strand that one used before was when it was new.
func firstOf(s *sheet.Sheet, h sheet.Shade) sheet.Shade {
	if first, ok := s.Shade(visit.New(s, h.Key)); ok {
		return first
	}
	return h
}

// bondsIn are the bonds that are in the head.
func bondsIn(in map[sheet.Spot]visit.Held) iter.Seq[sheet.Bond] {
	return func(yield func(sheet.Bond) bool) {
		for _, h := range in {
			if !yield(h.Bond) {
				return
			}
		}
	}
}

// pieces are pieces by kind, so that halves pair across letters.
type pieces map[kind]piece

type piece struct {
	visit.Pieces
	like sheet.Shade
}

func (p pieces) add(h sheet.Shade, n visit.Pieces) {
	k := kind{h.Name, h.Length}
	have := p[k]
	have.Whole += n.Whole
	have.Half += n.Half
	have.like = h
	p[k] = have
}

// strands is how many strands the pieces take.
func (p piece) strands() int { return tally.Counts{Whole: p.Whole, Split: p.Half}.Strands() }

// add takes up what one client takes.
func (st *Stock) add(c share) {
	switch c.stands {
	case undated:
		st.Undated++
	case past:
		st.Past++
	case later:
		st.Later++
	case idle:
		st.Idle++
	case returns:
		st.Returns++
	}
	if c.stands == fitting || c.stands == undated || c.stands == past {
		st.Fittings++
	}
	st.Tips += c.tips
	for k, t := range c.strands {
		if t.New() == 0 {
			continue
		}
		all := st.strands[k]
		if all == nil {
			all = &sum{}
			st.strands[kind{strings.Clone(k.name), k.length}] = all // or it would hold on to all of the file
		}
		all.clients++
		all.add(t.Parts)
		all.grams = max(all.grams, t.like.Grams) // sheets may differ, and are read in any order
		all.pack = max(all.pack, t.like.Pack)
	}
}

// reckon fills in what the studio has, and is to buy, as an order does.
func (st *Stock) reckon(from *studio.Studio) {
	for k, all := range st.strands {
		counts := tally.Counts{Whole: all.New()}
		totals := tally.Totals{Counts: counts, Shades: []tally.OfShade{{
			Shade: sheet.Shade{Name: k.name, Length: k.length, Grams: all.grams, Pack: all.pack}, Counts: counts,
		}}}
		st.Needs = append(st.Needs, Need{all.Parts, all.clients, tally.OrderOf(&sheet.Sheet{}, totals, from).Lines[0]})
	}
	slices.SortFunc(st.Needs, func(a, b Need) int { return cmp.Or(cmp.Compare(a.Name, b.Name), cmp.Compare(a.Length, b.Length)) })
}
