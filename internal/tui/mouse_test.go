package tui

import (
	"slices"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/sheet"
)

// point is a cell of the screen.
type point struct{ x, y int }

// cellOf is where a slot is drawn. It goes there and looks where the cursor is, so that it does not depend on how the
// editor finds the slot under the pointer.
func (e *editor) cellOf(at sheet.Place, slot int) point {
	e.t.Helper()
	d := e.m.doc
	back, wanted, picked := d.cursor, d.wanted, d.picked
	e.at(at, slot)
	p := point{e.m.scr.CursorX, e.m.scr.CursorY}
	d.cursor, d.wanted, d.picked = back, wanted, picked
	e.send(nil)
	return p
}

func (e *editor) button(b tea.MouseButton, action tea.MouseAction, p point) {
	e.t.Helper()
	e.last = "the mouse"
	e.send(tea.MouseMsg{X: p.x, Y: p.y, Button: b, Action: action})
}

// click presses the left button and lets it go.
func (e *editor) click(p point) {
	e.t.Helper()
	e.button(tea.MouseButtonLeft, tea.MouseActionPress, p)
	e.button(tea.MouseButtonNone, tea.MouseActionRelease, p)
}

// dragOver presses the left button on the first cell, goes to the others, and lets it go on the last.
func (e *editor) dragOver(ps ...point) {
	e.t.Helper()
	e.button(tea.MouseButtonLeft, tea.MouseActionPress, ps[0])
	for _, p := range ps[1:] {
		e.button(tea.MouseButtonLeft, tea.MouseActionMotion, p)
	}
	e.button(tea.MouseButtonNone, tea.MouseActionRelease, ps[len(ps)-1])
}

// rowIs fails unless the row at height 60 is written so.
func (e *editor) rowIs(want string) {
	e.t.Helper()
	r, _ := e.m.doc.sheet().Row(height(60))
	if got := r.Text(); got != want {
		e.t.Errorf("the row is %s, want %s", got, want)
	}
}

// stepsAre fails unless these are the steps that can be taken back.
func (e *editor) stepsAre(want ...string) {
	e.t.Helper()
	if got := e.steps(); !slices.Equal(got, want) {
		e.t.Errorf("the steps are %q, want %q", got, want)
	}
}

func TestClickPlacesAndLifts(t *testing.T) {
	e := edit(t, plainSheet(t), setup{})
	p := e.cellOf(height(60), 3)
	e.click(p)
	e.rowIs("(.)..a")
	e.stepsAre("place a bond")
	if got := e.m.doc.cursor; got != (figure.Spot{At: height(60), Slot: 3}) {
		t.Errorf("the cursor is at %v", got)
	}
	e.click(p)
	e.rowIs("(.)")
	e.stepsAre("place a bond", "lift a bond")
}

// Every slot in sight answers to a click on each of its cells, and to no other slot's.
func TestEverySlotIsUnderThePointerWhereItIsDrawn(t *testing.T) {
	for _, size := range [][2]int{{80, 24}, {120, 40}, {200, 60}} {
		e := edit(t, plainSheet(t), setup{w: size[0], h: size[1]})
		e.at(height(200), 0)
		l := e.m.layout()
		seen := 0
		for i, line := range e.m.doc.table.Lines {
			y := l.figure.Y + e.m.top - i
			if y < l.figure.Y+2 || y >= l.figure.Y+l.figure.H-2 {
				continue // going to the edge would scroll
			}
			first := e.cellOf(line.Place(), line.First)
			wide := 1
			if l.wide {
				wide = 2
			}
			for k := range line.Slots {
				for c := range wide {
					seen++
					x := first.x + k*wide + c
					got, ok := e.m.under(tea.MouseMsg{X: x, Y: first.y})
					if want := (figure.Spot{At: line.Place(), Slot: line.First + k}); !ok || got != want {
						t.Fatalf("at %v, cell %d,%d is over %v (%v), want %v", size, x, first.y, got, ok, want)
					}
				}
			}
		}
		if seen < 500 {
			t.Errorf("at %v only %d cells of the map are in sight", size, seen)
		}
	}
}

func TestDragPaintsThePatternAsOneStep(t *testing.T) {
	for _, c := range []struct {
		name  string
		setup []string
		to    []int // slots, from the first on
		want  string
	}{
		{"every second, to the right", nil, []int{1, 3, 5}, "(.)a.a.a"},
		{"every second, to the left", nil, []int{-1, -2, -6}, "a.a.a(.)"},
		{"in a jump", nil, []int{0, 6}, "(a).a.a.a"},
		{"too far and back", nil, []int{0, 6, 2}, "(a).a"},
		{"back to where it began", nil, []int{2, 6, 2}, "(.).a"},
		{"through where it began to the other side", nil, []int{0, 4, -4}, "a.a.(a)"},
		{"every slot, split and trimmed", []string{"1", "h", "t"}, []int{0, 2}, "(A')A'A'"},
		{"shades in turn", []string{"b", "Tab", "Tab", "Tab", "Tab", "a", "b", "Enter"}, []int{0, 8}, "(a).b.a.b.a"},
		{"a pattern that begins with a gap", []string{"p", ".", "x", "Enter"}, []int{0, 4}, "(a)a.a"},
		{"both sides", []string{"s"}, []int{2, 6}, "a.a.a.(.).a.a.a"},
	} {
		t.Run(c.name, func(t *testing.T) {
			e := edit(t, plainSheet(t), setup{})
			e.press(c.setup...)
			var path []point
			for _, slot := range c.to {
				path = append(path, e.cellOf(height(60), slot))
			}
			before := e.encoded()
			e.dragOver(path...)
			e.rowIs(c.want)
			e.stepsAre("paint by hand")
			if got, want := e.m.doc.cursor.Slot, c.to[len(c.to)-1]; got != want {
				t.Errorf("the cursor is on slot %d, want %d", got, want)
			}
			e.press("u")
			if e.encoded() != before {
				t.Error("one step back is not how it was before the drag")
			}
		})
	}
}

func TestDragLiftsAsOneStep(t *testing.T) {
	s := plainSheet(t).WithRow(parseRow(t, "60 a.a.a.(a).a.a.a"))
	for _, c := range []struct {
		keys []string
		want string
	}{
		{nil, "a.a.a.(a)"},
		{[]string{"s"}, "(a)"},
	} {
		e := edit(t, s, setup{})
		e.press(c.keys...)
		e.dragOver(e.cellOf(height(60), 2), e.cellOf(height(60), 4), e.cellOf(height(60), 7))
		e.rowIs(c.want)
		e.stepsAre("lift by hand")
	}
}

func TestDragStaysOnItsLine(t *testing.T) {
	e := edit(t, plainSheet(t), setup{})
	e.dragOver(e.cellOf(height(60), 0), e.cellOf(height(60), 2), e.cellOf(height(80), 8))
	e.rowIs("(a).a")
	if n := len(e.m.doc.sheet().Rows); n != 1 {
		t.Errorf("%d rows, want 1", n)
	}
}

// A drag is begun afresh from what was there at its first press, so a key in between has to end it.
func TestKeyEndsTheDrag(t *testing.T) {
	e := edit(t, plainSheet(t), setup{})
	e.button(tea.MouseButtonLeft, tea.MouseActionPress, e.cellOf(height(60), 0))
	e.at(height(80), 0)
	e.press("r")
	e.button(tea.MouseButtonLeft, tea.MouseActionMotion, e.cellOf(height(60), 4))
	e.rowIs("(a)")
	e.stepsAre("place a bond", "paint the row at height 80")
	if r, _ := e.m.doc.sheet().Row(height(80)); r.Count() < 5 {
		t.Errorf("the row painted meanwhile is %s", r.Text())
	}
}

func TestDragIsNoPartOfTheStepBefore(t *testing.T) {
	e := edit(t, plainSheet(t), setup{})
	e.press("p", ".", "x", "Enter")
	e.at(height(80), 1)
	e.press("space")
	e.dragOver(e.cellOf(height(60), 0), e.cellOf(height(60), 1))
	e.stepsAre("place a bond", "paint by hand")
}

func TestWheelMovesTheCursor(t *testing.T) {
	e := edit(t, plainSheet(t), setup{w: 80, h: 24})
	e.at(height(60), 3)
	p := e.cellOf(height(60), 3)
	for range 4 {
		e.button(tea.MouseButtonWheelUp, tea.MouseActionPress, p)
	}
	e.button(tea.MouseButtonWheelDown, tea.MouseActionPress, p)
	if got := e.m.doc.cursor; got != (figure.Spot{At: height(90), Slot: 3}) {
		t.Errorf("the cursor is at %v", got)
	}
	for range 40 { // the map follows, as look has seen
		e.button(tea.MouseButtonWheelUp, tea.MouseActionPress, p)
	}
	e.stepsAre()
}

// still is an editor in a state in which the mouse has nothing to do.
type still struct {
	name string
	make func(*testing.T) *editor
	at   []point
}

func TestMouseDoesNothingWhereThereIsNothingToDo(t *testing.T) {
	plain := func(keys ...string) func(*testing.T) *editor {
		return func(t *testing.T) *editor {
			e := edit(t, plainSheet(t).WithRow(parseRow(t, "60 a.a.(a).a.a")), setup{})
			e.at(height(60), 0)
			e.press(keys...)
			return e
		}
	}
	middle := []point{{30, 30}, {26, 25}, {60, 20}, {25, 33}}
	for _, c := range []still{
		{"beside the map", plain(), []point{{0, 0}, {60, 0}, {2, 20}, {90, 20}, {119, 10}, {30, 38}, {30, 39}, {6, 30}, {-1, -1}, {500, 500}}},
		{"a form is open", plain("i"), middle},
		{"an explanation is open", plain("?"), middle},
		{"the zones are open", plain("z"), middle},
		{"a question is open", plain("space", "q"), middle},
		{"a selection is being moved", plain("shift+Right", "m"), middle},
		{"the start page is open", func(t *testing.T) *editor { return start(t, setup{}) }, middle},
		{"the window is too small", func(t *testing.T) *editor {
			e := plain()(t)
			e.resize(79, 24)
			return e
		}, middle},
	} {
		t.Run(c.name, func(t *testing.T) {
			e := c.make(t)
			before := e.state(plainSheet(t)) + e.m.Screen().String()
			for _, p := range c.at {
				e.dragOver(p, point{p.x + 1, p.y}, point{p.x + 4, p.y})
				e.button(tea.MouseButtonRight, tea.MouseActionPress, p)
				e.button(tea.MouseButtonNone, tea.MouseActionMotion, p)
				e.button(tea.MouseButtonNone, tea.MouseActionRelease, p)
			}
			if after := e.state(plainSheet(t)) + e.m.Screen().String(); after != before {
				t.Errorf("the mouse changed\n%s\nto\n%s", before, after)
			}
		})
	}
}

func TestOtherButtonsDoNothing(t *testing.T) {
	e := edit(t, plainSheet(t), setup{})
	p := e.cellOf(height(60), 0)
	before := e.state(plainSheet(t))
	for _, b := range []tea.MouseButton{tea.MouseButtonRight, tea.MouseButtonMiddle, tea.MouseButtonBackward, tea.MouseButtonForward} {
		e.button(b, tea.MouseActionPress, p)
		e.button(b, tea.MouseActionMotion, p)
		e.button(b, tea.MouseActionRelease, p)
	}
	if after := e.state(plainSheet(t)); after != before {
		t.Errorf("other buttons changed\n%s\nto\n%s", before, after)
	}
}
