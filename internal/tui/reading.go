package tui

import (
	"fmt"
	"slices"
	"strings"

	"example.org/underveil/internal/fall"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/rule"
)

// nextReading goes on or back through what the map can be shaded by.
func (m *Model) nextReading(by int) {
	list := rule.Readings(m.doc.sheet())
	if m.beside == laterBeside { // nothing but a cover changes as hair grows
		list = slices.DeleteFunc(list, func(r rule.Reading) bool { return r.Kind != rule.ByCover })
	}
	now := m.reading
	now.Time = 0
	i := max(0, slices.Index(list, now))
	time := m.reading.Time
	m.reading = list[(i+by+len(list))%len(list)]
	if m.reading.Kind == rule.ByCover {
		m.reading.Time = time
	}
	m.tell("shaded by " + m.readingName())
}

// nextTime goes on through the times at which a cover can be read.
func (m *Model) nextTime() {
	if m.beside == laterBeside {
		m.tell("both times are there to be compared; " + m.keyOf("beside") + " puts the second map away")
		return
	}
	if m.reading.Kind != rule.ByCover {
		m.tell("only a veil or a cover worn up changes as hair grows; " + m.keyOf("reading") + " chooses one")
		return
	}
	m.reading.Time = (m.reading.Time + 1) % len(fall.Weeks)
	m.tell("shaded by " + m.readingName())
}

// readingName is the reading in words, in the unit in force, with its time.
func (m *Model) readingName() string { return m.inUnit(wordsFor(m.reading, m.doc) + when(m.reading)) }

func wordsFor(r rule.Reading, d *document) string { return r.Name(d.sheet()) }

// when is the time of a cover in words, or nothing at the fitting.
func when(r rule.Reading) string {
	if r.Kind != rule.ByCover || r.Time == 0 {
		return ""
	}
	return ", " + fall.When(r.Time)
}

// keepReading goes back to the zones where the parting that the map was shaded by is gone. While the sheet lies beside
// itself grown out, the map is shaded by a cover, at the fitting.
func (m *Model) keepReading() {
	timeless := rule.Reading{Kind: m.reading.Kind, Way: m.reading.Way}
	if !slices.Contains(rule.Readings(m.doc.sheet()), timeless) {
		m.reading = rule.Reading{}
	}
	if m.beside != laterBeside || m.panelOpen() {
		return
	}
	if m.reading.Time = 0; m.reading.Kind != rule.ByCover {
		m.reading = rule.Readings(m.doc.sheet())[1]
	}
}

// shadingOf is the shading of a map by a reading, made afresh where something that it shows has changed; nil for
// the zones, and where the sheet has no such parting.
func shadingOf(d *document, r rule.Reading, made **figure.Shading) *figure.Shading {
	if r.Kind == rule.ByZone || !slices.Contains(rule.Readings(d.sheet()), rule.Reading{Kind: r.Kind, Way: r.Way}) {
		*made = nil
		return nil
	}
	if scale := rule.ScaleOf(r, d.sheet(), d.table); *made == nil || (*made).Scale != scale {
		*made = figure.NewShading(d.table, scale)
	}
	return *made
}

// readingHere is the reading's figure at the cursor; ok is false for the zones and where there is no hair.
func (m *Model) readingHere() (text string, ok bool) {
	if m.shading == nil {
		return "", false
	}
	d, sc := m.doc, &m.shading.Scale
	v, ok := sc.At(d.line(), d.cursor.Slot)
	if !ok {
		return "", false
	}
	name, _, _ := strings.Cut(wordsFor(m.reading, d), ",")
	figures := fmt.Sprintf("%s %.0f", name, v)
	switch b := d.row().Bond(d.cursor.Slot); {
	case sc.Kind == rule.ByLoad && b.Placed():
		figures = fmt.Sprintf("%s %.0f", name, sc.LoadOf(d.sheet(), b, d.slot()))
	case sc.Kind == rule.ByLoad:
		figures = fmt.Sprintf("whole strand %.0f", v)
	case m.beside == laterBeside:
		later := *sc
		later.Time = lastTime
		then, _ := later.At(d.line(), d.cursor.Slot)
		figures += fmt.Sprintf(", %s %.0f", fall.When(lastTime), then)
	}
	word := "at least"
	switch {
	case sc.Kind == rule.ByDensity:
		word = "usual"
	case sc.AtMost:
		word = "at most"
	}
	return fmt.Sprintf("%s %s, %s %.0f", figures, sc.Unit(), word, sc.Limit), true
}

// sideReading says what the map is shaded by and what its marks mean.
func (m *Model) sideReading(c *column) {
	if m.shading == nil {
		return
	}
	r := m.reading
	name, more, _ := strings.Cut(wordsFor(r, m.doc)+when(r), ", ")
	c.line(piece{figure.Title, name}, piece{figure.Plain, "  " + more})
	if r.Kind == rule.ByCover && len(m.doc.sheet().Worn) > 0 && !m.doc.sheet().Wears(r.Way.Wear) {
		c.line(piece{figure.Dim, " not worn by this client"})
	}
	if ps := m.legend(m.shading); c.r.W >= narrowSide {
		c.line(ps...)
	} else {
		for len(ps) > 2 {
			c.line(ps[:2]...)
			ps = ps[2:]
		}
		c.line(ps...)
	}
	c.gap()
}

// legend is what the marks of a shading mean, each mark with its words, and last their unit.
func (m *Model) legend(sh *figure.Shading) []piece {
	var ps []piece
	for _, it := range sh.Legend(m.opts.Glyphs) {
		ps = append(ps, piece{it.Ink, " " + string(it.Mark)}, piece{figure.Plain, " " + it.Says + " "})
	}
	return append(ps, piece{figure.Dim, " " + sh.Scale.Unit()})
}
