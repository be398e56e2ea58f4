package tui

import (
	"fmt"
	"io"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

func (l layout) parts() map[byte]cells.Rect {
	return map[byte]cells.Rect{'h': l.header, 'm': l.figure, 's': l.side, '=': l.status, 'k': l.keys}
}

// drawing is a screen with every part filled with its letter; a cell of two parts is a hash.
func (l layout) drawing(w, h int) string {
	scr := cells.NewScreen(w, h)
	for letter, r := range l.parts() {
		for y := r.Y; y < r.Y+r.H; y++ {
			for x := r.X; x < r.X+r.W; x++ {
				mark := rune(letter)
				if scr.At(x, y).Rune != ' ' {
					mark = '#'
				}
				scr.Put(x, y, figure.Plain, mark)
			}
		}
	}
	return scr.String()
}

// summary is a drawing with every line that repeats written once, with how often, and every letter likewise.
func (l layout) summary(w, h int) string {
	var out strings.Builder
	lines := strings.Split(strings.TrimSuffix(l.drawing(w, h), "\n"), "\n")
	for i := 0; i < len(lines); {
		n := 1
		for i+n < len(lines) && lines[i+n] == lines[i] {
			n++
		}
		fmt.Fprintf(&out, "%3d x ", n)
		line := lines[i]
		for len(line) > 0 {
			run := len(line) - len(strings.TrimLeft(line, line[:1]))
			fmt.Fprintf(&out, " %3d%s", run, strings.ReplaceAll(line[:1], " ", "_"))
			line = line[run:]
		}
		out.WriteByte('\n')
		i += n
	}
	return out.String()
}

var sizes = [][2]int{{80, 24}, {100, 30}, {120, 40}, {160, 48}, {200, 60}}

func tableOf(t testing.TB, s *sheet.Sheet) *slots.Table {
	t.Helper()
	table, err := slots.For(s, nil)
	if err != nil {
		t.Fatal(err)
	}
	return table
}

func TestLayout(t *testing.T) {
	table := tableOf(t, plainSheet(t))
	var got strings.Builder
	for _, s := range sizes {
		for _, c := range []struct {
			name         string
			wide, narrow bool
		}{{"", false, false}, {", two columns asked for", true, false}, {", one column asked for", false, true}} {
			fmt.Fprintf(&got, "%d x %d%s\n%s\n", s[0], s[1], c.name, arrange(s[0], s[1], table, c.wide, c.narrow).summary(s[0], s[1]))
		}
	}
	golden(t, "layout.txt", "How a screen is laid out, as lines times cells: h header, m map, s side, = status, k keys, _ nothing.\n\n"+got.String())
}

func TestLayoutPartsStayInsideAndApart(t *testing.T) {
	for _, table := range []*slots.Table{
		tableOf(t, plainSheet(t)),
		tableOf(t, plainSheet(t).With(func(s *sheet.Sheet) { s.HoleSpacing, s.LineGap = 4, 4 })),
		tableOf(t, plainSheet(t).With(func(s *sheet.Sheet) { s.HoleSpacing, s.LineGap = 25, 30 })),
	} {
		for w := minWidth; w <= 240; w += 7 {
			for h := minHeight; h <= 90; h += 5 {
				for _, asked := range [][2]bool{{false, false}, {true, false}, {false, true}} {
					l := arrange(w, h, table, asked[0], asked[1])
					if d := l.drawing(w, h); strings.Contains(d, "#") {
						t.Fatalf("at %d x %d parts overlap:\n%s", w, h, d)
					}
					for letter, r := range l.parts() {
						if r.X < 0 || r.Y < 0 || r.W < 0 || r.H < 0 || r.W > 0 && r.X+r.W > w || r.Y+r.H > h {
							t.Fatalf("at %d x %d the part %c is %+v", w, h, letter, r)
						}
					}
				}
			}
		}
	}
}

// With holes as far apart as they usually are, the whole width of the map is in sight on the smallest terminal, with
// something left for the side; with finer ones the map is moved sideways with the cursor.
func TestMapFitsTheSmallestTerminal(t *testing.T) {
	for _, size := range headSizes {
		for _, spacing := range []float64{4, 7, 8, 10, 12} {
			s := sheet.New(size)
			s.HoleSpacing = mm(spacing)
			table := tableOf(t, s)
			l := arrange(minWidth, minHeight, table, false, false)
			if w, _ := figure.Size(table, false); spacing >= 8 && l.figure.W < w {
				t.Errorf("%v, holes %g mm apart: the map is %d wide and has %d", size, spacing, w, l.figure.W)
			}
			if l.side.W < 16 {
				t.Errorf("%v, holes %g mm apart: %d columns are left for the side", size, spacing, l.side.W)
			}
		}
	}
}

func TestTooSmallSaysSoAndLosesNothing(t *testing.T) {
	for _, small := range [][2]int{{79, 24}, {80, 23}, {10, 3}, {1, 1}, {0, 0}} {
		t.Run(fmt.Sprintf("%dx%d", small[0], small[1]), func(t *testing.T) {
			e := edit(t, plainSheet(t), setup{w: 100, h: 30})
			e.press("r", "i", "a", "b")
			shown, state := e.m.Screen().String(), e.state(plainSheet(t))
			e.resize(small[0], small[1])
			if small[0] >= 40 {
				e.says(fmt.Sprintf("This window is %d by %d.", small[0], small[1]))
				e.says("Underveil needs 80 by 24.")
			}
			e.press("Esc", "r", "space", "u", "Delete", "Tab", "Enter", "z", "q", "l", "ctrl+c", "ctrl+c")
			e.button(tea.MouseButtonLeft, tea.MouseActionPress, point{3, 3})
			if e.quit {
				t.Fatal("a sheet that is not saved was left")
			}
			e.resize(100, 30)
			if got := e.m.Screen().String(); got != shown {
				t.Errorf("back at 100 by 30 the screen is\n%s\nwant\n%s", got, shown)
			}
			if got := e.state(plainSheet(t)); got != state {
				t.Errorf("the state is\n%s\nwant\n%s", got, state)
			}
		})
	}
}

func TestTooSmallWithNothingToLoseCanBeLeft(t *testing.T) {
	e := edit(t, plainSheet(t), setup{})
	e.resize(20, 5)
	e.press("ctrl+c")
	if !e.quit {
		t.Error("ctrl+c does not leave")
	}
}

func TestResizeKeepsTheCursorInSight(t *testing.T) {
	e := edit(t, plainSheet(t), setup{w: 200, h: 60})
	for _, at := range []sheet.Place{height(0), height(60), height(200), height(350)} {
		e.at(at, 0)
		for _, s := range sizes { // look sees to it
			e.resize(s[0], s[1])
			e.resize(s[0]+1, s[1]+1)
		}
	}
}

// Nobody sees what a key does before the size of the window is known, and nothing may come of it.
func TestKeysBeforeTheFirstSize(t *testing.T) {
	m := New(io.Discard, Options{Glyphs: figure.Unicode, Palette: cells.NewPalette(*colours(0), figure.Styles(true)), Files: newDisk().files()})
	m.loaded(loadedMsg{sheet: plainSheet(t)})
	was := m.doc.sheet()
	for _, c := range commands {
		for _, k := range c.bind.Keys() {
			m.Update(mustKey(t, nameOf(k)))
		}
	}
	m.Update(tea.MouseMsg{X: 10, Y: 10, Button: tea.MouseButtonLeft})
	if m.doc.sheet() != was || len(m.dialogs) > 0 {
		t.Error("keys have done something")
	}
}

// Keys that come faster than they are read arrive in one message.
func TestKeysInOneMessage(t *testing.T) {
	e := edit(t, plainSheet(t).WithRow(parseRow(t, "60 (a)")), setup{})
	e.at(height(60), 0)
	e.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("]]]h")})
	e.rowIs("(.)..a")
	if !e.m.doc.hand.Split {
		t.Error("the last key is lost")
	}
}

// What is pasted is text, and no commands.
func TestPasteIsNoCommand(t *testing.T) {
	e := edit(t, plainSheet(t), setup{})
	before := e.encoded()
	e.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("r"), Paste: true})
	e.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("rrq\nl\x1b[31m"), Paste: true})
	if e.quit || e.encoded() != before {
		t.Error("pasted text ran commands")
	}
	e.press("i")
	e.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("autumn\nvisit \x1b[31m\u202e"), Paste: true})
	e.press("Enter", "Enter")
	if got, want := e.m.doc.sheet().Title, "autumn visit"; !strings.HasPrefix(got, want) || strings.ContainsAny(got, "\n\x1b") {
		t.Errorf("the title pasted is %q", got)
	}
	e.reopens()
}
