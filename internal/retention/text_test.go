package retention

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.org/underveil/internal/golden"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/sheet"
)

func TestTextGolden(t *testing.T) {
	r := Of(client(t), table(t))
	golden.Compare(t, filepath.Join("testdata", "wide.txt"), r.Text(76, false))
	golden.Compare(t, filepath.Join("testdata", "narrow-ascii.txt"), r.Text(60, true))
}

// Whatever the report, no line is wider than the page, every line is safe to show, and a plain page is ASCII.
func TestTextKeepsToThePage(t *testing.T) {
	table, rng := table(t), seeded(2)
	for range fewer(200, 30) {
		s := randomClient(rng)
		ascii := rng.IntN(2) == 0
		if !ascii {
			s = s.With(func(c *sheet.Sheet) {
				c.Shades = slices.Clone(c.Shades)
				c.Shades[0].Name = "\x1b[2Jhonig\u202e 山田 花子 wie beim letzten Mal, nur etwas heller und ohne das Rot"
			})
		}
		r := Of(s, table)
		width := NarrowestText + rng.IntN(70)
		text := r.Text(width, ascii)
		for line := range strings.Lines(text) {
			line = strings.TrimSuffix(line, "\n")
			if printable.Width(line) > width || !printable.Clean(line) || strings.TrimRight(line, " ") != line {
				t.Fatalf("a line of %d columns on a page of %d: %q", printable.Width(line), width, line)
			}
		}
		if i := strings.IndexFunc(text, func(r rune) bool { return r > '~' }); ascii && i >= 0 {
			t.Fatalf("not ASCII: %q", text[i:])
		}
		for _, g := range r.Groupings {
			if r.All.Known == 0 {
				break // there is nothing to tell apart yet
			}
			for _, one := range g.Groups {
				if want := fmt.Sprintf("%d/%d", one.Kept, one.Known); !strings.Contains(text, want) {
					t.Fatalf("%s %s: %s is not there in\n%s", g.Name, one.Name, want, text)
				}
			}
		}
	}
}

func TestTextOfNothing(t *testing.T) {
	if got := Of(blank(), table(t)).Text(76, false); got != "No bond has been made yet.\n" {
		t.Errorf("%q", got)
	}
	s := client(t)
	s = s.With(func(c *sheet.Sheet) { c.Visits = slices.Clone(c.Visits[:1]); c.Visits[0].Aside = true })
	got := Of(s, table(t)).Text(1, false)
	for _, want := range []string{"How many bonds are kept is known once they are looked at on a day after the fitting", "69 bonds made"} {
		if !strings.Contains(strings.Join(strings.Fields(got), " "), want) {
			t.Errorf("%q is not there in\n%s", want, got)
		}
	}
	for _, no := range []string{"NaN", "●", "100 % (", "0/0"} {
		if strings.Contains(got, no) {
			t.Errorf("%q is there in\n%s", no, got)
		}
	}
}

// The bar has its marks where the figures are, to half a cell.
func TestBar(t *testing.T) {
	for _, c := range []struct {
		from float64
		c    Count
		want string
	}{
		{0.5, Count{Known: 10, Kept: 5}, "●────┤     "}, // 0.24 to 0.76: off the scale, to 5.3 cells
		{0, Count{Known: 10, Kept: 5}, "━━┣━━●──┤  "},
		{0, Count{Known: 4}, "●────┤     "},                   // 0 to 0.49
		{0.9, Count{Known: 10000, Kept: 9500}, "━━━━━●     "}, // all in one cell
		{0, Count{Known: 4, Kept: 4}, "━━━━━┣━━━━●"},          // 0.51 to 1
		{0, Count{Made: 9}, "           "},
	} {
		if got := (scale{c.from, 11}).bar(c.c, drawn); got != c.want {
			t.Errorf("%+v from %g: %q, want %q", c.c, c.from, got, c.want)
		}
	}
}

func TestScale(t *testing.T) {
	for _, c := range []struct {
		counts []Count
		from   float64
	}{
		{nil, 0.9},
		{[]Count{{Known: 1000, Kept: 990}}, 0.9},
		{[]Count{{Known: 100, Kept: 97}, {Known: 50, Kept: 45}}, 0.7}, // 0.79 is the least low end
		{[]Count{{Known: 100, Kept: 97}, {Known: 4, Kept: 3}}, 0.7},   // too few to have a say but for their share
		{[]Count{{Known: 3}}, 0},
	} {
		if got := scaleOf(c.counts, 20); got.from < c.from-1e-9 || got.from > c.from+1e-9 {
			t.Errorf("%+v: from %g, want %g", c.counts, got.from, c.from)
		}
	}
	for _, c := range []struct {
		scale
		want string
	}{{scale{0.5, 12}, "50 %   100 %"}, {scale{0.5, 30}, "50 %         75 %        100 %"}, {scale{0, 12}, "0 %    100 %"}} {
		if got := c.axis(); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

func TestPercent(t *testing.T) {
	for share, want := range map[float64]string{0: "0 %", 1: "100 %", 0.996: "99 %", 0.001: "1 %", 0.944: "94 %", 0.945: "95 %"} {
		if got := percent(share); got != want {
			t.Errorf("%g is %q, want %q", share, got, want)
		}
	}
}
