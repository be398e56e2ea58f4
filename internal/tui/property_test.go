package tui

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/visit"
)

// actions is how many random actions are done before all is taken back.
const actions = 200

// act does one random action: any command of the table, a form filled with anything, the mouse, another size, a paste, marks and ticks where a
// visit is open.
func (e *editor) act(r *rand.Rand, all []string) {
	e.t.Helper()
	size := [2]int{e.m.scr.W, e.m.scr.H}
	switch n := r.IntN(100); {
	case n < 6:
		p := point{r.IntN(size[0]), r.IntN(size[1])}
		e.dragOver(p, point{p.x + r.IntN(9) - 4, p.y + r.IntN(3) - 1})
	case n < 9:
		e.button(pick(r, tea.MouseButtonWheelUp, tea.MouseButtonWheelDown, tea.MouseButtonRight, tea.MouseButtonLeft), tea.MouseActionPress, point{r.IntN(size[0]), r.IntN(size[1])})
	case n < 11:
		next := pick(r, sizes...)
		e.resize(next[0], next[1])
	case n < 12:
		e.resize(1+r.IntN(90), 1+r.IntN(30))
		e.press(randomKey(r, false, all))
		e.resize(size[0], size[1])
	case n < 16:
		e.last = "a paste"
		e.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(randomTyped(r)), Paste: true})
	case len(e.m.dialogs) > 0 && n < 60:
		e.fill(r)
	default:
		key := randomKey(r, len(e.m.dialogs) > 0, all)
		if n < 80 {
			key = pick(r, all...)
		}
		if backOrAway[key] && r.IntN(12) > 0 {
			key = "space"
		}
		e.press(key)
	}
}

// backOrAway are keys that take steps back or leave the sheet, which random fingers would do too often to get anywhere.
var backOrAway = map[string]bool{"u": true, "ctrl+r": true, "ctrl+z": true, "q": true, "ctrl+c": true, "ctrl+n": true, "ctrl+o": true}

// randomTyped is what somebody might type: figures, dates, words, and what nobody should.
func randomTyped(r *rand.Rand) string {
	return pick(r, "", "7", "60", "-3", "12.5", "56 cm", "22 in", "1e999", "nan", "2026-03-02", "t", "yes", "no", "a", "ab", "xx.", "oat", "ML", "#c9a26b", "48 8.2 25",
		evil, strings.Repeat("w", 5000), "Z"+strings.Repeat("\u0301", 50), "山田", "Zoë\u200d", fmt.Sprint(r.IntN(900)))
}

// fill does with the dialog in front what somebody in a hurry would: types into some of its fields, and takes it or leaves it.
func (e *editor) fill(r *rand.Rand) {
	e.t.Helper()
	for range 1 + r.IntN(4) {
		switch r.IntN(4) {
		case 0:
			e.press(pick(r, "Tab", "Down", "Up", "shift+Tab", "Left", "Right", "space", "Backspace", "PgDn", "Home", "End"))
		case 1:
			e.press(pick(r, "o", "l", "s", "x", "h", "y", "n", "t", "a", "1", "2", "5", "f", "r", "b", "S", "X"))
		default:
			e.last = "a paste into a form"
			e.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(randomTyped(r)), Paste: r.IntN(2) == 0})
		}
		if len(e.m.dialogs) == 0 {
			return
		}
	}
	e.press(pick(r, "Enter", "Enter", "Enter", "Esc"))
}

// However somebody works, all of it taken back is the file as it was, to the byte; and made again, it is what it was then. The driver holds after each
// action that the terminal shows what it should, and was sent nothing that it might obey.
func TestAnyActionsTakenBack(t *testing.T) {
	all := bound()
	n := actions
	if testing.Short() {
		n = 40
	}
	steps, visits, practised := 0, 0, 0
	for seed := range *seeds {
		t.Run(fmt.Sprint("seed ", seed), func(t *testing.T) {
			r := rand.New(rand.NewPCG(seed, 91))
			size := pick(r, sizes...)
			var e *editor
			switch seed % 3 {
			case 0: // at the chair
				e = edit(t, inTheHead(t, r), setup{w: size[0], h: size[1], disk: folder(t, "one.toml")})
			case 1: // at an exercise
				e = practising(t, pick(r, "place", "find", "fit"), setup{w: size[0], h: size[1]})
				practised++
			default:
				e = edit(t, randomSheet(t, r), setup{w: size[0], h: size[1], glyphs: pick(r, &figure.Unicode, &figure.ASCII), disk: folder(t, "one.toml")})
			}
			before, doc := e.encoded(), e.m.doc
			e.looksSeldom()
			e.seldom = 3
			for range n {
				e.act(r, all)
				e.quit = false
				if e.m.doc == nil { // left, without a word or with one
					e.send(loadedMsg{path: "again.toml", sheet: randomSheet(t, r)})
				}
				if e.m.doc != doc && e.m.doc != nil { // another sheet was opened or begun
					doc, before = e.m.doc, e.encoded()
				}
			}
			e.resize(120, 40)
			e.m.demo = nil
			e.m.dialogs = nil
			e.reopens()
			steps += len(e.steps())
			visits += len(e.m.doc.sheet().Visits)
			e.checkHistory(before)
		})
	}
	t.Logf("%d steps were taken back, %d visits were there at the end, %d sessions at an exercise", steps, visits, practised)
	if !testing.Short() && steps < int(*seeds)*5 {
		t.Errorf("%d steps in %d sessions of %d actions try little", steps, *seeds, n)
	}
}

// inTheHead is a sheet with a fitting that is done and an inspection or a refit that has begun.
func inTheHead(t testing.TB, r *rand.Rand) *sheet.Sheet {
	t.Helper()
	s := plainSheet(t)
	for _, at := range []sheet.Place{height(60), height(80)} {
		bonds := map[int]sheet.Bond{}
		for slot := -6; slot <= 6; slot += 2 {
			bonds[slot] = sheet.Bond{Shade: s.Shades[0].Key}
		}
		s = s.WithRow(sheet.NewRow(at, bonds))
	}
	begin := func(kind sheet.VisitKind, day string) {
		next, err := visit.Begin(s, kind, day, "JM")
		if err != nil {
			t.Fatal(err)
		}
		s = next
	}
	begin(sheet.Fitting, "2026-02-02")
	s = visit.Change(s, 0, func(v *sheet.Visit) {
		v.Fitted = append(v.Fitted, s.Rows...)
		v.Open = false
	})
	begin(pick(r, sheet.Inspection, sheet.Refit), "2026-03-30")
	return s
}
