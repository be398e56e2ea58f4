package tui

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/fall"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/rule"
)

// besideMode is what lies beside the map of the sheet.
type besideMode int

const (
	nothingBeside besideMode = iota
	laterBeside              // the same sheet, grown out
	otherBeside              // another sheet
)

// lastTime is the time that the map beside shows: the last of fall.Weeks.
const lastTime = len(fall.Weeks) - 1

// nextBeside goes on through what can lie beside the map.
func (m *Model) nextBeside() {
	m.shift, m.beside = -1, m.beside+1
	if m.beside == otherBeside && m.other == nil || m.beside > otherBeside {
		m.beside = nothingBeside
	}
	switch m.beside {
	case laterBeside:
		m.keepReading()
		m.tell(fmt.Sprintf("%s: %s, and beside it %s", wordsFor(m.reading, m.doc), fall.When(0), fall.When(lastTime)))
	case otherBeside:
		m.tell("beside it: " + m.other.sheet().Title)
	default:
		m.tell("the map alone; " + m.keyOf("choose-beside") + " lays another sheet beside it")
	}
}

// chooseBeside asks for a sheet to lay beside this one. It is only looked at.
func (m *Model) chooseBeside() tea.Cmd {
	p := newPicker("a sheet to lay beside this one", func(m *Model, path string) tea.Cmd {
		files := m.opts.Files
		return func() tea.Msg {
			s, _, err := files.Load(path)
			return loadedMsg{path: path, sheet: s, err: err, beside: true}
		}
	})
	m.push(p)
	files := m.opts.Files
	return func() tea.Msg { return listedMsg{files.Recent(), files.List()} }
}

// layBeside shows a document beside the sheet.
func (m *Model) layBeside(d *document) {
	if n := len(m.dialogs); n > 0 {
		if _, asked := m.dialogs[n-1].(*picker); asked {
			m.pop()
		}
	}
	m.putBeside(d)
}

// putBeside is layBeside where no dialog asked for it.
func (m *Model) putBeside(d *document) {
	m.other, m.beside, m.shift = d, otherBeside, -1
	m.tell("beside it: " + d.sheet().Title + "; " + m.keyOf("beside") + " puts it away")
}

// withSecond makes room for a second map: each with one cell a slot, and the side in what is left.
func (l layout) withSecond(w int, map1, map2 int) layout {
	const space, leastSide = 2, 22
	l.wide = false
	half := (w - space) / 2
	map1, map2 = min(map1, half), min(map2, half)
	l.figure = cells.Rect{X: 0, Y: l.figure.Y + 1, W: map1, H: l.figure.H - 1}
	l.second = cells.Rect{X: map1 + space, Y: l.figure.Y, W: map2, H: l.figure.H}
	used := l.second.X + l.second.W + space
	l.side.X, l.side.W = used, w-used
	if l.side.W < leastSide {
		l.side.X, l.side.W = w, 0
	}
	return l
}

// secondView is how the second map is drawn.
func (m *Model) secondView(first figure.View) figure.View {
	d := m.besideDoc()
	v := first
	v.Picked = nil
	v.Sheet, v.Ground, v.Report = d.sheet(), d.ground, d.report
	reading := m.reading
	if m.beside == laterBeside {
		reading.Time = lastTime
	}
	v.Shading = shadingOf(d, reading, &m.otherShading)
	v.Top = min(v.Top, len(d.table.Lines)-1+max(0, v.Top-(len(m.doc.table.Lines)-1)))
	if _, ok := figure.SpotOf(d.table, m.doc.cursor.At, m.doc.cursor.Slot); !ok {
		v.Focus = nil
	}
	return v
}

// besideDoc is the document of the second map.
func (m *Model) besideDoc() *document {
	if m.beside == otherBeside {
		return m.other
	}
	return m.doc
}

// drawMaps draws the map, and the second one where there is one, with a line over each that says what it is.
func (m *Model) drawMaps(l layout) {
	v := m.view(l)
	v.Showing = m.beside == laterBeside
	figure.Draw(m.scr, l.figure, v)
	if m.beside == nothingBeside || l.second.W == 0 {
		return
	}
	cursor, second := [2]int{m.scr.CursorX, m.scr.CursorY}, m.secondView(v)
	figure.Draw(m.scr, l.second, second)
	m.scr.CursorX, m.scr.CursorY = cursor[0], cursor[1]
	if m.beside == otherBeside {
		m.headMap(l.figure, []piece{{figure.Title, m.doc.sheet().Title}})
		m.headMap(l.second, []piece{{figure.Title, fmt.Sprintf("%s: %s", m.other.sheet().Title, rule.Counted(m.other.report.Stops, "stop"))}})
		return
	}
	m.headMap(l.figure, []piece{{figure.Title, fall.When(0)}, shows(&v)}, []piece{{figure.Dim, m.opts.Glyphs.Dash + wordsFor(m.reading, m.doc)}})
	var legend []piece
	if l.side.W == 0 { // where it would stand
		legend = m.legend(second.Shading)
		legend = append([]piece{{figure.Plain, " "}}, legend[:len(legend)-1]...) // the figure below has the unit
	}
	m.headMap(l.second, []piece{{figure.Title, fall.When(lastTime)}, shows(&second)}, legend)
}

// headMap writes over a map what it is, and more where there is room for all of that.
func (m *Model) headMap(r cells.Rect, what []piece, more ...[]piece) {
	used := m.write(r.X+figure.Gutter, r.Y-1, r.W-figure.Gutter, what)
	for _, ps := range more {
		width := 0
		for _, p := range ps {
			width += cells.Width(m.inUnit(p.text))
		}
		if used+width <= r.W-figure.Gutter {
			used += m.write(r.X+figure.Gutter+used, r.Y-1, width, ps)
		}
	}
}

// shows is how many bonds of a map would show, in words.
func shows(v *figure.View) piece {
	n := v.Shows()
	if n == 0 {
		return piece{figure.GoodInk, ": nothing shows"}
	}
	if n == 1 {
		return piece{figure.CautionInk, ": 1 shows"}
	}
	return piece{figure.CautionInk, fmt.Sprintf(": %d show", n)}
}
