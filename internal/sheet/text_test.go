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
