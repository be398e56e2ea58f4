package tui

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
)

// picker chooses a sheet: from a list, or by typing its name.
type picker struct {
	list
	title string
	name  *field
	open  func(m *Model, path string) tea.Cmd
}

func newPicker(title string, open func(*Model, string) tea.Cmd) *picker {
	return &picker{title: title, name: textField("file", "", ""), open: open}
}

func (p *picker) fill(msg listedMsg) {
	p.items = nil
	add := func(head string, paths []string) {
		if len(paths) > 0 {
			p.items = append(p.items, item{name: head, head: true})
		}
		for _, path := range paths {
			p.items = append(p.items, item{name: path, do: func(m *Model) tea.Cmd { return p.open(m, path) }})
		}
	}
	add("lately open", msg.recent)
	add("in this folder", msg.here)
	p.first()
}

func (p *picker) key(m *Model, msg tea.KeyMsg) tea.Cmd {
	switch msg.String() {
	case "esc", "ctrl+c":
		m.pop()
	case "up":
		p.step(-1)
	case "down":
		p.step(1)
	case "enter": // it stays in front until a sheet is open, so that a wrong name can be mended
		if path := p.name.text(); path != "" {
			if path = atHome(path); !m.opts.Files.Exists(path) {
				path = asSheet(path)
			}
			return p.open(m, path)
		}
		if p.at < len(p.items) && !p.items[p.at].head {
			return p.items[p.at].do(m)
		}
	default:
		p.name.typeKey(msg)
	}
	return nil
}

func (p *picker) draw(m *Model) {
	in := m.box(76, min(len(p.items)+6, m.scr.H-4), p.title)
	m.scr.Text(in.X, in.Y, 6, figure.Label, "file")
	p.name.drawText(m, cells.Rect{X: in.X + 6, Y: in.Y, W: in.W - 6, H: 1}, true)
	p.drawIn(m, cells.Rect{X: in.X, Y: in.Y + 2, W: in.W, H: in.H - 4})
	m.scr.Text(in.X, in.Y+in.H-1, in.W, figure.Dim, "type a name, or choose with up and down; Enter opens, Esc leaves")
}
