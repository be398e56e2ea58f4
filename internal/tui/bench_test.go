package tui

import (
	"fmt"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/tally"
)

// sink counts what a terminal would be sent.
type sink struct{ bytes int }

func (s *sink) Write(p []byte) (int, error) {
	s.bytes += len(p)
	return len(p), nil
}

// bonded is a sheet with n bonds: in every second slot of rows two lines apart, as far as there is room; then in the
// slots between; then in the lines between; the last where none should be. A fine map has holes and lines 4 mm apart.
func bonded(b *testing.B, n int, fine bool) *sheet.Sheet {
	b.Helper()
	s := plainSheet(b)
	if fine {
		s = s.With(func(c *sheet.Sheet) { c.HoleSpacing, c.LineGap = 4, 4 })
	}
	table := tableOf(b, s)
	for _, pass := range []struct {
		line, slot int // odd or even
		anywhere   bool
	}{{0, 0, false}, {0, 1, false}, {1, 0, false}, {1, 1, false}, {0, 0, true}} {
		for i := pass.line; i < len(table.Lines) && n > 0; i += 2 {
			line, bonds := table.Lines[i], map[int]sheet.Bond{}
			slots := rule.Free(s, line)
			if first, last := line.HairEnds(); pass.anywhere {
				slots = slots[:0]
				for k := first; k <= last; k++ {
					slots = append(slots, k)
				}
			}
			for _, slot := range slots {
				if slot&1 == pass.slot && n > 0 && !s.Bond(line.Place(), slot).Placed() {
					bonds[slot] = sheet.Bond{Shade: 'a'}
					n--
				}
			}
			s = s.WithBonds(line.Place(), bonds)
		}
	}
	if n > 0 {
		b.Fatalf("there is no room for %d more bonds", n)
	}
	return s
}

// benches are the sheets that everything is measured on: growth shows on the fine map, where only the bonds differ.
var benches = []struct {
	bonds int
	fine  bool
}{{30, false}, {300, false}, {30, true}, {300, true}, {3000, true}}

func onSheets(b *testing.B, bench func(*testing.B, *editor)) {
	for _, c := range benches {
		name := fmt.Sprint(c.bonds, " bonds")
		if c.fine {
			name += ", fine map"
		}
		b.Run(name, func(b *testing.B) {
			s := bonded(b, c.bonds, c.fine)
			e := &editor{t: b, disk: newDisk(), unseen: true}
			e.m = New(&sink{}, Options{Glyphs: figure.Unicode, Palette: cells.NewPalette(termenv.TrueColor, figure.Styles(true)),
				Files: e.disk.files()})
			e.m.Update(tea.WindowSizeMsg{Width: 120, Height: 40})
			e.m.loaded(loadedMsg{sheet: s, path: "sheet.toml"})
			e.m.doc.goTo(sheet.Concern{Row: e.m.doc.table.Lines[9].Place(), On: sheet.OnSlot, Slot: 1})
			bench(b, e)
		})
	}
}

// BenchmarkPlaceAndLift is two keys: each an edit, all findings and totals, and a frame on its way to the terminal.
func BenchmarkPlaceAndLift(b *testing.B) {
	onSheets(b, func(b *testing.B, e *editor) { e.measure(b, "space", "space") })
}

// BenchmarkMoveCursor is two keys that change nothing but the cursor.
func BenchmarkMoveCursor(b *testing.B) {
	onSheets(b, func(b *testing.B, e *editor) { e.measure(b, "Right", "Left") })
}

// BenchmarkTickAndBack is two keys at the chair: a bond ticked, and that taken back.
func BenchmarkTickAndBack(b *testing.B) {
	onSheets(b, func(b *testing.B, e *editor) {
		e.press("F", "Enter")
		e.measure(b, "space", "u")
	})
}

// BenchmarkShiftRow is two keys that move a whole row.
func BenchmarkShiftRow(b *testing.B) {
	onSheets(b, func(b *testing.B, e *editor) {
		e.m.doc.cursor.At = e.m.doc.sheet().Rows[2].Place
		e.measure(b, "]", "[")
	})
}

// measure presses keys over and over, from a fresh history now and then, and reports what each round costs.
func (e *editor) measure(b *testing.B, keys ...string) {
	b.Helper()
	var sent *sink
	e.m.out, sent = writerTo(e)
	e.m.paint()
	msgs := make([]func(), len(keys))
	for i, k := range keys {
		msg := mustKey(b, k)
		msgs[i] = func() { e.m.Update(msg) }
	}
	sent.bytes = 0
	opened := e.m.doc.sheet()
	b.ReportAllocs()
	rounds := 0
	for b.Loop() {
		if rounds++; rounds%1000 == 0 {
			e.m.doc.history = sheet.NewHistory(opened)
		}
		for _, press := range msgs {
			press()
		}
	}
	if e.m.failed != nil || e.m.doc.sheet().Bonds() != opened.Bonds() {
		b.Fatal("the keys have not come back to where they began")
	}
	b.ReportMetric(float64(sent.bytes)/float64(rounds*len(keys)), "sent-bytes/key")
}

func writerTo(e *editor) (*cells.Writer, *sink) {
	s := &sink{}
	return cells.NewWriter(s, e.m.opts.Palette), s
}

// BenchmarkFindings is all rules.
func BenchmarkFindings(b *testing.B) {
	onSheets(b, func(b *testing.B, e *editor) {
		b.ReportAllocs()
		for b.Loop() {
			rule.Check(e.m.doc.sheet(), e.m.doc.table)
		}
	})
}

// BenchmarkTotals is all counts.
func BenchmarkTotals(b *testing.B) {
	onSheets(b, func(b *testing.B, e *editor) {
		b.ReportAllocs()
		for b.Loop() {
			tally.Count(e.m.doc.sheet(), e.m.doc.table)
		}
	})
}

// BenchmarkFrame draws the whole screen into cells and writes nothing.
func BenchmarkFrame(b *testing.B) {
	onSheets(b, func(b *testing.B, e *editor) {
		b.ReportAllocs()
		for b.Loop() {
			e.m.scr.Clear()
			e.m.draw()
		}
	})
}

// BenchmarkOpen is a document made of a sheet, the slot table with it.
func BenchmarkOpen(b *testing.B) {
	onSheets(b, func(b *testing.B, e *editor) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := newDocument(e.m.doc.sheet(), "", nil); err != nil {
				b.Fatal(err)
			}
		}
	})
}
