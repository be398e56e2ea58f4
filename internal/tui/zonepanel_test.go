package tui

import (
	"slices"
	"strings"
	"testing"

	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/sheet"
)

// panelOf is an editor with the panel open on a sheet.
func panelOf(t *testing.T, s *sheet.Sheet, su setup) (*editor, *zonePanel) {
	t.Helper()
	e := edit(t, s, su)
	e.press("z")
	return e, e.m.dialogs[0].(*zonePanel)
}

// TestPanelListsEverything holds the panel to every limit, figure and turn that there is, each once.
func TestPanelListsEverything(t *testing.T) {
	_, p := panelOf(t, plainSheet(t), setup{})
	var limits []sheet.LimitName
	turns := map[sheet.Turn]int{}
	for _, it := range p.items {
		if it.limit != "" {
			limits = append(limits, it.limit)
		}
		if it.turn != "" {
			turns[it.turn]++
		}
	}
	if len(limits) != len(sheet.Limits) {
		t.Errorf("%d limits are listed, want %d", len(limits), len(sheet.Limits))
	}
	for _, l := range sheet.Limits {
		if !slices.Contains(limits, l.Name) {
			t.Errorf("the limit %s is not listed", l.Name)
		}
	}
	for _, turn := range sheet.Turns {
		want := 2
		if turn == sheet.HalfUpSection {
			want = 1
		}
		if turns[turn] != want {
			t.Errorf("%s is listed %d times, want %d", turn, turns[turn], want)
		}
	}
}

// TestPanelShowsWhatItIsOn goes down and up the whole list on the smallest terminal: the item at the cursor is in sight
// with its name and figure, under its heading where it is the first, and said in whole sentences below.
func TestPanelShowsWhatItIsOn(t *testing.T) {
	s := plainSheet(t).With(func(c *sheet.Sheet) { c.Worn = []sheet.Wear{sheet.WornLowTail} }) // much is idle
	e, p := panelOf(t, s, setup{w: minWidth, h: minHeight})
	for _, way := range []string{"Down", "Up"} {
		for range p.items {
			it := p.items[p.at]
			name, value := it.label(s)
			number, _, _ := strings.Cut(value, " ")
			lines := strings.Split(e.m.Screen().String(), "\n")
			row := slices.IndexFunc(lines, func(l string) bool { return strings.Contains(l, string(figure.Unicode.Here)+name[:min(len(name), 14)]) })
			if row < 0 || !strings.Contains(lines[row], " "+number) {
				t.Fatalf("%s %s is not in sight:\n%s", name, number, e.m.Screen())
			}
			if head := p.items[p.at-1].head; head != "" && !strings.Contains(lines[row-1], head) {
				t.Fatalf("%s is not under its heading:\n%s", name, e.m.Screen())
			}
			below := strings.Join(strings.Fields(strings.Join(lines[minHeight-2:], " ")), " ")
			if !strings.HasSuffix(below, it.explained(s)) {
				t.Errorf("below the map it says %q, want %q", below, it.explained(s))
			}
			e.press(way)
		}
	}
}

// TestPanelSparesWhatIsIdle holds what is dimmed to how the client wears the hair and how thick it is known to be.
func TestPanelSparesWhatIsIdle(t *testing.T) {
	for _, c := range []struct {
		worn            []sheet.Wear
		ponytail, count float64
		inUse, idle     []string
	}{
		{nil, 0, 0, []string{"nape", "veil", "falls aside", "whorl, up"}, []string{"nape, ponytail", "cover worn up", "tied hair", "low tie", "half up tie"}},
		{[]sheet.Wear{sheet.WornDown}, 90, 0, []string{"veil", "tied hair"}, []string{"cover worn up", "half up section, up", "high tie"}},
		{[]sheet.Wear{sheet.WornHalfUp}, 90, 200, []string{"cover worn up", "half up section, up", "half up tie", "reach"}, []string{"veil", "falls aside", "whorl", "low tie", "tied hair"}},
		{[]sheet.Wear{sheet.WornDown, sheet.WornHighTail}, 0, 0, []string{"nape, ponytail", "veil", "cover worn up", "high tie, up"}, []string{"nape", "low tie, up"}},
	} {
		s := plainSheet(t).With(func(s *sheet.Sheet) { s.Worn, s.Hair.Ponytail, s.Hair.Count = c.worn, mm(c.ponytail), c.count })
		_, p := panelOf(t, s, setup{})
		seen := 0
		for _, it := range p.items {
			if it.head != "" {
				continue
			}
			if name := it.name(); slices.Contains(c.inUse, name) || slices.Contains(c.idle, name) {
				seen++
				if it.idle(s) && slices.Contains(c.inUse, name) || !it.idle(s) && slices.Contains(c.idle, name) {
					t.Errorf("worn %v, ponytail %g, count %g: %s is idle: %v", c.worn, c.ponytail, c.count, name, it.idle(s))
				}
			}
		}
		if seen < len(c.inUse)+len(c.idle) {
			t.Errorf("worn %v: %d items of %v and %v are listed", c.worn, seen, c.inUse, c.idle)
		}
	}
}

// TestTurnsAreOnTheMap holds the mark on the map to where the turn lies that is being moved, and to nothing while
// a limit is.
func TestTurnsAreOnTheMap(t *testing.T) {
	e, p := panelOf(t, plainSheet(t), setup{})
	for p.at < len(p.items)-1 {
		it := p.items[p.at]
		if it.turn != "" {
			for range 3 {
				want := figure.NearestSlot(e.m.doc.table, e.m.doc.table.Turn(it.turn))
				if got := e.m.view(e.m.layout()).Focus; *got != want {
					t.Errorf("%s: the mark is at %v, want %v", it.name(), *got, want)
				}
				e.press("shift+Right")
			}
			if _, moved := e.m.doc.sheet().Turns[it.turn]; !moved {
				t.Errorf("%s has not moved", it.name())
			}
		}
		if it.limit != "" && *e.m.view(e.m.layout()).Focus != e.m.doc.cursor {
			t.Errorf("%s: the mark is not at the cursor", it.name())
		}
		e.press("Down")
	}
}
