package sheet

import (
	"errors"
	"maps"
	"strings"
	"testing"
	"testing/quick"
)

// a, A, and so on are bonds by how they are written.
var (
	wholeA   = Bond{Shade: 'a'}
	splitA   = Bond{Shade: 'a', Split: true}
	trimmedA = Bond{Shade: 'a', Trimmed: true}
	bothA    = Bond{Shade: 'a', Split: true, Trimmed: true}
	wholeZ   = Bond{Shade: 'z'}
)

func TestRowText(t *testing.T) {
	for _, c := range []struct {
		text  string
		bonds map[int]Bond
	}{
		{"(.)", map[int]Bond{}},
		{"(a)", map[int]Bond{0: wholeA}},
		{"(A')", map[int]Bond{0: bothA}},
		{"a(.)", map[int]Bond{-1: wholeA}},
		{"(.)a", map[int]Bond{1: wholeA}},
		{"a..(.)", map[int]Bond{-3: wholeA}},
		{"(.)..z", map[int]Bond{3: wholeZ}},
		{"a.a.A'.(a).a.a.A'", map[int]Bond{-6: wholeA, -4: wholeA, -2: bothA, 0: wholeA, 2: wholeA, 4: wholeA, 6: bothA}},
		{"a'A.(.)A'z", map[int]Bond{-3: trimmedA, -2: splitA, 1: bothA, 2: wholeZ}},
	} {
		r := NewRow(at(60), c.bonds)
		if got := r.Text(); got != c.text {
			t.Errorf("%v is written %q, want %q", c.bonds, got, c.text)
		}
		if got := read(t, c.text); !got.Equal(r) {
			t.Errorf("%q is read as %v, want %v", c.text, maps.Collect(got.All()), c.bonds)
		}
	}
}

// Outer dots, and a first or last slot far out, are read though they are not written.
func TestParseBondsTakesOuterDots(t *testing.T) {
	far := strings.Repeat(".", MaxSlot)
	for text, want := range map[string]string{
		"..a.(.)..": "a.(.)", "(.)...": "(.)", far + "(a)" + far: "(a)",
		"a" + far[1:] + "(.)" + far[1:] + "a": "a" + far[1:] + "(.)" + far[1:] + "a",
	} {
		if got := read(t, text).Text(); got != want {
			t.Errorf("%q is written again as %q, want %q", text, got, want)
		}
	}
}

func TestParseBondsErrors(t *testing.T) {
	far := strings.Repeat(".", MaxSlot)
	for _, c := range []struct {
		text    string
		at      int
		problem string // a part of it
	}{
		{"", 0, "needs its bonds"},
		{".", 1, "centre slot is not marked"},
		{"a.a.a", 5, "centre slot is not marked"},
		{"a.é(a)", 2, "a slot is a dot"},
		{"a.1(a)", 2, "a slot is a dot"},
		{"a (a)", 1, "a slot is a dot"},
		{"(a)\n", 3, "a slot is a dot"},
		{"\x00(a)", 0, "a slot is a dot"},
		{"'(a)", 0, "there is none"},
		{".'(a)", 1, "there is none"},
		{"a''(a)", 2, "there is none"},
		{"(a)'", 3, "there is none"},
		{"(.')", 2, "there is none"},
		{"a('b)", 2, "there is none"},
		{"a(')", 2, "there is none"},
		{"a.(a", 2, "has no )"},
		{"a.(a.a", 2, "has no )"},
		{"a.(", 2, "has no )"},
		{"a)a", 1, "no ( before"},
		{"(a))", 3, "no ( before"},
		{"a.()a", 2, "round one slot"},
		{"a.(aa)a", 2, "round one slot"},
		{"a.(a.a).a", 2, "round one slot"},
		{"(a).(a)", 4, "marked twice"},
		{"((a))", 1, "marked twice"},
		{far + ".(a)", 0, "at most 200 slots"},
		{"(a)" + far + ".", 0, "at most 200 slots"},
		{"(a)" + far + "a", 0, "at most 200 slots"},
	} {
		r, err := ParseBonds(at(60), c.text)
		var problem *TextError
		if !errors.As(err, &problem) {
			t.Errorf("%q is read as %q, error %v", c.text, r.Text(), err)
			continue
		}
		if problem.At != c.at || !strings.Contains(problem.Problem, c.problem) {
			t.Errorf("%q: %q at byte %d, want %q at %d", c.text, problem.Problem, problem.At, c.problem, c.at)
		}
		if problem.Error() != problem.Problem {
			t.Errorf("%q: the error reads %q", c.text, problem.Error())
		}
	}
}

// Every row is read as it was written.
func TestRowTextRoundTrip(t *testing.T) {
	roundTrip := func(seed uint64) bool {
		rng := seeded(seed)
		r := Row{Place: randomPlace(rng)}
		for range rng.IntN(6) {
			r = r.With(randomChanges(rng)).Shifted(rng.IntN(301) - 150)
		}
		again, err := ParseBonds(r.Place, r.Text())
		return err == nil && again.Equal(r) && again.Text() == r.Text()
	}
	if err := quick.Check(roundTrip, &quick.Config{MaxCount: 3000}); err != nil {
		t.Error(err)
	}
}

// Whatever is read is written in a form that is read as the same row.
func FuzzParseBonds(f *testing.F) {
	for _, text := range []string{"", "(.)", "a.a.A'.(a).a.a.A'", "..a'(.)..", "a('b)", "(a)'", "((a))", "a)b(", "Zz'(é)", "(a)" + strings.Repeat(".", 201)} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		r, err := ParseBonds(at(60), text)
		if err != nil {
			var problem *TextError
			if !errors.As(err, &problem) || problem.At < 0 || problem.At > len(text) || problem.Problem == "" {
				t.Fatalf("%q: error %#v", text, err)
			}
			return
		}
		tight(t, r)
		again, err := ParseBonds(at(60), r.Text())
		if err != nil || !again.Equal(r) || again.Text() != r.Text() {
			t.Fatalf("%q is written again as %q, which is read as %q, error %v", text, r.Text(), again.Text(), err)
		}
		if dots := strings.Trim(text, "."); strings.Trim(r.Text(), ".") != dots {
			t.Fatalf("%q is written again as %q", text, r.Text())
		}
	})
}

// isSeen and isTick tell which letters are marks of the two kinds.
func isSeen(m Mark) bool { _, ok := m.Info(); return ok }
func isTick(m Mark) bool { return m == Pulled || m == LeftOut }

// marksOn are marks by slot as marks of a row.
func marksOn(p Place, row map[int]Mark) Marks {
	var m Marks
	for slot, mark := range row {
		m = m.With(Spot{p, slot}, mark)
	}
	return m
}

func TestMarksText(t *testing.T) {
	for _, c := range []struct {
		text  string
		marks map[int]Mark
	}{
		{"(.)", map[int]Mark{}},
		{"(s)", map[int]Mark{0: Sealed}},
		{"s(.)", map[int]Mark{-1: Sealed}},
		{"(.)..x", map[int]Mark{3: Lost}},
		{"o..(.)", map[int]Mark{-3: TakenOut}},
		{"s.g.G.(m).M.X", map[int]Mark{-6: Sealed, -4: SealAgain, -2: 'G', 0: TooMuch, 2: 'M', 4: 'X'}},
	} {
		m := marksOn(at(60), c.marks).With(Spot{at(70), 9}, Slipped).With(Spot{along(60), -9}, Slipped) // of other rows
		if got := m.Text(at(60)); got != c.text {
			t.Errorf("%v is written %q, want %q", c.marks, got, c.text)
		}
		got, err := ParseMarks(c.text, isSeen)
		if err != nil || !maps.Equal(got, c.marks) {
			t.Errorf("%q is read as %v, error %v, want %v", c.text, got, err, c.marks)
		}
	}
	if got := Marks(nil).Text(at(60)); got != "(.)" {
		t.Errorf("no marks are written %q", got)
	}
}

func TestParseMarksErrors(t *testing.T) {
	far := strings.Repeat(".", MaxSlot)
	for _, c := range []struct {
		text    string
		known   func(Mark) bool
		at      int
		problem string // a part of it
	}{
		{"", isSeen, 0, "centre slot is not marked"},
		{"s.s", isSeen, 3, "centre slot is not marked"},
		{"s.k(s)", isSeen, 2, "letter of a mark"},
		{"s.S(s)", isSeen, 2, "letter of a mark"}, // nothing is put right about a bond that is sealed
		{"s.é(s)", isSeen, 2, "letter of a mark"},
		{"s s(s)", isSeen, 1, "letter of a mark"},
		{"s.(s')", isSeen, 4, "letter of a mark"},
		{"h.(s)", isTick, 3, "letter of a mark"},
		{"h.(h)", isSeen, 0, "letter of a mark"},
		{"h.(X)", isTick, 3, "letter of a mark"},
		{"s.(s", isSeen, 2, "has no )"},
		{"s)s", isSeen, 1, "no ( before"},
		{"s.(ss)", isSeen, 2, "round one slot"},
		{"s.()s", isSeen, 2, "round one slot"},
		{"(s)(s)", isSeen, 3, "marked twice"},
		{far + ".(s)", isSeen, 0, "at most 200 slots"},
		{"(s)" + far + "s", isSeen, 0, "at most 200 slots"},
	} {
		marks, err := ParseMarks(c.text, c.known)
		var problem *TextError
		if !errors.As(err, &problem) || marks != nil {
			t.Errorf("%q is read as %v, error %v", c.text, marks, err)
			continue
		}
		if problem.At != c.at || !strings.Contains(problem.Problem, c.problem) {
			t.Errorf("%q: %q at byte %d, want %q at %d", c.text, problem.Problem, problem.At, c.problem, c.at)
		}
	}
	for _, text := range []string{far + "(s)" + far, "s" + far[1:] + "(.)" + far[1:] + "s"} {
		if _, err := ParseMarks(text, isSeen); err != nil {
			t.Errorf("a row that reaches as far as one may: %v", err)
		}
	}
}

// Every row of marks is read as it was written, whatever is marked in other rows.
func TestMarksTextRoundTrip(t *testing.T) {
	roundTrip := func(seed uint64) bool {
		rng := seeded(seed)
		rows := map[Place]map[int]Mark{}
		var m Marks
		for range rng.IntN(40) {
			spot := Spot{randomPlace(rng), rng.IntN(2*MaxSlot+1) - MaxSlot}
			mark := SeenMarks[rng.IntN(len(SeenMarks))].Mark
			if rng.IntN(2) == 0 {
				mark = mark.Mended()
			}
			if rows[spot.At] == nil {
				rows[spot.At] = map[int]Mark{}
			}
			rows[spot.At][spot.Slot] = mark
			m = m.With(spot, mark)
		}
		for _, p := range m.Places() {
			got, err := ParseMarks(m.Text(p), isSeen)
			if err != nil || !maps.Equal(got, rows[p]) {
				return false
			}
			delete(rows, p)
		}
		return len(rows) == 0
	}
	if err := quick.Check(roundTrip, &quick.Config{MaxCount: 1000}); err != nil {
		t.Error(err)
	}
}

// Whatever is read is written in a form that is read as the same marks.
func FuzzParseMarks(f *testing.F) {
	for _, text := range []string{"", "(.)", "s.g.G.(m).M.X", "..x(.)..", "s('b)", "(s)'", "((s))", "s)o(", "(é)", "(s)" + strings.Repeat(".", 201)} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		row, err := ParseMarks(text, isSeen)
		if err != nil {
			var problem *TextError
			if !errors.As(err, &problem) || problem.At < 0 || problem.At > len(text) || problem.Problem == "" {
				t.Fatalf("%q: error %#v", text, err)
			}
			return
		}
		written := marksOn(at(60), row).Text(at(60))
		again, err := ParseMarks(written, isSeen)
		if err != nil || !maps.Equal(again, row) {
			t.Fatalf("%q is written again as %q, which is read as %v, error %v", text, written, again, err)
		}
		if dots := strings.Trim(text, "."); strings.Trim(written, ".") != dots {
			t.Fatalf("%q is written again as %q", text, written)
		}
	})
}
