// Package listing lays out lists of many things: as tables on a page of text, and as cells for a spreadsheet.
package listing

import (
	"encoding/csv"
	"io"
	"strings"

	"example.org/underveil/internal/printable"
)

// Page is text, safe to show, that is being laid out for a width in columns.
type Page struct {
	strings.Builder
	Width int
}

// gap is between two columns of a table.
const gap = 2

// Row is a row of a table, and what stands below it.
type Row struct {
	Cells []string
	Notes []string
}

// Table lays out rows, all as long as the first: the first column to the left, the others to the right, the last of them at the
// edge of the page. A text that has no room in the first column stands in lines of its own, above the rest of its row. least are
// the least widths of the columns, or nil.
func (p *Page) Table(rows []Row, least []int) {
	widths := make([]int, len(rows[0].Cells))
	copy(widths, least)
	first := p.Width
	for i := range widths {
		for _, row := range rows {
			widths[i] = max(widths[i], printable.Width(row.Cells[i]))
		}
		if i > 0 {
			first -= gap + widths[i]
		}
	}
	for n, row := range rows {
		name := printable.Line(row.Cells[0])
		if n > 0 {
			name = printable.Blanks(gap) + name
		}
		if printable.Width(name) > first {
			p.Wrapped(printable.Blanks(gap), printable.Blanks(2*gap), row.Cells[0])
			name = ""
		}
		line := name + printable.Blanks(first-printable.Width(name))
		for i, text := range row.Cells[1:] {
			line += printable.Blanks(gap+widths[i+1]-printable.Width(text)) + text
		}
		if strings.TrimSpace(line) != "" {
			p.WriteString(strings.TrimRight(line, " ") + "\n")
		}
		for _, note := range row.Notes {
			p.Wrapped(printable.Blanks(2*gap), printable.Blanks(3*gap), note)
		}
	}
}

// Paragraph writes a text over as many lines as it takes.
func (p *Page) Paragraph(text string) { p.Wrapped("", "", text) }

// Wrapped writes a text over as many lines as it takes, the first after one lead and the others after another.
func (p *Page) Wrapped(lead, others, text string) {
	for _, l := range printable.Wrap(text, p.Width, lead, others) {
		p.WriteString(l + "\n")
	}
}

// Cells writes rows for a spreadsheet as RFC 4180 has it, each cell made safe by printable.Cell.
type Cells struct{ out *csv.Writer }

// NewCells writes to w.
func NewCells(w io.Writer) Cells {
	out := csv.NewWriter(w)
	out.UseCRLF = true
	return Cells{out}
}

// Row writes one row; Done tells of an error.
func (c Cells) Row(cells ...string) {
	for i := range cells {
		cells[i] = printable.Cell(cells[i])
	}
	c.out.Write(cells)
}

// Done is the first error of writing.
func (c Cells) Done() error {
	c.out.Flush()
	return c.out.Error()
}
