package tui

import (
	"fmt"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/tally"
	"example.org/underveil/internal/visit"
)

// chair is the panel at the chair: it goes round the bonds of a visit in the order of fitting, and what comes next stands
// in it large. Each job has its own keys; what they record are steps of the sheet like any other, so that u takes them
// back and a crash keeps them.
type chair struct {
	n     int // the visit, by its place on the sheet
	job   chairJob
	shown *document // what the map shows: the plan, or what was in the head when the visit began

	round
	since time.Time // up to when the time at the chair is on the sheet
}

// chairJob is what is done in a round.
type chairJob interface {
	// pieces are what the round goes through.
	pieces(m *Model, p *chair) []tally.Piece
	// next is where work goes on; ok is false when the round is done.
	next(m *Model, p *chair) (at sheet.Spot, ok bool)
	// mark is how a bond stands on the map.
	mark(m *Model, p *chair, at sheet.Spot) (cells.Ink, rune, bool)
	// key obeys a key, and reports whether it is one of the job's.
	key(m *Model, p *chair, key string) (tea.Cmd, bool)
	// say writes what is next, and how far the round has come, into the side.
	say(c *column, p *chair)
	// foot are the keys, in pairs of a key and what it does, as many on a line as stand together here.
	foot() [][]string
}

// openChair opens the panel for the open visit of the sheet, at the bond where work goes on.
func (m *Model) openChair() tea.Cmd {
	d := m.doc
	n, open := visit.Open(d.sheet())
	if !open {
		m.tell("no visit has been begun")
		return nil
	}
	p := &chair{n: n, since: m.opts.Today()}
	if err := p.take(m); err != nil {
		m.warn(err.Error())
		return nil
	}
	d.picked, m.told = nil, ""
	m.push(p)
	p.toNext(m)
	return m.tickClock()
}

// take chooses the job by how far the visit has come.
func (p *chair) take(m *Model) error {
	s := m.doc.sheet()
	v := s.Visits[p.n]
	switch {
	case v.Kind == sheet.Inspection:
		p.job = &looking{}
	case v.Kind.TakesOut() && (len(visit.Unseen(s, p.n)) > 0 || !visit.Resolved(s, p.n) || v.Kind == sheet.Removal):
		p.job = takingOut{}
	default:
		p.job = fitting{}
	}
	p.shown = nil
	if _, fits := p.job.(fitting); !fits {
		in := s.With(func(c *sheet.Sheet) {
			c.Rows, c.Aside = visit.Rows(visit.In(s, p.n)), asideBefore(s, p.n)
		})
		d, err := newDocument(in, "", m.doc.table)
		if err != nil {
			return err
		}
		p.shown = d
	}
	p.refresh(m)
	return nil
}

// asideBefore is where the bonds lie that were in the head when a visit began: as the last that fitted any put them.
func asideBefore(s *sheet.Sheet, n int) bool {
	aside := s.Aside
	for _, v := range s.Visits[:n] {
		if v.Kind.Fits() {
			aside = v.Aside
		}
	}
	return aside
}

// doc is the document that is on the map.
func (p *chair) doc(m *Model) *document {
	if p.shown != nil {
		return p.shown
	}
	return m.doc
}

// refresh brings the round up to date with the sheet.
func (p *chair) refresh(m *Model) {
	p.pieces = p.job.pieces(m, p)
	p.piece = min(p.piece, max(0, len(p.pieces)-1))
	if len(p.pieces) > 0 {
		p.bond = min(p.bond, len(p.pieces[p.piece].Bonds)-1)
	}
	p.follow(m)
}

// inHead are the bonds that were in when the visit began, as they were fitted, and last those that are on no line of the map any more.
func (p *chair) inHead(m *Model) []tally.Piece {
	rows := p.shown.sheet().Rows
	return append(tally.PiecesOf(rows, m.doc.sheet(), p.shown.table), tally.OffMap(rows, p.shown.table)...)
}

// here is the bond at the cursor; ok is false where there is none at all.
func (p *chair) here() (at sheet.Spot, b sheet.Bond, ok bool) {
	if len(p.pieces) == 0 {
		return sheet.Spot{}, sheet.Bond{}, false
	}
	piece := p.pieces[p.piece]
	on := piece.Bonds[p.bond]
	return sheet.Spot{At: piece.Place, Slot: on.Slot}, on.Bond, true
}

// goTo puts the cursor on a bond of the round.
func (p *chair) goTo(m *Model, at sheet.Spot) {
	for i, piece := range p.pieces {
		for k, b := range piece.Bonds {
			if piece.Place == at.At && b.Slot == at.Slot {
				p.piece, p.bond = i, k
			}
		}
	}
	p.follow(m)
}

// toNext goes to where work goes on.
func (p *chair) toNext(m *Model) {
	if at, ok := p.job.next(m, p); ok {
		p.goTo(m, at)
	}
}

// follow moves the cursor of the map along.
func (p *chair) follow(m *Model) {
	at, _, ok := p.here()
	if !ok {
		return
	}
	for _, d := range []*document{m.doc, p.doc(m)} {
		d.goTo(sheet.Concern{Row: at.At, On: sheet.OnSlot, Slot: at.Slot})
	}
}

// move goes some bonds or pieces on.
func (p *chair) move(m *Model, bonds, pieces int) {
	if len(p.pieces) > 0 {
		p.step(bonds, pieces)
		p.follow(m)
	}
}

func (p *chair) key(m *Model, msg tea.KeyMsg) tea.Cmd {
	m.told = ""
	if cmd, ok := p.job.key(m, p, msg.String()); ok {
		return cmd
	}
	if bonds, pieces, ok := roundKey(msg.String()); ok {
		p.move(m, bonds, pieces)
		return nil
	}
	switch msg.String() {
	case "0", "home":
		p.toNext(m)
	case "u":
		return p.back(m)
	case "U", "ctrl+r":
		m.tell(m.doc.redo())
		return p.after(m)
	case "ctrl+s":
		return m.save()
	case "ctrl+l":
		m.out.Forget()
	case "?":
		m.push(newStepsPage(p))
	case "esc", "q", "ctrl+c":
		m.pop()
		m.tell("paused at " + p.where() + "; " + m.keyOf("fit") + " goes on there")
	default:
		m.tell("no command is on " + msg.String() + " here")
	}
	return nil
}

// back takes a step back, but not the visit itself: a hand that goes on would then work on the plan.
func (p *chair) back(m *Model) tea.Cmd {
	told := m.doc.undo()
	if n, open := visit.Open(m.doc.sheet()); !open || n != p.n {
		m.doc.redo()
		told = "that would take the whole visit away; leave with Esc, and " + m.keyOf("undo") + " does it there"
	}
	m.tell(told)
	return p.after(m)
}

// after follows a step back or forward.
func (p *chair) after(m *Model) tea.Cmd {
	if n, open := visit.Open(m.doc.sheet()); !open || n != p.n {
		m.pop() // a step forward finished it
		return nil
	}
	told := m.told
	if err := p.take(m); err != nil {
		m.warn(err.Error())
		return nil
	}
	p.toNext(m)
	m.told = told
	return nil
}

// do records a step, and with it the time at the chair since the step before.
func (p *chair) do(m *Model, label string, s *sheet.Sheet) {
	if s == m.doc.sheet() {
		return
	}
	now := m.opts.Today()
	spent := max(0, int(now.Sub(p.since).Seconds()))
	if err := m.doc.do(label, visit.Change(s, p.n, func(v *sheet.Visit) { v.Seconds += spent })); err != nil {
		m.warn(err.Error())
		return
	}
	p.since = now
	p.refresh(m)
}

// on does something to the bond at the cursor, and goes on to the next one to do.
func (p *chair) on(m *Model, what string, f func(s *sheet.Sheet, at sheet.Spot) *sheet.Sheet) {
	at, _, ok := p.here()
	if !ok {
		return
	}
	p.do(m, what+": "+p.where(), f(m.doc.sheet(), at))
	p.toNext(m)
}

// where names the bond at the cursor: "height 60, slot 7 left".
func (p *chair) where() string {
	at, _, ok := p.here()
	if !ok {
		return "the beginning"
	}
	return at.String()
}

// spent is the time at the chair up to now.
func (p *chair) spent(m *Model) time.Duration {
	return time.Duration(m.doc.sheet().Visits[p.n].Seconds)*time.Second + max(0, m.opts.Today().Sub(p.since))
}

// expected is how long a fitting should take, by the times of the studio; 0 for another job, or where they are not known.
func (p *chair) expected(m *Model) time.Duration {
	if _, fits := p.job.(fitting); !fits || m.opts.Studio == nil {
		return 0
	}
	return tally.OrderOf(m.doc.sheet(), m.doc.totals, m.opts.Studio).Duration
}

// clockMsg comes while the panel is open, so that the time in it goes on.
type clockMsg struct{}

// tickClock asks for the next clockMsg.
func (m *Model) tickClock() tea.Cmd {
	if m.opts.ClockEvery == 0 {
		return nil
	}
	return tea.Tick(m.opts.ClockEvery, func(time.Time) tea.Msg { return clockMsg{} })
}

// chairOpen is the panel at the chair, or nil.
func (m *Model) chairOpen() *chair {
	if len(m.dialogs) == 0 {
		return nil
	}
	p, _ := m.dialogs[0].(*chair)
	return p
}

// drawMap draws the map of the round, with how far each bond has come.
func (p *chair) drawMap(m *Model, l layout) {
	none := (*figure.Shading)(nil)
	d := p.doc(m)
	v := m.viewOf(d, l, &none)
	v.Shading = nil
	if p.shown == nil {
		v.Sheet = visit.Round(m.doc.sheet(), p.n)
	}
	v.Marks = func(at figure.Spot) (cells.Ink, rune, bool) { return p.job.mark(m, p, at) }
	figure.Draw(m.scr, l.figure, v)
}

func (p *chair) draw(m *Model) {
	r := m.layout().side
	foot := append(p.job.foot(), []string{"arrows", "move", "u", "back", "Esc", "pause"})
	if r.W < narrowSide {
		foot[len(foot)-1] = []string{"u", "back", "Esc", "pause"}
	}
	c := m.panelOver(r, foot)
	p.head(c)
	p.job.say(c, p)
	l := m.layout()
	if look, ok := p.job.(*looking); ok && m.told == "" {
		look.drawLetters(m, l.keys)
	}
	if m.told != "" {
		m.drawKeys(l.keys)
	}
}

// head names the visit and the time.
func (p *chair) head(c *column) {
	v := c.m.doc.sheet().Visits[p.n]
	title := string(v.Kind)
	if c.r.W >= narrowSide {
		title += " of " + v.Date
	}
	spent := inHours(p.spent(c.m))
	if whole := p.expected(c.m); whole > 0 {
		spent += " of " + inHours(whole)
	}
	c.line(piece{figure.Title, title}, piece{figure.Dim, "  " + spent})
}

// large writes the slot at the cursor in large letters, and its row above it.
func (p *chair) large(c *column) {
	at, _, ok := p.here()
	if !ok {
		return
	}
	on := p.pieces[p.piece]
	where := on.Panel.String()
	if on.Strip.Holes == 0 {
		where = "off the map"
	}
	c.line(piece{figure.Plain, fmt.Sprintf("%d of %d, %s", p.piece+1, len(p.pieces), where)})
	c.line(piece{figure.Strong, at.At.String()})
	c.loose()
	c.m.drawLarge(cells.Rect{X: c.r.X, Y: c.y, W: c.r.W, H: min(largeHeight, c.r.Y+c.r.H-c.y)}, figure.Strong, largeSlot(at.At.Along, at.Slot))
	c.y += largeHeight + 1
}

// loose is a gap where there is room for such.
func (c *column) loose() {
	if c.m.scr.H >= roomyHeight {
		c.gap()
	}
}

// strand writes what the bond at the cursor is, or is to be.
func (p *chair) strand(c *column, b sheet.Bond) {
	m := c.m
	h, _ := m.doc.sheet().Shade(b.Shade)
	mark := piece{figure.Shade(figure.ShadeIndex(m.doc.sheet(), b.Shade)), string(m.opts.Glyphs.Bond(b))}
	strand := fmt.Sprintf("%c %s %.0f mm", h.Key, h.Name, float64(h.Length))
	if c.r.W < narrowSide {
		c.line(mark, piece{figure.Plain, " " + b.String()})
		c.line(piece{figure.Plain, strand})
		return
	}
	c.line(mark, piece{figure.Plain, " " + b.String() + m.opts.Glyphs.Dash + strand})
}

// inHours is a time in hours and minutes: "1:05".
func inHours(d time.Duration) string {
	minutes := int(d.Minutes())
	return fmt.Sprintf("%d:%02d", minutes/60, minutes%60)
}

// bondsOf is a number of bonds in words.
func bondsOf(n int) string { return printable.Count(n, "bond") }
