package ledger

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"
	"time"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
	"example.org/underveil/internal/visit"
)

// seeded is a source of random numbers that repeats from run to run.
func seeded(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 20261126)) }

// fewer is how many of something are tried: all, or with -short some.
func fewer(all, some int) int {
	if testing.Short() {
		return some
	}
	return all
}

// day is a day of a test.
func day(date string) time.Time {
	d, err := visit.Day(date)
	if err != nil {
		panic(err)
	}
	return d
}

// spot is a slot of a row across.
func spot(height scalp.MM, slot int) sheet.Spot {
	return sheet.Spot{At: sheet.Place{At: height}, Slot: slot}
}

// oats is an ordinary head with strands of 500 mm for volume, and rows written as in a file.
func oats(t testing.TB, rows map[scalp.MM]string) *sheet.Sheet {
	t.Helper()
	s := sheet.New(scalp.Sizes[1].Measures).With(func(c *sheet.Sheet) {
		c.Title = "oats"
		c.Shades = []sheet.Shade{{Key: 'a', Name: "oat", Length: 500, Grams: 0.8, Pack: 25}, {Key: 'b', Name: "rye crust", Length: 500, Grams: 0.8, Pack: 25}}
	})
	for at, text := range rows {
		r, err := sheet.ParseBonds(sheet.Place{At: at}, text)
		if err != nil {
			t.Fatalf("%q: %v", text, err)
		}
		s = s.WithRow(r)
	}
	return s
}

// visited is a sheet with another visit, which f records, begun and finished on a day; it stays open where f does not do all of it.
func visited(t testing.TB, s *sheet.Sheet, kind sheet.VisitKind, date string, f func(s *sheet.Sheet, n int) *sheet.Sheet) *sheet.Sheet {
	t.Helper()
	s, err := visit.Begin(s, kind, date, "")
	if err != nil {
		t.Fatal(err)
	}
	n := len(s.Visits) - 1
	s = f(s, n)
	if done, err := visit.Finish(s, n); err == nil {
		return done
	}
	return s
}

// fitAll bonds all that is planned.
func fitAll(s *sheet.Sheet, n int) *sheet.Sheet {
	for _, r := range s.Rows {
		for slot, b := range r.All() {
			s = visit.Fit(s, n, sheet.Spot{At: r.Place, Slot: slot}, b)
		}
	}
	return s
}

// markRest gives every bond without a mark one.
func markRest(s *sheet.Sheet, n int, m sheet.Mark) *sheet.Sheet {
	for _, at := range visit.Unseen(s, n) {
		s = visit.See(s, n, at, m)
	}
	return s
}

// takeOut takes all out, and gives all of it new tips.
func takeOut(t testing.TB, s *sheet.Sheet, n int) *sheet.Sheet {
	t.Helper()
	s = markRest(s, n, sheet.TakenOut)
	s, err := visit.Resolve(s, n, visit.Proposed(s, n))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// lifelike is a client with some 120 bonds and three to five visits from a day on: a fitting, an early check with losses, a
// refit with the strands used again, and so on.
func lifelike(t testing.TB, rng *rand.Rand, first time.Time) *sheet.Sheet {
	t.Helper()
	s := oats(t, nil)
	lengths := []scalp.MM{400, 500, 600}
	s = s.With(func(c *sheet.Sheet) {
		c.Client = fmt.Sprintf("%04d", rng.IntN(10000))
		c.Title = "length and volume"
		c.Date = iso(first)
		c.Notes = "comes on Thursdays; quiet hours"
		c.Hair.Length = scalp.MM(200 + 10*rng.IntN(20))
		if rng.IntN(2) == 0 {
			c.Wish, c.Amounts.Length = []sheet.Look{sheet.Length, sheet.Volume}, scalp.MM(350+50*rng.IntN(4))
		}
		for i := range c.Shades {
			c.Shades[i].Length = lengths[rng.IntN(len(lengths))]
		}
	})
	for i, height := range []scalp.MM{40, 60, 80, 100, 120, 150, 160} {
		reach := 8 + 2*i + rng.IntN(4)
		bonds := map[int]sheet.Bond{}
		for slot := -reach; slot <= reach; slot += 2 {
			bonds[slot] = sheet.Bond{Shade: "aab"[rng.IntN(3)], Split: rng.IntN(6) == 0, Trimmed: rng.IntN(8) == 0}
		}
		s = s.WithRow(sheet.NewRow(sheet.Place{At: height}, bonds))
	}
	s = visited(t, s, sheet.Fitting, iso(first), fitAll)
	for n, visits := 1, 3+rng.IntN(3); n < visits; n++ {
		if n%2 == 1 {
			first = first.AddDate(0, 0, 10+rng.IntN(7))
			s = visited(t, s, sheet.Inspection, iso(first), func(s *sheet.Sheet, n int) *sheet.Sheet {
				for _, at := range visit.Unseen(s, n) {
					switch x := rng.IntN(100); {
					case x < 3:
						s = visit.See(s, n, at, sheet.Lost)
					case x < 5:
						s = visit.Mend(visit.See(s, n, at, sheet.Slipped), n, at)
					}
				}
				return markRest(s, n, sheet.Sealed)
			})
			continue
		}
		first = first.AddDate(0, 0, 30+rng.IntN(20))
		s = visited(t, s, sheet.Refit, iso(first), func(s *sheet.Sheet, n int) *sheet.Sheet {
			return fitAll(visit.Reuse(takeOut(t, s, n)), n)
		})
	}
	return s
}

// write puts a sheet into a file of a folder.
func write(t testing.TB, folder, name string, s *sheet.Sheet) {
	t.Helper()
	writeText(t, folder, name, string(sheetfile.Encode(s)))
}

func writeText(t testing.TB, folder, name, text string) {
	t.Helper()
	file := filepath.Join(folder, name)
	if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

// manyClients fills a folder with the sheets of so many clients: a hundred of them made, each several times with other dates.
func manyClients(t testing.TB, folder string, n int) {
	t.Helper()
	rng := seeded(5)
	var made []*sheet.Sheet
	for range min(n, 100) {
		made = append(made, lifelike(t, rng, day("2026-03-02")))
	}
	for i := range n {
		s := made[i%len(made)]
		later := rng.IntN(200)
		s = s.With(func(c *sheet.Sheet) {
			c.Client = fmt.Sprintf("%05d", i)
			c.Visits = append([]sheet.Visit{}, c.Visits...)
			for k := range c.Visits {
				c.Visits[k].Date = iso(day(c.Visits[k].Date).AddDate(0, 0, later))
			}
		})
		write(t, folder, fmt.Sprintf("%02d/%05d.toml", i%40, i), s)
	}
}
