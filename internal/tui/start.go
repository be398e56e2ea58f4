package tui

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/recovery"
)

// startPage is what opens without a file: never an empty map.
type startPage struct {
	list
	left  []*recovery.Left // sheets left unfinished
	found listedMsg        // what it was filled with last
}

func newStartPage(m *Model) *startPage {
	s := &startPage{}
	s.fill(m, listedMsg{})
	return s
}

// fill puts the sheets found last time on the page, keeping the choice.
func (s *startPage) fill(m *Model, msg listedMsg) {
	s.found = msg
	s.items = []item{
		{name: "a new sheet", about: "n   from four tapes, or an ordinary head", do: (*Model).newSheet},
		{name: "open a sheet", about: "o   by name or from a list", do: (*Model).openSheet},
	}
	if len(s.left) > 0 {
		s.items = append(s.items, item{head: true}, item{name: "left unfinished", head: true})
	}
	for _, left := range s.left {
		s.items = append(s.items, m.leftItem(left))
	}
	if len(msg.recent) > 0 {
		s.items = append(s.items, item{head: true}, item{name: "lately open", head: true})
	}
	for i, path := range msg.recent {
		if i == 6 {
			break
		}
		s.items = append(s.items, item{name: path, do: func(m *Model) tea.Cmd { return m.Open(path) }})
	}
	exercises, demonstrations := len(m.opts.Lessons.Exercises), len(m.opts.Demonstrations)
	if exercises+demonstrations > 0 {
		s.items = append(s.items, item{head: true}, item{name: "practise and teach", head: true})
	}
	if exercises > 0 {
		s.items = append(s.items, item{name: "exercises", about: fmt.Sprintf("e   %d, from the first row to a full refit", exercises), do: (*Model).listExercises})
	}
	if demonstrations > 0 {
		s.items = append(s.items, item{name: "demonstrations", about: fmt.Sprintf("d   %d, to be stepped through with one key", demonstrations), do: (*Model).listDemonstrations})
	}
	if len(m.opts.Demos) > 0 {
		s.items = append(s.items, item{head: true}, item{name: "to look at", head: true})
	}
	for _, d := range m.opts.Demos {
		s.items = append(s.items, item{name: d.Name, about: d.About, do: func(m *Model) tea.Cmd { return m.openDemo(d) }})
	}
	if s.at >= len(s.items) || s.items[s.at].head { // what was chosen is gone
		s.at = 0
	}
	if s.at == 0 {
		s.first()
		if len(s.left)+len(msg.recent) > 0 { // the sheet most likely wanted
			s.at = 4
		}
	}
}

func (s *startPage) key(m *Model, msg tea.KeyMsg) tea.Cmd {
	switch msg.String() {
	case "up":
		s.step(-1)
	case "down", "tab":
		s.step(1)
	case "enter", " ":
		return s.items[s.at].do(m)
	case "n", "ctrl+n":
		return m.newSheet()
	case "o", "ctrl+o":
		return m.openSheet()
	case "e", "A":
		if len(m.opts.Lessons.Exercises) > 0 {
			return m.listExercises()
		}
	case "d":
		return m.listDemonstrations()
	case "?":
		m.push(newKeyPage(m))
	case "q", "esc", "ctrl+c":
		return tea.Quit
	}
	return nil
}

func (s *startPage) draw(m *Model) {
	w := min(76, m.scr.W-4)
	r := cells.Rect{X: (m.scr.W - w) / 2, Y: max(1, (m.scr.H-len(s.items)-9)/2), W: w}
	m.scr.Text(r.X, r.Y, w, figure.Title, "Underveil")
	m.scr.Text(r.X, r.Y+1, w, figure.Label, "head sheets for bonded strands: where each one goes on this head, and why")
	r.Y += 3
	r.H = min(len(s.items), m.scr.H-r.Y-5)
	s.drawIn(m, r)
	y := r.Y + r.H + 1
	y = m.paragraph(cells.Rect{X: r.X, Y: y, W: w, H: 2}, y, figure.Dim, safety)
	ps := []piece{{figure.Key, "Enter"}, {figure.Dim, " open   "}, {figure.Key, "n"}, {figure.Dim, " new sheet   "},
		{figure.Key, "o"}, {figure.Dim, " open   "}, {figure.Key, "?"}, {figure.Dim, " keys   "}, {figure.Key, "q"}, {figure.Dim, " leave"}}
	m.write(r.X, y+1, w, ps)
	m.scr.Text(r.X, m.scr.H-1, w, figure.StopInk, m.told)
}
