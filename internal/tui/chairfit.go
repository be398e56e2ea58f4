package tui

import (
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/tally"
	"example.org/underveil/internal/visit"
)

// fitting is the job of placing what is planned: two ticks a slot, one before the heat and one after.
type fitting struct{}

func (fitting) pieces(m *Model, p *chair) []tally.Piece {
	return tally.Pieces(visit.Round(m.doc.sheet(), p.n), m.doc.table)
}

// next goes on in the row at the cursor, and from a row that is done to the first one that is not.
func (f fitting) next(m *Model, p *chair) (sheet.Spot, bool) {
	s := m.doc.sheet()
	if len(p.pieces) > 0 {
		if here := visit.ProgressIn(s, p.n, p.pieces[p.piece].Spots()); !here.Done {
			return here.Next, true
		}
	}
	all := p.progress(m)
	return all.Next, !all.Done
}

// progress is how far the whole fitting has come.
func (p *chair) progress(m *Model) visit.Progress {
	all := visit.Progress{Done: true}
	for _, piece := range p.pieces {
		all = all.And(visit.ProgressIn(m.doc.sheet(), p.n, piece.Spots()))
	}
	return all
}

func (fitting) mark(m *Model, p *chair, at sheet.Spot) (cells.Ink, rune, bool) {
	g := m.opts.Glyphs
	switch s := m.doc.sheet(); visit.StageOf(s, p.n, at) {
	case visit.Pulled:
		return figure.NoteInk, g.Ring, true
	case visit.Bonded:
		ink := figure.GoodInk
		if s.Visits[p.n].FittedRow(at.At).Bond(at.Slot) != s.Bond(at.At, at.Slot) {
			ink = figure.CautionInk
		}
		return ink, g.Done, true
	case visit.LeftOut:
		return figure.CautionInk, g.Gone, true
	}
	return figure.Dim, g.Bond(m.doc.sheet().Bond(at.At, at.Slot)), true
}

func (f fitting) key(m *Model, p *chair, key string) (tea.Cmd, bool) {
	s := m.doc.sheet()
	switch key {
	case " ":
		f.tick(m, p)
	case "r":
		if len(p.pieces) > 0 {
			p.do(m, "tick "+theRow(p.pieces[p.piece].Place), visit.TickAll(s, p.n, p.pieces[p.piece].Spots()))
			p.toNext(m)
		}
	case "d":
		if _, _, ok := p.here(); ok {
			m.push(newOtherForm(m, p))
		}
	case "x":
		p.on(m, "left out", func(s *sheet.Sheet, at sheet.Spot) *sheet.Sheet { return visit.Leave(s, p.n, at) })
	case "backspace", "delete":
		if at, _, ok := p.here(); ok {
			p.do(m, "taken back: "+p.where(), visit.Undone(s, p.n, at))
		}
	case "enter":
		return f.finish(m, p), true
	default:
		return nil, false
	}
	return nil, true
}

// tick takes the bond at the cursor one stage on.
func (f fitting) tick(m *Model, p *chair) {
	at, _, ok := p.here()
	if !ok {
		return
	}
	s := m.doc.sheet()
	word := "hair pulled"
	switch visit.StageOf(s, p.n, at) {
	case visit.Pulled:
		word = "bonded"
	case visit.Bonded:
		m.tell("bonded already; Delete takes it back, d says what it really is")
		return
	case visit.LeftOut:
		s = visit.Undone(s, p.n, at)
	}
	p.do(m, word+": "+p.where(), visit.Tick(s, p.n, at))
	p.toNext(m)
}

// finish ends the fitting, after asking about what is not done or not as planned.
func (f fitting) finish(m *Model, p *chair) tea.Cmd {
	s := m.doc.sheet()
	if left := len(visit.NotDone(s, p.n)); left > 0 {
		m.push(&question{"the fitting is not done", bondsOf(left) + " planned are neither made nor left out.", []answer{
			{"l", "leave them out and finish", func(m *Model) tea.Cmd {
				return f.end(m, p, visit.LeaveRest(m.doc.sheet(), p.n))
			}},
		}})
		return nil
	}
	return f.end(m, p, s)
}

func (f fitting) end(m *Model, p *chair, s *sheet.Sheet) tea.Cmd {
	s, err := visit.Finish(s, p.n)
	if err != nil {
		m.warn(err.Error())
		return nil
	}
	if other := visit.Differences(s, p.n); len(other) > 0 {
		m.push(&question{"not all as planned", areIn(len(other)) + " otherwise than planned: " + differenceWords(s, other) + ". The visit has what was really placed; the plan on the sheet can follow it.", []answer{
			{"f", "make the plan what was fitted", func(m *Model) tea.Cmd { return m.leaveChair(p, "finish the fitting", visit.AsFitted(s, p.n)) }},
			{"k", "keep the plan as it was", func(m *Model) tea.Cmd { return m.leaveChair(p, "finish the fitting", s) }},
		}})
		return nil
	}
	return m.leaveChair(p, "finish the fitting", s)
}

// differenceWords names what was bonded otherwise than planned, the first few.
func differenceWords(s *sheet.Sheet, list []visit.Difference) string {
	const most = 4
	var words []string
	for _, d := range list[:min(len(list), most)] {
		words = append(words, fmt.Sprintf("%s %s for %s", d.Spot, bondName(s, d.Fitted), bondName(s, d.Planned)))
	}
	if n := len(list) - most; n > 0 {
		words = append(words, fmt.Sprintf("and %d more", n))
	}
	return strings.Join(words, "; ")
}

// leaveChair takes the last step of a visit and closes the panel.
func (m *Model) leaveChair(p *chair, label string, s *sheet.Sheet) tea.Cmd {
	p.do(m, label, s)
	m.pop()
	m.tell(m.whatNext())
	return nil
}

func (f fitting) say(c *column, p *chair) {
	m := c.m
	if len(p.pieces) == 0 {
		c.para(0, figure.CautionInk, "No bond is planned that has a place on this head. Esc, and plan some.")
		return
	}
	p.large(c)
	here, b, _ := p.here()
	p.strand(c, b)
	f.step(c, p, here)
	if was := m.doc.sheet().Visits[p.n].FittedRow(here.At).Bond(here.Slot); was.Placed() && was != b {
		c.line(piece{figure.CautionInk, "placed: " + bondName(m.doc.sheet(), was)})
	}
	all := p.progress(m)
	switch stage := visit.StageOf(m.doc.sheet(), p.n, here); {
	case all.Done:
		c.para(0, figure.GoodInk, "All is done: Enter finishes.")
	case stage == visit.ToDo || stage == visit.Pulled:
		c.para(0, figure.CautionInk, f.caution(m, p, here, c.r.W < narrowSide))
	}
	c.loose()
	f.count(c, p, all)
	c.loose()
	f.round(c, p)
}

// count says how far the row and the whole have come.
func (f fitting) count(c *column, p *chair, all visit.Progress) {
	on := visit.ProgressIn(c.m.doc.sheet(), p.n, p.pieces[p.piece].Spots())
	if c.r.W < narrowSide {
		c.line(piece{figure.Plain, fmt.Sprintf("%d pulled, %d done", on.Pulled, on.Bonded)})
		c.line(piece{figure.Plain, fmt.Sprintf("of %d; all %d/%d", on.Planned, all.Bonded, all.Planned)})
		return
	}
	c.line(piece{figure.Plain, fmt.Sprintf("this row  %d pulled, %d bonded, of %d", on.Pulled, on.Bonded, on.Planned)})
	c.line(piece{figure.Plain, fmt.Sprintf("in all    %d bonded, %d left out, of %d", all.Bonded, all.LeftOut, all.Planned)})
	g := c.m.opts.Glyphs
	c.line(piece{figure.NoteInk, string(g.Ring)}, piece{figure.Dim, " pulled  "}, piece{figure.GoodInk, string(g.Done)}, piece{figure.Dim, " bonded  "},
		piece{figure.CautionInk, string(g.Gone)}, piece{figure.Dim, " left out"})
}

// round lists the pieces in the order of fitting with how far each has come, as many round the cursor as there is room for.
func (f fitting) round(c *column, p *chair) {
	rows := c.r.Y + c.r.H - c.y
	if c.r.W < narrowSide || rows < 2 {
		return
	}
	from := min(max(0, p.piece-rows/2), max(0, len(p.pieces)-rows))
	for i := from; i < min(len(p.pieces), from+rows); i++ {
		on, ink := p.pieces[i], figure.Dim
		if i == p.piece {
			ink = figure.Strong
		}
		done := visit.ProgressIn(c.m.doc.sheet(), p.n, on.Spots())
		c.line(piece{ink, fmt.Sprintf("%2d  %-10s %-24s %2d of %d", i+1, on.Panel, on.Place, done.Bonded+done.LeftOut, done.Planned)})
	}
}

// step says what is to be done at the cursor.
func (f fitting) step(c *column, p *chair, here sheet.Spot) {
	s := c.m.doc.sheet()
	switch visit.StageOf(s, p.n, here) {
	case visit.Bonded:
		c.line(piece{figure.GoodInk, "bonded"})
	case visit.LeftOut:
		c.line(piece{figure.CautionInk, "left out"})
	case visit.Pulled:
		c.line(piece{figure.Strong, "bond it, look again"})
	default:
		if on := p.pieces[p.piece]; !visit.ProgressIn(s, p.n, on.Spots()).Begun() {
			words := "strip on: " + stripWords(c.m, on)
			if c.r.W < narrowSide && strings.HasSuffix(words, " parts") { // on one line
				words = strings.Replace(words, " on:", "", 1)
			}
			c.para(0, figure.Strong, words)
		}
		c.line(piece{figure.Strong, "hair through, look"})
	}
}

// stripWords is the strip of a piece: how long, how many holes, where the first one lies, and in how many parts it lies on the
// parting.
func stripWords(m *Model, on tally.Piece) string {
	words := fmt.Sprintf("%.0f mm, %s, first %s", float64(on.Strip.Length), printable.Count(on.Strip.Holes, "hole"), firstAt(on.Place, on.Strip))
	parts := tally.Parts(on, m.doc.table)
	switch {
	case len(parts) < 2:
		return words
	case m.layout().side.W < narrowSide:
		return fmt.Sprintf("%.0f mm, %d parts", float64(on.Strip.Length), len(parts))
	}
	holes := make([]string, len(parts))
	for i, part := range parts {
		holes[i] = fmt.Sprint(part.Holes)
	}
	return words + "; cut in parts of " + strings.Join(holes, ", ") + " holes, or it bows off the parting"
}

// firstAt says where the first hole of a strip lies: "64 mm left".
func firstAt(at sheet.Place, strip tally.Strip) string {
	minus, plus := at.Ways()
	switch first := float64(strip.First); {
	case first < 0:
		return fmt.Sprintf("%g mm %s", -first, minus)
	case first > 0:
		return fmt.Sprintf("%g mm %s", first, plus)
	}
	return "at the centre"
}

// heatNarrow is the caution of whatever is done with heat, where there is little room.
const heatNarrow = "Heat off the scalp. Pain: stop."

// caution is the usual one for the step at the cursor; with little room the half of it that can't be left out.
func (fitting) caution(m *Model, p *chair, here sheet.Spot, narrow bool) string {
	pulled := visit.StageOf(m.doc.sheet(), p.n, here) == visit.Pulled
	switch {
	case pulled && narrow:
		return heatNarrow
	case pulled:
		return "Heat off the scalp. Pain means stop and loosen."
	case narrow:
		return "Look before heat."
	}
	return "Look before any heat: too much hair, too little, the way it falls."
}

// newOtherForm asks what was really bonded in a slot.
func newOtherForm(m *Model, p *chair) *form {
	at, planned, _ := p.here()
	s := m.doc.sheet()
	b := planned
	if was := s.Visits[p.n].FittedRow(at.At).Bond(at.Slot); was.Placed() {
		b = was
	}
	fm := strandForm(m, "what was really placed: "+at.String(), b, func(b sheet.Bond) {
		p.do(m, "placed otherwise: "+at.String(), visit.Fit(m.doc.sheet(), p.n, at, b))
		p.toNext(m)
	})
	fm.note = "As planned: " + bondName(s, planned) + "."
	return fm
}

// strandForm asks which strand was bonded, and how; b stands in it to begin with.
func strandForm(m *Model, title string, b sheet.Bond, take func(sheet.Bond)) *form {
	strands, current := strandNames(m.doc.sheet(), b.Shade)
	return &form{title: title, fields: []*field{
		choiceField("strand", strands, current, "which strand was bonded"),
		choiceField("bond", bondWords, b.String(), "and how"),
	}, take: func(m *Model, fm *form) (tea.Cmd, error) {
		key := m.doc.sheet().Shades[slices.Index(strands, fm.find("strand").choice())].Key
		take(bondFrom(key, fm.find("bond").choice()))
		return nil, nil
	}}
}

// bondWords are the ways to bond a strand, as Bond.String says them.
var bondWords = []string{"whole", "split", "trimmed", "split, trimmed"}

// bondFrom is the bond of a shade in one of these ways.
func bondFrom(key byte, word string) sheet.Bond {
	for _, b := range []sheet.Bond{{Shade: key}, {Shade: key, Split: true}, {Shade: key, Trimmed: true}, {Shade: key, Split: true, Trimmed: true}} {
		if b.String() == word {
			return b
		}
	}
	return sheet.Bond{Shade: key}
}

// strandNames are the strands of a sheet to choose from, and which of them is to be taken: that of a letter or, where it is a re-used one of
// which none is left, what that was before.
func strandNames(s *sheet.Sheet, key byte) (names []string, current string) {
	drawer := visit.Drawer(s)
	for range s.Shades { // a file may say that two were each other
		if h, _ := s.Shade(key); h.Used > 0 && h.Was != 0 && drawer[key].Halves() <= 0 {
			key = h.Was
		}
	}
	for _, h := range s.Shades {
		name := fmt.Sprintf("%c %s %.0f mm", h.Key, h.Name, float64(h.Length))
		if h.Used > 0 {
			name += fmt.Sprintf(", %g left", max(0, float64(drawer[h.Key].Halves())/2))
		}
		if names = append(names, name); h.Key == key {
			current = name
		}
	}
	return names, current
}

// bondName is a bond in words: "split, oat".
func bondName(s *sheet.Sheet, b sheet.Bond) string {
	if !b.Placed() {
		return "nothing"
	}
	h, _ := s.Shade(b.Shade)
	return b.String() + ", " + h.Name
}

func (fitting) foot() [][]string {
	return [][]string{{"space", "tick", "r", "row"}, {"d", "other", "x", "not"}, {"Del", "back", "?", "steps"}, {"Enter", "finish"}}
}
