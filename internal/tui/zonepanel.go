package tui

import (
	"fmt"
	"math"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// zonePanel moves limits, hairline points and turns while the map follows. It lies over the side,
// not over the map.
type zonePanel struct {
	items  []zoneItem
	at     int
	top    int
	before rule.Reading // what the map was shaded by when the panel was opened
}

// limitGroup is limits under a heading.
type limitGroup struct {
	head   string
	limits []sheet.LimitName
}

// limitGroups are the limits under their headings.
var limitGroups = []limitGroup{
	{"zones", []sheet.LimitName{sheet.LimitNape, sheet.LimitNapeUp, sheet.LimitEar, sheet.LimitTemple, sheet.LimitFace, sheet.LimitFringe, sheet.LimitFringeDepth, sheet.LimitPart}},
	{"rows and bonds", []sheet.LimitName{sheet.LimitRowGap, sheet.LimitBondGap, sheet.LimitStacked, sheet.LimitTrim, sheet.LimitBalance}},
	{"hair over the bonds", []sheet.LimitName{sheet.LimitVeil, sheet.LimitVeilUp, sheet.LimitReach, sheet.LimitAside}},
	{"load, length and shade", []sheet.LimitName{sheet.LimitLoad, sheet.LimitTotalLoad, sheet.LimitBlend, sheet.LimitShade}},
	{"figures", []sheet.LimitName{sheet.FigureStandOff, sheet.FigureGrowth, sheet.FigureWidth, sheet.FigureThickness, sheet.FigureFibre, sheet.FigurePacking, sheet.FigureWhorl, sheet.FigureTip, sheet.FigureOcciput}},
}

// backGroup are those for what comes after the fitting. It stands last, since nothing of it shows on the map.
var backGroup = limitGroup{"coming back", []sheet.LimitName{sheet.FigureCheck, sheet.LimitReturn, sheet.LimitOverdue, sheet.FigureRetip, sheet.FigureTelogen, sheet.FigureRest}}

func newZonePanel(m *Model) *zonePanel {
	p := &zonePanel{before: m.reading}
	for _, g := range limitGroups {
		p.add(g)
	}
	p.items = append(p.items, zoneItem{head: "where the hair turns"})
	for _, t := range sheet.Turns {
		if t != sheet.HalfUpSection { // a line round the head only goes up and down
			p.items = append(p.items, zoneItem{turn: t})
		}
		p.items = append(p.items, zoneItem{turn: t, up: true})
	}
	p.items = append(p.items, zoneItem{head: "hairline"})
	for _, l := range scalp.Landmarks() {
		p.items = append(p.items, zoneItem{point: l}, zoneItem{point: l, up: true})
	}
	p.add(backGroup)
	p.at = 1
	return p
}

// add puts a group of limits at the end of the list.
func (p *zonePanel) add(g limitGroup) {
	p.items = append(p.items, zoneItem{head: g.head})
	for _, name := range g.limits {
		p.items = append(p.items, zoneItem{limit: name})
	}
}

func (p *zonePanel) key(m *Model, msg tea.KeyMsg) tea.Cmd {
	m.told = ""
	switch msg.String() {
	case "esc", "z", "enter", "q", "ctrl+c":
		m.reading = p.before
		m.pop()
		return nil
	case "home":
		p.goTo(0, 1)
	case "end":
		p.goTo(len(p.items)-1, -1)
	case "up":
		p.goTo(p.at-1, -1)
	case "down":
		p.goTo(p.at+1, 1)
	case "pgup":
		p.jump(-1)
	case "pgdown":
		p.jump(1)
	case "left":
		p.change(m, -1)
	case "right":
		p.change(m, 1)
	case "shift+left":
		p.change(m, -5)
	case "shift+right":
		p.change(m, 5)
	case "delete", "backspace":
		p.reset(m)
	case "s":
		m.doc.both = !m.doc.both
	case "u":
		m.tell(m.doc.undo())
	case "U", "ctrl+r":
		m.tell(m.doc.redo())
	default:
		if k := msg.String(); len(k) == 1 && strings.Contains("0123456789+-.,", k) {
			fm := p.typed(m)
			m.push(fm)
			return fm.key(m, msg)
		}
	}
	m.reading = p.reading(m)
	return nil
}

// goTo goes to an item, and from a heading on by the given way; not beyond the ends.
func (p *zonePanel) goTo(i, way int) {
	for ; i >= 0 && i < len(p.items); i += way {
		if p.items[i].head == "" {
			p.at = i
			return
		}
	}
}

// jump goes to the next stop that way, or else to the end of the list.
func (p *zonePanel) jump(way int) {
	for i := p.at + way; i > 0 && i < len(p.items); i += way {
		if p.stop(i) {
			p.at = i
			return
		}
	}
	if way > 0 {
		p.goTo(len(p.items)-1, -1)
	}
}

// stop reports whether PgUp and PgDn stop at an item: at the first of a group, and in a long one at every
// tenth.
func (p *zonePanel) stop(i int) bool {
	n := 0
	for p.items[i-n].head == "" {
		n++
	}
	return n%10 == 1
}

// reading is what the map is shaded by while an item is at the cursor: what shows what it changes, or
// else what it was shaded by before. That stays, with its parting and its time, where it does for the item.
func (p *zonePanel) reading(m *Model) rule.Reading {
	r, ok := p.items[p.at].reading(m.doc.sheet())
	if !ok || r.Kind == p.before.Kind && r.Way.Wear == p.before.Way.Wear {
		return p.before
	}
	return r
}

// typed is a form for the item's value.
func (p *zonePanel) typed(m *Model) *form {
	it, s := p.items[p.at], m.doc.sheet()
	name, _ := it.label(s)
	v, low, high := it.value(s)
	hint := fmt.Sprintf("from %g to %g %s", low, high, it.unit())
	return &form{title: it.name(), note: it.explained(s),
		fields: []*field{numberField(strings.TrimSpace(name), v, hint).in(it.unit())},
		take: func(m *Model, fm *form) (tea.Cmd, error) {
			to, err := fm.fields[0].number(low, high)
			if err == nil {
				err = p.set(m, to)
			}
			return nil, err
		}}
}

// change moves the item by some steps.
func (p *zonePanel) change(m *Model, steps float64) {
	v, low, high := p.items[p.at].value(m.doc.sheet())
	by := steps * p.items[p.at].step()
	if v+by < low || v+by > high {
		m.tell(fmt.Sprintf("from %g to %g %s, and no further", low, high, p.items[p.at].unit()))
	}
	p.refused(m, p.set(m, math.Round(math.Min(math.Max(v+by, low), high)*1e6)/1e6)) // 0.35 + 0.01 is 0.36
}

// set gives the item a value, or says why it can't have it.
func (p *zonePanel) set(m *Model, to float64) error {
	it, s := p.items[p.at], m.doc.sheet()
	if v, _, _ := it.value(s); v == to {
		return nil
	}
	if it.limit != "" {
		return p.do(m, it, "set the limit "+it.limit.Words(), s.WithLimit(it.limit, to))
	}
	shift := it.shift(s)
	if it.up {
		shift.Up = scalp.MM(to)
	} else {
		shift.Right = scalp.MM(to)
	}
	if it.turn != "" {
		return p.do(m, it, "move the "+string(it.turn), s.WithTurn(it.turn, shift))
	}
	return p.do(m, it, "move the "+it.point.String(), p.both(m, s.WithLandmark(it.point, shift), it.point, shift))
}

// both moves the point on the other side too, where both sides are done at once.
func (p *zonePanel) both(m *Model, s *sheet.Sheet, l scalp.Landmark, shift scalp.Shift) *sheet.Sheet {
	if !m.doc.both || l.Side == scalp.Middle {
		return s
	}
	l.Side = -l.Side
	return s.WithLandmark(l, shift.Mirrored())
}

func (p *zonePanel) reset(m *Model) {
	it, s := p.items[p.at], m.doc.sheet()
	if !it.isSet(s) {
		return
	}
	if it.limit != "" {
		p.refused(m, p.do(m, it, "put back the limit "+it.limit.Words(), s.WithoutLimit(it.limit)))
		return
	}
	p.refused(m, p.set(m, 0))
}

// do makes the change; going on with the same item is the same step.
func (p *zonePanel) do(m *Model, it zoneItem, label string, s *sheet.Sheet) error {
	return m.doc.goOn(fmt.Sprint(it), label, s)
}

// refused says why a change can't be, if it can't.
func (p *zonePanel) refused(m *Model, err error) {
	if err != nil {
		m.warn(err.Error())
	}
}

func (p *zonePanel) draw(m *Model) {
	l := m.layout()
	r := l.side
	m.scr.Fill(cells.Rect{X: r.X - 1, Y: r.Y, W: r.W + 1, H: r.H}, figure.Plain, ' ')
	const listWidth, leastBeside = 32, 24
	if beside := r.W - listWidth - 3; beside >= leastBeside { // what the rules say to it, live
		m.sideFindings(&column{m, cells.Rect{X: r.X + listWidth + 3, Y: r.Y, W: beside, H: r.H}, r.Y})
	}
	r.W = min(r.W, listWidth)
	m.scr.Text(r.X, r.Y, r.W, figure.Title, "limits and turns")
	if m.shading != nil {
		m.scr.Text(r.X, r.Y+1, r.W, figure.Dim, "map: "+m.readingName())
	}
	step := p.items[p.at].step()
	unit := p.items[p.at].unit()
	help := []string{m.inUnit(fmt.Sprintf("left right: by %g %s", step, unit)), m.inUnit(fmt.Sprintf("with shift: by %g %s", 5*step, unit)), "or type it; Del: reset", "PgDn on  Esc done"}
	rows := r.H - 3 - len(help)
	first := p.at
	if p.items[first-1].head != "" {
		first--
	}
	p.top = min(max(p.top, p.at-rows+1), first)
	for i := 0; i < rows && p.top+i < len(p.items); i++ {
		p.drawItem(m, cells.Rect{X: r.X, Y: r.Y + 2 + i, W: r.W, H: 1}, p.items[p.top+i], p.top+i == p.at)
	}
	for i, t := range help {
		m.scr.Text(r.X, r.Y+r.H-len(help)+i, r.W, figure.Dim, t)
	}
	if m.told == "" && m.dialogs[len(m.dialogs)-1] == dialog(p) { // or the form in front does
		p.explain(m, l)
	}
}

// explain writes what the item at the cursor is on the bottom line, and where it needs two on the one above as
// well.
func (p *zonePanel) explain(m *Model, l layout) {
	rows := []cells.Rect{l.status, l.keys}
	lines := wrap(m.inWords(p.items[p.at].explained(m.doc.sheet())), l.keys.W-2)
	for i, r := range rows[max(0, len(rows)-len(lines)):] {
		m.scr.Fill(r, figure.Plain, ' ')
		m.scr.Text(r.X+1, r.Y, r.W-2, figure.Label, lines[i])
	}
}

func (p *zonePanel) drawItem(m *Model, r cells.Rect, it zoneItem, here bool) {
	s := m.doc.sheet()
	if it.head != "" {
		m.scr.Text(r.X, r.Y, r.W, figure.Dim, it.head)
		return
	}
	name, value := it.label(s)
	value = m.inUnit(value)
	ink := figure.Label
	switch {
	case it.idle(s):
		ink = figure.Scalp
	case it.isSet(s):
		ink = figure.NoteInk
	}
	if here {
		ink = figure.FieldOn
		m.scr.Put(r.X, r.Y, figure.Strong, m.opts.Glyphs.Here)
	}
	if number, _, _ := strings.Cut(value, " "); cells.Width(name)+cells.Width(value)+2 > r.W {
		value = number // what it is in stands at the bottom
	}
	w := cells.Width(value)
	m.scr.Text(r.X+1, r.Y, r.W-w-2, ink, name)
	m.scr.Text(r.X+r.W-w, r.Y, w, ink, value)
}

// point is the slot of the map nearest to the hairline point or the turn being moved, or nil while a
// limit is.
func (p *zonePanel) point(m *Model) *figure.Spot {
	it, t := p.items[p.at], m.doc.table
	var at figure.Spot
	switch {
	case it.limit != "":
		return nil
	case it.turn != "":
		at = figure.NearestSlot(t, t.Turn(it.turn))
	default:
		at = figure.NearestSlot(t, t.Zones.Hairline.Landmark(it.point))
	}
	return &at
}
