package sheet

import (
	"fmt"
	"runtime"
	"slices"
	"testing"

	"example.org/underveil/internal/scalp"
)

func numbered(n int) *Sheet {
	s := New(scalp.Sizes[1].Measures)
	s.Title = fmt.Sprint(n)
	return s
}

// As many undos as steps, and as many redos, lead to where it was.
func TestUndoAllThenRedoAll(t *testing.T) {
	for seed := range uint64(20) {
		rng := seeded(seed)
		h := NewHistory(New(scalp.Sizes[1].Measures))
		sheets, were, labels := []*Sheet{h.Sheet()}, []string{whole(h.Sheet())}, []string{""}
		for range 60 {
			next, label := randomEdit(rng, h.Sheet())
			if next == h.Sheet() {
				continue
			}
			h.Do(label, next)
			sheets, were, labels = append(sheets, next), append(were, whole(next)), append(labels, label)
		}
		same := func(i int) {
			t.Helper()
			if h.Sheet() != sheets[i] || whole(h.Sheet()) != were[i] {
				t.Fatalf("seed %d: step %d is\n%s, want\n%s", seed, i, whole(h.Sheet()), were[i])
			}
			if h.CanUndo() != labels[i] {
				t.Fatalf("seed %d: %q could be undone at step %d, want %q", seed, h.CanUndo(), i, labels[i])
			}
		}
		last := len(sheets) - 1
		for i := last; i > 0; i-- {
			same(i)
			if label, ok := h.Undo(); !ok || label != labels[i] {
				t.Fatalf("seed %d: undid %q, %v; want %q", seed, label, ok, labels[i])
			}
		}
		if label, ok := h.Undo(); ok || label != "" || h.CanUndo() != "" {
			t.Fatalf("seed %d: undid %q before the first step", seed, label)
		}
		for i := range last {
			same(i)
			if h.CanRedo() != labels[i+1] {
				t.Fatalf("seed %d: %q could be made again, want %q", seed, h.CanRedo(), labels[i+1])
			}
			if label, ok := h.Redo(); !ok || label != labels[i+1] {
				t.Fatalf("seed %d: made again %q, %v; want %q", seed, label, ok, labels[i+1])
			}
		}
		same(last)
		if label, ok := h.Redo(); ok || label != "" || h.CanRedo() != "" {
			t.Fatalf("seed %d: made %q again after the last step", seed, label)
		}
	}
}

// A history is a list of steps and a place in it.
func TestHistoryAgainstAList(t *testing.T) {
	for seed := range uint64(60) {
		rng := seeded(seed)
		h := NewHistory(numbered(0))
		list, place := []*Sheet{h.Sheet()}, 0
		for n := 1; n < 80; n++ {
			s := numbered(n)
			switch rng.IntN(6) {
			case 0, 1:
				h.Do(s.Title, s)
				list, place = append(list[:place+1], s), place+1
			case 2:
				h.Do("the same", h.Sheet())
			case 3:
				h.Amend(s.Title, s)
				if place == 0 {
					place++
				}
				list = append(list[:place], s)
			case 4:
				if _, ok := h.Undo(); ok != (place > 0) {
					t.Fatalf("seed %d: undone %v at step %d", seed, ok, place)
				}
				place = max(0, place-1)
			case 5:
				if _, ok := h.Redo(); ok != (place+1 < len(list)) {
					t.Fatalf("seed %d: made again %v at step %d of %d", seed, ok, place, len(list))
				}
				place = min(len(list)-1, place+1)
			}
			title := func(i int) string {
				if i < 1 || i >= len(list) {
					return ""
				}
				return list[i].Title
			}
			if h.Sheet() != list[place] || h.CanUndo() != title(place) || h.CanRedo() != title(place+1) {
				t.Fatalf("seed %d: at %q, undo %q, redo %q; want step %d of %v", seed, h.Sheet().Title, h.CanUndo(), h.CanRedo(), place, list)
			}
		}
	}
}

// A drag is one step however far it goes.
func TestAmendKeepsOneStep(t *testing.T) {
	opened := numbered(0)
	h := NewHistory(opened)
	h.Do("drag", numbered(1))
	for n := 2; n < 10; n++ {
		h.Amend("drag", numbered(n))
	}
	if h.Sheet().Title != "9" {
		t.Errorf("the drag ended at %s", h.Sheet().Title)
	}
	if label, ok := h.Undo(); !ok || label != "drag" || h.Sheet() != opened {
		t.Errorf("undone %q, %v, to %s", label, ok, h.Sheet().Title)
	}
	if label, ok := h.Redo(); !ok || label != "drag" || h.Sheet().Title != "9" {
		t.Errorf("made again %q, %v, to %s", label, ok, h.Sheet().Title)
	}
	fresh := NewHistory(opened)
	fresh.Amend("drag", numbered(1))
	if label, ok := fresh.Undo(); !ok || label != "drag" || fresh.Sheet() != opened {
		t.Error("the sheet as it was opened was amended")
	}
}

func TestDoAfterUndoDropsRedo(t *testing.T) {
	h := NewHistory(numbered(0))
	for n := 1; n <= 5; n++ {
		h.Do(fmt.Sprint("step ", n), numbered(n))
	}
	for range 3 {
		h.Undo()
	}
	h.Do("another", numbered(9))
	if h.CanRedo() != "" {
		t.Errorf("%q can be made again", h.CanRedo())
	}
	var labels []string
	for label, ok := h.Undo(); ok; label, ok = h.Undo() {
		labels = append(labels, label)
	}
	if want := []string{"another", "step 2", "step 1"}; !slices.Equal(labels, want) {
		t.Errorf("undone %q, want %q", labels, want)
	}
}

func TestHistoryIsBounded(t *testing.T) {
	h := NewHistory(numbered(0))
	s := numbered(1)
	const over = 7
	for n := range maxSteps + over {
		h.Do(fmt.Sprint(n), s.With(func(*Sheet) {}))
	}
	if len(h.steps) > maxSteps {
		t.Errorf("%d steps are kept, want %d at most", len(h.steps), maxSteps)
	}
	for n := maxSteps + over - 1; ; n-- {
		label, ok := h.Undo()
		if !ok {
			if n != over {
				t.Errorf("the oldest step that could be undone was %d, want %d", n+1, over+1)
			}
			break
		}
		if label != fmt.Sprint(n) {
			t.Fatalf("undone %q, want %d", label, n)
		}
	}
	for range maxSteps - 1 {
		if _, ok := h.Redo(); !ok {
			t.Fatal("a step can't be made again")
		}
	}
}

// fullSheet has fifteen rows of twenty bonds.
func fullSheet() *Sheet {
	s := New(scalp.Sizes[1].Measures)
	for i := range 15 {
		bonds := map[int]Bond{}
		for slot := -10; slot < 10; slot++ {
			bonds[2*slot] = wholeA
		}
		s = s.WithRow(NewRow(at(scalp.MM(20+10*i)), bonds))
	}
	return s
}

func TestEditsShareRows(t *testing.T) {
	s := fullSheet()
	if s.Bonds() != 300 {
		t.Fatalf("%d bonds, want 300", s.Bonds())
	}
	next := s.WithBond(at(60), 1, splitA)
	for i := range s.Rows {
		shared := &s.Rows[i].bonds[0] == &next.Rows[i].bonds[0]
		if changed := s.Rows[i].At == 60; shared == changed {
			t.Errorf("row at %s: changed %v, shared %v", s.Rows[i].Place, changed, shared)
		}
	}
}

// Steps share what an edit left alone, so that a long day's work stays small.
func TestStepsAreSmall(t *testing.T) {
	rng := seeded(1)
	h := NewHistory(fullSheet())
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	for range 1000 {
		row := at(scalp.MM(20 + 10*rng.IntN(15)))
		slot := rng.IntN(39) - 19
		b := wholeA
		if h.Sheet().Bond(row, slot).Placed() {
			b = Bond{}
		}
		h.Do("one slot", h.Sheet().WithBond(row, slot, b))
	}
	runtime.ReadMemStats(&after)
	all := after.TotalAlloc - before.TotalAlloc
	runtime.GC()
	runtime.ReadMemStats(&after)
	kept := int64(after.HeapAlloc) - int64(before.HeapAlloc)
	t.Logf("1,000 steps on 300 bonds: %d kB allocated, %d kB kept", all/1000, kept/1000)
	if all > 3_000_000 || kept > 3_000_000 {
		t.Errorf("1,000 steps allocated %d bytes and keep %d, want less than 3 MB", all, kept)
	}
	if len(h.steps) != 1001 {
		t.Errorf("%d steps, want 1001", len(h.steps))
	}
	runtime.KeepAlive(h)
}
