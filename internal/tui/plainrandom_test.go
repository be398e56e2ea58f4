package tui

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"example.org/underveil/internal/sheet"
)

// randomLine is a line of any kind.
func randomLine(r *rand.Rand) string {
	place := func() string {
		return pick(r, fmt.Sprint(10*r.IntN(36)), fmt.Sprintf("%d left", r.IntN(20)), fmt.Sprintf("%d %s %d", 10*r.IntN(36), pick(r, "left", "right"), r.IntN(20)),
			fmt.Sprintf("along %d %s %d %s", 8*r.IntN(9), pick(r, "left", "right"), r.IntN(9), pick(r, "back", "front")))
	}
	switch n := r.IntN(100); {
	case n < 12:
		return "go " + place()
	case n < 17:
		return "select " + place() + " to " + place()
	case n < 29:
		return pick(r, "place", "paint", "undo", "redo", "clear", "fix", "next", "row left", "copy row", "lay row", "as in hand", "move")
	case n < 33:
		return "paint " + pick(r, "every third", "split every slot", "xx. trimmed", "b", "nothing")
	case n < 45:
		return fmt.Sprintf("%s %d", pick(r, "left", "right", "up", "down", "undo", "next", "finding", "select left"), r.IntN(12))
	case n < 55:
		return pick(r, "", "done", "cancel", "back", "no", "yes", "1", "2", "list", "help", "again", "none", "leave out", "-3", "title")
	case n < 60:
		return pick(r, "where", "row", "rows", "map", "findings", "totals", "row bonds", "help place", "limits", "nape 25", "order", "visits", "why")
	case n < 63:
		return "key " + pick(r, "Esc", "Enter", "Up", "Tab", "space", "a", "nothing")
	case n < 66:
		return pick(r, evil, strings.Repeat("long ", 3000), "山田", "\"", "place place", "-", "0", "99999999999999999999 left")
	}
	if r.IntN(3) == 0 {
		return pick(r, "cancel", "back", "l", "d", "k", "done")
	}
	id := pick(r, commands...).id
	if id == "leave" {
		return "where"
	}
	return wordOf(id)
}

// Whatever is said, there is an answer of nothing but text, no step is lost, and all steps taken back lead to the first bytes.
func TestRandomLines(t *testing.T) {
	const lines = 200
	for seed := range *seeds {
		t.Run(fmt.Sprint("seed ", seed), func(t *testing.T) {
			r := rand.New(rand.NewPCG(seed, 11))
			e := edit(t, randomSheet(t, r), setup{disk: folder(t, "one.toml")})
			l := listenTo(t, e.m)
			before, doc := e.encoded(), e.m.doc
			for range lines {
				line := randomLine(r)
				if answer := l.hears(line); strings.TrimSpace(answer) == "" && !l.p.quit {
					t.Fatalf("nothing is said to %q", line)
				}
				if l.p.quit || e.m.doc == nil {
					return
				}
				if e.m.doc != doc { // another sheet was opened or begun
					doc, before = e.m.doc, e.encoded()
				}
			}
			e.reopens()
			e.m.dialogs, e.m.doc.moving = nil, nil
			for range len(e.steps()) {
				l.hears("undo")
			}
			if got := e.encoded(); got != before {
				t.Errorf("with all steps taken back the sheet is\n%s\nwant\n%s", got, before)
			}
		})
	}
}

// A row is said so that it could be laid again from what was heard: number, ends and kinds agree with its bonds.
func TestRowSaidIsTheRow(t *testing.T) {
	for seed := range *seeds {
		r := rand.New(rand.NewPCG(seed, 12))
		e := edit(t, randomSheet(t, r), setup{})
		l := listenTo(t, e.m)
		for _, row := range e.m.doc.sheet().Rows {
			if _, err := e.m.doc.table.Line(row.Place); err != nil {
				continue
			}
			first := slices.Sorted(maps.Keys(maps.Collect(row.All())))[0]
			if line, _ := e.m.doc.table.Line(row.Place); line.At(first) == nil {
				continue // a larger head had it
			}
			e.at(row.Place, first)
			heard := map[int]sheet.Bond{}
			for _, line := range strings.Split(strings.TrimSpace(l.hears("row bonds")), "\n")[1:] {
				where, what, _ := strings.Cut(line, ", ")
				at, err := parseSpot(e.m.doc, where)
				if err != nil {
					t.Fatalf("%q: %v", line, err)
				}
				b := sheet.Bond{Split: strings.Contains(what, "split"), Trimmed: strings.Contains(what, "trimmed")}
				for _, h := range e.m.doc.sheet().Shades {
					if strings.HasSuffix(what, " "+h.Name) {
						b.Shade = h.Key
					}
				}
				heard[at.Slot] = b
			}
			again := sheet.NewRow(row.Place, heard)
			again.Look, again.Offset = row.Look, row.Offset
			if !again.Equal(row) {
				t.Errorf("seed %d, %s: heard %s, is %s", seed, row.Place, again.Text(), row.Text())
			}
		}
	}
}
