// Package card makes the printed card of a sheet: what a stylist works from at the station, and a page for the client to
// take home.
//
// There is one drawing of it, pages of marks in millimetres, that is written as PDF or as SVG; and the same words as plain
// text, with a map of letters. What it says is worked out once, in content.go and client.go, so that the three cannot differ.
// Nothing on it depends on colour, on the day on which it is made, or on chance: the same sheet gives the same bytes.
package card

import (
	"example.org/underveil/internal/card/letter"
	"example.org/underveil/internal/card/page"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
	"example.org/underveil/internal/tally"
	"example.org/underveil/internal/unit"
)

// Options are what the card says beside the sheet.
type Options struct {
	Paper   page.Size    // A4 where it is nothing
	Studio  string       // its name, or empty
	Contact string       // whom the client calls; empty for a line to write it on
	Units   unit.Unit    // that lengths are in; heights are in mm as well
	Order   *tally.Order // for spare strands and chair time; nil for neither
}

// Card is the card of one sheet.
type Card struct {
	Pages   []*page.Page
	Notices []string // what whoever prints it should know: signs that its fonts lack, rows that it leaves out

	content
	sheet  *sheet.Sheet
	table  *slots.Table
	rep    *rule.Report
	setter *letter.Setter

	columnWidths []float64 // of the table, once they are known
}

// Of makes the card of a sheet, of which t is the slot table. What the rules find on it is looked up as on no particular day.
func Of(s *sheet.Sheet, t *slots.Table, o Options) *Card {
	if o.Paper == (page.Size{}) {
		o.Paper = page.A4
	}
	s = s.With(func(c *sheet.Sheet) { c.Today = "" })
	c := &Card{sheet: s, table: t, rep: rule.Check(s, t), setter: letter.New()}
	c.content = contentOf(s, t, c.rep, o, c.setter)
	c.Notices = append(append(c.Notices, c.lacks...), c.leftOut...)
	c.Pages = c.pages(o.Paper)
	return c
}

// NotAccepted is how many stops and cautions the card says nobody accepted, in words, or nothing where there are none.
func (c *Card) NotAccepted() string { return c.open }

// PDF is the card as a PDF.
func (c *Card) PDF() ([]byte, error) { return page.PDF(c.name(), c.Pages, c.setter) }

// SVG is the card as SVG, one for each page.
func (c *Card) SVG() [][]byte {
	var list [][]byte
	for _, p := range c.Pages {
		list = append(list, page.SVG(p, c.setter))
	}
	return list
}
