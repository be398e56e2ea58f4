package tui

import (
	"errors"
	"fmt"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/shade"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/studio"
)

// The names of the fields of the client's readings.
const (
	fRoot = "root"
	fMid  = "halfway"
	fTips = "ends"
)

const howReading = "#c9a26b, or L*, a*, b* like 68.2 7.1 24.5, or the name of a shade in stock that it looks like; empty where nothing was read"

// newMatchForm takes the client's colour and goes on to what matches it in stock.
func newMatchForm(m *Model) *form {
	h := m.doc.sheet().Hair
	return &form{title: "the client's colour", note: "Strands are matched to the ends where length is wished for, else halfway. Read on dry hair, in daylight or with the instrument held flat.",
		fields: []*field{
			textField(fRoot, string(h.Root), howReading),
			textField(fMid, string(h.Mid), howReading),
			textField(fTips, string(h.Ends), howReading),
		},
		take: takeReadings}
}

func takeReadings(m *Model, fm *form) (tea.Cmd, error) {
	s := m.doc.sheet()
	next := s.Hair
	for _, f := range []struct {
		name string
		to   *shade.Reading
	}{{fRoot, &next.Root}, {fMid, &next.Mid}, {fTips, &next.Ends}} {
		r, err := m.reads(fm.find(f.name))
		if err != nil {
			return nil, err
		}
		*f.to = r
	}
	read := s
	if next != s.Hair {
		read = s.With(func(c *sheet.Sheet) { c.Hair = next })
	}
	if err := m.doc.do("read the client's colour", read); err != nil {
		return nil, err
	}
	page, err := m.matches(read)
	if err != nil { // what was read is worth keeping all the same
		m.tell(err.Error())
		return nil, nil
	}
	m.push(page)
	return nil, nil
}

// reads reads a colour, or takes that of a shade in stock.
func (m *Model) reads(f *field) (shade.Reading, error) {
	if st := m.opts.Studio; st != nil {
		for i := range st.Strands {
			if strand := &st.Strands[i]; strand.Name == f.text() && strand.Colour != "" {
				return strand.Colour, nil
			}
		}
	}
	return f.colour()
}

// matches is what there is in stock for the client's colour.
func (m *Model) matches(s *sheet.Sheet) (*matchPage, error) {
	reading, where := s.Reading()
	switch {
	case reading == "":
		return nil, errors.New("there is no reading to match with")
	case m.opts.Studio == nil:
		return nil, errors.New("there is no stock to match with; " + m.keyOf("order") + " says why")
	}
	found := m.opts.Studio.Matches(s)
	if found == nil {
		return nil, errors.New("no strand in stock has a reading of its colour")
	}
	return &matchPage{reading: reading, where: where, blends: found}, nil
}

// matchPage shows what matches, the best first, and takes one.
type matchPage struct {
	reading shade.Reading
	where   string
	blends  []studio.Blend
	at, top int
}

func (p *matchPage) key(m *Model, msg tea.KeyMsg) tea.Cmd {
	switch msg.String() {
	case "up":
		p.at = max(0, p.at-1)
	case "down":
		p.at = min(len(p.blends)-1, p.at+1)
	case "enter":
		m.pop()
		p.take(m, "")
	case "t":
		m.pop()
		m.push(p.toning())
	case "esc", "q", "ctrl+c":
		m.pop()
	}
	return nil
}

// take puts the blend on the sheet and in hand. toning is how it is to be toned, or empty.
func (p *matchPage) take(m *Model, toning string) {
	b := p.blends[p.at]
	s, repeat := b.Take(m.doc.sheet())
	if repeat == "" {
		m.warn("all 26 letters are taken; take a shade out of the file that no row uses")
		return
	}
	if toning != "" {
		s = s.With(func(c *sheet.Sheet) {
			c.Shades = slices.Clone(c.Shades)
			for i := range c.Shades {
				if slices.Contains([]byte(repeat), c.Shades[i].Key) {
					c.Shades[i].Toned = toning
				}
			}
		})
	}
	if err := m.doc.do("take "+b.String()+" from stock", s); err != nil {
		m.warn(err.Error())
		return
	}
	m.doc.hand.Shades, m.doc.chosen = repeat, true
	m.tell(fmt.Sprintf("in hand: %s, %g mm, as %s; %s plans with it, %s makes bonds so", b, float64(b.Repeat[0].Length), repeat, m.keyOf("plan"), m.keyOf("as-in-hand")))
}

// toning asks how the blend is to be toned.
func (p *matchPage) toning() *form {
	return &form{title: "tone it", note: "Test and colour the strands before the fitting, not on the head.",
		fields: []*field{textField(fToning, "to the client's reading "+p.where, "with what, and to what; it stays on the sheet with the shade")},
		take: func(m *Model, fm *form) (tea.Cmd, error) {
			how := fm.find(fToning).text()
			if how == "" {
				return nil, &fieldError{fToning, "a few words"}
			}
			p.take(m, how)
			return nil, nil
		}}
}

func (p *matchPage) draw(m *Model) {
	const width = 76
	s := m.doc.sheet()
	most, source := s.Limit(sheet.LimitShade)
	terms := fmt.Sprintf("Close is at most %.1f ΔE00 (%s).", most, source)
	if m.opts.Studio.LeavesOut(s) {
		terms += " Strands that are not " + s.Hair.Texture + ", as the hair is, are left out."
	}
	verdict, about := wrap(p.verdict(s), width-4), wrap(terms, width-4)
	below := len(verdict) + len(about)
	in := m.box(width, len(p.blends)+below+7, "what matches in stock")
	m.swatch(in.X, in.Y, p.reading.Hex())
	m.scr.Text(in.X+5, in.Y, in.W-5, figure.Strong, fmt.Sprintf("the client %s, %s", p.where, labOf(p.reading.Lab())))
	y := in.Y + 2
	m.scr.Text(in.X+5, y, in.W-5, figure.Dim, fmt.Sprintf("%-34s%-20s  %s", "strands", "L*    a*    b*", "ΔE00"))
	list := cells.Rect{X: in.X, Y: y + 1, W: in.W, H: in.H - 5 - below}
	p.top = max(0, min(max(p.top, p.at-list.H+1), p.at))
	for i := 0; i < list.H && p.top+i < len(p.blends); i++ {
		p.drawBlend(m, list, list.Y+i, p.top+i)
	}
	y = list.Y + list.H
	ink := figure.GoodInk
	if !p.blends[0].Close(s) {
		ink = figure.CautionInk
	}
	for i, line := range append(verdict, about...) {
		if i >= len(verdict) {
			ink = figure.Dim
		}
		m.scr.Text(in.X, y+i, in.W, ink, line)
	}
	m.scr.Text(in.X, in.Y+in.H-1, in.W, figure.Dim, "up down choose   Enter takes it   t takes it to be toned   Esc leaves")
}

func (p *matchPage) drawBlend(m *Model, r cells.Rect, y, i int) {
	b, ink := p.blends[i], figure.Plain
	if i == p.at {
		ink = figure.FieldOn
	}
	m.swatch(r.X, y, b.Colour.Hex())
	if i == p.at {
		m.scr.Put(r.X+4, y, figure.Strong, m.opts.Glyphs.Here)
	}
	m.scr.Text(r.X+5, y, 33, ink, b.String())
	m.scr.Text(r.X+39, y, 20, figure.Plain, labOf(b.Colour))
	mark, word := figure.CautionInk, "off"
	if b.Close(m.doc.sheet()) {
		mark, word = figure.GoodInk, "close"
	}
	m.scr.Text(r.X+60, y, r.W-60, mark, fmt.Sprintf("%5.2f %s", b.Difference, word))
}

// verdict says whether anything is close, and what to do where nothing is.
func (p *matchPage) verdict(s *sheet.Sheet) string {
	b := p.blends[0]
	switch {
	case !b.Close(s):
		return fmt.Sprintf("None is close: tone it. The nearest, %s, is %.1f off.", b, b.Difference)
	case b.Difference <= shade.Perceptible:
		return fmt.Sprintf("%s is so near that the difference is hardly seen.", b)
	}
	return fmt.Sprintf("%s is close; beside the hair the difference can be seen.", b)
}

// labOf writes a colour in numbers.
func labOf(c shade.Lab) string { return fmt.Sprintf("%5.1f %5.1f %5.1f", c.L, c.A, c.B) }

// swatch draws a colour where the terminal can show just that; elsewhere the numbers beside it have to do.
func (m *Model) swatch(x, y int, colour string) {
	if ink, ok := m.out.Swatch(colour); ok {
		m.scr.Text(x, y, 3, ink, "   ")
	}
}
