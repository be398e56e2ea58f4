package card_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"example.org/underveil/internal/card"
	"example.org/underveil/internal/card/page"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// randomSheet is a sheet with a bit of everything, or a great deal of it.
func randomSheet(rng *rand.Rand) *sheet.Sheet {
	mm := func(lo, hi float64) scalp.MM { return scalp.MM(lo + rng.Float64()*(hi-lo)) }
	s := sheet.New(scalp.Sizes[rng.IntN(len(scalp.Sizes))].Measures).With(func(c *sheet.Sheet) {
		c.HoleSpacing, c.LineGap = []scalp.MM{4, 6.5, 8, 8, 8, 12.3, 25}[rng.IntN(7)], []scalp.MM{4, 10, 10, 15, 30}[rng.IntN(5)]
		c.Aside = rng.IntN(3) == 0
		c.Title, c.Client, c.Date = randomText(rng, 60), randomText(rng, 30), []string{"", "2026-03-02", "sometime"}[rng.IntN(3)]
		c.Shades, c.Partings = nil, nil
		for i := range 1 + rng.IntN(4)*rng.IntN(8) {
			c.Shades = append(c.Shades, sheet.Shade{Key: 'a' + byte(i), Name: randomText(rng, 20), Length: 500, Grams: 0.8, Pack: rng.IntN(30)})
		}
		for range rng.IntN(3) {
			c.Partings = append(c.Partings, scalp.Parting{Right: mm(-50, 50), Length: mm(20, 150)})
		}
		for range rng.IntN(3) {
			c.KeepOff = append(c.KeepOff, sheet.KeepOff{Height: mm(0, 300), Right: mm(-50, 50), Radius: mm(3, 40), Why: randomText(rng, 20)})
		}
	})
	for _, l := range scalp.Landmarks() {
		if rng.IntN(6) == 0 {
			s = s.WithLandmark(l, scalp.Shift{Right: mm(-30, 30), Up: mm(-30, 30)})
		}
	}
	for range rng.IntN(12) * rng.IntN(4) {
		at := sheet.Place{At: s.LineGap * scalp.MM(rng.IntN(40))}
		if rng.IntN(4) == 0 {
			at = sheet.Place{Along: true, At: s.HoleSpacing * scalp.MM(rng.IntN(16)-8)}
		}
		bonds := map[int]sheet.Bond{}
		step := 1 + rng.IntN(4)
		for k := range rng.IntN(25) {
			bonds[(k-10)*step] = sheet.Bond{Shade: s.Shades[rng.IntN(len(s.Shades))].Key, Split: rng.IntN(3) == 0, Trimmed: rng.IntN(4) == 0}
		}
		s = s.WithBonds(at, bonds)
	}
	return s
}

func randomText(rng *rand.Rand, most int) string {
	signs := []rune("aaabcdeé ffi  АБв Ως שלום عربي 王 12 (.)-–/&\"")
	text := make([]rune, rng.IntN(most))
	for i := range text {
		text[i] = signs[rng.IntN(len(signs))]
	}
	return string(text)
}

// A sheet with texts without end still has a card: they are cut, and every page keeps what belongs on it.
func TestLongTexts(t *testing.T) {
	long := strings.Repeat("long words and more ", 400)
	s := load(t, "salon").With(func(c *sheet.Sheet) {
		c.Title, c.Client, c.Date = long, strings.ReplaceAll(long, " ", ""), long
		for k := byte('c'); k <= 'z'; k++ {
			c.Shades = append(c.Shades, sheet.Shade{Key: k, Name: long, Toned: long, Length: 500, Grams: 0.8, Pack: 25})
			c.Rows = append(c.Rows, sheet.NewRow(sheet.Place{Along: true, At: 8 * scalp.MM(int(k)-110)}, map[int]sheet.Bond{0: {Shade: k}}))
		}
		c.KeepOff = []sheet.KeepOff{{Height: 100, Radius: 10, Why: long}}
		c.Accepted[0].Reason, c.Accepted[0].By = long, long
	})
	table := tabled(t, s)
	for _, paper := range papers {
		c := card.Of(s, table, card.Options{Paper: paper, Contact: long, Studio: long})
		for n, p := range c.Pages {
			for _, a := range texts(p) {
				if r := room(a); r.x1 < 9.9 || r.y1 < 9.9 || r.x2 > p.Width-9.9 || r.y2 > p.Height-9.9 {
					t.Errorf("page %d: %q reaches off the page: %.1f", n+1, a.Text, r)
				}
			}
		}
		if last := c.Pages[len(c.Pages)-1]; !hasText(last, "Whom to call") {
			t.Error("the client's page has nobody to call")
		}
	}
}

// Whatever is on a sheet, no words stand on others beside the map, none reach off the page, and no row is lost.
func TestRandomSheets(t *testing.T) {
	rounds := 60
	if testing.Short() {
		rounds = 6
	}
	for seed := range rounds {
		rng := rand.New(rand.NewPCG(uint64(seed), 7))
		s := randomSheet(rng)
		if _, err := slots.Outline(s); err != nil {
			continue // no such head
		}
		paper := page.A4
		if seed%2 == 0 {
			paper = page.Letter
		}
		c := cardOf(t, s, paper)
		for n, p := range c.Pages {
			list := texts(p)
			for i, a := range list {
				r := room(a)
				if r.x1 < 9.9 || r.y1 < 9.9 || r.x2 > p.Width-9.9 || r.y2 > p.Height-9.9 {
					t.Errorf("seed %d, page %d: %q reaches off the page: %.1f", seed, n+1, a.Text, r)
				}
				for _, b := range list[i+1:] {
					if r.meets(room(b)) && !(len(a.Text) == 1 && len(b.Text) == 1) { // letters of bonds in one cell of the map
						t.Errorf("seed %d, page %d: %q stands on %q", seed, n+1, a.Text, b.Text)
					}
				}
			}
		}
		text := c.Text(seed%3 == 0)
		for line := range strings.Lines(text) {
			if w := printable.Width(strings.TrimSuffix(line, "\n")); w > 80 {
				t.Errorf("seed %d: %d columns: %s", seed, w, line)
			}
		}
		all := map[string]bool{}
		for _, p := range c.Pages {
			for _, text := range texts(p) {
				all[fmt.Sprintf("%.2f %s", text.Size, text.Text)] = true
			}
		}
		for _, row := range printedRows(text) {
			if !all[fmt.Sprintf("%.2f %d", 11.5*25.4/72, row.number)] {
				t.Errorf("seed %d: row %d is not in the table", seed, row.number)
			}
		}
		if _, err := c.PDF(); err != nil {
			t.Errorf("seed %d: %v", seed, err)
		}
	}
}
