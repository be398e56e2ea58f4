package class

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"example.org/underveil/assets"
	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
)

// seeded is a source of random numbers that repeats from run to run.
func seeded(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 20260302)) }

// fewer is how many of something are tried: all, or with -short some.
func fewer(all, some int) int {
	if testing.Short() {
		return some
	}
	return all
}

// clean is the sheet with nothing wrong that comes with the program.
func clean(t testing.TB) *sheet.Sheet {
	t.Helper()
	data, err := assets.Sheets.ReadFile("sheets/clean.toml")
	if err != nil {
		t.Fatal(err)
	}
	s, _, err := sheetfile.Decode("clean.toml", data)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// exercise is an exercise of a task on the clean sheet, as it is read from its file.
func exercise(t testing.TB, task lesson.Task) *lesson.Exercise {
	t.Helper()
	answer := clean(t)
	bare := answer.With(func(c *sheet.Sheet) { c.Rows = nil })
	x := lesson.New("practice", bare, answer)
	switch task {
	case lesson.Place:
		x.Clear = []string{"nape", "ear", lesson.AllStops, lesson.AllCautions}
		x.Targets = []lesson.Target{{Of: lesson.FigureBonds, Least: float64(answer.Bonds() - 6), Most: math.Inf(1)},
			{Of: lesson.FigureBonds, Row: &sheet.Place{At: 40}, Least: 9, Most: 9}, {Of: lesson.FigureShades, Least: 2, Most: 2}}
		x.MostStrands = answer.Bonds() + 4
	case lesson.Find:
		made, err := lesson.Seed(answer, 4, 7)
		if err != nil {
			t.Fatal(err)
		}
		x = lesson.ToFind("practice", answer, made)
	case lesson.Fit:
		x.Task, x.Tolerance, x.Start, x.Clear = lesson.Fit, 3, answer, []string{lesson.AllStops}
		x.May = []lesson.Part{lesson.Rows}
	}
	x.Title = "practice"
	x, _, err := sheetfile.DecodeExercise("practice.toml", sheetfile.EncodeExercise(x))
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// tasks are the tasks, by name.
var tasks = []lesson.Task{lesson.Place, lesson.Find, lesson.Fit}

// attempt is what some learner makes of an exercise; an odd one may change the head as well.
func attempt(x *lesson.Exercise, rng *rand.Rand, odd bool) *lesson.Attempt {
	a := &lesson.Attempt{Exercise: x.ID, Learner: fmt.Sprintf("L%d", rng.IntN(1000)), Date: "2026-03-02", Hints: rng.IntN(3), Sheet: x.Answer}
	if x.Task == lesson.Find {
		a.Sheet = x.Start
		if rng.IntN(3) == 0 {
			a.Found = x.Faults
			return a
		}
		for _, fault := range x.Faults {
			if rng.IntN(3) > 0 {
				a.Found = append(a.Found, fault)
			}
		}
		for range rng.IntN(3) {
			r := x.Start.Rows[rng.IntN(len(x.Start.Rows))]
			at := sheet.Spot{At: r.Place, Slot: r.First() + rng.IntN(r.Last()-r.First()+1)}
			a.Found = sheet.Tried{Marked: a.Found}.WithMark(at, rule.All[rng.IntN(len(rule.All))].ID).Marked
		}
		return a
	}
	slips := rng.IntN(4)
	for range slips {
		a.Sheet = slip(a.Sheet, rng, odd)
	}
	if x.Task == lesson.Fit && slips == 0 {
		a.Seen = (&lesson.Judge{Exercise: x}).Answered().Seen
	} else if x.Task == lesson.Fit {
		for _, r := range x.Answer.Rows {
			for slot := range r.All() {
				at := sheet.Spot{At: r.Place, Slot: slot}
				if rng.IntN(20) > 0 {
					a.Seen = append(a.Seen, at)
				}
				if rng.IntN(8) == 0 && a.Sheet.Bond(at.At, at.Slot).Placed() {
					a.Off = append(a.Off, lesson.Off{Spot: at, Right: scalp.MM(rng.IntN(9) - 4), Up: scalp.MM(1 + rng.IntN(4))})
				}
			}
		}
	}
	return a
}

// slip is a sheet with one bond, or one row, less, more or another; an odd one perhaps with something that was not to be touched.
func slip(s *sheet.Sheet, rng *rand.Rand, odd bool) *sheet.Sheet {
	if len(s.Rows) == 0 {
		return s.WithBond(sheet.Place{At: 60}, rng.IntN(9)-4, sheet.Bond{Shade: 'a'})
	}
	r := s.Rows[rng.IntN(len(s.Rows))]
	switch rng.IntN(9) {
	case 0:
		return s.WithRow(sheet.Row{Place: r.Place})
	case 1:
		return s.WithBond(r.Place, r.Last()+1+rng.IntN(4), sheet.Bond{Shade: 'b'})
	case 2:
		return s.WithBond(r.Place, r.First(), sheet.Bond{})
	case 3:
		return s.WithBond(sheet.Place{At: 10}, rng.IntN(9)-4, sheet.Bond{Shade: 'a', Split: true})
	case 4:
		return s.WithBond(sheet.Place{Along: true, At: 24}, rng.IntN(9)-4, sheet.Bond{Shade: 'a'})
	case 5:
		if odd {
			return s.WithLandmark(scalp.Landmarks()[0], scalp.Shift{Up: scalp.MM(rng.IntN(5))})
		}
	case 6:
		if odd {
			return s.With(func(c *sheet.Sheet) { c.Measures.Circumference += scalp.MM(rng.IntN(7) - 3) })
		}
	case 7:
		if odd {
			return s.WithLimit(sheet.LimitNape, float64(20+rng.IntN(5)))
		}
	}
	return s.WithBond(r.Place, r.First()+rng.IntN(r.Last()-r.First()+1), sheet.Bond{Shade: 'a'})
}

// put writes a file of a folder.
func put(t testing.TB, folder, name string, data []byte) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(folder, name), data, 0o600); err != nil {
		t.Fatal(err)
	}
}

// handIn writes an attempt as it is handed in.
func handIn(t testing.TB, folder, name string, a *lesson.Attempt) {
	t.Helper()
	put(t, folder, name, sheetfile.EncodeAttempt(a, nil))
}

// aClass fills a folder with so many attempts at an exercise, some of them as plain sheets and some five odd, and returns them by file.
func aClass(t testing.TB, folder string, x *lesson.Exercise, n int) map[string]*lesson.Attempt {
	t.Helper()
	rng := seeded(11)
	all := map[string]*lesson.Attempt{}
	for i := range n {
		name, a := fmt.Sprintf("%05d.toml", i), attempt(x, rng, rng.IntN(n) < 5)
		if x.Task == lesson.Place && rng.IntN(4) == 0 {
			a = &lesson.Attempt{Sheet: a.Sheet}
			put(t, folder, name, sheetfile.Encode(a.Sheet))
		} else {
			handIn(t, folder, name, a)
		}
		all[name] = a
	}
	return all
}

// marked marks a folder that can be read.
func marked(t testing.TB, folder string, by Terms) *Class {
	t.Helper()
	c, _, err := Mark(folder, by)
	if err != nil {
		t.Fatal(err)
	}
	return c
}
