package tui

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/tally"
)

// orderPage shows the order and the estimate.
type orderPage struct {
	lines     []string
	top, rows int
}

// orderWidth is how wide the text of the order is, in columns.
const orderWidth = 76

// showOrder opens the order and the estimate of the sheet.
func (m *Model) showOrder() {
	if m.opts.Studio == nil {
		m.push(newTrouble("the studio file can't be read", m.opts.From))
		return
	}
	order := tally.OrderOf(m.doc.sheet(), m.doc.totals, m.opts.Studio)
	lines := strings.Split(strings.TrimRight(order.Text(orderWidth), "\n"), "\n")
	m.push(&orderPage{lines: append(lines, "", "prices and times: "+m.opts.From)})
}

func (p *orderPage) key(m *Model, msg tea.KeyMsg) tea.Cmd {
	if !scrolls(msg, &p.top, p.rows, len(p.lines)) {
		m.pop()
	}
	return nil
}

// scrolls moves the top of a page by the keys that do so, and reports whether this was one of them.
func scrolls(msg tea.KeyMsg, top *int, rows, lines int) bool {
	switch msg.String() {
	case "up":
		*top--
	case "down":
		*top++
	case "pgup":
		*top -= rows
	case "pgdown", " ":
		*top += rows
	case "home":
		*top = 0
	case "end":
		*top = lines
	default:
		return false
	}
	return true
}

func (p *orderPage) draw(m *Model) {
	in := m.box(orderWidth+4, len(p.lines)+4, "order and estimate")
	p.rows = in.H - 2
	p.top = max(0, min(p.top, len(p.lines)-p.rows))
	for i := 0; i < p.rows && p.top+i < len(p.lines); i++ {
		m.scr.Text(in.X, in.Y+i, in.W, figure.Plain, p.lines[p.top+i])
	}
	foot := "any key closes; underveil order SHEET --format csv writes it for a spreadsheet"
	if p.rows < len(p.lines) {
		foot = "up, down, space scroll; any other key closes"
	}
	m.scr.Text(in.X, in.Y+in.H-1, in.W, figure.Dim, foot)
}
