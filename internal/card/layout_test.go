package card_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"example.org/underveil/internal/card"
	"example.org/underveil/internal/card/page"
	"example.org/underveil/internal/sheet"
)

// rect is what a mark covers on the page.
type rect struct{ x1, y1, x2, y2 float64 }

func (r rect) meets(o rect) bool {
	const touch = 0.05
	return r.x1+touch < o.x2 && o.x1+touch < r.x2 && r.y1+touch < o.y2 && o.y1+touch < r.y2
}

// room is what a line of text covers: as high as its capitals, and what is above and below them left to the white between lines.
func room(t *page.Text) rect {
	return rect{t.At.X, t.At.Y - 0.73*t.Size, t.At.X + t.Size*t.Line.Width, t.At.Y}
}

func texts(p *page.Page) []*page.Text {
	var list []*page.Text
	for _, m := range p.Marks {
		if text, ok := m.(*page.Text); ok && strings.TrimSpace(text.Text) != "" {
			list = append(list, text)
		}
	}
	return list
}

// made are the cards that were made already, for more than one test looks at them.
var made = map[string]*card.Card{}

// everyCard calls f with the card of every sheet on both papers.
func everyCard(t *testing.T, f func(t *testing.T, s *sheet.Sheet, c *card.Card)) {
	for name, s := range sheets(t) {
		for paper, size := range papers {
			name := name + "/" + paper
			if made[name] == nil {
				made[name] = cardOf(t, s, size)
			}
			t.Run(name, func(t *testing.T) { f(t, s, made[name]) })
		}
	}
}

// No words stand on others, and none reach off the page.
func TestNothingOverlapsAndNothingIsCutOff(t *testing.T) {
	everyCard(t, func(t *testing.T, _ *sheet.Sheet, c *card.Card) {
		const edge = 9.9
		for n, p := range c.Pages {
			list := texts(p)
			for i, a := range list {
				r := room(a)
				if r.x1 < edge || r.y1 < edge || r.x2 > p.Width-edge || r.y2 > p.Height-edge {
					t.Errorf("page %d: %q reaches off the page: %.1f", n+1, a.Text, r)
				}
				for _, b := range list[i+1:] {
					if r.meets(room(b)) {
						t.Errorf("page %d: %q stands on %q", n+1, a.Text, b.Text)
					}
				}
			}
			for _, m := range p.Marks {
				path, ok := m.(*page.Path)
				if !ok {
					continue
				}
				for _, st := range path.Steps {
					for _, q := range st.P {
						if st.Op != page.Close && q != (page.Point{}) && (q.X < 5 || q.X > p.Width-5 || q.Y < 5 || q.Y > p.Height-5) {
							t.Fatalf("page %d: a line reaches off the page, to %.1f", n+1, q)
						}
					}
				}
			}
		}
	})
}

// Black on white and nothing between, so that any printer prints it as it is; and no type too small: 7 points on the axis of the
// map, at least 9 for all that is worked from.
func TestBlackAndWhiteAndLargeEnough(t *testing.T) {
	const point = 25.4 / 72
	everyCard(t, func(t *testing.T, _ *sheet.Sheet, c *card.Card) {
		for n, p := range c.Pages {
			for _, m := range p.Marks {
				switch m := m.(type) {
				case *page.Path:
					if m.Stroke > 0 && m.Ink != 0 && m.Ink != 1 || m.Filled && m.Fill != 0 && m.Fill != 1 {
						t.Errorf("page %d has a grey line or ground", n+1)
					}
				case *page.Text:
					if m.Ink != 0 && m.Ink != 1 {
						t.Errorf("page %d: %q is grey", n+1, m.Text)
					}
					if m.Size < 5.9*point {
						t.Errorf("page %d: %q is set in %.1f points", n+1, m.Text, m.Size/point)
					}
				}
			}
		}
	})
}

// Every row of the table is on a page, with its number, its strip, its first hole; and every number is on the map as well, where
// numbers are larger.
func TestNoRowIsDropped(t *testing.T) {
	everyCard(t, func(t *testing.T, s *sheet.Sheet, c *card.Card) {
		counts := map[string]int{}
		for _, p := range c.Pages[:len(c.Pages)-1] {
			for _, text := range texts(p) {
				counts[fmt.Sprintf("%.1f %s", text.Size, text.Text)]++
			}
		}
		for _, row := range printedRows(c.Text(false)) {
			const onMap, inTable = 13 * 25.4 / 72, 11.5 * 25.4 / 72
			if n := counts[fmt.Sprintf("%.1f %d", onMap, row.number)]; n != 1 {
				t.Errorf("number %d is %d times on the map", row.number, n)
			}
			if n := counts[fmt.Sprintf("%.1f %d", inTable, row.number)]; n != 1 {
				t.Errorf("number %d is %d times in the table", row.number, n)
			}
		}
	})
}

// Two bonds that are so many slots apart are so far apart on the map: along a row the map is to scale, and so is a height up the
// middle. The scale is found from the heights at its side.
func TestTheMapIsToScale(t *testing.T) {
	s := load(t, "salon")
	p := cardOf(t, s, page.A4).Pages[0]
	heights := map[string]float64{}
	letters := map[float64][]float64{} // of shades, by the line that they stand on
	for _, text := range texts(p) {
		switch {
		case text.Size < 7.1*25.4/72 && strings.HasSuffix(text.Text, "0") || text.Text == "0":
			heights[text.Text] = text.At.Y
		case text.Text == "a" || text.Text == "b":
			y := math.Round(text.At.Y*20) / 20
			letters[y] = append(letters[y], text.At.X+text.Size*text.Line.Width/2)
		}
	}
	scale := (heights["0"] - heights["340"]) / 340
	if scale < 0.28 || scale > 0.45 {
		t.Fatalf("a millimetre is %.3f mm on the map", scale)
	}
	rows := 0
	for _, at := range letters {
		if len(at) < 9 {
			continue
		}
		rows++
		for i := 1; i < len(at); i++ {
			slots := math.Abs(at[i]-at[i-1]) / (scale * float64(s.HoleSpacing))
			if math.Abs(slots-math.Round(slots)) > 0.02 {
				t.Errorf("two bonds of a row are %.3f slots apart on the map", slots)
			}
		}
	}
	if rows < 4 {
		t.Errorf("%d rows were looked at, want the four long ones", rows)
	}
}

// A sheet of 25 rows goes on on further pages, and an ordinary one does not.
func TestHowManyPages(t *testing.T) {
	for name, want := range map[string][2]int{"salon": {2, 2}, "names": {2, 2}, "empty": {2, 2}, "big": {3, 4}} {
		for paper, size := range papers {
			c := cardOf(t, load(t, name), size)
			n := len(c.Pages)
			if n < want[0] || n > want[1] {
				t.Errorf("%s on %s has %d pages", name, paper, n)
			}
			for i, p := range c.Pages {
				if mark := fmt.Sprintf("card %d of %d", i+1, n); !strings.Contains(p.Title, mark) || !hasText(p, mark) {
					t.Errorf("%s on %s: page %d does not say that it is %s", name, paper, i+1, mark)
				}
			}
		}
	}
}

func hasText(p *page.Page, want string) bool {
	for _, text := range texts(p) {
		if text.Text == want {
			return true
		}
	}
	return false
}
