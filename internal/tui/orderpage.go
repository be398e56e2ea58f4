package tui

import (
	"strings"

	"example.org/underveil/internal/tally"
)

// orderPage shows the order and the estimate.
type orderPage struct{ linesPage }

// orderWidth is how wide the text of the order is, in columns.
const orderWidth = 76

// showOrder opens the order and the estimate of the sheet.
func (m *Model) showOrder() {
	if m.opts.Studio == nil {
		m.push(newTrouble("the studio file can't be read", m.opts.From))
		return
	}
	order := tally.OrderOf(m.doc.sheet(), m.doc.totals, m.opts.Studio)
	order.Units = m.opts.Units
	page := &orderPage{linesPage{title: "order and estimate", width: orderWidth, feet: [2]string{
		"any key closes; underveil order SHEET --format csv writes it for a spreadsheet", "up, down, space scroll; any other key closes"}}}
	for _, text := range append(strings.Split(strings.TrimRight(order.Text(orderWidth), "\n"), "\n"), "", "prices and times: "+m.opts.From) {
		page.lines = append(page.lines, pageLine{text: text})
	}
	m.push(page)
}
