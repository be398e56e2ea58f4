package rulebook

import (
	"fmt"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/unit"
)

// leaf is a page while it is laid out: what stands on it from the top down, to be drawn when its height is known.
type leaf struct {
	width  int
	glyphs figure.Glyphs
	units  unit.Unit
	rows   int
	draw   []func(*cells.Screen)
}

// screen draws all that was laid out.
func (l *leaf) screen() *cells.Screen {
	scr := cells.NewScreen(l.width, l.rows)
	scr.Dots = l.glyphs.Dots
	if l.glyphs == figure.ASCII {
		scr.Spell = printable.ASCII
	}
	for _, draw := range l.draw {
		draw(scr)
	}
	return scr
}

// text puts a line of text somewhere, and makes the page at least so long.
func (l *leaf) text(x, y, width int, ink cells.Ink, text string) {
	l.rows = max(l.rows, y+1)
	l.draw = append(l.draw, func(scr *cells.Screen) { scr.Text(x, y, width, ink, text) })
}

func (l *leaf) gap() { l.rows++ }

// wrapped puts a text, its lengths in the unit of the page, in lines of a width from a place on, and returns the line below it.
func (l *leaf) wrapped(x, y, width int, ink cells.Ink, text string) int {
	for _, line := range printable.Wrap(unit.In(text, l.units), width, "", "") {
		l.text(x, y, width, ink, line)
		y++
	}
	return y
}

func (l *leaf) paragraph(ink cells.Ink, text string) { l.wrapped(0, l.rows, l.width, ink, text) }

func (l *leaf) indented(ink cells.Ink, by int, text string) {
	l.wrapped(by, l.rows, l.width-by, ink, text)
}

// pair is a line with something at either end, or two lines where one has no room for both.
func (l *leaf) pair(ink cells.Ink, left, right string) {
	y, at := l.rows, l.width-printable.Width(right)
	l.text(0, y, l.width, ink, left)
	if at <= printable.Width(left)+1 {
		y, at = y+1, 0
	}
	l.text(at, y, l.width-at, figure.Dim, right)
}

// labelled is a text beside a label that takes so many columns.
func (l *leaf) labelled(columns int, label, text string) {
	y := l.rows
	l.text(2, y, columns, figure.Key, label)
	l.wrapped(2+columns+2, y, l.width-columns-4, figure.Plain, text)
}

// example is the wrong sheet and the right one: two pictures beside each other where they have room, else one below the other,
// or words alone.
func (l *leaf) example(x *Example, r *rule.Rule) {
	w, onMap := windowOf(x, r)
	seen := x.seen(r)
	width, apart := l.width, 0
	if onMap && l.width >= 2*pictureWidth+2 {
		width, apart = pictureWidth, l.width-pictureWidth
	}
	top := l.rows
	for i, s := range []*Shown{&x.Wrong, &x.Right} {
		at, y := i*apart, top
		if i > 0 && apart == 0 {
			l.gap()
			y = l.rows
		}
		l.text(at, y, width, figure.Title, [...]string{"wrong", "right"}[i])
		y++
		if onMap {
			l.draw = append(l.draw, w.drawing(at, y, s, r, l.glyphs, seen))
			y += w.lines
			l.rows = max(l.rows, y)
		}
		y = l.verdict(at, y, width, s.of(r))
		l.wrapped(at, y, width, figure.Label, s.Says)
	}
	if onMap {
		l.legend(x, seen)
	}
}

// verdict is what a rule reports on a sheet, from a place on; it returns the line below.
func (l *leaf) verdict(x, y, width int, found []rule.Finding) int {
	if len(found) == 0 {
		l.text(x, y, width, figure.GoodInk, string(l.glyphs.Good)+" nothing reported")
		return y + 1
	}
	f := found[0]
	text := f.Severity.String() + ": " + f.Message()
	if len(found) > 1 {
		text += fmt.Sprintf("; and %d more", len(found)-1)
	}
	ink, mark := l.severity(f.Severity)
	l.text(x, y, 1, ink, string(mark))
	return l.wrapped(x+2, y, width-2, figure.Plain, text)
}

// severity is how a finding so grave is marked in the pictures.
func (l *leaf) severity(s rule.Severity) (cells.Ink, rune) {
	switch s {
	case rule.Stop:
		return figure.StopInk, l.glyphs.Stop
	case rule.Caution:
		return figure.CautionInk, l.glyphs.Caution
	}
	return figure.NoteInk, l.glyphs.Ring
}

// legend says what the pictures are shaded by, and what the marks mean.
func (l *leaf) legend(x *Example, seen rule.Reading) {
	if seen.Kind == rule.ByZone {
		return
	}
	l.gap()
	l.paragraph(figure.Dim, "shaded by "+seen.Name(x.Wrong.Sheet)+", in "+seen.Unit())
	sh := figure.Shading{Scale: rule.ScaleOf(seen, x.Wrong.Sheet, x.Wrong.Table)}
	y, at := l.rows, 0
	for _, it := range sh.Legend(l.glyphs) {
		l.text(at, y, 1, it.Ink, string(it.Mark))
		l.text(at+2, y, l.width-at-2, figure.Plain, it.Says)
		at += 2 + printable.Width(it.Says) + 3
	}
}
