package tui

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/recovery"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
)

// onDisk is an editor that is new, with a file that is really there and a log of what is not saved that really is written.
func onDisk(b *testing.B, s *sheet.Sheet) (e *editor, path string) {
	b.Helper()
	path = filepath.Join(b.TempDir(), "sheet.toml")
	if err := os.WriteFile(path, sheetfile.Encode(s), 0o644); err != nil {
		b.Fatal(err)
	}
	e = &editor{t: b, disk: newDisk(), unseen: true}
	files := e.disk.files()
	files.Load = func(path string) (*sheet.Sheet, []string, error) {
		s, _, err := sheetfile.Load(path)
		return s, nil, err
	}
	files.Stamp = func(path string) string {
		info, err := os.Stat(path)
		if err != nil {
			return ""
		}
		return info.ModTime().String()
	}
	e.m = New(&sink{}, Options{
		Glyphs: figure.Unicode, Palette: cells.NewPalette(termenv.TrueColor, figure.Styles(true)), Files: files, Studio: stock(),
		Today:   func() time.Time { return today },
		Unsaved: Unsaved{Folder: recovery.Folder(b.TempDir()), Encode: sheetfile.Encode, Now: time.Now},
	})
	return e, path
}

// opened sends what the program is sent at its start, up to the first frame with the sheet in it.
func (e *editor) opened(path string) {
	e.t.Helper()
	e.m.Update(tea.WindowSizeMsg{Width: 120, Height: 40})
	e.m.Update(e.m.Open(path)())
	if e.m.doc == nil {
		e.t.Fatalf("the sheet does not open:\n%s", e.m.Screen())
	}
}

// BenchmarkEverythingOn is two keys with all that a key can set off: an edit, all findings and totals, a map that is shaded
// by a reading, the head beside it, the log of what is not saved, and the frame on its way to the terminal.
func BenchmarkEverythingOn(b *testing.B) {
	e, path := onDisk(b, bonded(b, 300, false))
	e.opened(path)
	e.press("w", "H", "space") // what is changed keeps the log there when the keys have taken each other back
	e.m.doc.goTo(sheet.Concern{Row: e.m.doc.table.Lines[9].Place(), On: sheet.OnSlot, Slot: 1})
	if e.m.doc.kept.log == nil || e.m.reading == (rule.Reading{}) {
		b.Fatalf("not everything is on:\n%s", e.m.Screen())
	}
	e.measure(b, "space", "space")
}

// BenchmarkOpenToFirstFrame is what the program does from its first line to its first frame, but for starting: the file is
// read, the slot table made, the sheet checked and counted, and the whole screen written.
func BenchmarkOpenToFirstFrame(b *testing.B) {
	for _, bonds := range []int{30, 300} {
		b.Run(fmt.Sprint(bonds, " bonds"), func(b *testing.B) {
			s := bonded(b, bonds, false)
			e, path := onDisk(b, s)
			opts := e.m.opts
			b.ReportAllocs()
			for b.Loop() {
				e.m = New(&sink{}, opts)
				e.opened(path)
			}
		})
	}
}
