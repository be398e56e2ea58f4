package letter

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/go-text/typesetting/bidi"
)

// The levels are those of GNU FriBidi 1.0.8: fribidi --charset UTF-8 --ltr --levels --novisual.
func TestLevelsAreThoseOfAnotherLibrary(t *testing.T) {
	for text, want := range map[string]string{
		"שרה 014":                     "1111222",
		"client שרה 014 abc":          "000000011112220000",
		"abc שרה 1.5 - 2,000 def":     "00001111222111222220000",
		"محمد ٣٤":                     "1111122",
		"name محمد ٣٤ and more":       "000001111122000000000",
		"שלום (world) 12":             "111100000000000",
		"a (שלום) b":                  "0001111000",
		"50% שלום 50%":                "000011111222",
		"$5 שלום $5 ok":               "0001111122000",
		"א+1-2 ב":                     "1122211",
		"price: 12 ₪ שלום":            "0000000000001111",
		"٣٤ abc":                      "220000",
		"abc ٣٤ שלום":                 "00002211111",
		"אב 3/4 cd":                   "111222000",
		"1 א 2 ב 3":                   "001121112",
		"plain text, with 12 figures": strings.Repeat("0", 27),
	} {
		var p bidi.Paragraph
		var got strings.Builder
		for _, level := range levels(&p, []rune(text), false) {
			got.WriteByte('0' + byte(level))
		}
		if got.String() != want {
			t.Errorf("%q has the levels %s, want %s", text, got.String(), want)
		}
	}
}

// Whatever stands in a text, which of its runes run from right to left is what the library says.
func TestRaisingNumbersTurnsNothingRound(t *testing.T) {
	signs := []rune("abé אבשم ع١٢12+-.,:/%$₪()[] \u0301\u05B8")
	rng := rand.New(rand.NewPCG(1, 2))
	rounds := 20000
	if testing.Short() {
		rounds = 500
	}
	for range rounds {
		text := make([]rune, 1+rng.IntN(14))
		for i := range text {
			text[i] = signs[rng.IntN(len(signs))]
		}
		var p bidi.Paragraph
		plain := make([]int8, 0, len(text))
		runs := p.Segment(text, bidi.LeftToRight)
		for i := range runs.NumRuns() {
			run := runs.Run(i)
			for range run.End - run.Start {
				plain = append(plain, int8(run.Level%2))
			}
		}
		for i, level := range levels(&p, text, false) {
			if level%2 != plain[i] {
				t.Fatalf("%q: rune %d has the level %d, and runs the other way", string(text), i, level)
			}
		}
	}
}

// The glyphs and where they stand, in 1/2048 em, are those of HarfBuzz 6.0.0 in C: hb-shape --no-glyph-names --font-size=2048.
func TestGlyphsAreThoseOfHarfBuzz(t *testing.T) {
	type glyph struct {
		id   uint32
		x    int // offset, where it is not nothing
		wide int
	}
	for _, it := range []struct {
		text   string
		weight Weight
		want   []glyph
	}{
		{"محمد عبد الله", Regular, []glyph{{5348, 0, 1098}, {5338, 0, 678}, {5337, 0, 624}, {1365, 0, 569}, {3, 0, 651}, {5284, 0, 1075}, {5260, 0, 618},
			{5317, 0, 1222}, {3, 0, 651}, {5284, 0, 1075}, {5342, 0, 1184}, {5278, 0, 1322}, {5341, 0, 1097}}},
		{"שִׁירָה", Regular, []glyph{{1323, 0, 1338}, {1305, -141, 0}, {1343, 0, 1156}, {1328, 0, 458}, {1301, 0, 0}, {1314, 0, 0}, {1344, 0, 1451}}},
		{"Żółw", Regular, []glyph{{317, 0, 1403}, {181, 0, 1253}, {260, 0, 582}, {90, 0, 1675}}},
		{"فاطمة", Bold, []glyph{{5258, 0, 1242}, {5338, 0, 1373}, {5305, 0, 1929}, {5252, 0, 769}, {5321, 0, 1341}}},
		{"AVATAR To.", Regular, []glyph{{36, 0, 1270}, {57, 0, 1270}, {36, 0, 1242}, {55, 0, 1092}, {36, 0, 1401}, {53, 0, 1423}, {3, 0, 651}, {55, 0, 903},
			{82, 0, 1217}, {17, 0, 651}}},
	} {
		l := New().Set(it.text, it.weight)
		if len(l.Glyphs) != len(it.want) {
			t.Errorf("%q has %d glyphs, want %d", it.text, len(l.Glyphs), len(it.want))
			continue
		}
		x := 0
		for i, want := range it.want {
			g := l.Glyphs[i]
			if g.ID != want.id || math.Round(2048*g.X) != float64(x+want.x) || math.Round(2048*g.Width) != float64(want.wide) {
				t.Errorf("%q: glyph %d is %d at %.1f, %.1f wide; want %+v at %d", it.text, i, g.ID, 2048*g.X, 2048*g.Width, want, x+want.x)
			}
			x += want.wide
		}
		if len(l.Missing) > 0 {
			t.Errorf("%q: %q is said to be missing", it.text, l.Missing)
		}
	}
}

// In which order the parts of a line stand, from left to right: by the rules of UAX 9, by hand.
func TestTheOrderOnTheLine(t *testing.T) {
	for text, want := range map[string]string{
		"שרה 014":      "014 הרש",
		"ab שרה 014 x": "ab 014 הרש x",
		"(שורה 3)":     "(3 הרוש)",
		"אב 12 cd 34":  "cd 34 12 בא",
		"plain 12":     "plain 12",
	} {
		var got strings.Builder
		for _, g := range New().Set(text, Regular).Glyphs {
			got.WriteString(g.Text)
		}
		if got.String() != want {
			t.Errorf("%q stands as %q, want %q", text, got.String(), want)
		}
	}
}

func TestWhatTheFontLacks(t *testing.T) {
	s := New()
	l := s.Set("a王b王小c", Regular)
	if got := string(l.Missing); got != "王小" {
		t.Errorf("missing: %q", got)
	}
	boxes := 0
	for _, g := range l.Glyphs {
		if g.Box {
			boxes++
			if g.Width <= 0 {
				t.Error("a box has no width")
			}
		}
	}
	if boxes != 3 {
		t.Errorf("%d boxes, want 3", boxes)
	}
	if l.Plain != nil {
		t.Error("a line with a box is no plain text")
	}
	for _, name := range []string{"Łucja Öztürk-Ñandú", "Ольга Ђорђевић", "Ελένη Παπαδοπούλου", "שרה בת־ציון", "فاطمة الزهراء", "نوشین\u200Cرضا", "\uFFFD…–½·"} {
		if got := s.Missing(name); got != nil {
			t.Errorf("%q: %q is said to be missing", name, got)
		}
	}
}

// Text that is written as text is the same as its glyphs, and stands where they do.
func TestPlainText(t *testing.T) {
	s := New()
	for _, text := range []string{"every second, not hole 11", "AVATAR To. fi fl", "Ольга", "Ελένη", "x", ""} {
		l := s.Set(text, Bold)
		var got strings.Builder
		for _, st := range l.Plain {
			if i := len([]rune(got.String())); st.X != l.Glyphs[i].X {
				t.Errorf("%q: %q begins at %g, its glyph at %g", text, st.Text, st.X, l.Glyphs[i].X)
			}
			got.WriteString(st.Text)
		}
		if got.String() != text {
			t.Errorf("%q is written as %q", text, got.String())
		}
	}
	if n := len(s.Set("To", Regular).Plain); n != 2 {
		t.Errorf("To is moved together, so it is two stretches and not %d", n)
	}
	for _, text := range []string{"שרה", "محمد", "a שרה"} {
		if s.Set(text, Regular).Plain != nil {
			t.Errorf("%q is said to show the same letter by letter", text)
		}
	}
}

func TestWrap(t *testing.T) {
	s := New()
	for _, width := range []float64{3, 7, 12, 40, 1000} {
		for _, spans := range [][]Span{
			{{Text: "Look before any heat: too much, too little, which way it falls."}},
			{{Text: "a "}, {Text: "שיבולת שועל 12", Weight: Bold}, {Text: ": 34 strands and 2 spare"}},
			{{Text: "Donaudampfschifffahrtsgesellschaft"}},
			{{Text: "2" + NoBreak + "packs and 3" + NoBreak + "more"}},
			{{Text: ""}},
		} {
			var whole, set strings.Builder
			for _, span := range spans {
				whole.WriteString(strings.ReplaceAll(span.Text, NoBreak, " "))
			}
			for _, row := range s.Wrap(width, spans...) {
				runes := 0
				for _, piece := range row {
					set.WriteString(piece.Line.Text)
					runes += len([]rune(piece.Line.Text))
				}
				if row.Width() > width+1e-9 && runes > 1 {
					t.Errorf("a row for %g is %g wide: %q", width, row.Width(), row[0].Line.Text)
				}
			}
			bare := func(text string) string { return strings.ReplaceAll(text, " ", "") }
			if bare(set.String()) != bare(whole.String()) {
				t.Errorf("%q is wrapped as %q", whole.String(), set.String())
			}
		}
	}
	rows := s.Wrap(9, Span{Text: "1 pack and 2" + NoBreak + "packs"})
	if last := rows[len(rows)-1][0].Line.Text; !strings.HasSuffix(last, "2 packs") {
		t.Errorf("broken before %q, where no line may end", last)
	}
}

// A name from right to left within a sentence leaves the words after it where they are.
func TestSpansKeepTheirDirection(t *testing.T) {
	row := New().Wrap(1000, Span{Text: "a "}, Span{Text: "שרה 12"}, Span{Text: ": 34 strands"})[0]
	if len(row) != 3 || row[0].X != 0 || !(row[1].X > row[0].X && row[2].X > row[1].X) {
		t.Fatalf("the three parts stand at %+v", row)
	}
	if first := row[1].Glyphs[0].Text; first != "1" {
		t.Errorf("the name begins with %q on the left, want its number", first)
	}
}

func TestOutlinesClose(t *testing.T) {
	s := New()
	for _, g := range s.Set("aé8@", Bold).Glyphs {
		outline := s.Outline(Bold, g.ID)
		if len(outline) == 0 || outline[0].Op != Move {
			t.Errorf("glyph %d has no outline", g.ID)
		}
	}
	if blank := s.Set(" ", Regular).Glyphs[0]; len(s.Outline(Regular, blank.ID)) != 0 {
		t.Error("a blank has an outline")
	}
}

// Two setters set the same.
func TestSameTwice(t *testing.T) {
	a, b := New().Set("שרה 014 fi AV محمد", Regular), New().Set("שרה 014 fi AV محمد", Regular)
	if !slices.Equal(a.Glyphs, b.Glyphs) {
		t.Error("the same text is set in two ways")
	}
}

func BenchmarkSet(b *testing.B) {
	for b.Loop() {
		New().Set("Look before any heat: too much, too little, direction.", Regular)
	}
}
