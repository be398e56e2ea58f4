// Package letter sets text in the fonts of the card: it turns text in any script into glyphs with their places, breaks it
// into lines, and gives the outlines of glyphs.
//
// Lengths are in em, the size of the type, and places count from the left end of a line's baseline; up is positive.
// HarfBuzz, in its Go form, shapes the text, so that Arabic letters join and marks sit where they belong; see bidi.go for
// the order of what runs from right to left.
package letter

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"sync"

	"github.com/go-text/typesetting/bidi"
	"github.com/go-text/typesetting/di"
	"github.com/go-text/typesetting/font"
	"github.com/go-text/typesetting/font/opentype"
	"github.com/go-text/typesetting/language"
	"github.com/go-text/typesetting/shaping"
	"golang.org/x/image/math/fixed"

	"example.org/underveil/assets"
)

// Weight is one of the two fonts.
type Weight uint8

// The weights.
const (
	Regular Weight = iota
	Bold
)

// Glyph is one sign as it is drawn.
type Glyph struct {
	ID    uint32  // in the font; means nothing where Box is set
	X, Y  float64 // of its origin
	Width float64
	Box   bool   // the font has no such sign: a box is drawn in its place
	Text  string // what it stands for, from left to right; empty where another glyph has said so
}

// Line is text set on one line.
type Line struct {
	Text    string
	Weight  Weight
	Width   float64
	Glyphs  []Glyph   // from left to right
	Plain   []Stretch // the same text as it stands, where that shows the same: see Stretch
	Missing []rune    // that the font lacks, each once, in the order of the text
}

// Stretch is a part of a line that shows the same when its letters are put one after another as the font has them, from X
// on. A line that joins, reorders or stacks letters, or lacks one, is no such text.
type Stretch struct {
	Text string
	X    float64
}

// fonts are the two fonts, read when the first card is made.
var fonts = sync.OnceValue(func() [2]*font.Font {
	var list [2]*font.Font
	for i, data := range [][]byte{assets.Sans, assets.SansBold} {
		face, err := font.ParseTTF(bytes.NewReader(data))
		if err != nil {
			panic(fmt.Sprintf("letter: a font that comes with the program is broken: %v", err))
		}
		list[i] = face.Font
	}
	return list
})

// Setter sets text. It keeps what it has set, and is for one goroutine.
type Setter struct {
	faces     [2]*font.Face
	shaper    shaping.HarfbuzzShaper
	segmenter shaping.Segmenter
	paragraph bidi.Paragraph
	lines     map[job]Line
	outlines  map[glyphOf][]Segment
}

// job is one text to be set.
type job struct {
	text   string
	weight Weight
	rtl    bool
}

// New is a setter.
func New() *Setter {
	s := &Setter{lines: map[job]Line{}, outlines: map[glyphOf][]Segment{}}
	for i, f := range fonts() {
		s.faces[i] = font.NewFace(f)
	}
	return s
}

// Set sets text on one line. Its first letter with a direction says which way the line as a whole runs.
func (s *Setter) Set(text string, w Weight) Line { return s.set(job{text, w, rightToLeft(text)}) }

func (s *Setter) set(j job) Line {
	if l, ok := s.lines[j]; ok {
		return l
	}
	l := s.shape(j)
	s.lines[j] = l
	return l
}

// item is a part of a line that is shaped in one go.
type item struct {
	out   shaping.Output
	level int8
}

func (s *Setter) shape(j job) Line {
	l := Line{Text: j.text, Weight: j.weight}
	text := []rune(j.text)
	face := s.faces[j.weight]
	em := float64(face.Upem())
	for _, it := range inOrder(s.items(text, face, levels(&s.paragraph, text, j.rtl))) {
		said := -1
		for _, g := range it.out.Glyphs {
			cluster := text[g.TextIndex() : g.TextIndex()+g.RunesCount()]
			glyph := Glyph{ID: uint32(g.GlyphID), X: l.Width + inEm(g.XOffset, em), Y: inEm(g.YOffset, em), Width: inEm(g.Advance, em)}
			if g.GlyphID == 0 {
				glyph.Box = true
				l.Missing = append(l.Missing, lacking(face, cluster)...)
			}
			if g.TextIndex() != said {
				said, glyph.Text = g.TextIndex(), fromTheLeft(string(cluster), it.level)
			}
			l.Glyphs = append(l.Glyphs, glyph)
			l.Width += glyph.Width
		}
	}
	l.Missing = eachOnce(l.Missing, j.text)
	l.Plain = plain(&l, text, face)
	return l
}

// items shapes the parts of a text that have one level and one script, in the order in which they are written.
func (s *Setter) items(text []rune, face *font.Face, levels []int8) []item {
	var items []item
	for from := 0; from < len(text); {
		to := from + 1
		for to < len(text) && levels[to] == levels[from] {
			to++
		}
		whole := shaping.Input{Text: text, RunStart: from, RunEnd: to, Direction: directionOf(levels[from]), Face: face,
			Size: fixed.I(int(face.Upem())), Language: language.NewLanguage("en")}
		for _, in := range slices.Clone(s.segmenter.Split(whole, only{face})) {
			in.Direction = whole.Direction
			if in.Script != language.Arabic {
				in.FontFeatures = noLigatures
			}
			items = append(items, item{s.shaper.Shape(in), levels[from]})
		}
		from = to
	}
	return items
}

// noLigatures keeps fi two letters, so that text in Latin letters is the same whether it is drawn or written.
var noLigatures = []shaping.FontFeature{{Tag: opentype.MustNewTag("liga"), Value: 0}}

// only is one font for all text.
type only struct{ face *font.Face }

func (o only) ResolveFace(rune) *font.Face { return o.face }

func directionOf(level int8) di.Direction {
	if level%2 == 1 {
		return di.DirectionRTL
	}
	return di.DirectionLTR
}

func inEm(v fixed.Int26_6, em float64) float64 { return float64(v) / 64 / em }

// lacking are those of some runes that a font has no sign for.
func lacking(face *font.Face, text []rune) []rune {
	var list []rune
	for _, r := range text {
		if _, ok := face.NominalGlyph(r); !ok {
			list = append(list, r)
		}
	}
	return list
}

// eachOnce are the runes in the order in which a text first has them.
func eachOnce(list []rune, text string) []rune {
	if list == nil {
		return nil
	}
	slices.SortFunc(list, func(a, b rune) int { return strings.IndexRune(text, a) - strings.IndexRune(text, b) })
	return slices.Compact(list)
}

// plain is a line as text, or nothing where that would not show the same. A new stretch begins where two letters are moved
// towards each other or apart.
func plain(l *Line, text []rune, face *font.Face) []Stretch {
	if len(l.Glyphs) != len(text) {
		return nil
	}
	em := float64(face.Upem())
	var list []Stretch
	from := 0
	for i, g := range l.Glyphs {
		id, ok := face.NominalGlyph(text[i])
		if !ok || uint32(id) != g.ID || g.Y != 0 || text[i] > 0xFFFF {
			return nil
		}
		last := i == len(text)-1
		if at := g.X + float64(face.HorizontalAdvance(id))/em; last || at != l.Glyphs[i+1].X {
			list = append(list, Stretch{string(text[from : i+1]), l.Glyphs[from].X})
			from = i + 1
		}
	}
	return list
}
