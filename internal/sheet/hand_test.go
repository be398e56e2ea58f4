package sheet

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

func TestParsePattern(t *testing.T) {
	for _, text := range []string{"x", "x.", "x..", "x...", ".x", "xx.", strings.Repeat("x.", MaxPattern/2)} {
		p, err := ParsePattern(text)
		if err != nil || string(p) != text {
			t.Errorf("%q: %q, error %v", text, string(p), err)
		}
	}
	for text, problem := range map[string]string{
		"":                                    "written with x",
		"x-":                                  "written with x",
		"X.":                                  "written with x",
		"x .":                                 "written with x",
		"x\x1b":                               "written with x",
		"...":                                 "at least one x",
		strings.Repeat("x", MaxPattern+1):     "at most 24",
		strings.Repeat(".", MaxPattern) + "x": "at most 24",
	} {
		if p, err := ParsePattern(text); err == nil || !strings.Contains(err.Error(), problem) {
			t.Errorf("%q: %q, error %v, want %q", text, string(p), err, problem)
		}
	}
}

func TestPatternWords(t *testing.T) {
	seen := map[string]bool{}
	for _, p := range Patterns {
		if _, err := ParsePattern(string(p)); err != nil {
			t.Errorf("%q: %v", string(p), err)
		}
		if seen[p.String()] || !strings.HasPrefix(p.String(), "every ") {
			t.Errorf("%q is called %q", string(p), p)
		}
		seen[p.String()] = true
	}
	if got, want := Pattern("xx.").String(), "pattern xx."; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestPatternUses(t *testing.T) {
	for _, c := range []struct {
		pattern Pattern
		phase   int
		want    []int // the slots used from 0 to 7
	}{
		{EverySlot, 0, []int{0, 1, 2, 3, 4, 5, 6, 7}},
		{EverySlot, 5, []int{0, 1, 2, 3, 4, 5, 6, 7}},
		{EverySecond, 0, []int{0, 2, 4, 6}},
		{EverySecond, 1, []int{1, 3, 5, 7}},
		{EverySecond, -1, []int{1, 3, 5, 7}},
		{EverySecond, 6, []int{0, 2, 4, 6}},
		{EveryThird, 0, []int{0, 3, 6}},
		{EveryThird, 1, []int{1, 4, 7}},
		{EveryThird, 2, []int{2, 5}},
		{EveryThird, -1, []int{2, 5}},
		{EveryFourth, 3, []int{3, 7}},
		{"xx.", 0, []int{0, 1, 3, 4, 6, 7}},
		{"xx.", 1, []int{1, 2, 4, 5, 7}},
		{".x", 0, []int{1, 3, 5, 7}},
		{"x.xx.", 2, []int{0, 2, 4, 5, 7}}, // slots 0 and 1 are the end of the pattern before
		{"x.xx.", 0, []int{0, 2, 3, 5, 7}},
	} {
		var right, left []int
		for slot := range 8 {
			if c.pattern.Uses(slot, c.phase) {
				right = append(right, slot)
			}
			if c.pattern.Uses(-slot, c.phase) {
				left = append(left, slot)
			}
		}
		if !slices.Equal(right, c.want) || !slices.Equal(left, c.want) {
			t.Errorf("%q from phase %d uses %v to the right and %v to the left, want %v", string(c.pattern), c.phase, right, left, c.want)
		}
	}
}

// everyPattern yields all patterns of up to most slots.
func everyPattern(most int, yield func(Pattern)) {
	for n := 1; n <= most; n++ {
		for bits := 1; bits < 1<<n; bits++ {
			var b strings.Builder
			for i := range n {
				b.WriteByte(".x"[bits>>i&1])
			}
			yield(Pattern(b.String()))
		}
	}
}

func TestLayIsTheSameOnBothSides(t *testing.T) {
	var all []int
	for slot := -20; slot <= 20; slot++ {
		all = append(all, slot)
	}
	everyPattern(6, func(p Pattern) {
		for phase := -len(p); phase <= len(p); phase++ {
			for _, shades := range []string{"a", "ab", "abc"} {
				h := Hand{Pattern: p, Shades: shades, Split: phase%2 == 0, Trimmed: phase%3 == 0}
				laid := h.Lay(all, phase)
				name := fmt.Sprintf("pattern %q, phase %d, shades %q", string(p), phase, shades)
				n := 0
				for slot := range 21 {
					left, has := laid[-slot]
					right, hasRight := laid[slot]
					if has != hasRight || left != right {
						t.Fatalf("%s: slot %d is %v on the left and %v on the right", name, slot, left, right)
					}
					if has != p.Uses(slot, phase) {
						t.Fatalf("%s: slot %d laid %v", name, slot, has)
					}
					if !has {
						continue
					}
					if want := (Bond{Shade: shades[n%len(shades)], Split: h.Split, Trimmed: h.Trimmed}); right != want {
						t.Fatalf("%s: slot %d is %#v, want %#v, number %d from the centre", name, slot, right, want, n)
					}
					n++
				}
			}
		}
	})
}

// Where some slots are in a zone, the rest are laid as if they were not.
func TestLayLeavesOutSlots(t *testing.T) {
	h := Hand{Pattern: "xx.", Shades: "abc"}
	all := h.Lay([]int{-5, -4, -3, -2, -1, 0, 1, 2, 3, 4, 5}, 1)
	some := h.Lay([]int{-5, -2, 1, 2, 4}, 1)
	for slot, b := range some {
		if all[slot] != b {
			t.Errorf("slot %d is %v among some slots, %v among all", slot, b, all[slot])
		}
	}
	if len(some) != 5 { // with phase 1 the slots 0 and 3 are left
		t.Errorf("%d laid, want 5", len(some))
	}
	if got := h.Lay(nil, 0); len(got) != 0 {
		t.Errorf("on no slots %v is laid", got)
	}
}

// The row that the words of the row format give as an example.
func TestLayWorkedByHand(t *testing.T) {
	h := Hand{Pattern: EverySecond, Shades: "ab", Split: true}
	r := NewRow(at(60), h.Lay([]int{-5, -4, -3, -2, -1, 0, 1, 2, 3, 4, 5}, 0))
	// From the centre: slot 0 a, 2 b, 4 a.
	if got, want := r.Text(), "A.B.(A).B.A"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	h = Hand{Pattern: EveryThird, Shades: "abc", Trimmed: true}
	r = NewRow(at(60), h.Lay([]int{-7, -6, -5, -4, -3, -2, -1, 0, 1, 2, 3, 4, 5, 6, 7}, 1))
	// From the centre: slot 1 a, 4 b, 7 c.
	if got, want := r.Text(), "c'..b'..a'(.)a'..b'..c'"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}
