package sheet

import (
	"slices"
	"testing"

	"example.org/underveil/internal/scalp"
)

// An edit never changes the sheet that it began from, nor any before that.
func TestEditsLeaveOldSheetsAlone(t *testing.T) {
	for seed := range uint64(30) {
		rng := seeded(seed)
		s := New(scalp.Sizes[1].Measures)
		sheets, were, did := []*Sheet{s}, []string{whole(s)}, []string{"new"}
		for range 80 {
			// Now and then from an older sheet: after an undo, edits branch off.
			from := sheets[len(sheets)-1]
			if rng.IntN(5) == 0 {
				from = sheets[rng.IntN(len(sheets))]
			}
			next, edit := randomEdit(rng, from)
			sheets, were, did = append(sheets, next), append(were, whole(next)), append(did, edit)
			for _, r := range next.Rows {
				tight(t, r)
			}
		}
		for i := range sheets {
			if got := whole(sheets[i]); got != were[i] {
				t.Fatalf("seed %d: sheet %d, after %q, is now\n%s, was\n%s", seed, i, did[i], got, were[i])
			}
		}
	}
}

// What the caller handed in is the caller's to change afterwards.
func TestEditsKeepNothingOfTheCaller(t *testing.T) {
	changes := map[int]Bond{-2: wholeA, 3: splitA}
	s := New(scalp.Sizes[1].Measures).WithBonds(at(60), changes)
	before := whole(s)
	changes[-2], changes[5] = Bond{}, wholeZ
	if got := whole(s); got != before {
		t.Errorf("the sheet followed the caller's map:\n%s, was\n%s", got, before)
	}
}

func TestNoChangeIsTheSameSheet(t *testing.T) {
	s := New(scalp.Sizes[1].Measures).WithRow(read(t, "a.(A').a"))
	h := NewHistory(s)
	for name, same := range map[string]*Sheet{
		"an empty slot emptied":        s.WithBond(at(60), 1, Bond{}),
		"the same bond again":          s.WithBond(at(60), 0, bothA),
		"an empty row where none is":   s.WithRow(Row{Place: at(70)}),
		"the same row again":           s.WithRow(read(t, "a.(A').a")),
		"no changes":                   s.WithBonds(at(60), nil),
		"a slot emptied in another":    s.WithBond(at(70), 3, Bond{}),
		"a bond where there's no slot": s.WithBond(at(60), MaxSlot+1, wholeA),
	} {
		if same != s {
			t.Errorf("%s makes a new sheet", name)
		}
		h.Do(name, same)
	}
	if h.CanUndo() != "" {
		t.Errorf("there is %q to undo", h.CanUndo())
	}
	looks := read(t, "a.(A').a")
	looks.Look = Length
	if s.WithRow(looks) == s {
		t.Error("a row for another look is no change")
	}
}

func TestWithAcceptedReplaces(t *testing.T) {
	slot := Concern{Rule: "nape", Row: at(10), On: OnSlot, Slot: 3}
	others := []Concern{
		{Rule: "ear", Row: at(10), On: OnSlot, Slot: 3},
		{Rule: "nape", Row: at(20), On: OnSlot, Slot: 3},
		{Rule: "nape", Row: along(10), On: OnSlot, Slot: 3},
		{Rule: "nape", Row: at(10), On: OnRow, Slot: 3},
		{Rule: "nape", Row: at(10), On: OnSlot, Slot: -3},
	}
	s := New(scalp.Sizes[1].Measures).WithAccepted(Accepted{Concern: slot, Reason: "first"})
	for _, c := range others {
		s = s.WithAccepted(Accepted{Concern: c, Reason: "other"})
	}
	again := s.WithAccepted(Accepted{Concern: slot, Reason: "second", By: "M", Date: "2025-03-01"})
	var reasons []string
	for _, a := range again.Accepted {
		if a.Concern == slot {
			reasons = append(reasons, a.Reason)
		}
	}
	if !slices.Equal(reasons, []string{"second"}) || len(again.Accepted) != 1+len(others) {
		t.Errorf("accepted %v", again.Accepted)
	}
	if s.Accepted[0].Reason != "first" {
		t.Errorf("the old sheet has %v", s.Accepted[0])
	}
	gone := again.WithoutAccepted(slot)
	if len(gone.Accepted) != len(others) || len(again.Accepted) != 1+len(others) {
		t.Errorf("%d left, and %d in the sheet before", len(gone.Accepted), len(again.Accepted))
	}
	for _, a := range gone.Accepted {
		if a.Concern == slot {
			t.Error("it is still accepted")
		}
	}
}

func TestLookOf(t *testing.T) {
	s := New(scalp.Sizes[1].Measures).With(func(c *Sheet) { c.Wish = []Look{Length, Volume} })
	r := read(t, "(a)")
	if got := s.LookOf(r); got != Length {
		t.Errorf("a row that says nothing is for %q, want the first wish", got)
	}
	r.Look = Highlights
	if got := s.LookOf(r); got != Highlights {
		t.Errorf("a row for highlights is for %q", got)
	}
	none := s.With(func(c *Sheet) { c.Wish = nil })
	if got := none.LookOf(read(t, "(a)")); got != "" {
		t.Errorf("without a wish a row is for %q", got)
	}
	if got := none.LookOf(r); got != Highlights {
		t.Errorf("without a wish a row for highlights is for %q", got)
	}
}

func TestWearsAndWishes(t *testing.T) {
	for _, c := range []struct {
		worn []Wear
		up   bool
		nape LimitName
	}{
		{nil, false, LimitNape},
		{[]Wear{WornDown}, false, LimitNape},
		{[]Wear{WornDown, WornHalfUp}, false, LimitNape},
		{[]Wear{WornLowTail}, true, LimitNapeUp},
		{[]Wear{WornDown, WornHighTail}, true, LimitNapeUp},
	} {
		s := New(scalp.Sizes[1].Measures).With(func(c2 *Sheet) { c2.Worn = c.worn })
		if s.WornUp() != c.up || s.Nape() != c.nape {
			t.Errorf("worn %v: up %v, limit %s", c.worn, s.WornUp(), s.Nape())
		}
		for _, w := range Wears {
			if s.Wears(w) != slices.Contains(c.worn, w) {
				t.Errorf("worn %v: wears %q %v", c.worn, w, s.Wears(w))
			}
		}
	}
	s := New(scalp.Sizes[1].Measures)
	if !s.Wishes(Volume) || s.Wishes(Length) {
		t.Errorf("a new sheet wishes for %v", s.Wish)
	}
}

func TestLandmarks(t *testing.T) {
	ear := scalp.Landmark{Name: scalp.EarTop, Side: scalp.Left}
	nape := scalp.Landmark{Name: scalp.NapeCentre}
	s := New(scalp.Sizes[1].Measures)
	moved := s.WithLandmark(ear, scalp.Shift{Right: 3}).WithLandmark(nape, scalp.Shift{Up: 5}).WithLandmark(ear, scalp.Shift{Up: 4})
	if len(moved.Moved) != 2 || moved.Moved[ear] != (scalp.Shift{Up: 4}) || moved.Moved[nape] != (scalp.Shift{Up: 5}) {
		t.Errorf("moved %v", moved.Moved)
	}
	back := moved.WithLandmark(ear, scalp.Shift{})
	if _, ok := back.Moved[ear]; ok || len(back.Moved) != 1 || len(moved.Moved) != 2 || len(s.Moved) != 0 {
		t.Errorf("put back: %v, before %v, at first %v", back.Moved, moved.Moved, s.Moved)
	}
}

// A new sheet is one that the other parts accept as it is.
func TestNewSheet(t *testing.T) {
	s := New(scalp.Sizes[1].Measures)
	if s.Measures != scalp.Sizes[1].Measures || s.Bonds() != 0 || s.HoleSpacing <= 0 || s.LineGap <= 0 {
		t.Errorf("a new sheet is %s", whole(s))
	}
	for _, w := range s.Worn {
		if !slices.Contains(Wears, w) {
			t.Errorf("worn %q", w)
		}
	}
	for _, l := range s.Wish {
		if !slices.Contains(Looks, l) {
			t.Errorf("wish %q", l)
		}
	}
	if !slices.Contains(Densities, s.Hair.Density) || !slices.Contains(Textures, s.Hair.Texture) {
		t.Errorf("hair %+v", s.Hair)
	}
	for _, h := range s.Shades {
		if got, ok := s.Shade(h.Key); !ok || got != h || h.Key < 'a' || h.Key > 'z' || h.Grams <= 0 || h.Pack <= 0 || h.Length <= 0 {
			t.Errorf("shade %+v", h)
		}
	}
	if _, ok := s.Shade('z'); ok {
		t.Error("there is a shade z")
	}
}
