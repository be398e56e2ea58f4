package page

import (
	"encoding/xml"
	"errors"
	"io"
	"math"
	"strings"
	"testing"

	"example.org/underveil/internal/card/letter"
)

// elements are the elements of an XML document with their attributes, and the text in it.
func elements(t *testing.T, data []byte) (list []xml.StartElement, text string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(string(data)))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return list, text
		}
		if err != nil {
			t.Fatal(err)
		}
		switch it := token.(type) {
		case xml.StartElement:
			list = append(list, it.Copy())
		case xml.CharData:
			text += string(it)
		}
	}
}

func attributeOf(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

func TestSVGHoldsTogether(t *testing.T) {
	s := letter.New()
	for _, p := range sample(s) {
		list, text := elements(t, SVG(p, s))
		if !strings.Contains(text, p.Title) {
			t.Errorf("the title %q is not in it", p.Title)
		}
		ids, labels := map[string]bool{}, map[string]bool{}
		for _, e := range list {
			if id := attributeOf(e, "id"); id != "" {
				if ids[id] {
					t.Errorf("the id %s is there twice", id)
				}
				ids[id] = true
			}
			labels[attributeOf(e, "aria-label")] = true
		}
		for _, e := range list {
			if e.Name.Local == "use" && !ids[strings.TrimPrefix(attributeOf(e, "href"), "#")] {
				t.Errorf("%s is used and not there", attributeOf(e, "href"))
			}
		}
		for _, m := range p.Marks {
			if text, ok := m.(*Text); ok && !labels[text.Text] {
				t.Errorf("%q has no label", text.Text)
			}
		}
	}
}

// What stands in a text stays text, whatever it looks like.
func TestSVGEscapes(t *testing.T) {
	s := letter.New()
	hostile := `"/><script>alert(1)</script>&amp; ` + "\x01"
	p := &Page{Size: A4, Title: hostile}
	p.Add(&Text{Line: s.Set(hostile, letter.Regular), At: Point{10, 10}, Size: 4})
	list, _ := elements(t, SVG(p, s))
	for _, e := range list {
		if e.Name.Local == "script" {
			t.Error("a text became an element")
		}
	}
}

// A circle of four curves is within 0.03 % of its radius (Goldapp 1991, "Approximation of circular arcs by cubic polynomials":
// 2.7e-4 for a quarter; from memory, held here by the points themselves).
func TestCircle(t *testing.T) {
	p := (&Path{}).Circle(0, 0, 1)
	var pen Point
	for _, st := range p.Steps {
		if st.Op == Cube {
			for k := 0.0; k <= 1; k += 0.05 {
				x := bezier(pen.X, st.P[0].X, st.P[1].X, st.P[2].X, k)
				y := bezier(pen.Y, st.P[0].Y, st.P[1].Y, st.P[2].Y, k)
				if r := math.Hypot(x, y); math.Abs(r-1) > 3e-4 {
					t.Errorf("a point of the circle is %g from its middle", r)
				}
			}
			pen = st.P[2]
		} else {
			pen = st.P[0]
		}
	}
}

func bezier(a, b, c, d, t float64) float64 {
	u := 1 - t
	return u*u*u*a + 3*u*u*t*b + 3*u*t*t*c + t*t*t*d
}

func BenchmarkPDF(b *testing.B) {
	for b.Loop() {
		samplePDF(b)
	}
}
