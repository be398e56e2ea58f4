package page

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.org/underveil/internal/card/letter"
)

// SVG writes a page as an SVG of its own. The same page is the same bytes.
func SVG(p *Page, s *letter.Setter) []byte {
	w := svgWriter{setter: s, kept: map[glyphID]bool{}}
	for _, m := range p.Marks {
		switch m := m.(type) {
		case *Path:
			w.path(m)
		case *Text:
			w.text(m)
		}
	}
	var out bytes.Buffer
	fmt.Fprintf(&out, `<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="0 0 %[1]s %[2]s" xml:lang="en" role="graphics-document document" aria-labelledby="title">
<title id="title">%s</title>
<defs>
`, short(p.Width), short(p.Height), escaped(p.Title))
	w.defs(&out)
	fmt.Fprintf(&out, "</defs>\n<rect width=\"%s\" height=\"%s\" fill=\"#fff\"/>\n", short(p.Width), short(p.Height))
	out.Write(w.body.Bytes())
	out.WriteString("</svg>\n")
	return out.Bytes()
}

type svgWriter struct {
	setter *letter.Setter
	body   bytes.Buffer
	kept   map[glyphID]bool // the glyphs used
}

type glyphID struct {
	weight letter.Weight
	id     uint32
	box    int // width of a box, in units of the em; 0 for a glyph of the font
}

// perEm is how many units an em has in the glyphs that are kept.
const perEm = 2048

func (g glyphID) String() string {
	if g.box > 0 {
		return fmt.Sprintf("box%d", g.box)
	}
	return fmt.Sprintf("%c%d", "rb"[g.weight], g.id)
}

// defs writes the outlines of the glyphs that are used, each once.
func (w *svgWriter) defs(out *bytes.Buffer) {
	var ids []glyphID
	for g := range w.kept {
		ids = append(ids, g)
	}
	slices.SortFunc(ids, func(a, b glyphID) int { return strings.Compare(a.String(), b.String()) })
	for _, g := range ids {
		fmt.Fprintf(out, "<path id=\"%s\" d=\"%s\"/>\n", g, data(w.shape(g), func(v float64) string { return strconv.Itoa(int(math.Round(v))) }))
	}
}

// shape is the outline of a glyph in units of the em, y up as fonts have it.
func (w *svgWriter) shape(g glyphID) []Step {
	p := &Path{}
	if g.box > 0 {
		t := Text{Size: perEm}
		t.box(p, letter.Glyph{Width: float64(g.box) / perEm})
		for i := range p.Steps {
			p.Steps[i].P[0].Y = -p.Steps[i].P[0].Y
		}
		return p.Steps
	}
	trace(p, w.setter.Outline(g.weight, g.id), func(q [2]float64) Point { return Point{perEm * q[0], perEm * q[1]} })
	return p.Steps
}

// text uses the glyphs of a line under a label that says what it reads.
func (w *svgWriter) text(t *Text) {
	var uses strings.Builder
	for _, g := range t.Glyphs {
		id := glyphID{weight: t.Weight, id: g.ID}
		if g.Box {
			id = glyphID{box: int(math.Round(g.Width * perEm))}
		} else if len(w.setter.Outline(t.Weight, g.ID)) == 0 {
			continue // a blank
		}
		w.kept[id] = true
		fmt.Fprintf(&uses, `<use href="#%s"`, id)
		if x := math.Round(g.X * perEm); x != 0 {
			fmt.Fprintf(&uses, ` x="%d"`, int(x))
		}
		if y := math.Round(g.Y * perEm); y != 0 {
			fmt.Fprintf(&uses, ` y="%d"`, int(y))
		}
		uses.WriteString("/>")
	}
	if uses.Len() == 0 {
		return
	}
	scale := strconv.FormatFloat(t.Size/perEm, 'g', 5, 64)
	fmt.Fprintf(&w.body, `<g role="img" aria-label="%s" transform="translate(%s %s) scale(%s -%[4]s)"%s>%s</g>`+"\n",
		escaped(t.Text), short(t.At.X), short(t.At.Y), scale, attribute("fill", t.Ink), uses.String())
}

// attribute is an ink as an attribute, left out where it is black.
func attribute(name string, ink float64) string {
	if ink == 0 {
		return ""
	}
	return fmt.Sprintf(` %s="%s"`, name, hex(ink))
}

func hex(ink float64) string {
	r, g, b := grey(ink)
	return fmt.Sprintf("#%02x%02x%02x", r, g, b)
}

func (w *svgWriter) path(p *Path) {
	if p.Filled {
		w.body.WriteString(`<path fill-rule="evenodd"` + attribute("fill", p.Fill))
	} else {
		w.body.WriteString(`<path fill="none"`)
	}
	if p.Stroke > 0 {
		fmt.Fprintf(&w.body, ` stroke="%s" stroke-width="%s" stroke-linejoin="round"`, hex(p.Ink), short(p.Stroke))
		dash := p.Dash
		if p.Round {
			w.body.WriteString(` stroke-linecap="round"`)
			dash = 0.01
		}
		if p.Dash > 0 {
			fmt.Fprintf(&w.body, ` stroke-dasharray="%s %s"`, short(dash), short(p.Dash))
		}
	}
	fmt.Fprintf(&w.body, " d=\"%s\"/>\n", data(p.Steps, short))
}

// data is a path as SVG writes it.
func data(steps []Step, number func(float64) string) string {
	var b strings.Builder
	put := func(points ...Point) {
		for i, q := range points {
			if i > 0 {
				b.WriteByte(' ')
			}
			b.WriteString(number(q.X) + " " + number(q.Y))
		}
	}
	for _, st := range steps {
		b.WriteByte("MLCZ"[st.Op])
		switch st.Op {
		case Move, To:
			put(st.P[0])
		case Cube:
			put(st.P[:]...)
		}
	}
	return b.String()
}

// short is a length in mm to the hundredth.
func short(v float64) string {
	text := strconv.FormatFloat(v, 'f', 2, 64)
	text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	if text == "-0" {
		return "0"
	}
	return text
}

// escaped is text as it stands in an attribute or an element.
func escaped(text string) string {
	var b bytes.Buffer
	if xml.EscapeText(&b, []byte(text)) != nil {
		return ""
	}
	return b.String()
}
