package sheetfile

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"example.org/underveil/assets"
	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// fewer is a number of rounds: all of them, or some with -short.
func fewer(all, some int) int {
	if testing.Short() {
		return some
	}
	return all
}

func TestBadDemonstrationSamples(t *testing.T) {
	wantRefused(t, "bad-demonstration", func(name string, data []byte) ([]Notice, error) {
		s, notices, err := DecodeScript(name, data)
		if err != nil && s != nil {
			t.Error("there is a demonstration beside the error")
		}
		return notices, err
	})
}

// Whatever is different between two sheets, the changes written give the second sheet again: the one that Decode gives.
func TestChangesGiveTheNextSheet(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 1))
	changed := map[string]int{}
	var heads Heads
	for round := range fewer(150, 8) {
		script := &lesson.Script{Title: "random ''' quotes", Say: "look\nhere", Start: randomGood(t, r)}
		before := script.Start
		for range 1 + r.IntN(8) {
			after := smallStep(before, r)
			if r.IntN(6) == 0 { // quite another sheet
				after = randomGood(t, r)
			}
			script.Steps = append(script.Steps, lesson.Step{Did: "a step", Sheet: after, Look: &sheet.Spot{At: sheet.Place{At: 60}, Slot: -3}})
			before = after
		}
		data := EncodeScript(script)
		read, notices, err := DecodeScript("random.toml", data)
		if err != nil || len(notices) > 0 {
			t.Fatalf("round %d: %v, notices %v\n%s", round, err, notices, data)
		}
		for n := range len(script.Steps) + 1 {
			want, _, err := heads.decode("random.toml", Encode(script.At(n)), true)
			if err != nil {
				t.Fatal(err)
			}
			if got := read.At(n); !reflect.DeepEqual(got, want) {
				t.Fatalf("round %d, step %d: the sheet is another one:\n%s\nin\n%s", round, n, diff(string(Encode(want)), string(Encode(got))), data)
			}
			if n > 0 {
				for _, key := range changedKeys(Encode(script.At(n-1)), Encode(script.At(n))) {
					changed[key]++
				}
			}
		}
		if again := EncodeScript(read); !bytes.Equal(again, data) {
			t.Fatalf("round %d: written again it is another file:\n%s", round, diff(string(data), string(again)))
		}
	}
	if testing.Short() {
		return // a few steps need not have everything
	}
	for _, key := range append(slices.Clone(headSheet.keysIn[""]), "without", "shade = []") {
		if changed[key] == 0 && key != "format" {
			t.Errorf("no random step has changed %s", key)
		}
	}
}

// changedKeys are the keys and tables that stand in the changes between two sheets.
func changedKeys(before, after []byte) []string {
	changes := changesBetween(blocksOf(before), blocksOf(after))
	var keys []string
	for _, line := range strings.Split(changes, "\n") {
		name, _, isKey := strings.Cut(line, " = ")
		switch {
		case strings.HasPrefix(line, "["):
			keys = append(keys, strings.Trim(line, "[]"))
		case isKey:
			keys = append(keys, name)
		}
		if line == "shade = []" {
			keys = append(keys, line)
		}
	}
	return keys
}

// randomGood is a random sheet that can be read again, as it is then.
func randomGood(t *testing.T, r *rand.Rand) *sheet.Sheet {
	t.Helper()
	data, err := assets.Sheets.ReadFile("sheets/" + pick(r, []string{"clean", "demo", "faults", "returning"}) + ".toml")
	if err != nil {
		t.Fatal(err)
	}
	s, _, err := Decode("random.toml", data)
	if err != nil {
		t.Fatal(err)
	}
	for range r.IntN(6) {
		s = smallStep(s, r)
	}
	return s
}

// smallStep is one edit of anything that a sheet has. What depended on it and would not fit any more is taken away.
func smallStep(s *sheet.Sheet, r *rand.Rand) *sheet.Sheet {
	if r.IntN(2) == 0 {
		return bondStep(s, r)
	}
	few := func() scalp.Shift { return scalp.Shift{Right: scalp.MM(r.IntN(7) - 3), Up: scalp.MM(r.IntN(7) - 3)} }
	odd := func() string {
		return pick(r, []string{"", "it's ''' quoted", "[row]", "[[row]]", `a "b" = 'c'`, `"""`, "# no remark", `\`, "bonds = []", randomText(r)})
	}
	edits := []func(c *sheet.Sheet){
		func(c *sheet.Sheet) { c.Title, c.Client = odd(), odd() },
		func(c *sheet.Sheet) { c.Notes = odd() + pick(r, []string{"", "\nlines = [3]\n", "\n\n[row]"}) },
		func(c *sheet.Sheet) { c.Date = randomDate(r) },
		func(c *sheet.Sheet) { c.Asked = randomConsultation(r) },
		func(c *sheet.Sheet) { c.Amounts = randomAmounts(r) },
		func(c *sheet.Sheet) { c.Worn, c.Wish = some(r, sheet.Wears), some(r, sheet.Looks) },
		func(c *sheet.Sheet) { c.Hair = sheet.Hair{Length: scalp.MM(100 * r.IntN(4)), Root: randomColour(r)} },
		func(c *sheet.Sheet) { c.Measures.NapeWidth = scalp.MM(106 + r.IntN(4)) },
		func(c *sheet.Sheet) { *c = *c.WithLandmark(pick(r, scalp.Landmarks()), few()) },
		func(c *sheet.Sheet) { c.Moved = nil },
		func(c *sheet.Sheet) { *c = *c.WithTurn(pick(r, sheet.Turns), scalp.Shift{Up: few().Up}) },
		func(c *sheet.Sheet) { c.Turns = nil },
		func(c *sheet.Sheet) { *c = *c.WithLimit(sheet.LimitNape, float64(20+r.IntN(9))) },
		func(c *sheet.Sheet) { c.Limits = nil },
		func(c *sheet.Sheet) { c.Partings = nil },
		func(c *sheet.Sheet) {
			c.Partings = append(slices.Clip(c.Partings), scalp.Parting{Right: few().Right, Length: 100})
		},
		func(c *sheet.Sheet) { c.KeepOff = nil },
		func(c *sheet.Sheet) {
			c.KeepOff = append(slices.Clip(c.KeepOff), sheet.KeepOff{Height: 90, Right: few().Right, Radius: 10, Why: odd()})
		},
		func(c *sheet.Sheet) {
			c.Accepted = nil
			if r.IntN(3) > 0 {
				c.Accepted = []sheet.Accepted{{Concern: sheet.Concern{Rule: "refer", About: odd()}, Reason: "so " + odd(), By: odd()}}
			}
		},
		func(c *sheet.Sheet) {
			c.HoleSpacing, c.Aside, c.Visits = scalp.MM(7+r.IntN(3)), r.IntN(2) == 0, nil
			c.Rows = slices.DeleteFunc(slices.Clone(c.Rows), func(row sheet.Row) bool { return row.Along })
		},
		func(c *sheet.Sheet) { c.LineGap, c.Rows, c.Visits = pick(r, []scalp.MM{7.3, 10, 12}), nil, nil },
		func(c *sheet.Sheet) { c.Shades, c.Rows, c.Visits = nil, nil, nil },
		func(c *sheet.Sheet) { c.Visits = nil },
		func(c *sheet.Sheet) {
			if len(c.Shades) > 0 {
				*c = *randomVisits(r, c.With(func(c *sheet.Sheet) { c.Visits = nil }))
			}
		},
	}
	return s.With(pick(r, edits))
}

// bondStep is an edit of bonds, rows and shades.
func bondStep(s *sheet.Sheet, r *rand.Rand) *sheet.Sheet {
	if len(s.Shades) == 0 || len(s.Shades) < 20 && r.IntN(5) == 0 {
		return s.With(func(c *sheet.Sheet) {
			key := byte('a')
			for slices.ContainsFunc(c.Shades, func(h sheet.Shade) bool { return h.Key == key }) {
				key++
			}
			c.Shades = append(slices.Clip(c.Shades), sheet.Shade{Key: key, Name: fmt.Sprint("shade ", r.IntN(9)), Length: 500, Grams: 0.8, Pack: 25})
		})
	}
	if len(s.Rows) > 0 {
		row := pick(r, s.Rows)
		switch r.IntN(4) {
		case 0: // it goes
			return s.WithRow(sheet.Row{Place: row.Place})
		case 1:
			row.Offset, row.Look = !row.Offset, pick(r, sheet.Looks)
			return s.WithRow(row)
		}
	}
	at := sheet.Place{At: s.LineGap * scalp.MM(5+r.IntN(3))}
	if r.IntN(4) == 0 {
		at = sheet.Place{Along: true, At: s.HoleSpacing * scalp.MM(r.IntN(3))}
	}
	return s.WithBond(at, r.IntN(9)-4, randomBond(r, s))
}
