package ledger

import (
	"encoding/csv"
	"io"
	"strings"

	"example.org/underveil/internal/printable"
)

// page is text that is being laid out for a width.
type page struct {
	strings.Builder
	width int
}

// gap is between two columns of a table.
const gap = 2

// entry is a row of a table, and what stands below it.
type entry struct {
	cells []string
	notes []string
}

// table lays out rows, all as long as the first: the first column to the left, the others to the right, the last of them at the
// edge of the page. A text that has no room in the first column stands in lines of its own, above the rest of its row. least are
// the least widths of the columns, or nil.
func (p *page) table(rows []entry, least []int) {
	widths := make([]int, len(rows[0].cells))
	copy(widths, least)
	first := p.width
	for i := range widths {
		for _, row := range rows {
			widths[i] = max(widths[i], printable.Width(row.cells[i]))
		}
		if i > 0 {
			first -= gap + widths[i]
		}
	}
	for n, row := range rows {
		name := printable.Line(row.cells[0])
		if n > 0 {
			name = printable.Blanks(gap) + name
		}
		if printable.Width(name) > first {
			p.wrapped(printable.Blanks(gap), printable.Blanks(2*gap), row.cells[0])
			name = ""
		}
		line := name + printable.Blanks(first-printable.Width(name))
		for i, text := range row.cells[1:] {
			line += printable.Blanks(gap+widths[i+1]-printable.Width(text)) + text
		}
		if strings.TrimSpace(line) != "" {
			p.WriteString(strings.TrimRight(line, " ") + "\n")
		}
		for _, note := range row.notes {
			p.wrapped(printable.Blanks(2*gap), printable.Blanks(3*gap), note)
		}
	}
}

// paragraph writes a text over as many lines as it takes.
func (p *page) paragraph(text string) { p.wrapped("", "", text) }

// wrapped writes a text over as many lines as it takes, the first after one lead and the others after another.
func (p *page) wrapped(lead, others, text string) {
	for _, l := range printable.Wrap(text, p.width, lead, others) {
		p.WriteString(l + "\n")
	}
}

// sheetOfCells writes rows as RFC 4180 has it, each made safe by printable.Cell.
type sheetOfCells struct{ *csv.Writer }

func newCells(w io.Writer) sheetOfCells {
	out := sheetOfCells{csv.NewWriter(w)}
	out.UseCRLF = true
	return out
}

// row writes one row; the writer keeps its first error.
func (c sheetOfCells) row(cells ...string) {
	for i := range cells {
		cells[i] = printable.Cell(cells[i])
	}
	c.Write(cells)
}

// done is the first error of writing.
func (c sheetOfCells) done() error {
	c.Flush()
	return c.Error()
}
