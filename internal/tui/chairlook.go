package tui

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/care"
	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/tally"
	"example.org/underveil/internal/visit"
)

// looking is the job of looking at every bond: each gets an answer, and what is wrong is a list that is worked through.
type looking struct {
	mending bool // it goes from one to mend to the next, not from one without an answer
}

func (*looking) pieces(m *Model, p *chair) []tally.Piece {
	return p.inHead(m)
}

// unseen is the first bond of the round that has no answer.
func unseen(m *Model, p *chair) (at sheet.Spot, ok bool) {
	seen := m.doc.sheet().Visits[p.n].Seen
	return p.first(func(at sheet.Spot) bool { return seen[at] == sheet.NoMark })
}

// first is the first bond of the round, from the cursor on and then from the beginning, of which something is so.
func (p *chair) first(is func(sheet.Spot) bool) (sheet.Spot, bool) {
	var all []sheet.Spot
	here := 0
	for i, piece := range p.pieces {
		for k, b := range piece.Bonds {
			if i == p.piece && k == p.bond {
				here = len(all)
			}
			all = append(all, sheet.Spot{At: piece.Place, Slot: b.Slot})
		}
	}
	for _, at := range append(all[here:], all[:here]...) {
		if is(at) {
			return at, true
		}
	}
	return sheet.Spot{}, false
}

func (l *looking) next(m *Model, p *chair) (sheet.Spot, bool) {
	seen := m.doc.sheet().Visits[p.n].Seen
	if at, ok := unseen(m, p); ok && !l.mending {
		return at, true
	}
	return p.first(func(at sheet.Spot) bool { return seen[at].ToMend() })
}

// mark shows a mark as the letter of its key, so that the map and the keys say the same.
func (*looking) mark(m *Model, p *chair, at sheet.Spot) (cells.Ink, rune, bool) {
	switch mark := m.doc.sheet().Visits[p.n].Seen[at]; {
	case mark == sheet.NoMark:
		return 0, 0, false
	case mark == sheet.Sealed:
		return figure.GoodInk, m.opts.Glyphs.Good, true
	case mark == sheet.TakenOut:
		return figure.Dim, 'o', true
	case mark.ToMend():
		ink := figure.CautionInk
		if mark == sheet.Lost {
			ink = figure.StopInk
		}
		return ink, rune(mark), true
	default:
		return figure.GoodInk, rune(mark), true
	}
}

func (l *looking) key(m *Model, p *chair, key string) (tea.Cmd, bool) {
	n := p.n
	for _, info := range sheet.SeenMarks {
		if key == string(rune(info.Mark)) || key == " " && info.Mark == sheet.Sealed {
			l.mending = false
			p.on(m, info.Words, func(s *sheet.Sheet, at sheet.Spot) *sheet.Sheet { return visit.See(s, n, at, info.Mark) })
			return nil, true
		}
	}
	switch key {
	case "r":
		l.mending = false
		p.on(m, "the rest of the row sealed", func(s *sheet.Sheet, at sheet.Spot) *sheet.Sheet { return visit.SeeRest(s, n, at.At, sheet.Sealed) })
	case "e":
		l.mend(m, p)
	case "b":
		l.replace(m, p)
	case "tab":
		l.mending = true
		if _, ok := l.next(m, p); !ok {
			m.tell("nothing is left to mend")
		}
		p.toNext(m)
	case "backspace", "delete":
		if at, _, ok := p.here(); ok {
			p.do(m, "answer taken back: "+p.where(), visit.See(m.doc.sheet(), n, at, sheet.NoMark))
		}
	case "enter":
		return l.finish(m, p), true
	default:
		return nil, false
	}
	return nil, true
}

// mend records that what was wrong at the cursor is put right.
func (l *looking) mend(m *Model, p *chair) {
	at, _, _ := p.here()
	mark := m.doc.sheet().Visits[p.n].Seen[at]
	switch {
	case mark == sheet.Lost:
		p.on(m, "left empty", func(s *sheet.Sheet, at sheet.Spot) *sheet.Sheet { return visit.Mend(s, p.n, at) })
		m.tell("the slot stays empty; b bonds another strand there")
	case mark.ToMend():
		l.mending = true
		p.on(m, "mended", func(s *sheet.Sheet, at sheet.Spot) *sheet.Sheet { return visit.Mend(s, p.n, at) })
	default:
		m.tell("there is nothing to mend here; Tab goes to what there is")
	}
}

// replace records another strand where one was lost or taken out.
func (l *looking) replace(m *Model, p *chair) {
	at, had, ok := p.here()
	if mark := m.doc.sheet().Visits[p.n].Seen[at]; !ok || mark.Plain() != sheet.Lost && mark != sheet.TakenOut {
		m.tell("a strand is still bonded here; x says that it is lost, o that it was taken out")
		return
	}
	m.push(strandForm(m, "another strand: "+at.String(), had, func(b sheet.Bond) {
		p.do(m, "replaced: "+at.String(), visit.Replace(m.doc.sheet(), p.n, at, b))
		p.toNext(m)
	}))
}

// finish ends the inspection when every bond has an answer; what is left to mend is asked about.
func (l *looking) finish(m *Model, p *chair) tea.Cmd {
	s := m.doc.sheet()
	if len(visit.Unseen(s, p.n)) == 0 && !visit.Resolved(s, p.n) {
		m.push(newOutcomeForm(m, p))
		return nil
	}
	s, err := visit.Finish(s, p.n)
	if err != nil {
		m.tell(err.Error())
		p.toNext(m)
		return nil
	}
	end := func(m *Model) tea.Cmd { return m.leaveChair(p, "finish the inspection", s) }
	if left := len(visit.LeftToMend(s, p.n)); left > 0 {
		m.push(&question{"something is left to mend", bondsOf(left) + " to mend. What is left to mend stays on the list of the visit.", []answer{{"f", "finish all the same", end}}})
		return nil
	}
	return end(m)
}

func (l *looking) say(c *column, p *chair) {
	m := c.m
	s := m.doc.sheet()
	p.large(c)
	here, b, ok := p.here()
	if !ok {
		return
	}
	mark := s.Visits[p.n].Seen[here]
	info, known := mark.Info()
	p.strand(c, b)
	switch {
	case !known:
		c.line(piece{figure.Strong, "how is it?"})
	case mark.ToMend():
		switch {
		case mark == sheet.Lost:
		case c.r.W < narrowSide:
			c.para(0, figure.Plain, heatNarrow)
		default:
			c.para(0, figure.Plain, care.Mending)
		}
		c.para(0, figure.CautionInk, info.Words+": "+info.Mend)
	default:
		word := info.Words
		switch replaced := s.Visits[p.n].FittedRow(here.At).Bond(here.Slot).Placed(); {
		case mark == mark.Plain() || replaced:
		case mark.Plain() == sheet.Lost:
			word += ", left empty"
		default:
			word += ", mended"
		}
		c.para(0, figure.GoodInk, word)
	}
	if known && s.Visits[p.n].FittedRow(here.At).Bond(here.Slot).Placed() {
		c.line(piece{figure.GoodInk, "replaced: " + bondName(s, s.Visits[p.n].FittedRow(here.At).Bond(here.Slot))})
	}
	c.gap()
	counts, all := visit.Count(s, p.n), len(visit.In(s, p.n))
	answered := len(s.Visits[p.n].Seen)
	c.line(piece{figure.Plain, fmt.Sprintf("%d of %d looked at", answered, all)})
	if answered == all {
		c.para(0, figure.GoodInk, "Every bond has an answer: Enter finishes.")
	}
	if left := visit.LeftToMend(s, p.n); len(left) > 0 {
		c.line(piece{figure.CautionInk, fmt.Sprintf("%d to mend", len(left))}, piece{figure.Dim, "  Tab"})
	}
	if c.r.W < narrowSide {
		return // the letters stand below
	}
	c.gap()
	for _, info := range sheet.SeenMarks {
		ink := figure.Plain
		if counts[info.Mark] == 0 {
			ink = figure.Dim
		}
		count := ""
		if n := counts[info.Mark]; n > 0 {
			count = fmt.Sprintf("  %d", n)
		}
		c.line(piece{figure.Key, string(rune(info.Mark))}, piece{ink, " " + info.Words + count})
	}
}

// drawLetters draws what each letter records along the bottom, for a side that has no room for it.
func (*looking) drawLetters(m *Model, r cells.Rect) {
	if m.layout().side.W >= narrowSide {
		return
	}
	var ps []piece
	for _, info := range sheet.SeenMarks {
		ps = append(ps, piece{figure.Key, string(rune(info.Mark))}, piece{figure.Dim, " " + info.Short + " "})
	}
	m.write(r.X+1, r.Y, r.W-2, ps)
}

func (*looking) foot() [][]string {
	return [][]string{{"space", "sealed", "r", "row"}, {"e", "mended", "b", "new"}, {"Tab", "mend", "Enter", "end"}}
}
