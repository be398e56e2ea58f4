package visit

import (
	"math/rand/v2"
	"testing"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// planned is a sheet with three rows of two shades, whole, split and trimmed, on a medium head.
func planned(t *testing.T) *sheet.Sheet {
	t.Helper()
	s := sheet.New(scalp.Sizes[1].Measures)
	s = s.With(func(c *sheet.Sheet) {
		c.Hair.Length = 300
		c.Wish, c.Amounts.Length = []sheet.Look{sheet.Length}, 500
		c.Shades = []sheet.Shade{{Key: 'a', Name: "oat", Length: 500, Grams: 0.8, Pack: 25}, {Key: 'b', Name: "rye", Length: 500, Grams: 0.8, Pack: 25}}
	})
	for height, bonds := range map[scalp.MM]string{50: "a.b.(a).b.a", 70: "A.a.b.a.(B).a.b.a.A", 90: "a'.B.a.(b).a.B.a'"} {
		r, err := sheet.ParseBonds(sheet.Place{At: height}, bonds)
		if err != nil {
			t.Fatal(err)
		}
		s = s.WithRow(r)
	}
	return s
}

// newStrands is how many halves of strands have come from packs into the head, over all visits.
func newStrands(s *sheet.Sheet) int {
	halves := 0
	for _, v := range s.Visits {
		for key, p := range ByShade(sheet.BondsOf(v.Fitted)) {
			if h, _ := s.Shade(key); h.Used == 0 {
				halves += p.Halves()
			}
		}
	}
	return halves
}

// whereabouts counts where the halves are that came from packs: in the head, lost, in the drawer, put by, thrown away.
func whereabouts(s *sheet.Sheet) int {
	halves := 0
	of := func(b sheet.Bond) int { return int(2 * b.Strands()) }
	for _, h := range Now(s) {
		halves += of(h.Bond)
	}
	for n, v := range s.Visits {
		in := In(s, n)
		for at, mark := range v.Seen {
			if mark.Plain() == sheet.Lost {
				halves += of(in[at].Bond)
			}
		}
		unresolved := CameOut(s, n)
		for _, o := range v.Strands {
			each := 2
			if o.Split {
				each = 1
			}
			halves += each * (o.Kept + o.Thrown)
			unresolved[Kind{o.Shade, o.Split}] -= o.Pieces()
		}
		for kind, pieces := range unresolved {
			if kind.Split {
				halves += pieces
			} else {
				halves += 2 * pieces
			}
		}
	}
	for _, p := range Drawer(s) {
		halves += p.Halves()
	}
	return halves
}

// balanced holds a sheet to its accounts: of every visit, and of all strands that ever came out of a pack.
func balanced(t *testing.T, s *sheet.Sheet, when string) {
	t.Helper()
	before := 0
	for n := range s.Visits {
		a := AccountOf(s, n)
		if a.Before != before || a.After != a.Before-a.Lost-a.Out+a.Fitted {
			t.Fatalf("%s: visit %d begins with %d after %d, and has %+v", when, n, a.Before, before, a)
		}
		before = a.After
	}
	if in := len(Now(s)); in != before {
		t.Fatalf("%s: %d bonds in, the visits say %d", when, in, before)
	}
	if placed, found := newStrands(s), whereabouts(s); placed != found {
		t.Fatalf("%s: %d halves came from packs, %d are accounted for", when, placed, found)
	}
}

// The life of one sheet: planned, fitted, inspected, refitted twice, taken out. The figures are reckoned by hand.
func TestLifeOfASheet(t *testing.T) {
	s := planned(t)
	table, err := slots.For(s, nil)
	if err != nil {
		t.Fatal(err)
	}
	begin := func(kind sheet.VisitKind, date string) int {
		t.Helper()
		next, err := Begin(s, kind, date, "R")
		if err != nil {
			t.Fatal(err)
		}
		s = next
		return len(s.Visits) - 1
	}
	finish := func(n int) {
		t.Helper()
		next, err := Finish(s, n)
		if err != nil {
			t.Fatal(err)
		}
		s = next
		balanced(t, s, s.Visits[n].Date)
	}
	fitAll := func(n int) {
		t.Helper()
		for {
			all := Progress{Done: true}
			for _, r := range s.Rows {
				var row []sheet.Spot
				for slot := range r.All() {
					row = append(row, sheet.Spot{At: r.Place, Slot: slot})
				}
				all = all.And(ProgressIn(s, n, row))
			}
			if all.Done {
				return
			}
			s = Tick(s, n, all.Next)
			balanced(t, s, "fitting "+all.Next.String())
		}
	}
	wants := func(what string, got, want any) {
		t.Helper()
		if got != want {
			t.Errorf("%s: %v, want %v", what, got, want)
		}
	}

	// 5 + 9 + 7 = 21 bonds; one is made whole where a half was planned, one is left out: 20.
	n := begin(sheet.Fitting, "2026-03-02")
	s = Fit(s, n, sheet.Spot{At: sheet.Place{At: 90}, Slot: -4}, sheet.Bond{Shade: 'b'})
	s = Leave(s, n, sheet.Spot{At: sheet.Place{At: 50}, Slot: 0})
	fitAll(n)
	finish(n)
	wants("fitted", AccountOf(s, n), Account{Fitted: 20, After: 20})
	wants("otherwise than planned", len(Differences(s, n)), 2)
	// Row 70 has halves of a at both ends and one of b in the middle, row 90 one half of b on the right: 4 halves and 16 wholes.
	wants("halves from packs", newStrands(s), 16*2+4)

	// After ten days: one lost and replaced, one lost and left empty, one slipped and mended.
	n = begin(sheet.Inspection, "2026-03-12")
	lost, empty, slipped := sheet.Spot{At: sheet.Place{At: 70}, Slot: -6}, sheet.Spot{At: sheet.Place{At: 70}, Slot: 6}, sheet.Spot{At: sheet.Place{At: 90}, Slot: 2}
	s = See(s, n, lost, sheet.Lost)
	s = See(s, n, empty, sheet.Lost)
	s = See(s, n, slipped, sheet.Slipped)
	for _, at := range Unseen(s, n) {
		s = See(s, n, at, sheet.Sealed)
	}
	wants("left to mend", len(LeftToMend(s, n)), 3)
	s = Replace(s, n, lost, sheet.Bond{Shade: 'a'})
	s = Mend(s, n, empty)
	s = Mend(s, n, slipped)
	wants("left to mend", len(LeftToMend(s, n)), 0)
	finish(n)
	wants("inspected", AccountOf(s, n), Account{Before: 20, Lost: 2, Fitted: 1, After: 19, Slipped: 1, Replaced: 1})

	// The first refit, after eight weeks: one more lost, 18 out. Of 10 whole a one is thrown away and one put by.
	n = begin(sheet.Refit, "2026-04-27")
	s = See(s, n, sheet.Spot{At: sheet.Place{At: 50}, Slot: 2}, sheet.Lost) // a whole b
	for _, at := range Unseen(s, n) {
		s = See(s, n, at, sheet.TakenOut)
	}
	out := CameOut(s, n)
	whole, _ := out[Kind{Shade: 'a'}], out[Kind{Shade: 'b'}]
	outcomes := Proposed(s, n)
	outcomes[0].Retipped, outcomes[0].Thrown, outcomes[0].Kept = whole-2, 1, 1
	next, err := Resolve(s, n, outcomes)
	if err != nil {
		t.Fatal(err)
	}
	s = next
	wants("out", AccountOf(s, n), Account{Before: 19, Lost: 1, Out: 18})
	c, _ := s.Shade('c')
	// 500 mm less 10 mm; 0.8 g x 490/500 = 0.784 g.
	wants("re-tipped", c, sheet.Shade{Key: 'c', Name: "oat", Length: 490, Grams: 0.8 * 490 / 500, Pack: 25, Used: 1, Retipped: 1, Was: 'a'})
	for cut, want := range map[scalp.MM]bool{10: false, 20: false, 21: true} {
		if length, short := Promised(s, Recut(s.Shades[0], cut)); short != want || length != 500 {
			t.Errorf("%g mm off 500 mm, of %g mm promised: short is %v", float64(cut), float64(length), short)
		}
	}
	s = Reuse(s)
	wants("missing", len(Missing(s)), 0)
	balanced(t, s, "before the first refit")
	fitAll(n)
	finish(n)
	wants("in after the first refit", len(Now(s)), s.Bonds())

	// The second, eight weeks on: nothing lost, all re-tipped; half a hole aside.
	n = begin(sheet.Refit, "2026-06-22")
	for _, at := range Unseen(s, n) {
		s = See(s, n, at, sheet.TakenOut)
	}
	if next, err = Resolve(s, n, Proposed(s, n)); err != nil {
		t.Fatal(err)
	}
	s = Reuse(next)
	s = Change(s.With(func(c *sheet.Sheet) { c.Aside = true }), n, func(v *sheet.Visit) { v.Aside = true })
	if table, err = slots.For(s, table); err != nil {
		t.Fatal(err)
	}
	if table.Begin != 4 {
		t.Errorf("half a hole aside is %g mm", float64(table.Begin))
	}
	fitAll(n)
	finish(n)
	twice := 0
	for _, h := range Now(s) {
		if shade, _ := s.Shade(h.Shade); shade.Used == 2 {
			twice++
			if shade.Length != 480 {
				t.Errorf("in twice before and %g mm long", float64(shade.Length))
			}
		}
	}
	if twice == 0 {
		t.Error("no strand is in for the third time")
	}

	n = begin(sheet.Removal, "2026-08-17")
	for _, at := range Unseen(s, n) {
		s = See(s, n, at, sheet.TakenOut)
	}
	last := Proposed(s, n)
	for i := range last {
		last[i].Thrown, last[i].Retipped = last[i].Pieces(), 0
	}
	if next, err = Resolve(s, n, last); err != nil {
		t.Fatal(err)
	}
	s = next
	finish(n)
	wants("in at the end", len(Now(s)), 0)
	if _, in := NextDue(s); in {
		t.Error("a client with nothing in is due")
	}
}

// Whatever is done, in any order, every strand is accounted for: those placed are kept, lost or removed.
func TestStrandsAreAccountedFor(t *testing.T) {
	lives := 300
	if testing.Short() {
		lives = 30
	}
	for seed := range lives {
		r := rand.New(rand.NewPCG(uint64(seed), 5))
		s := planned(t)
		date := "2026-03-02"
		for range 2 + r.IntN(7) {
			s = anyVisit(t, r, s, date)
			if t.Failed() {
				t.Fatalf("seed %d", seed)
			}
		}
	}
}

// anyVisit is a visit in which anything happens that can.
func anyVisit(t *testing.T, r *rand.Rand, s *sheet.Sheet, date string) *sheet.Sheet {
	t.Helper()
	kind := sheet.VisitKinds[r.IntN(len(sheet.VisitKinds))]
	next, err := Begin(s, kind, date, "")
	if err != nil {
		return s
	}
	s = next
	n := len(s.Visits) - 1
	for _, at := range Unseen(s, n) {
		marks := []sheet.Mark{sheet.Sealed, sheet.Sealed, sheet.TooMuch, sheet.Slipped, sheet.Lost, sheet.TakenOut}
		if kind.TakesOut() {
			marks = []sheet.Mark{sheet.TakenOut, sheet.TakenOut, sheet.TakenOut, sheet.Lost}
		}
		s = See(s, n, at, marks[r.IntN(len(marks))])
		switch r.IntN(3) {
		case 0:
			s = Mend(s, n, at)
		case 1:
			if !kind.TakesOut() {
				s = Replace(s, n, at, sheet.Bond{Shade: s.Shades[r.IntN(2)].Key, Split: r.IntN(3) == 0})
			}
		case 2:
			if r.IntN(4) == 0 { // a slip of the finger
				was := s.Visits[n].Seen[at].Plain()
				s = See(s, n, at, sheet.Sealed)
				s = See(s, n, at, was)
			}
		}
		balanced(t, s, "looking")
	}
	outcomes := Proposed(s, n)
	for i := range outcomes {
		o := &outcomes[i]
		o.Cut = scalp.MM(r.IntN(30))
		for range o.Retipped {
			o.Retipped--
			switch k := r.IntN(5); {
			case k == 0 && !o.Split:
				o.Halved++
			case k == 1:
				o.Kept++
			case k == 2:
				o.Thrown++
			default:
				o.Retipped++
			}
		}
	}
	if next, err = Resolve(s, n, outcomes); err != nil {
		return s.WithoutVisit(n) // all letters are taken
	}
	s = next
	balanced(t, s, "strands known")
	if kind == sheet.Refit {
		s = Reuse(s)
	}
	if kind.Fits() {
		missing := Missing(s)
		for _, at := range NotDone(s, n) {
			planned := s.Bond(at.At, at.Slot)
			if _, short := missing[planned.Shade]; short || r.IntN(10) == 0 {
				s = Leave(s, n, at) // what is not there can't be fitted
				continue
			}
			s = Tick(Tick(s, n, at), n, at)
			balanced(t, s, "fitting")
		}
	}
	if s, err = Finish(s, n); err != nil {
		t.Fatalf("%s: %v", kind, err)
	}
	balanced(t, s, string(kind))
	return s
}

// Asked twice, the plan takes no more re-used strands than there are; beyond them it takes new ones.
func TestReuseTakesNoMoreThanThereAre(t *testing.T) {
	row, err := sheet.ParseBonds(sheet.Place{At: 60}, "a.a.a.(c).a.A.A.C")
	if err != nil {
		t.Fatal(err)
	}
	s := planned(t).With(func(c *sheet.Sheet) {
		c.Shades = append(c.Shades, sheet.Shade{Key: 'c', Name: "oat", Length: 490, Grams: 0.784, Pack: 25, Used: 1, Retipped: 1, Was: 'a'})
		c.Rows = []sheet.Row{row}
		c.Visits = []sheet.Visit{{Kind: sheet.Removal, Date: "2026-04-27", Strands: []sheet.Outcome{{Shade: 'a', Retipped: 2, Into: 'c'}, {Shade: 'a', Split: true, Retipped: 1, Into: 'c'}}}}
	})
	once := Reuse(s)
	if got := once.Rows[0].Text(); got != "c.c.a.(a).a.C.A.A" { // 2 wholes and 1 half
		t.Errorf("planned is %s", got)
	}
	if got := Reuse(once).Rows[0].Text(); got != once.Rows[0].Text() {
		t.Errorf("asked again %s, want %s", got, once.Rows[0].Text())
	}
	if got := ByShade(sheet.BondsOf(once.Rows))['c']; got != (Pieces{Whole: 2, Half: 1}) {
		t.Errorf("%+v of c are planned", got)
	}
}

// What is not to be fitted, or not yet, is not missing.
func TestNothingIsMissingBeforeItIsFitted(t *testing.T) {
	row, err := sheet.ParseBonds(sheet.Place{At: 60}, "c.(c).c")
	if err != nil {
		t.Fatal(err)
	}
	base := planned(t).With(func(c *sheet.Sheet) {
		c.Shades = append(c.Shades, sheet.Shade{Key: 'c', Name: "oat", Length: 490, Grams: 0.784, Pack: 25, Used: 1, Retipped: 1, Was: 'a'})
		c.Rows = []sheet.Row{row}
	})
	fitted := sheet.Visit{Kind: sheet.Fitting, Date: "2026-03-02", Fitted: []sheet.Row{row}}
	for _, c := range []struct {
		name   string
		visits []sheet.Visit
		want   int
	}{
		{"in the head", []sheet.Visit{fitted}, 0},
		{"an inspection open", []sheet.Visit{fitted, {Kind: sheet.Inspection, Date: "2026-03-12", Open: true}}, 0},
		{"a removal open", []sheet.Visit{fitted, {Kind: sheet.Removal, Date: "2026-04-27", Open: true}}, 0},
		{"a refit that is taking out", []sheet.Visit{fitted, {Kind: sheet.Refit, Date: "2026-04-27", Open: true}}, 0},
		{"a fitting open", []sheet.Visit{{Kind: sheet.Fitting, Date: "2026-03-02", Open: true}}, 6},
	} {
		s := base.With(func(s *sheet.Sheet) { s.Visits = c.visits })
		if got := Missing(s)['c'].Halves(); got != c.want {
			t.Errorf("%s: %d halves are missing, want %d", c.name, got, c.want)
		}
	}
}
