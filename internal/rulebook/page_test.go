package rulebook

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
)

// pages are those by the usual limits, made once.
var pages = map[string]*Page{}

// pageOf is the page of a rule by the usual limits.
func pageOf(t testing.TB, r *rule.Rule) *Page {
	t.Helper()
	if pages[r.ID] == nil {
		p, err := Of(r, nil)
		if err != nil {
			t.Fatal(err)
		}
		pages[r.ID] = p
	}
	return pages[r.ID]
}

// words are the words of a text, without its lines.
func words(text string) string { return strings.Join(strings.Fields(text), " ") }

// half is one half of the columns of a screen, as lines of text.
func half(scr *cells.Screen, from, to int) string {
	var b strings.Builder
	for y := range scr.H {
		for x := from; x < to; x++ {
			b.WriteRune(scr.At(x, y).Rune)
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// A page says all there is to say about its rule: its title, how grave it is, its reason, since when, each limit with its
// default and its source, and both captions with what is reported. Nothing is cut off, however wide it is.
func TestPagesAreWhole(t *testing.T) {
	for _, r := range rule.All {
		p := pageOf(t, r)
		for _, width := range []int{40, Width, 118} {
			scr := p.Screen(width, figure.Unicode)
			text := words(scr.String())
			all := []string{r.ID, r.Title, r.Doc, "at most a " + r.Severity.String(), "since " + r.Since}
			for _, name := range r.Limits {
				l, _ := name.Info()
				all = append(all, fmt.Sprintf("%g %s %s", l.Default, l.Unit, l.Title), l.Source)
			}
			left, right := text, text
			if width >= Width && strings.Contains(text, "wrong right") { // beside each other
				left, right = words(half(scr, 0, pictureWidth)), words(half(scr, width-pictureWidth, width))
			}
			message := p.Example.Wrong.of(r)[0].Message()
			for _, want := range append(all, message, p.Example.Wrong.Says) {
				if !strings.Contains(text, words(want)) && !strings.Contains(left, words(want)) {
					t.Errorf("%s, %d wide: nothing of %q in\n%s", r.ID, width, want, scr)
				}
			}
			if !strings.Contains(right, words(p.Example.Right.Says)) || !strings.Contains(right, "nothing reported") {
				t.Errorf("%s, %d wide: what is right is not said in\n%s", r.ID, width, scr)
			}
			if strings.Contains(scr.String(), "…") {
				t.Errorf("%s, %d wide: something is cut off:\n%s", r.ID, width, scr)
			}
		}
	}
}

var inForce = regexp.MustCompile(`here [0-9]`)

// A page says what is in force where that is not the default, and from whom, and only there.
func TestLimitsInForce(t *testing.T) {
	nape, _ := rule.ByID("nape")
	s := (&sheet.Sheet{House: map[sheet.LimitName]float64{sheet.LimitNape: 24, sheet.LimitNapeUp: 40}}).WithLimit(sheet.FigureGrowth, 0.5)
	p, err := Of(nape, s)
	if err != nil {
		t.Fatal(err)
	}
	text := words(p.Screen(Width, figure.Unicode).String())
	for _, want := range []string{"here 24 mm: set by the studio", "here 0.5 mm: set for this client", "drawn by the usual limits"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not said in %s", want, text)
		}
	}
	if n := len(inForce.FindAllString(text, -1)); n != 2 {
		t.Errorf("what is as usual is said once more in %s", text)
	}
	text = words(pageOf(t, nape).Screen(Width, figure.Unicode).String())
	if inForce.MatchString(text) || strings.Contains(text, "usual limits") {
		t.Errorf("something is in force in %s", text)
	}
}

// With the ASCII marks there is nothing else on a page, and it is as long as with the others.
func TestPagesInASCII(t *testing.T) {
	for _, r := range rule.All {
		p := pageOf(t, r)
		scr := p.Screen(Width, figure.ASCII)
		if i := strings.IndexFunc(scr.String(), func(c rune) bool { return c > '~' }); i >= 0 {
			t.Errorf("%s: %q", r.ID, scr.String()[i:])
		}
		if other := p.Screen(Width, figure.Unicode); other.H != scr.H {
			t.Errorf("%s: %d lines and %d", r.ID, scr.H, other.H)
		}
	}
}

// inWords are the rules that are about no place, and that neither more nor fewer bonds would mend: their page has no pictures.
var inWords = map[string]bool{"shade": true, "refer": true, "overdue": true}

// The wrong picture marks each finding that lies in it, at its place on the map and nowhere else, and the first one always lies in
// it; the right one shows the same part of the map, and marks nothing. Both are as large as the other.
func TestPictures(t *testing.T) {
	for _, r := range rule.All {
		x := exampleOf(t, r)
		w, ok := windowOf(x, r)
		if ok == inWords[r.ID] {
			t.Errorf("%s: a picture: %v", r.ID, ok)
		}
		if !ok {
			continue
		}
		if w.lines < fewestLines || w.lines > mostLines || w.top-w.lines < -1 || w.top >= len(x.Wrong.Table.Lines) {
			t.Errorf("%s: %+v of %d lines", r.ID, w, len(x.Wrong.Table.Lines))
		}
		ink, mark := (&leaf{glyphs: figure.Unicode}).severity(x.Wrong.of(r)[0].Severity)
		marks := map[[2]int]bool{} // as they should be
		for i, f := range x.Wrong.of(r) {
			column, line, inside := placeIn(x, w, f)
			if i == 0 && !inside {
				t.Errorf("%s: the first finding is outside of the picture", r.ID)
			}
			if inside && f.On != sheet.OnSheet {
				marks[[2]int{column, line}] = true
			}
		}
		wrong, right := cells.NewScreen(pictureWidth, w.lines), cells.NewScreen(pictureWidth, w.lines)
		w.drawing(0, 0, &x.Wrong, r, figure.Unicode, rule.Reading{})(wrong)
		w.drawing(0, 0, &x.Right, r, figure.Unicode, rule.Reading{})(right)
		for at := range marks {
			if c := wrong.At(figure.Gutter-1, at[1]).Rune; c != figure.Unicode.Here && at[0] != figure.Gutter-1 {
				t.Errorf("%s: beside line %d there is %q\n%s", r.ID, at[1], c, wrong)
			}
		}
		for y := range w.lines {
			for at := range pictureWidth {
				if c := wrong.At(at, y); (c == cells.Cell{Rune: mark, Ink: ink}) != marks[[2]int{at, y}] {
					t.Errorf("%s: at %d, %d there is %q, and should be a mark: %v\n%s", r.ID, at, y, c.Rune, marks[[2]int{at, y}], wrong)
				}
				if c := right.At(at, y).Rune; c == mark || c == figure.Unicode.Here {
					t.Errorf("%s: the right picture has a mark\n%s", r.ID, right)
				}
			}
		}
		if wrong.String() == right.String() && x.seen(r).Kind == rule.ByZone {
			t.Errorf("%s: the pictures are the same:\n%s", r.ID, wrong)
		}
	}
}

// placeIn is where in a picture a finding is to be marked, worked out from its slot: a finding about a row stands beside
// the line.
func placeIn(x *Example, w window, f rule.Finding) (column, line int, inside bool) {
	if f.On == sheet.OnSheet {
		return 0, 0, true
	}
	for i, l := range x.Wrong.Table.Lines {
		if l.Place() == f.Row {
			line = w.top - i
		}
	}
	column = figure.Gutter - 1
	if f.On == sheet.OnSlot {
		column = figure.Gutter + f.Slot - w.left
	}
	return column, line, line >= 0 && line < w.lines && column >= figure.Gutter-1 && column < pictureWidth
}

// Where a rule measures what a reading shows, its pictures are shaded by it and say so.
func TestShadedPictures(t *testing.T) {
	for id, says := range map[string]string{
		"thin-veil": "shaded by veil", "shows-up": "shaded by cover", "load": "shaded by load", "split": "shaded by load", "nape": "", "falls-aside": "",
	} {
		r, _ := rule.ByID(id)
		scr := pageOf(t, r).Screen(Width, figure.Unicode)
		text := scr.String()
		if says == "" {
			if strings.Contains(text, "shaded") || strings.ContainsRune(text, figure.Unicode.Steps[0]) {
				t.Errorf("%s is shaded:\n%s", id, text)
			}
			continue
		}
		// once in the legend, and somewhere on the map
		if !strings.Contains(text, says) || strings.Count(text, string(figure.Unicode.Steps[0])) < 2 {
			t.Errorf("%s is not shaded:\n%s", id, text)
		}
	}
}

func BenchmarkPage(b *testing.B) {
	r, _ := rule.ByID("thin-veil")
	for b.Loop() {
		p, err := Of(r, nil)
		if err != nil {
			b.Fatal(err)
		}
		p.Screen(Width, figure.Unicode)
	}
}
