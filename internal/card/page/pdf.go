package page

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"example.org/underveil/assets"
	"example.org/underveil/internal/card/letter"
)

// pointsPerMM is how many points a millimetre has: 72 to an inch of 25.4 mm.
const pointsPerMM = 72 / 25.4

// bornOn is the date that every PDF bears, so that the same pages are the same bytes.
var bornOn = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

// PDF writes pages as one PDF. title is that of the document. The same pages are the same bytes.
func PDF(title string, pages []*Page, s *letter.Setter) ([]byte, error) {
	f := fpdf.NewCustom(&fpdf.InitType{OrientationStr: "P", UnitStr: "mm"})
	f.SetCatalogSort(true)
	f.SetCreationDate(bornOn)
	f.SetModificationDate(bornOn)
	f.SetTitle(title, true)
	f.SetCreator("underveil", false)
	f.SetProducer("underveil", false)
	f.SetLang("en")
	f.SetAutoPageBreak(false, 0)
	f.SetMargins(0, 0, 0)
	f.SetCellMargin(0)
	f.SetFillColor(0, 0, 0)
	// The library works in the bytes that it is given.
	f.AddUTF8FontFromBytes(family, "", slices.Clone(assets.Sans))
	f.AddUTF8FontFromBytes(family, "B", slices.Clone(assets.SansBold))
	w := pdfWriter{Fpdf: f, setter: s}
	for _, p := range pages {
		f.AddPageFormat("P", fpdf.SizeType{Wd: p.Width, Ht: p.Height})
		w.page(p)
	}
	var out bytes.Buffer
	if err := f.Output(&out); err != nil {
		return nil, fmt.Errorf("cannot write the PDF: %w", err)
	}
	return out.Bytes(), nil
}

const family = "card"

type pdfWriter struct {
	*fpdf.Fpdf
	setter *letter.Setter
}

func (w pdfWriter) page(p *Page) {
	for _, m := range p.Marks {
		switch m := m.(type) {
		case *Path:
			w.path(m)
		case *Text:
			if m.Plain != nil {
				w.plain(m)
			} else if len(m.Glyphs) > 0 {
				w.drawn(m)
			}
		}
	}
}

func (w pdfWriter) path(p *Path) {
	style := ""
	if p.Filled {
		style = "F*"
		w.SetFillColor(grey(p.Fill))
	}
	if p.Stroke > 0 {
		style = "D"
		if p.Filled {
			style = "FD*"
		}
		w.SetDrawColor(grey(p.Ink))
		w.SetLineWidth(p.Stroke)
		w.SetLineJoinStyle("round")
		end, dashes := "butt", []float64{}
		if p.Round {
			end = "round"
		}
		if p.Dash > 0 {
			dashes = []float64{p.Dash, p.Dash}
			if p.Round {
				dashes[0] = 0.01
			}
		}
		w.SetLineCapStyle(end)
		w.SetDashPattern(dashes, 0)
	}
	w.steps(p)
	w.DrawPath(style)
}

func (w pdfWriter) steps(p *Path) {
	for _, st := range p.Steps {
		switch a := st.P; st.Op {
		case Move:
			w.MoveTo(a[0].X, a[0].Y)
		case To:
			w.LineTo(a[0].X, a[0].Y)
		case Cube:
			w.CurveBezierCubicTo(a[0].X, a[0].Y, a[1].X, a[1].Y, a[2].X, a[2].Y)
		case Close:
			w.ClosePath()
		}
	}
}

// plain writes text as text.
func (w pdfWriter) plain(t *Text) {
	w.font(t)
	w.SetTextColor(grey(t.Ink))
	for _, st := range t.Plain {
		w.Text(t.At.X+t.Size*st.X, t.At.Y, st.Text)
	}
}

// drawn draws text as outlines. What it says lies over them, sign by sign from left to right, as text that is not shown: that
// is how readers of PDF expect text that runs from right to left.
func (w pdfWriter) drawn(t *Text) {
	path := t.outline(w.setter)
	w.SetFillColor(grey(path.Fill))
	w.steps(path)
	w.DrawPath("f") // outlines of letters may overlap, and are filled all the same
	w.font(t)
	w.SetTextRenderingMode(3)
	w.SetTextColor(0, 0, 0)
	for _, g := range t.Glyphs {
		text := withinUTF16(g.Text)
		if text == "" {
			continue
		}
		scale := 100.0
		if wide := w.GetStringWidth(text); wide > 0 && g.Width > 0 { // as wide as what is seen
			scale *= t.Size * g.Width / wide
		}
		w.RawWriteStr(fmt.Sprintf("%.2f Tz", scale))
		w.Text(t.At.X+t.Size*g.X, t.At.Y, text)
	}
	w.RawWriteStr("100 Tz")
	w.SetTextRenderingMode(0)
}

func (w pdfWriter) font(t *Text) {
	style := ""
	if t.Weight == letter.Bold {
		style = "B"
	}
	w.SetFont(family, style, t.Size*pointsPerMM)
}

func grey(ink float64) (r, g, b int) {
	v := int(ink*255 + 0.5)
	return v, v, v
}

// withinUTF16 is a text without the runes that the library has no way of writing.
func withinUTF16(text string) string {
	return strings.Map(func(r rune) rune {
		if r > 0xFFFF {
			return -1
		}
		return r
	}, text)
}
