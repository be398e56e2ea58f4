package tui

import (
	"strings"
	"testing"
	"time"

	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/visit"
)

// Holes are not changed under strands that are in: they are counted in them.
func TestHolesStayUnderStrands(t *testing.T) {
	s := plainSheet(t).WithBond(height(60), 0, sheet.Bond{Shade: 'a'})
	e := edit(t, s, setup{})
	wider := func() error {
		return e.m.doc.do("wider holes", e.m.doc.sheet().With(func(c *sheet.Sheet) { c.HoleSpacing = 10 }))
	}
	e.press("F", "Enter", "r", "r", "Enter")
	if err := wider(); err == nil || !strings.Contains(err.Error(), "1 bond is in the head, counted in holes 8 mm apart") {
		t.Errorf("holes under a strand: %v", err)
	}
	e.press("F", "Right", "Enter", "r", "Enter", "Enter")
	if in := len(visit.Now(e.m.doc.sheet())); in != 0 {
		t.Fatalf("%d bonds are in after the removal:\n%s", in, e.m.Screen())
	}
	if err := wider(); err != nil {
		t.Errorf("with nothing in: %v", err)
	}
}

// Taken up after a crash, the fitting goes on at the same bond, and u at the chair does not take the whole visit away.
func TestChairKeepsItsVisit(t *testing.T) {
	s := plainSheet(t).WithBonds(height(60), map[int]sheet.Bond{-2: {Shade: 'a'}, 0: {Shade: 'a'}, 2: {Shade: 'a'}})
	e := edit(t, s, setup{})
	e.press("F", "Enter", "r", "space")
	left := e.m.doc.sheet()
	e = edit(t, s, setup{})
	if err := e.m.doc.do("take up what was left unfinished", left); err != nil {
		t.Fatal(err)
	}
	e.press("F", "u")
	if n, open := visit.Open(e.m.doc.sheet()); !open || visit.StageOf(e.m.doc.sheet(), n, sheet.Spot{At: height(60), Slot: -2}) != visit.Bonded {
		t.Errorf("u took the visit away:\n%s", e.m.Screen())
	}
	e.says("leave with Esc, and u does it there")
	if at, _, _ := e.m.chairOpen().here(); at.Slot != 0 {
		t.Errorf("the chair is at %s", at)
	}
	if e.press("Esc", "u"); len(e.m.doc.sheet().Visits) != 0 {
		t.Error("on the map u does not take the visit back")
	}
}

// Bonds that are on no line of the map any more are gone through last, and can be taken out.
func TestBondsOffTheMapComeOut(t *testing.T) {
	s := plainSheet(t).WithBonds(height(70), map[int]sheet.Bond{-2: {Shade: 'a'}, 2: {Shade: 'a'}}).WithBond(height(60), 0, sheet.Bond{Shade: 'a'})
	e := edit(t, s, setup{})
	e.press("F", "Enter", "r", "r", "r", "r", "Enter")
	wider := e.m.doc.sheet().With(func(c *sheet.Sheet) { c.LineGap, c.Rows = 12, nil })
	if err := e.m.doc.do("other lines", wider); err != nil {
		t.Fatal(err)
	}
	e.press("F", "Right", "Enter", "r")
	e.says("off the map")
	e.press("space", "x", "Enter")
	e.says("the strands that came out")
	e.press("Enter")
	if in := len(visit.Now(e.m.doc.sheet())); in != 0 || e.m.doc.sheet().LastVisit().Open {
		t.Errorf("%d bonds are in:\n%s", in, e.m.Screen())
	}
}

// The last visit can be taken away, and comes back with u.
func TestLastVisitTakenAway(t *testing.T) {
	e := edit(t, plainSheet(t).WithBond(height(60), 0, sheet.Bond{Shade: 'a'}), setup{})
	e.press("V", "d")
	e.says("there is no visit to take away")
	e.press("F", "Enter", "r", "r", "Enter", "I", "Enter", "Esc", "V", "d", "d")
	if got := e.m.doc.sheet().Visits; len(got) != 1 || got[0].Kind != sheet.Fitting {
		t.Errorf("the visits are %+v", got)
	}
	if e.press("u"); len(e.m.doc.sheet().Visits) != 2 {
		t.Error("u does not bring it back")
	}
}

// Where strands go in again is asked until it was said, once.
func TestInAgainIsAskedOnce(t *testing.T) {
	e := edit(t, plainSheet(t).WithBond(height(60), 0, sheet.Bond{Shade: 'a'}), setup{})
	e.press("F", "Enter", "r", "r", "Enter", "F", "Enter", "r", "Enter", "Enter", "Esc")
	e.press("F")
	e.says("in again")
	e.press("Enter", "F")
	if e.m.chairOpen() == nil {
		t.Errorf("the fitting does not begin:\n%s", e.m.Screen())
	}
	if b := e.m.doc.sheet().Bond(height(60), 0); b.Shade != 'c' {
		t.Errorf("planned is %c, want the re-used one", b.Shade)
	}
}

// The time at the chair is written with each step, and a break is none of it.
func TestTimeAtTheChair(t *testing.T) {
	e := edit(t, plainSheet(t).WithBonds(height(60), map[int]sheet.Bond{-2: {Shade: 'a'}, 0: {Shade: 'a'}}), setup{})
	now := today
	e.m.opts.Today = func() time.Time { return now }
	after := func(d time.Duration, keys ...string) {
		now = now.Add(d)
		e.press(keys...)
	}
	e.press("F", "Enter")
	after(90*time.Second, "space")
	after(30*time.Second, "x") // of the second bond
	after(time.Hour, "Esc")
	after(time.Hour, "F")
	after(10*time.Second, "space")
	if got := e.m.doc.sheet().LastVisit().Seconds; got != 130 {
		t.Errorf("%d seconds, want 90 + 30 + 10", got)
	}
	e.press("Right", "space") // left out, and after all hair pulled
	if at := (sheet.Spot{At: height(60), Slot: 0}); visit.StageOf(e.m.doc.sheet(), 0, at) != visit.Pulled {
		t.Error("what was left out can't be taken up")
	}
}

// A shade that was re-tipped keeps its history when something else of it is changed.
func TestShadeFormKeepsHistory(t *testing.T) {
	s := plainSheet(t).With(func(c *sheet.Sheet) {
		c.Shades = append(c.Shades[:1:1], sheet.Shade{Key: 'b', Name: "oat", Length: 490, Grams: 0.8, Pack: 25, Used: 1, Retipped: 1, Was: 'a'})
	})
	e := edit(t, s, setup{})
	e.press("k", "Right", "Tab", "Tab")
	e.write("480")
	e.press("Enter")
	h, _ := e.m.doc.sheet().Shade('b')
	if h.Length != 480 || h.Used != 1 || h.Retipped != 1 || h.Was != 'a' {
		t.Errorf("%+v", h)
	}
}
