package tui

import (
	"fmt"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// wornSheet is a sheet with rows, worn in several ways, that the readings have something to say about.
func wornSheet(t *testing.T) *sheet.Sheet {
	t.Helper()
	s := plainSheet(t).With(func(c *sheet.Sheet) {
		c.Worn = []sheet.Wear{sheet.WornDown, sheet.WornHalfUp, sheet.WornHighTail}
		c.Partings = []scalp.Parting{{Right: 30, Length: 120}, {Right: -20, Length: 100}}
	})
	for _, row := range []string{"60 a.a.a.(a).a.a.a", "120 a.a.a.(a).a.a.a", "100 a...............(.)...............a"} {
		s = s.WithRow(parseRow(t, row))
	}
	return s
}

// TestReadingsGoRound holds w to every reading of the sheet in its order, and W to the same backwards.
func TestReadingsGoRound(t *testing.T) {
	e := edit(t, wornSheet(t), setup{})
	list := rule.Readings(e.m.doc.sheet())
	if len(list) != 1+2+3+2 { // zones, two partings, three ways up, load and density
		t.Fatalf("%d readings", len(list))
	}
	for i := range 2 * len(list) {
		if want := list[i%len(list)]; e.m.reading != want {
			t.Fatalf("after %d times w the map is shaded by %s, want %s", i, e.m.readingName(), want.Name(e.m.doc.sheet()))
		}
		e.press("w")
	}
	for i := range len(list) {
		e.press("W")
		if want := list[len(list)-1-i]; e.m.reading != want {
			t.Fatalf("after %d times W the map is shaded by %s, want %s", i+1, e.m.readingName(), want.Name(e.m.doc.sheet()))
		}
	}
}

// TestReadingAtTheCursor holds the figure in the line below the map, the legend, and the finding at the cursor to one
// another and to the scale, at every size and with plain characters too.
func TestReadingAtTheCursor(t *testing.T) {
	for _, glyphs := range []*figure.Glyphs{&figure.Unicode, &figure.ASCII} {
		for _, size := range [][2]int{{80, 24}, {120, 40}, {200, 60}} {
			e := edit(t, wornSheet(t), setup{w: size[0], h: size[1], glyphs: glyphs})
			e.at(height(120), 2)
			for _, r := range rule.Readings(e.m.doc.sheet())[1:] {
				e.press("w")
				scale := rule.ScaleOf(r, e.m.doc.sheet(), e.m.doc.table)
				v, ok := scale.At(e.m.doc.line(), 2)
				status := strings.TrimSpace(e.term.Row(size[1] - 2))
				if want := fmt.Sprintf(" %.0f ", v); !ok || !strings.Contains(status, want) || !strings.Contains(status, fmt.Sprintf("%.0f", scale.Limit)) {
					t.Errorf("%v, %s: the line below the map says %q, want%s and %g", size, r.Name(e.m.doc.sheet()), status, want, scale.Limit)
				}
				for _, b := range scale.Bounds() {
					if text := fmt.Sprintf("%.0f", b); !strings.Contains(e.m.Screen().String(), text) {
						t.Errorf("%v, %s: no %s in the legend:\n%s", size, r.Name(e.m.doc.sheet()), text, e.m.Screen())
					}
				}
				for _, f := range e.m.doc.report.Findings {
					if f.Reading == r && f.On == sheet.OnSlot && f.Row == height(120) && f.Slot == 2 && fmt.Sprintf("%.1f", f.Value) != fmt.Sprintf("%.1f", v) {
						t.Errorf("%s: the finding says %.1f and the reading %.1f", f.Rule, f.Value, v)
					}
				}
			}
		}
	}
}

// TestStepsAreMarks holds every step of a reading to a mark of its own: colour only adds to it.
func TestStepsAreMarks(t *testing.T) {
	onEveryTerminal(t, func(t *testing.T, s setup) {
		e := edit(t, wornSheet(t), s)
		e.press("w")
		scale := rule.ScaleOf(e.m.reading, e.m.doc.sheet(), e.m.doc.table)
		marks := map[rune]int{}
		for _, line := range e.m.doc.table.Lines {
			// Two looks at a line tell where all of its slots are.
			from, to := e.cellOf(line.Place(), line.First), e.cellOf(line.Place(), line.Last())
			for i := range line.Slots {
				slot := line.First + i
				v, ok := scale.At(line, slot)
				if !ok || e.m.doc.sheet().Bond(line.Place(), slot).Placed() || line.Place() == e.m.doc.cursor.At {
					continue
				}
				r := e.term.Cell(from.x+i*(to.x-from.x)/max(1, len(line.Slots)-1), from.y).Rune
				if step, known := marks[r]; known && step != scale.Step(v) && r != s.glyphs.Whorl {
					t.Fatalf("%q stands for the steps %d and %d", r, step, scale.Step(v))
				}
				marks[r] = scale.Step(v)
			}
		}
		if len(marks) < rule.Steps {
			t.Errorf("only %d marks on the map", len(marks))
		}
	})
}

// TestNothingIsMadeAgain holds what is slow to be made only when something that it depends on has changed.
func TestNothingIsMadeAgain(t *testing.T) {
	e := edit(t, wornSheet(t), setup{})
	e.press("w", "H")
	table, shading, relief := e.m.doc.table, e.m.shading, e.m.relief
	if shading == nil || relief == nil {
		t.Fatal("there is no shading or no head")
	}
	for _, keys := range [][]string{{"Up", "Left"}, {"space"}, {"r"}, {"u"}, {"Tab"}, {"L"}} {
		e.press(keys...)
		if e.m.doc.table != table || e.m.shading != shading || e.m.relief != relief {
			t.Errorf("%v: made again: table %v, shading %v, relief %v", keys, e.m.doc.table != table, e.m.shading != shading, e.m.relief != relief)
		}
	}
	e.press(".")
	if e.m.relief == relief || e.m.shading != shading || e.m.doc.table != table {
		t.Error("turning the head has to make a relief, and nothing else")
	}
	relief = e.m.relief
	thick := e.m.doc.sheet().With(func(c *sheet.Sheet) { c.Hair.Density = "thick" })
	if err := e.m.doc.do("thicker", thick); err != nil {
		t.Fatal(err)
	}
	e.m.paint()
	if e.m.doc.table != table || e.m.shading == shading || e.m.relief != relief {
		t.Errorf("another density: table made again %v, shading %v, relief %v", e.m.doc.table != table, e.m.shading != shading, e.m.relief != relief)
	}
	long := e.m.doc.sheet().With(func(c *sheet.Sheet) { c.Hair.Length = 120 })
	if err := e.m.doc.do("shorter", long); err != nil {
		t.Fatal(err)
	}
	if e.m.doc.table == table || e.m.doc.table.Lines[0] != table.Lines[0] {
		t.Error("shorter hair has to make a table with the same distances")
	}
}

// TestTheHeadFollows holds the head beside the map to every edit: a bond placed on the map is on the head in the same
// moment, and looking at it changes nothing.
func TestTheHeadFollows(t *testing.T) {
	e := edit(t, plainSheet(t), setup{})
	e.at(height(60), 4)
	e.press("H")
	before := e.encoded()
	bonds := func() int {
		n := 0
		for y, line := range strings.Split(e.m.Screen().String(), "\n") {
			if y == 0 || y > e.m.layout().side.H {
				continue
			}
			runes := []rune(line)
			for x := e.m.layout().side.X; x < len(runes); x++ {
				if runes[x] == figure.Unicode.Whole {
					n++
				}
			}
		}
		return n
	}
	empty := bonds()
	e.press("space", "Down")
	if got := bonds(); got != empty+1 {
		t.Errorf("%d bonds on the head and in hand, want %d:\n%s", got, empty+1, e.m.Screen())
	}
	e.press("u")
	if got := bonds(); got != empty {
		t.Errorf("a bond taken back is still on the head:\n%s", e.m.Screen())
	}
	e.press(",", ",", "<", ">", ".", "H")
	if e.encoded() != before || len(e.steps()) != 0 {
		t.Error("looking at the head has changed the sheet")
	}
}

// TestTwoMaps holds a click on the left of two maps to the slot under it, and one on the right to nothing.
func TestTwoMaps(t *testing.T) {
	e := edit(t, plainSheet(t), setup{})
	e.press("B")
	l := e.m.layout()
	if l.second.W == 0 || l.second.X < l.figure.X+l.figure.W {
		t.Fatalf("the two maps lie at %v and %v", l.figure, l.second)
	}
	for _, line := range e.m.doc.table.Lines[3:12] {
		for slot := -3; slot <= 3; slot++ {
			x := l.figure.X + figure.Gutter + figure.HalfWidth(e.m.doc.table) + slot
			y := l.figure.Y + e.m.top - e.m.doc.table.Index(line)
			at, ok := figure.At(l.figure, e.m.view(l), x, y)
			if !ok || e.m.doc.table.Lines[at.Line] != line || at.Slot != slot {
				t.Errorf("at %d, %d is %v, want height %g, slot %d", x, y, at, float64(line.ID.At), slot)
			}
		}
	}
	before := e.encoded()
	e.click(point{l.second.X + 20, l.second.Y + 20})
	if got := e.encoded(); got != before {
		t.Errorf("a click on the second map changes the sheet:\n%s", got)
	}
}

// BenchmarkTurnHead is one key that turns the head, on a page of its own of 120 by 40 cells and beside the map.
func BenchmarkTurnHead(b *testing.B) {
	for _, page := range []bool{true, false} {
		b.Run(map[bool]string{true: "page", false: "beside the map"}[page], func(b *testing.B) {
			e := benchEditor(b, bonded(b, 300, false))
			e.press("H")
			if page {
				e.m.push(&headPage{})
			}
			e.measure(b, ".")
		})
	}
}

// BenchmarkReading is one key that shades the map by a cover that nobody has looked at yet.
func BenchmarkReading(b *testing.B) {
	s := bonded(b, 300, false)
	for range b.N {
		b.StopTimer()
		e := benchEditor(b, s)
		b.StartTimer()
		e.press("w")
	}
}

// BenchmarkPlaceOnHead is two edits with the map shaded and the head beside it.
func BenchmarkPlaceOnHead(b *testing.B) {
	e := benchEditor(b, bonded(b, 300, false))
	e.press("w", "H")
	e.measure(b, "space", "space")
}

// benchEditor is an editor on a sheet that looks at nothing that it shows.
func benchEditor(b *testing.B, s *sheet.Sheet) *editor {
	b.Helper()
	e := &editor{t: b, disk: newDisk(), unseen: true}
	e.m = New(&sink{}, Options{Glyphs: figure.Unicode, Palette: cells.NewPalette(termenv.TrueColor, figure.Styles(true)), Files: e.disk.files()})
	e.m.Update(tea.WindowSizeMsg{Width: 120, Height: 40})
	e.m.loaded(loadedMsg{sheet: s, path: "sheet.toml"})
	e.m.doc.goTo(sheet.Concern{Row: e.m.doc.table.Lines[9].Place(), On: sheet.OnSlot, Slot: 1})
	return e
}

// TestWorkingsBeginAtTheReading holds why to what the map is shaded by: its section stands first on the page.
func TestWorkingsBeginAtTheReading(t *testing.T) {
	for _, r := range rule.Readings(wornSheet(t)) {
		e := edit(t, wornSheet(t), setup{w: 100, h: 30})
		e.m.reading = r
		e.press("Y")
		first := ""
		switch s := e.m.doc.sheet(); {
		case r.Kind == rule.ByCover && s.Wears(r.Way.Wear):
			first = "own hair over it, " + r.Way.In(s)
		case r.Kind == rule.ByLoad:
			first = "load"
		case r.Kind == rule.ByDensity:
			first = "density"
		default: // of what is not worn there is no section
			first = "the head"
		}
		// Under the frame, the title and a blank.
		if line := strings.Split(e.m.Screen().String(), "\n")[1]; strings.Trim(line, "│ ") != first {
			t.Errorf("shaded by %s the workings begin with %q, want %q", r.Name(e.m.doc.sheet()), line, first)
		}
	}
}

// TestStatusSaysBothTimes holds the line below two maps to the figures of both, and of a bond's load to that of the bond.
func TestStatusSaysBothTimes(t *testing.T) {
	e := edit(t, wornSheet(t), setup{w: 160, h: 48})
	e.at(height(60), 2)
	e.press("B")
	d, sc := e.m.doc, e.m.shading.Scale
	now, _ := sc.At(d.line(), 2)
	sc.Time = lastTime
	then, _ := sc.At(d.line(), 2)
	if want := fmt.Sprintf("veil %.0f, in 8 weeks %.0f hairs/mm", now, then); now == then || !strings.Contains(e.m.Screen().String(), want) {
		t.Errorf("no %q in\n%s", want, e.m.Screen())
	}
	s := wornSheet(t).WithBond(height(60), 2, sheet.Bond{Shade: 'a', Split: true})
	e = edit(t, s, setup{w: 160, h: 48})
	e.m.reading = rule.Reading{Kind: rule.ByLoad}
	e.at(height(60), 2)
	whole, _ := e.m.shading.Scale.At(e.m.doc.line(), 2)
	if want := fmt.Sprintf("load %.0f %% of the reference", whole/2); !strings.Contains(e.m.Screen().String(), want) {
		t.Errorf("no %q in\n%s", want, e.m.Screen())
	}
	e.at(height(60), 3)
	whole, _ = e.m.shading.Scale.At(e.m.doc.line(), 3)
	if want := fmt.Sprintf("whole strand %.0f %% of the reference", whole); !strings.Contains(e.m.Screen().String(), want) {
		t.Errorf("no %q in\n%s", want, e.m.Screen())
	}
}
