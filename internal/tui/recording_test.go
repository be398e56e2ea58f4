package tui

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
)

// leaves are the keys that would leave the sheet, end the recording or take long.
var leaves = []string{"q", "ctrl+c", "ctrl+o", "ctrl+n", "D", "R"}

// gestures are the keys that may go on in the step before, so that not everything seen is a step.
var gestures = []string{"z", "m", "[", "]"}

// session records a random session of so many changes, and returns the sheet after every key that changed it, as files would be.
func session(t *testing.T, r *rand.Rand, changes int, without []string) (e *editor, seen []string, backs int) {
	t.Helper()
	e = edit(t, randomSheet(t, r), setup{w: 120, h: 40})
	e.unseen = true
	e.press("D")
	seen = []string{e.encoded()}
	all := slices.DeleteFunc(bound(), func(k string) bool { return slices.Contains(without, k) || slices.Contains(leaves, k) })
	for len(seen) <= changes {
		key := randomKey(r, len(e.m.dialogs) > 0, all)
		switch n := r.IntN(10); {
		case len(e.m.dialogs) > 0:
		case n < 2:
			key = pick(r, "space", "r", "f")
		case n == 2:
			key = pick(r, "u", "U")
		case n == 3:
			key = pick(r, "i", "k", "Q", "b")
		}
		if len(e.m.dialogs) == 0 && slices.Contains(without, key) {
			continue
		}
		was := e.m.doc.history.CanRedo()
		e.press(key)
		if now := e.encoded(); now != seen[len(seen)-1] {
			seen = append(seen, now)
			if again := e.m.doc.history.CanRedo(); again != "" && again != was && len(e.m.dialogs) == 0 && key == "u" {
				backs++
			}
		}
	}
	for len(e.m.dialogs) > 0 {
		e.press("Esc")
	}
	if e.m.doc.moving != nil {
		e.press("Enter")
	}
	if now := e.encoded(); now != seen[len(seen)-1] {
		seen = append(seen, now)
	}
	return e, seen, backs
}

// saveRecording ends the recording and reads what was written.
func (e *editor) saveRecording(name string) *lesson.Script {
	e.t.Helper()
	e.press("D")
	e.write(name)
	e.press("Enter")
	script, notices, err := sheetfile.DecodeScript(name, e.disk.held[name+".toml"])
	if err != nil || len(notices) > 0 {
		e.t.Fatalf("%v %v\n%s", err, notices, e.disk.held[name+".toml"])
	}
	return script
}

// sheetsOf are the sheets of a script as files would be, the start first.
func sheetsOf(start *sheet.Sheet, steps []lesson.Step) []string {
	list := []string{string(sheetfile.Encode(start))}
	for _, s := range steps {
		list = append(list, string(sheetfile.Encode(s.Sheet)))
	}
	return list
}

// A session recorded, written, read and gone through forward, back and forward again gives the very sheets at each step, byte for byte.
func TestRecordedSessionReplays(t *testing.T) {
	for seed := range fewer(4, 1) {
		t.Run(fmt.Sprint("seed ", seed), func(t *testing.T) {
			r := rand.New(rand.NewPCG(uint64(seed), 17))
			e, seen, _ := session(t, r, 110, nil)
			want := sheetsOf(e.m.rec.start, e.m.rec.steps)
			script := e.saveRecording("session")
			if got := sheetsOf(script.Start, script.Steps); !slices.Equal(got, want) {
				t.Fatalf("the file has other sheets than were recorded")
			}
			if want[0] != seen[0] || want[len(want)-1] != seen[len(seen)-1] {
				t.Errorf("it does not begin and end as the session did")
			}
			if !subsequence(slices.Compact(slices.Clone(want)), seen) {
				t.Errorf("a step is no sheet that was there")
			}
			t.Logf("%d steps of %d changes", len(script.Steps), len(seen)-1)
			replay(t, e, want)
		})
	}
}

// replay opens what was recorded and goes through it, forward, back and forward, and sees the same each time.
func replay(t *testing.T, e *editor, want []string) {
	t.Helper()
	e.unseen = false
	e.resize(160, 70) // the whole map, which is moved no further than it must be otherwise
	e.run(e.m.Open("session.toml"))
	screens := make([]string, len(want))
	check := func(n int) {
		t.Helper()
		p := e.m.stepping()
		if p == nil || p.at != n {
			t.Fatalf("after %s it is not at step %d:\n%s", e.last, n, e.m.Screen())
		}
		if got := e.encoded(); got != want[n] {
			t.Fatalf("after %s step %d is\n%s\nwant\n%s", e.last, n, got, want[n])
		}
		if shown := e.m.Screen().String(); screens[n] == "" {
			screens[n] = shown
		} else if screens[n] != shown {
			t.Fatalf("after %s step %d shows\n%s\nand before it was\n%s", e.last, n, shown, screens[n])
		}
		if e.m.doc.changed() {
			t.Fatalf("step %d would be asked about", n)
		}
	}
	check(0)
	for n := 1; n < len(want); n++ {
		e.press([]string{"space", "Right", "PgDn"}[n%3])
		check(n)
	}
	for n := len(want) - 2; n >= 0; n-- {
		e.press([]string{"Left", "PgUp", "b"}[n%3])
		check(n)
	}
	for n := 1; n < len(want); n++ {
		e.press("space")
		check(n)
		if n%7 == 0 { // something is tried, and gone again
			e.press("e", "r", "Up", "space", "Delete", "D")
			check(n)
		}
	}
	e.press("Home")
	check(0)
	e.press("End")
	check(len(want) - 1)
}

// subsequence reports whether all of one list are in the other, in that order.
func subsequence(of, in []string) bool {
	for _, s := range of {
		i := slices.Index(in, s)
		if i < 0 {
			return false
		}
		in = in[i:]
	}
	return true
}

// Without gestures that go on, every change is a step, and every one taken back says so.
func TestEveryChangeIsAStep(t *testing.T) {
	total := 0
	for seed := range fewer(4, 1) {
		r := rand.New(rand.NewPCG(uint64(seed), 23))
		e, seen, backs := session(t, r, 100, gestures)
		rec := e.m.rec
		got := slices.Compact(sheetsOf(rec.start, rec.steps))
		if !slices.Equal(got, seen) {
			t.Errorf("seed %d: %d sheets are recorded, and %d were there", seed, len(got), len(seen))
		}
		told := 0
		for i, s := range rec.steps {
			if strings.HasPrefix(s.Did, "taken back: ") {
				told++
			}
			if s.Did == "" || s.Look == nil {
				t.Errorf("seed %d: step %d says nothing: %+v", seed, i, s)
			}
		}
		if told < backs {
			t.Errorf("seed %d: %d steps are said to be taken back, and %d were", seed, told, backs)
		}
		total += backs
	}
	if total == 0 {
		t.Error("nothing was ever taken back")
	}
}

// A key held down over a slow line comes as one message: each is a step all the same.
func TestKeysInOneMessageAreSteps(t *testing.T) {
	e := edit(t, plainSheet(t), setup{})
	e.at(height(60), 0)
	e.press("D")
	e.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("r uUu")})
	var did []string
	for _, s := range e.m.rec.steps {
		did = append(did, s.Did)
	}
	lift := "lift a bond"
	want := []string{"paint the row at height 60", lift, "taken back: " + lift, "done again: " + lift, "taken back: " + lift}
	if !slices.Equal(did, want) {
		t.Errorf("steps %q, want %q", did, want)
	}
}

// What is tried in a demonstration is not recorded, and neither is another sheet.
func TestRecordingEndsWithItsSheet(t *testing.T) {
	e := edit(t, plainSheet(t), setup{disk: folder(t, "other.toml")})
	e.press("D")
	e.run(e.m.Open("other.toml"))
	e.at(height(60), 0)
	e.press("space")
	if e.m.rec != nil {
		t.Errorf("another sheet is recorded: %d steps", len(e.m.rec.steps))
	}
}

// A recording that is full says so, and keeps what it has.
func TestFullRecording(t *testing.T) {
	e := edit(t, plainSheet(t), setup{})
	e.at(height(60), 0)
	e.press("D", "space")
	for len(e.m.rec.steps) < mostRecorded {
		step := e.m.rec.steps[0]
		step.Say = "somebody has written something about every step"
		e.m.rec.steps = append(e.m.rec.steps, step)
	}
	e.press("Right", "Right", "space")
	e.says("is full")
	if n := len(e.m.rec.steps); n != mostRecorded {
		t.Errorf("%d steps", n)
	}
	script := e.saveRecording("session")
	if len(script.Steps) != mostRecorded {
		t.Errorf("%d steps in the file", len(script.Steps))
	}
}

// fewer is a number of rounds: all of them, or some with -short.
func fewer(all, some int) int {
	if testing.Short() {
		return some
	}
	return all
}
