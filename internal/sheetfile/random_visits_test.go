package sheetfile

import (
	"bytes"
	"maps"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/visit"
)

// randomVisits is the sheet after some visits, as they could have been: bond by bond, by the functions that record them.
func randomVisits(r *rand.Rand, s *sheet.Sheet) *sheet.Sheet {
	day := time.Date(2020+r.IntN(10), 1, 1+r.IntN(365), 0, 0, 0, 0, time.UTC)
	for left := r.IntN(7); left > 0; left-- {
		kind := sheet.Fitting
		if len(visit.Now(s)) > 0 {
			kind = pick(r, []sheet.VisitKind{sheet.Inspection, sheet.Refit, sheet.Removal})
		}
		next, err := visit.Begin(s, kind, day.Format(time.DateOnly), randomText(r))
		if err != nil {
			return s // there is nothing to fit
		}
		s = next
		n := len(s.Visits) - 1
		switch {
		case kind == sheet.Inspection:
			s = randomInspection(r, s, n)
		case kind.TakesOut():
			s = randomOutcomes(r, randomTakingOut(r, s, n), n)
		}
		if kind.Fits() {
			s = randomFitting(r, s, n)
		}
		s = visit.Change(s, n, func(v *sheet.Visit) {
			v.Open = left == 1 && r.IntN(2) == 0
			v.Notes, v.Seconds = randomText(r), r.IntN(3)*r.IntN(20000)
			if r.IntN(2) == 0 {
				v.Notes += "\n" + randomText(r)
			}
		})
		day = day.AddDate(0, 0, r.IntN(2)*r.IntN(90)) // a visit may be on the same day
	}
	return s
}

// randomFitting takes the planned bonds some stages on where the head is free, and makes some that nobody planned.
func randomFitting(r *rand.Rand, s *sheet.Sheet, n int) *sheet.Sheet {
	free := func(at sheet.Spot) bool { _, in := visit.Now(s)[at]; return !in }
	for _, row := range s.Rows {
		for slot := range row.All() {
			at := sheet.Spot{At: row.Place, Slot: slot}
			if !free(at) {
				continue
			}
			switch r.IntN(8) {
			case 0: // not yet
			case 1:
				s = visit.Tick(s, n, at)
			case 2:
				s = visit.Leave(s, n, at)
			case 3:
				s = visit.Fit(s, n, at, randomBond(r, s))
			default:
				s = visit.Tick(visit.Tick(s, n, at), n, at)
			}
		}
	}
	for range r.IntN(4) {
		at := sheet.Spot{At: sheet.Place{At: randomNumber(r, 0, tallest)}, Slot: r.IntN(2*sheet.MaxSlot+1) - sheet.MaxSlot}
		if r.IntN(3) == 0 {
			at.At = sheet.Place{Along: true, At: randomNumber(r, -250, 250)}
		}
		at.At = (&decoder{sheet: s}).onLine(at.At)
		if free(at) {
			s = visit.Fit(s, n, at, randomBond(r, s))
		}
	}
	return s
}

func randomBond(r *rand.Rand, s *sheet.Sheet) sheet.Bond {
	return sheet.Bond{Shade: pick(r, s.Shades).Key, Split: r.IntN(3) == 0, Trimmed: r.IntN(3) == 0}
}

// randomInspection looks at most bonds, puts some right and replaces some.
func randomInspection(r *rand.Rand, s *sheet.Sheet, n int) *sheet.Sheet {
	for _, at := range visit.Unseen(s, n) {
		mark := pick(r, sheet.SeenMarks).Mark
		if r.IntN(2) == 0 {
			mark = sheet.Sealed
		}
		s = visit.See(s, n, at, mark)
		switch r.IntN(4) {
		case 0:
			s = visit.See(s, n, at, sheet.NoMark)
		case 1:
			s = visit.Mend(s, n, at)
		case 2:
			s = visit.Replace(s, n, at, randomBond(r, s))
		}
	}
	return s
}

// randomTakingOut takes most bonds out, and finds that some are lost.
func randomTakingOut(r *rand.Rand, s *sheet.Sheet, n int) *sheet.Sheet {
	for _, at := range visit.Unseen(s, n) {
		mark := sheet.TakenOut
		if r.IntN(5) == 0 {
			mark = pick(r, []sheet.Mark{sheet.Lost, sheet.Sealed, sheet.NoMark})
		}
		s = visit.See(s, n, at, mark)
	}
	return s
}

// randomOutcomes says of the strands that came out what became of them, or of some of them, or nothing.
func randomOutcomes(r *rand.Rand, s *sheet.Sheet, n int) *sheet.Sheet {
	outcomes := visit.Proposed(s, n)
	for i := range outcomes {
		o := &outcomes[i]
		h, _ := s.Shade(o.Shade)
		for range o.Pieces() / (1 + r.IntN(2)) {
			to := pick(r, []*int{&o.Halved, &o.Kept, &o.Thrown})
			if o.Retipped == 0 || o.Split && to == &o.Halved {
				continue
			}
			*to++
			o.Retipped--
		}
		o.Cut = randomNumber(r, 0, 20)
		if again := visit.Recut(h, o.Cut); again.Length < sheet.MinLength || again.Grams < 0.05 || r.IntN(8) == 0 {
			*o = sheet.Outcome{Shade: o.Shade, Split: o.Split, Kept: o.Pieces()} // nothing is left to cut
		}
	}
	resolved, err := visit.Resolve(s, n, outcomes)
	if err != nil || r.IntN(6) == 0 {
		return s // there is no letter left for another shade, or nothing is said yet
	}
	return visit.Change(resolved, n, func(v *sheet.Visit) {
		for i := range v.Strands {
			if v.Strands[i].Kept > 1 && r.IntN(3) == 0 {
				v.Strands = slices.Clone(v.Strands)
				v.Strands[i].Kept--
			}
		}
	})
}

// What is in the head while visits are read one by one, and what came out, is what package visit says of the whole sheet.
func TestCourseOfVisits(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 71))
	visits, bonds, pieces := 0, 0, 0
	for range 40 {
		s := &sheet.Sheet{Shades: []sheet.Shade{{Key: 'a', Length: 500, Grams: 0.8}, {Key: 'b', Length: 400, Grams: 0.7}}, HoleSpacing: 8, LineGap: 10}
		for _, at := range []sheet.Place{{At: 60}, {At: 70}, {Along: true}} {
			row := map[int]sheet.Bond{}
			for range 9 {
				row[r.IntN(21)-10] = randomBond(r, s)
			}
			s = s.WithRow(sheet.NewRow(at, row))
		}
		s = randomVisits(r, s)
		in, _, bad := open(&headSheet, "course.toml", Encode(s))
		if bad != nil {
			t.Fatal(bad)
		}
		d := &decoder{reader: in.reader, sheet: s}
		c := &course{in: map[sheet.Place]sheet.Row{}}
		for n, in := range in.list("visit") {
			v := d.visit(in, nil)
			before := &course{in: maps.Clone(c.in)}
			if got, want := before.takeOut(v), visit.CameOut(s, n); !maps.Equal(got, want) {
				t.Errorf("in visit %d %v came out, want %v", n, got, want)
			}
			c.follow(v)
			want := visit.In(s, n+1)
			for at, h := range want {
				if got := c.row(at.At).Bond(at.Slot); got != h.Bond {
					t.Errorf("after visit %d there is %v in %v, want %v", n, got, at, h.Bond)
				}
			}
			if got := c.bonds(); got != len(want) {
				t.Errorf("after visit %d there are %d bonds in the head, want %d", n, got, len(want))
			}
			visits, bonds = visits+1, bonds+len(want)
			for _, n := range visit.CameOut(s, n) {
				pieces += n
			}
		}
		if len(d.errs) > 0 || t.Failed() {
			t.Fatalf("%v", d.errs)
		}
	}
	if visits < 80 || bonds < 800 || pieces < 300 {
		t.Errorf("only %d visits, %d bonds in after them and %d pieces that came out", visits, bonds, pieces)
	}
}

// Visits with letters changed, as by a slip of the hand: either they are refused or they can still have been.
func TestDamagedVisits(t *testing.T) {
	rounds := 2000
	if testing.Short() {
		rounds = 200
	}
	r := rand.New(rand.NewPCG(8, 21))
	s := sheet.New(scalp.Sizes[1].Measures)
	for _, at := range []sheet.Place{{At: 60}, {At: 80}, {Along: true, At: -16}} {
		s = s.WithRow(sheet.NewRow(at, map[int]sheet.Bond{-2: {Shade: 'a'}, 0: {Shade: 'a', Split: true}, 3: {Shade: 'a'}}))
	}
	accepted := 0
	for range rounds {
		text := Encode(randomVisits(r, s))
		from := bytes.Index(text, []byte("[[visit]]"))
		if from < 0 {
			continue
		}
		const slots, digits = "abABsgxoXGh.", "0123456789"
		for changes := 1 + r.IntN(3); changes > 0; {
			i := from + r.IntN(len(text)-from)
			for _, like := range []string{slots, digits} { // the text stays TOML
				if strings.IndexByte(like, text[i]) >= 0 && !bytes.HasSuffix(text[:i], []byte("\n")) {
					text[i] = like[r.IntN(len(like))]
					changes--
				}
			}
		}
		got, _, err := decode("damaged.toml", text, false)
		if err != nil {
			wantSafeError(t, err)
			continue
		}
		accepted++
		wantVisits(t, got)
		again, _, err := decode("again.toml", Encode(got), false)
		if err != nil || !reflect.DeepEqual(again, got) {
			t.Errorf("what was written is refused, or another sheet: %v", err)
		}
		if t.Failed() {
			t.Fatalf("in\n%s", text)
		}
	}
	if accepted < rounds/10 || accepted > rounds*9/10 {
		t.Errorf("%d of %d damaged sheets are accepted", accepted, rounds)
	}
}
