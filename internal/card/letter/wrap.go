package letter

import (
	"strings"

	"github.com/go-text/typesetting/segmenter"
)

// NoBreak is a blank at which no line ends. In the lines that come out it is an ordinary blank.
const NoBreak = "\u00A0"

// Span is a part of a paragraph. It keeps its own direction whatever stands beside it, so that a name from right to left
// does not draw the words after it into its order.
type Span struct {
	Text   string
	Weight Weight
}

// Piece is a part of a line, from X on.
type Piece struct {
	Line
	X float64
}

// Row is one line of a paragraph.
type Row []Piece

// Width is how far a row reaches.
func (r Row) Width() float64 {
	if len(r) == 0 {
		return 0
	}
	last := r[len(r)-1]
	return last.X + last.Line.Width
}

// Wrap sets a paragraph in rows of at most the width given, broken where UAX 14 allows it; a word that is wider stands
// alone and is broken between letters.
func (s *Setter) Wrap(width float64, spans ...Span) []Row {
	p := paragraph{setter: s, spans: spans}
	for _, span := range spans {
		p.text = append(p.text, []rune(span.Text)...)
		p.ends = append(p.ends, len(p.text))
		p.rtl = append(p.rtl, rightToLeft(span.Text))
	}
	var rows []Row
	from := 0
	for _, end := range p.breaks(width) {
		if row := p.row(from, end); len(row) > 0 {
			rows = append(rows, row)
		}
		from = end
	}
	return rows
}

// longestWord is more runes than a row of a page has room for, with the marks that may stand on its letters. A longer word is broken without
// measuring all of it for each row.
const longestWord = 2000

// paragraph is a text of several spans that is being broken.
type paragraph struct {
	setter *Setter
	spans  []Span
	text   []rune
	ends   []int // of the spans
	rtl    []bool
}

// breaks are the ends of the rows.
func (p *paragraph) breaks(width float64) []int {
	const slack = 1e-9
	var ends []int
	from, room := 0, width
	for _, word := range p.words() {
		for {
			if word.to-word.from <= longestWord && p.width(word.from, word.to) <= room+slack {
				room -= p.full(word.from, word.to)
				break
			}
			if word.from > from { // on a row of its own
				ends, from, room = append(ends, word.from), word.from, width
				continue
			}
			cut := p.cut(word, width)
			if cut == word.to {
				room = 0 // not even one letter has room
				break
			}
			ends, from, word.from = append(ends, cut), cut, cut
		}
	}
	return append(ends, len(p.text))
}

// word is what is never broken unless it is wider than a row, with the blanks after it.
type word struct{ from, to int }

func (p *paragraph) words() []word {
	var list []word
	var seg segmenter.Segmenter
	seg.Init(p.text)
	for it := seg.LineIterator(); it.Next(); {
		l := it.Line()
		list = append(list, word{l.Offset, l.Offset + len(l.Text)})
	}
	return list
}

// cut is where a word is broken that is wider than a row: after as many of its letters as have room, and at least one.
func (p *paragraph) cut(w word, width float64) int {
	var seg segmenter.Segmenter
	seg.Init(p.text[w.from:w.to])
	end := w.from
	for it := seg.GraphemeIterator(); it.Next(); {
		g := it.Grapheme()
		next := w.from + g.Offset + len(g.Text)
		if end > w.from && p.width(w.from, next) > width {
			break
		}
		end = next
	}
	return end
}

// row sets a part of the paragraph, without the blanks at its end.
func (p *paragraph) row(from, to int) Row {
	for to > from && p.text[to-1] == ' ' {
		to--
	}
	var row Row
	x := 0.0
	p.each(from, to, func(j job) {
		l := p.setter.set(j)
		row = append(row, Piece{l, x})
		x += l.Width
	})
	return row
}

// width and full are how wide a part of the paragraph is, without and with the blanks at its end.
func (p *paragraph) width(from, to int) float64 {
	for to > from && p.text[to-1] == ' ' {
		to--
	}
	return p.full(from, to)
}

func (p *paragraph) full(from, to int) float64 {
	x := 0.0
	p.each(from, to, func(j job) { x += p.setter.set(j).Width })
	return x
}

// each calls f for each span that a part of the paragraph has some of.
func (p *paragraph) each(from, to int, f func(job)) {
	start := 0
	for i, end := range p.ends {
		if a, b := max(from, start), min(to, end); a < b {
			f(job{strings.ReplaceAll(string(p.text[a:b]), NoBreak, " "), p.spans[i].Weight, p.rtl[i]})
		}
		start = end
	}
}

// Missing are the runes of a text that one of the fonts lacks, each once, in the order of the text.
func (s *Setter) Missing(text string) []rune {
	return eachOnce(append(s.Set(text, Regular).Missing, s.Set(text, Bold).Missing...), text)
}
