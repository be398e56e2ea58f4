package tui

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/tally"
)

// training is the panel in which an attempt on a training head is entered: it goes round the slots of the plan in the order of
// fitting, and each is made as planned, measured off its place, or not made.
type training struct {
	plan *sheet.Sheet
	round
}

// enterAttempt opens the panel, at the first planned slot that was not looked at.
func (m *Model) enterAttempt() {
	p := m.doc.practice
	plan := p.judge.Under(p.x.Answer)
	t := &training{plan: plan, round: round{pieces: tally.Pieces(plan, m.doc.table)}}
	if len(t.pieces) == 0 {
		m.tell("the plan of this exercise has no bond")
		return
	}
	m.doc.picked, m.told = nil, ""
	m.push(t)
	t.toNext(m)
}

func needsTraining(m *Model) bool {
	return m.doc.practice != nil && m.doc.practice.x.Task == lesson.Fit
}

// here is the planned slot at the cursor.
func (t *training) here() sheet.Spot {
	piece := t.pieces[t.piece]
	return sheet.Spot{At: piece.Place, Slot: piece.Bonds[t.bond].Slot}
}

// planned is the bond that the plan has at a slot.
func (t *training) planned(at sheet.Spot) sheet.Bond { return t.plan.Bond(at.At, at.Slot) }

// toNext goes to the next slot that was not looked at: on from the cursor, and then from the beginning.
func (t *training) toNext(m *Model) {
	seen := map[sheet.Spot]bool{}
	for _, at := range m.doc.sheet().Tried.Seen {
		seen[at] = true
	}
	for pass := range 2 {
		for i, piece := range t.pieces {
			if pass == 0 && i < t.piece {
				continue
			}
			for k, b := range piece.Bonds {
				if (pass == 1 || i > t.piece || k >= t.bond) && !seen[sheet.Spot{At: piece.Place, Slot: b.Slot}] {
					t.piece, t.bond = i, k
					t.follow(m)
					return
				}
			}
		}
	}
	t.follow(m)
}

func (t *training) follow(m *Model) {
	at := t.here()
	m.doc.goTo(sheet.Concern{Row: at.At, On: sheet.OnSlot, Slot: at.Slot})
}

// move goes some slots or rows on.
func (t *training) move(m *Model, bonds, pieces int) {
	t.step(bonds, pieces)
	t.follow(m)
}

func (t *training) key(m *Model, msg tea.KeyMsg) tea.Cmd {
	m.told = ""
	if bonds, pieces, ok := roundKey(msg.String()); ok {
		t.move(m, bonds, pieces)
		return nil
	}
	switch msg.String() {
	case " ":
		t.enter(m, "as planned", t.asPlanned(m.doc.sheet(), t.here()))
	case "r":
		s := m.doc.sheet()
		piece := t.pieces[t.piece]
		for _, b := range piece.Bonds {
			if at := (sheet.Spot{At: piece.Place, Slot: b.Slot}); !s.Tried.Looked(at) {
				s = t.asPlanned(s, at)
			}
		}
		t.enter(m, "the rest of the row as planned", s)
	case "x":
		t.enter(m, "not made", made(m.doc.sheet(), sheet.Bond{}, sheet.Off{Spot: t.here()}))
	case "d":
		m.push(newOffForm(m, t))
	case "0", "home":
		t.toNext(m)
	case "u":
		m.tell(m.doc.undo())
	case "U", "ctrl+r":
		m.tell(m.doc.redo())
	case "enter":
		m.pop()
		m.markNow()
	case "A":
		m.pop()
		m.showExercise()
	case "ctrl+l":
		m.out.Forget()
	case "esc", "q", "ctrl+c":
		m.pop()
		m.tell(m.keyOf("fit") + " goes on; what was made besides the plan is placed with " + m.keyOf("place"))
	default:
		m.tell("no command is on " + msg.String() + " here")
	}
	return nil
}

// asPlanned is a sheet with a bond as it was planned, in the middle of its slot.
func (t *training) asPlanned(s *sheet.Sheet, at sheet.Spot) *sheet.Sheet {
	return made(s, t.planned(at), sheet.Off{Spot: at})
}

// made is a sheet with a slot that was looked at: the bond that was made there, or none, and how far off the middle it lies.
func made(s *sheet.Sheet, b sheet.Bond, off sheet.Off) *sheet.Sheet {
	return s.WithBond(off.At, off.Slot, b).With(func(c *sheet.Sheet) { c.Tried = c.Tried.WithSeen(off.Spot).WithOff(off) })
}

// enter records what was found at the slot, and goes on.
func (t *training) enter(m *Model, what string, s *sheet.Sheet) {
	if err := m.doc.do(what+": "+t.here().String(), s); err != nil {
		m.warn(err.Error())
		return
	}
	t.toNext(m)
}

// newOffForm asks how far a bond lies off the middle of its slot.
func newOffForm(m *Model, t *training) *form {
	at := t.here()
	off := m.doc.sheet().Tried.OffAt(at)
	const most = 60
	right, up := "right", "up"
	rightHint, upHint := "mm along the row, to the client's right; left is below zero", "mm up the head; down is below zero"
	if at.At.Along {
		right, up = "forward", "right"
		rightHint, upHint = "mm along the row, towards the face; back is below zero", "mm to the client's right; left is below zero"
	}
	return &form{title: "off its place: " + at.String(), note: "Measured along the head from the middle of the planned slot to the middle of the bond.",
		fields: []*field{numberField(right, float64(off.Right), rightHint), numberField(up, float64(off.Up), upHint)},
		take: func(m *Model, fm *form) (tea.Cmd, error) {
			x, err := fm.find(right).number(-most, most)
			if err != nil {
				return nil, err
			}
			y, err := fm.find(up).number(-most, most)
			if err != nil {
				return nil, err
			}
			off := sheet.Off{Spot: at, Right: scalp.MM(x), Up: scalp.MM(y)}
			t.enter(m, offWords(off), made(m.doc.sheet(), t.planned(at), off))
			return nil, nil
		}}
}

// trainingOpen is the panel, or nil.
func (m *Model) trainingOpen() *training {
	if len(m.dialogs) == 0 {
		return nil
	}
	t, _ := m.dialogs[0].(*training)
	return t
}

// drawMap draws the plan and what was made of it in one map.
func (t *training) drawMap(m *Model, l layout) {
	none := (*figure.Shading)(nil)
	v := m.viewOf(m.doc, l, &none)
	v.Shading = nil
	both := m.doc.sheet()
	for _, r := range t.plan.Rows {
		for slot, b := range r.All() {
			if !both.Bond(r.Place, slot).Placed() {
				both = both.WithBond(r.Place, slot, b)
			}
		}
	}
	v.Sheet = both
	v.Marks = func(at sheet.Spot) (cells.Ink, rune, bool) { return t.mark(m, at) }
	figure.Draw(m.scr, l.figure, v)
}

// mark is how a slot stands: not looked at yet, as planned, off its place, not made, or made besides the plan.
func (t *training) mark(m *Model, at sheet.Spot) (cells.Ink, rune, bool) {
	g, s := m.opts.Glyphs, m.doc.sheet()
	made, off := s.Bond(at.At, at.Slot), s.Tried.OffAt(at)
	switch planned := t.planned(at); {
	case !planned.Placed():
		return figure.CautionInk, g.Caution, true
	case !s.Tried.Looked(at):
		return figure.Dim, g.Bond(planned), true
	case !made.Placed():
		return figure.CautionInk, g.Gone, true
	case off.Right != 0 || off.Up != 0 || made != planned:
		return figure.CautionInk, g.Ring, true
	}
	return figure.GoodInk, g.Done, true
}

func (t *training) draw(m *Model) {
	l := m.layout()
	r := l.side
	foot := [][]string{{"space", "as planned", "r", "rest of row"}, {"d", "off its place", "x", "not made"}, {"arrows", "move", "u", "back"}, {"Enter", "mark", "Esc", "leave"}}
	if r.W < narrowSide {
		foot = [][]string{{"space", "as planned"}, {"r", "rest of row"}, {"d", "off", "x", "not made"}, {"u", "back"}, {"Enter", "mark", "Esc", "leave"}}
	}
	t.say(m.panelOver(r, foot))
	if m.told != "" {
		m.drawKeys(l.keys)
	}
}

// say writes the slot at the cursor large, what is planned there, what was made, and how far the round has come.
func (t *training) say(c *column) {
	m, at := c.m, t.here()
	s := m.doc.sheet()
	c.line(piece{figure.Title, "on the training head"})
	c.line(piece{figure.Plain, fmt.Sprintf("%d of %d, %s", t.piece+1, len(t.pieces), t.pieces[t.piece].Panel)})
	c.line(piece{figure.Strong, at.At.String()})
	c.loose()
	m.drawLarge(cells.Rect{X: c.r.X, Y: c.y, W: c.r.W, H: min(largeHeight, c.r.Y+c.r.H-c.y)}, figure.Strong, largeSlot(at.At.Along, at.Slot))
	c.y += largeHeight + 1
	c.line(piece{figure.Dim, "planned "}, piece{figure.Plain, t.planned(at).String()})
	off := s.Tried.OffAt(at)
	switch {
	case !s.Tried.Looked(at):
		c.line(piece{figure.Dim, "not looked at yet"})
	case !s.Bond(at.At, at.Slot).Placed():
		c.line(piece{figure.CautionInk, "not made"})
	case off.Right != 0 || off.Up != 0:
		c.line(piece{figure.CautionInk, offWords(off)})
	default:
		c.line(piece{figure.GoodInk, "in its place"})
	}
	c.gap()
	c.line(piece{figure.Plain, fmt.Sprintf("%d of %d looked at", len(s.Tried.Seen), t.plan.Bonds())})
	if extra := t.extra(s); extra > 0 {
		c.line(piece{figure.CautionInk, bondsOf(extra) + " besides the plan"})
	}
}

// extra is how many bonds were made where the plan has none.
func (t *training) extra(s *sheet.Sheet) int {
	n := 0
	for _, r := range s.Rows {
		for slot := range r.All() {
			if !t.plan.Bond(r.Place, slot).Placed() {
				n++
			}
		}
	}
	return n
}

// offWords is how far a bond lies off its place: "2.5 mm right, 1 mm down".
func offWords(off sheet.Off) string {
	side := func(v scalp.MM, more, less string) string {
		if v < 0 {
			return fmt.Sprintf("%g mm %s", -float64(v), less)
		}
		return fmt.Sprintf("%g mm %s", float64(v), more)
	}
	across, along := side(off.Up, "up", "down"), side(off.Right, "right", "left")
	if off.At.Along {
		across, along = side(off.Up, "right", "left"), side(off.Right, "forward", "back")
	}
	switch {
	case off.Up == 0 && off.Right == 0:
		return "in its place"
	case off.Up == 0:
		return along
	case off.Right == 0:
		return across
	}
	return along + ", " + across
}
