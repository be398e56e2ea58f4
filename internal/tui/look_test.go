package tui

import (
	"fmt"
	"math"
	"strings"
	"unicode"

	"github.com/mattn/go-runewidth"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// look holds the terminal against the model.
func (e *editor) look() {
	e.t.Helper()
	scr := e.m.Screen()
	if scr == nil || scr.W == 0 || scr.H == 0 {
		return
	}
	if e.m.failed != nil {
		e.t.Fatalf("after %s: %v", e.last, e.m.failed)
	}
	e.lookAtTheWire()
	lines := strings.Split(strings.TrimSuffix(scr.String(), "\n"), "\n")
	if len(lines) != scr.H {
		e.t.Fatalf("after %s the screen has %d lines, want %d", e.last, len(lines), scr.H)
	}
	for y, line := range lines {
		if w := cells.Width(line); w > scr.W {
			e.t.Fatalf("after %s line %d is %d cells wide, want %d at most", e.last, y, w, scr.W)
		}
	}
	for y := range scr.H {
		for x := range scr.W {
			r := scr.At(x, y).Rune
			if r != 0 && (!unicode.IsGraphic(r) || runewidth.RuneWidth(r) == 0) {
				e.t.Fatalf("after %s cell %d,%d holds %q", e.last, x, y, r)
			}
			if got := e.term.Cell(x, y); got.Rune != r || got.Marks != "" {
				e.t.Fatalf("after %s cell %d,%d is %q on the terminal, want %q\nterminal:\n%s\nscreen:\n%s",
					e.last, x, y, string(got.Rune)+got.Marks, r, e.term.Text(), scr)
			}
		}
	}
	if e.m.doc != nil && !e.m.tooSmall() && len(e.m.dialogs) == 0 {
		e.lookAtMap()
	}
}

// lookAtTheWire holds that the terminal was sent nothing but what we may send.
func (e *editor) lookAtTheWire() {
	e.t.Helper()
	if bad := e.term.Offences(); len(bad) > 0 {
		e.t.Fatalf("after %s the terminal was sent %q", e.last, bad)
	}
}

// lookAtMap checks what has to be in sight whenever no dialog is in front: the cursor, and how many stops there are.
func (e *editor) lookAtMap() {
	e.t.Helper()
	d, scr := e.m.doc, e.m.Screen()
	line, err := d.table.Line(d.cursor.At)
	if err != nil || line.At(d.cursor.Slot) == nil {
		e.t.Fatalf("after %s the cursor is off the map, at %s, slot %d: %v", e.last, d.cursor.At, d.cursor.Slot, err)
	}
	for _, at := range append([]sheet.Place{d.cursor.At}, placesOf(d.sheet())...) {
		exact := at
		if at.Along {
			exact.At = scalp.MM(math.Round(float64(at.At/d.table.Spacing))) * d.table.Spacing
		} else if l, err := d.table.Line(at); err == nil {
			exact = l.Place()
		}
		if exact != at { // a row may be off the map altogether
			e.t.Fatalf("after %s there is something at %v, and the line of the map is at %v", e.last, at, exact)
		}
	}
	l := e.m.layout()
	if !l.figure.Contains(scr.CursorX, scr.CursorY) || scr.At(scr.CursorX, scr.CursorY).Ink != figure.Cursor {
		e.t.Fatalf("after %s the cursor at %s, slot %d can't be seen:\n%s", e.last, d.cursor.At, d.cursor.Slot, scr)
	}
	stops := 0
	for _, f := range d.report.Findings {
		if f.Accepted == nil && f.Severity.String() == "stop" {
			stops++
		}
	}
	header, _, _ := strings.Cut(scr.String(), "\n")
	want := fmt.Sprintf("%c %s", e.m.opts.Glyphs.Stop, printable.Count(stops, "stop"))
	if stops > 0 && !strings.Contains(header, want) {
		e.t.Fatalf("after %s the header does not say %q:\n%s", e.last, want, header)
	}
}

func placesOf(s *sheet.Sheet) []sheet.Place {
	var at []sheet.Place
	for _, r := range s.Rows {
		at = append(at, r.Place)
	}
	return at
}
