package tui

import (
	"fmt"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/plan"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
)

// plannedMsg brings a plan for a sheet; loosenedMsg what would let more of the wish be met.
type plannedMsg struct {
	of   *sheet.Sheet
	made plan.Proposal
}

type loosenedMsg struct {
	panel    *planPanel
	remedies []plan.Remedy
}

// planRows works out a plan for the whole head, outside of Update: it takes some tenths of a second.
func (m *Model) planRows() tea.Cmd {
	d := m.doc
	s, table, with := d.sheet(), d.table, plan.Means{Stock: m.opts.Studio}
	if d.matched() {
		with.Repeat = d.hand.Shades
	}
	if len(s.Wish) == 0 || len(s.Shades) == 0 {
		m.tell("a plan needs a look that is wished for, and a shade; i and k are where they stand")
		return nil
	}
	m.tell("planning")
	return func() tea.Msg { return plannedMsg{s, plan.Make(s, table, with)} }
}

// matched reports whether the shades in hand are to be fitted: somebody has chosen them, or the client's colour is not
// known. A hand can outlive its shades.
func (d *document) matched() bool {
	for _, key := range []byte(d.hand.Shades) {
		if _, ok := d.sheet().Shade(key); !ok {
			return false
		}
	}
	reading, _ := d.sheet().Reading()
	return d.chosen || reading == ""
}

// planned shows a plan, unless the sheet has changed since it was asked for, or something else is looked at.
func (m *Model) planned(msg plannedMsg) {
	switch {
	case m.doc == nil || len(m.dialogs) > 0:
		return
	case m.doc.moving != nil:
		m.tell("put down what is being moved; " + m.keyOf("plan") + " plans then")
		return
	case m.doc.sheet() != msg.of:
		m.tell("the sheet has changed since; " + m.keyOf("plan") + " plans again")
		return
	}
	m.told = ""
	m.push(newPlanPanel(m, msg.made))
}

// planPanel offers a plan beside the rows that there are, row by row or whole. The map shows the sheet as it would be.
type planPanel struct {
	made     plan.Proposal
	rows     []planRow // from the top of the head down, as on the map
	at, top  int
	now      bool      // the map shows the sheet as it is
	preview  *document // the sheet with the rows that are marked
	remedies []plan.Remedy
	asked    bool // the remedies have been worked out
}

// planRow is a place that has a row now, in the plan, or in both.
type planRow struct {
	at        sheet.Place
	now, then sheet.Row
	take      bool
}

func newPlanPanel(m *Model, made plan.Proposal) *planPanel {
	p := &planPanel{made: made}
	if !made.Refused {
		p.list(m.doc.sheet(), made.Sheet)
		p.refresh(m)
	}
	return p
}

// list puts the rows of both sheets together.
func (p *planPanel) list(now, then *sheet.Sheet) {
	both := now
	for _, r := range then.Rows {
		both = both.WithRow(r)
	}
	for _, r := range slices.Backward(both.Rows) {
		before, _ := now.Row(r.Place)
		after, _ := then.Row(r.Place)
		if !after.Empty() { // fitting goes from the bottom up
			p.at = len(p.rows)
		}
		p.rows = append(p.rows, planRow{r.Place, before, after, true})
	}
}

// taken is the sheet with the rows that are marked, and how many of them differ from those it has.
func (p *planPanel) taken(s *sheet.Sheet) (next *sheet.Sheet, changed int) {
	next = s
	for _, r := range p.rows {
		if r.take && !r.now.Equal(r.then) {
			changed++
			if changed == 1 && !slices.Equal(s.Shades, p.made.Sheet.Shades) {
				next = next.With(func(c *sheet.Sheet) { c.Shades = p.made.Sheet.Shades })
			}
			next = next.WithRow(r.then)
		}
	}
	return next, changed
}

// refresh works out what the map shows.
func (p *planPanel) refresh(m *Model) {
	s, _ := p.taken(m.doc.sheet())
	d, err := newDocument(s, "", m.doc.table)
	if err != nil { // the plan lies on the same head
		m.warn(err.Error())
		return
	}
	p.preview = d
	p.follow(m)
}

// follow puts the cursor of both maps on the row that is looked at.
func (p *planPanel) follow(m *Model) {
	for _, d := range []*document{p.preview, m.doc} {
		if d != nil && len(p.rows) > 0 {
			d.goTo(sheet.Concern{Row: p.rows[p.at].at, On: sheet.OnRow})
		}
	}
}

func (p *planPanel) key(m *Model, msg tea.KeyMsg) tea.Cmd {
	m.told = ""
	switch msg.String() {
	case "esc", "q", "ctrl+c", "R":
		m.pop()
	case "enter":
		return p.accept(m)
	case "up":
		p.step(m, -1)
	case "down":
		p.step(m, 1)
	case " ":
		if len(p.rows) > 0 {
			p.rows[p.at].take = !p.rows[p.at].take
			p.refresh(m)
		}
	case "a":
		p.markAll(m)
	case "tab":
		p.now = !p.now
	case "?":
		return p.ask(m)
	default:
		m.tell(p.foot())
	}
	return nil
}

func (p *planPanel) step(m *Model, by int) {
	if n := len(p.rows); n > 0 {
		p.at = min(max(p.at+by, 0), n-1)
		p.follow(m)
	}
}

// markAll marks every row, or none where all are.
func (p *planPanel) markAll(m *Model) {
	all := !slices.ContainsFunc(p.rows, func(r planRow) bool { return !r.take })
	for i := range p.rows {
		p.rows[i].take = !all
	}
	p.refresh(m)
}

// accept takes the rows that are marked, as one step.
func (p *planPanel) accept(m *Model) tea.Cmd {
	m.pop()
	if p.made.Refused {
		return nil
	}
	next, changed := p.taken(m.doc.sheet())
	label := "take the plan"
	if slices.ContainsFunc(p.rows, func(r planRow) bool { return !r.take }) {
		label = "take " + printable.Count(changed, "row") + " of the plan"
	}
	if changed == 0 {
		m.tell("nothing of the plan was taken")
		return nil
	}
	if err := m.doc.do(label, next); err != nil {
		m.warn(err.Error())
		return nil
	}
	m.doc.hand, m.doc.offset = handFor(next)
	m.doc.hand.Shades = p.made.Repeat // as was matched, whatever the rows show of it
	m.tell(fmt.Sprintf("%s: %s on the sheet; %s takes it back", label, printable.Count(m.doc.totals.Strands, "strand"), m.keyOf("undo")))
	return nil
}

// ask works out what would let more of the wish be met, outside of Update.
func (p *planPanel) ask(m *Model) tea.Cmd {
	if p.made.Binding.Rule == "" {
		m.tell("the wish is met; there is nothing in its way")
		return nil
	}
	m.tell("looking for what would help")
	return func() tea.Msg { return loosenedMsg{p, p.made.Loosen()} }
}

func (p *planPanel) foot() string {
	return "space marks a row, Enter takes those marked, Tab the sheet as it is, ? what would help, Esc leaves"
}

// besideWidth is how much room there has to be for the panel beside two maps.
const besideWidth = 40

// layout makes room for the panel, and for both maps where there is enough.
func (p *planPanel) layout(m *Model, l layout) layout {
	one, _ := figure.Size(m.doc.table, false)
	if two := l.withSecond(m.scr.W, one, one); two.side.W >= besideWidth {
		return two
	}
	return l
}

// shown is the document on the map, or on the first of two.
func (p *planPanel) shown(m *Model) *document {
	if p.preview == nil || p.now {
		return m.doc
	}
	return p.preview
}

// drawMaps draws the sheet as it would be, and beside it as it is where there is room.
func (p *planPanel) drawMaps(m *Model, l layout) {
	shown := p.shown(m)
	second := p.preview
	if shown == p.preview {
		second = m.doc
	}
	v := m.viewOf(shown, l, &m.shading)
	figure.Draw(m.scr, l.figure, v)
	if l.second.W == 0 || second == nil {
		return
	}
	cursor := [2]int{m.scr.CursorX, m.scr.CursorY}
	figure.Draw(m.scr, l.second, m.viewOf(second, l, &m.otherShading))
	m.scr.CursorX, m.scr.CursorY = cursor[0], cursor[1]
	titles := map[bool]string{true: "as it would be", false: "as it is"}
	m.headMap(l.figure, []piece{{figure.Title, titles[shown == p.preview]}})
	m.headMap(l.second, []piece{{figure.Title, titles[second == p.preview]}})
}

func (p *planPanel) draw(m *Model) {
	r := m.layout().side
	m.scr.Fill(cells.Rect{X: r.X - 1, Y: r.Y, W: r.W + 1, H: r.H}, figure.Plain, ' ')
	c := &column{m, r, r.Y}
	p.head(c)
	if p.made.Refused || p.asked {
		p.binding(c)
	}
	foot := []string{"space marks, a all", "Enter takes, Esc not", "Tab now, ? what holds"}
	if p.made.Refused {
		foot = []string{"? what would help", "Esc leaves it"}
	}
	list := cells.Rect{X: r.X, Y: c.y, W: r.W, H: r.Y + r.H - len(foot) - c.y}
	p.top = max(0, min(max(p.top, p.at-list.H+1), p.at))
	for i := 0; i < list.H && p.top+i < len(p.rows); i++ {
		p.drawRow(m, cells.Rect{X: list.X, Y: list.Y + i, W: list.W, H: 1}, p.rows[p.top+i], p.top+i == p.at)
	}
	for i, t := range foot {
		m.scr.Text(r.X, r.Y+r.H-len(foot)+i, r.W, figure.Dim, t)
	}
	if m.told != "" {
		m.drawKeys(m.layout().keys)
	}
}

// head says how far the wish is met and what the plan comes to.
func (p *planPanel) head(c *column) {
	m := c.m
	if p.made.Refused {
		c.line(piece{figure.StopInk, "nothing worth fitting"})
		c.gap()
		return
	}
	c.line(piece{figure.Title, "a plan"}, piece{figure.Dim, fmt.Sprintf("  %s", printable.Count(p.made.Sheet.Bonds(), "bond"))})
	for _, l := range p.made.Looks {
		ink := figure.GoodInk
		if l.Share() < plan.Enough {
			ink = figure.CautionInk
		}
		c.line(piece{figure.Plain, " " + string(l.Look) + " "}, piece{ink, fmt.Sprintf("%.0f %%", 100*l.Share())}, piece{figure.Plain, " met"})
	}
	if p.preview != nil {
		c.line(append([]piece{{figure.Plain, " "}}, m.verdict(p.preview.report, c.r.W >= 40)...)...)
	}
	if p.made.Binding.Rule != "" && !p.asked {
		c.line(piece{figure.CautionInk, " held by " + p.made.Binding.Rule}, piece{figure.Dim, "  ? more"})
	}
	c.gap()
}

// binding says what holds the plan back and, once that was asked for, what would help.
func (p *planPanel) binding(c *column) {
	c.para(1, figure.CautionInk, p.made.Binding.Rule+": "+p.made.Binding.What)
	if p.asked && len(p.remedies) == 0 {
		c.para(1, figure.Plain, "Nothing that was tried would help much.")
	}
	for _, r := range p.remedies {
		c.para(1, figure.Plain, fmt.Sprintf("%s: %.0f %% of it would be met", r.What, 100*r.Met))
	}
	c.gap()
}

func (p *planPanel) drawRow(m *Model, r cells.Rect, row planRow, here bool) {
	box, ink := "[ ] ", figure.Label
	if row.take {
		box = "[x] "
	}
	if here {
		ink = figure.FieldOn
		m.scr.Put(r.X, r.Y, figure.Strong, m.opts.Glyphs.Here)
	}
	where := fmt.Sprintf("%g", float64(row.at.At))
	if row.at.Along {
		where = "top " + where
	}
	what := fmt.Sprintf("%s%4s %3d to %-3d ", box, where, row.now.Count(), row.then.Count())
	if r.W < narrowSide {
		what = fmt.Sprintf("%s%4s %2d>%-2d ", box, where, row.now.Count(), row.then.Count())
	}
	switch {
	case row.now.Equal(row.then):
		what += "as it is"
	case row.then.Empty():
		what += "clear"
	default:
		what += string(p.made.Sheet.LookOf(row.then))
		if r.W >= besideWidth {
			what += m.opts.Glyphs.Dash + stepWord(row.then)
		}
	}
	m.scr.Text(r.X+1, r.Y, r.W-1, ink, what)
}

// stepWord is how close the bonds of a row lie, in words, with how many are halves.
func stepWord(r sheet.Row) string {
	word := rule.Every(r)
	split := 0
	for _, b := range r.All() {
		if b.Split {
			split++
		}
	}
	if split > 0 {
		word += fmt.Sprintf(", %d split", split)
	}
	return word
}
