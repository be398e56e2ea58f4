package tui

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/care"
	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/tally"
	"example.org/underveil/internal/visit"
)

// takingOut is the job of taking all bonds out. It is a count walked on the map: what was fitted, less what is lost, less what was
// found, is what is still in.
type takingOut struct{}

func (takingOut) pieces(m *Model, p *chair) []tally.Piece {
	return p.inHead(m)
}

func (takingOut) next(m *Model, p *chair) (sheet.Spot, bool) { return unseen(m, p) }

func (takingOut) mark(m *Model, p *chair, at sheet.Spot) (cells.Ink, rune, bool) {
	switch m.doc.sheet().Visits[p.n].Seen[at] {
	case sheet.TakenOut:
		return figure.Dim, m.opts.Glyphs.Gone, true
	case sheet.Lost:
		return figure.StopInk, 'x', true
	}
	return 0, 0, false
}

func (t takingOut) key(m *Model, p *chair, key string) (tea.Cmd, bool) {
	see := func(mark sheet.Mark, word string) {
		p.on(m, word, func(s *sheet.Sheet, at sheet.Spot) *sheet.Sheet { return visit.See(s, p.n, at, mark) })
	}
	switch key {
	case " ", "o":
		see(sheet.TakenOut, "taken out")
	case "x":
		see(sheet.Lost, "not found")
	case "r":
		p.on(m, "the rest of the row taken out", func(s *sheet.Sheet, at sheet.Spot) *sheet.Sheet {
			return visit.SeeRest(s, p.n, at.At, sheet.TakenOut)
		})
	case "backspace", "delete":
		see(sheet.NoMark, "taken back")
	case "enter":
		return t.finish(m, p), true
	default:
		return nil, false
	}
	return nil, true
}

// finish goes on when nothing is in any more: to what becomes of the strands.
func (takingOut) finish(m *Model, p *chair) tea.Cmd {
	s := m.doc.sheet()
	if left := len(visit.Unseen(s, p.n)); left > 0 {
		m.tell(fmt.Sprintf("%s still in; x is for one that is not there any more", bondsOf(left)))
		p.toNext(m)
		return nil
	}
	if len(visit.CameOut(s, p.n)) == 0 { // all were lost
		return m.strandsKnown(p, "all bonds accounted for", s)
	}
	m.push(newOutcomeForm(m, p))
	return nil
}

func (takingOut) say(c *column, p *chair) {
	m := c.m
	s := m.doc.sheet()
	p.large(c)
	here, b, ok := p.here()
	if !ok {
		return
	}
	switch s.Visits[p.n].Seen[here] {
	case sheet.TakenOut:
		c.line(piece{figure.GoodInk, "taken out"})
	case sheet.Lost:
		c.line(piece{figure.CautionInk, "not found: lost"})
	default:
		c.line(piece{figure.Strong, "take it out"})
	}
	if len(visit.Unseen(s, p.n)) == 0 {
		c.para(0, figure.GoodInk, "All are accounted for: Enter goes on.")
	}
	p.strand(c, b)
	a := visit.AccountOf(s, p.n)
	if c.r.W < narrowSide {
		c.line(piece{figure.Strong, fmt.Sprintf("%d still in", a.Before-a.Out-a.Lost)})
		c.line(piece{figure.Plain, fmt.Sprintf("%d out, %d lost", a.Out, a.Lost)})
		c.para(0, figure.CautionInk, "More remover, never force. No flame.")
		return
	}
	c.gap()
	c.line(piece{figure.Plain, fmt.Sprintf("%3d were in", a.Before)})
	c.line(piece{figure.Plain, fmt.Sprintf("%3d taken out", a.Out)})
	c.line(piece{figure.Plain, fmt.Sprintf("%3d not found", a.Lost)})
	c.line(piece{figure.Strong, fmt.Sprintf("%3d still in", a.Before-a.Out-a.Lost)})
	c.gap()
	c.para(0, figure.CautionInk, "More remover, never force. No flame. Pain means stop.")
	c.gap()
	if hairs := shedHere(m, p, here); hairs != "" {
		c.para(0, figure.Dim, hairs)
		c.gap()
	}
	for _, step := range care.Removing {
		if c.y+len(wrap(step.Do, c.r.W))+len(wrap(step.Caution, c.r.W-2)) > c.r.Y+c.r.H {
			break // a step stands with its caution or not at all
		}
		c.para(0, figure.Dim, step.Do)
		if step.Caution != "" && !c.full() {
			c.m.scr.Text(c.r.X, c.y, 1, figure.CautionInk, "!")
			c.para(2, figure.Plain, step.Caution)
		}
	}
}

// shedHere says how many of the client's own hairs have been shed in the bond at the cursor and come out with it.
func shedHere(m *Model, p *chair, at sheet.Spot) string {
	since, ok := visit.In(m.doc.sheet(), p.n)[at]
	if !ok {
		return ""
	}
	s := m.doc.sheet()
	fitted, err := visit.Day(s.Visits[since.Since].Date)
	today, err2 := visit.Day(s.Visits[p.n].Date)
	if err != nil || err2 != nil {
		return ""
	}
	line, err := p.shown.table.Line(at.At)
	if err != nil {
		return ""
	}
	days := visit.Days(fitted, today)
	if days == 0 {
		return ""
	}
	on := line.At(at.Slot)
	if on == nil {
		return ""
	}
	hair := rule.HairOf(s, p.shown.table)
	hairs := visit.Shed(s, days) * hair.Section(on)
	return fmt.Sprintf("in %d days about %.0f own hairs were shed here; they come out too", days, hairs)
}

func (takingOut) foot() [][]string {
	return [][]string{{"space", "out", "r", "row"}, {"x", "not found"}, {"?", "all steps"}, {"Enter", "when all are"}}
}
