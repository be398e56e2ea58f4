package lesson

import (
	"fmt"
	"math"
	"strings"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// String is how a bond lies in words: "height 60, slot 3 left: 5.2 mm too low", "… 5.2 mm off, 4.1 mm too low and 3.2 mm too far left".
func (l Lying) String() string {
	where := l.Planned.String()
	if l.Made != l.Planned {
		where += fmt.Sprintf(" (made in %s)", l.madeIn())
	}
	return where + ": " + l.Off()
}

// madeIn is where the bond was made, as short as it can be said.
func (l Lying) madeIn() string {
	made := l.Made.String()
	if l.Made.At == l.Planned.At {
		_, made, _ = strings.Cut(made, ", slot")
		return "slot" + made
	}
	return made
}

// Off is how far off a bond lies and which way: "5.2 mm too low". A small part sideways is not named.
func (l Lying) Off() string { return offWords(l.kind, l.Distance, l.Right, l.Up) }

// offWords are a distance and the two parts of it in words, on or from a line of a kind.
func offWords(kind scalp.LineKind, distance, right, up scalp.MM) string {
	type part struct {
		mm   float64
		word string
	}
	along := pick(right > 0, "too far right", "too far left")
	aside := pick(up > 0, "too high", "too low")
	switch kind {
	case scalp.Across:
		aside = pick(up > 0, "too far forward", "too far back")
	case scalp.Along:
		along, aside = pick(right > 0, "too far forward", "too far back"), pick(up > 0, "too far right", "too far left")
	}
	more, less := part{math.Abs(float64(up)), aside}, part{math.Abs(float64(right)), along}
	if less.mm > more.mm+float64(slackMM) { // more than the digits shown
		more, less = less, more
	}
	switch {
	case distance < slackMM:
		return "in its place"
	case less.mm < more.mm/4:
		return fmt.Sprintf("%.1f mm %s", float64(distance), more.word)
	}
	return fmt.Sprintf("%.1f mm off, %.1f mm %s and %.1f mm %s", float64(distance), more.mm, more.word, less.mm, less.word)
}

func pick(first bool, one, other string) string {
	if first {
		return one
	}
	return other
}

// Kinds is what is wrong with the kind of a bond: "split, and whole was planned"; empty where nothing is.
func (l Lying) Kinds() string {
	switch {
	case !l.Wrong():
		return ""
	case l.Want.Shade == l.Have.Shade:
		return fmt.Sprintf("%s, and %s was planned", l.Have, l.Want)
	case l.Want.String() == l.Have.String():
		return fmt.Sprintf("shade %c, and %c was planned", l.Have.Shade, l.Want.Shade)
	}
	return fmt.Sprintf("%s of shade %c, and %s of %c was planned", l.Have, l.Have.Shade, l.Want, l.Want.Shade)
}

// kind is that of the line of the row, as far as bonds of it were made.
func (r RowFit) kind() scalp.LineKind {
	if len(r.Bonds) == 0 {
		return scalp.Level
	}
	return r.Bonds[0].kind
}

// words are a summary in a line: "11 of 11 within 3 mm; largest 2.4 mm".
func (s Summary) words(tolerance scalp.MM) string {
	text := fmt.Sprintf("%d of %d within %s mm", s.Within, s.Planned, number(float64(tolerance)))
	if gone := s.Planned - s.Paired; gone > 0 {
		text += fmt.Sprintf(", %d missing", gone)
	}
	if s.Paired > 0 {
		text += fmt.Sprintf("; largest %.1f mm", float64(s.Largest))
	}
	return text
}

// Text is the comparison for a screen or a printed page, line by line: the whole, each row, so many of the bonds that lie farthest off, what is
// missing, what is there besides and what is of another kind than planned.
func (c Comparison) Text(tolerance scalp.MM, worst int) []string {
	if len(c.Rows) == 0 {
		return append([]string{"no bond is planned"}, listed("made besides the plan", spotNames(c.Extra))...)
	}
	lines := append([]string{c.overall(tolerance)}, c.rowLines(tolerance)...)
	var far, kinds []string
	for _, l := range c.Worst(tolerance) {
		far = append(far, l.String())
	}
	if n := len(far); n > worst {
		far = append(far[:worst:worst], fmt.Sprintf("and %d more", n-worst))
	}
	for _, l := range c.Bonds {
		if l.Wrong() {
			kinds = append(kinds, l.Made.String()+": "+l.Kinds())
		}
	}
	lines = append(lines, listed(fmt.Sprintf("farther than %s mm", number(float64(tolerance))), far)...)
	lines = append(lines, listed("missing", spotNames(c.Missing))...)
	lines = append(lines, listed("made besides the plan", spotNames(c.Extra))...)
	return append(lines, listed("another kind than planned", kinds)...)
}

// overall is the comparison in one line.
func (c Comparison) overall(tolerance scalp.MM) string {
	s := c.Summary(tolerance)
	text := s.words(tolerance)
	if s.Paired > 0 {
		text += fmt.Sprintf(", mean %.1f mm, root mean square %.1f mm", float64(s.Mean), float64(s.RMS))
	}
	if n := len(c.Extra); n > 0 {
		text += fmt.Sprintf("; %d besides the plan", n)
	}
	return text
}

// rowLines is a line a row, in columns.
func (c Comparison) rowLines(tolerance scalp.MM) []string {
	wide, digits := 0, 0
	for _, r := range c.Rows {
		wide, digits = max(wide, printable.Width(r.Place.String())), max(digits, len(fmt.Sprint(r.Planned)))
	}
	var lines []string
	for _, r := range c.Rows {
		s, place := r.Summary(tolerance), r.Place.String()
		text := fmt.Sprintf("%s%s  %*d of %*d", place, printable.Blanks(wide-printable.Width(place)), digits, s.Within, digits, s.Planned)
		if s.Paired > 0 {
			text += fmt.Sprintf("  mean %4.1f mm  largest %4.1f mm", float64(s.Mean), float64(s.Largest))
		}
		if gone := s.Planned - s.Paired; gone > 0 {
			text += fmt.Sprintf("  %d missing", gone)
		}
		lines = append(lines, text)
	}
	return lines
}

// listed is a heading with a line for each entry; nothing where there is none.
func listed(heading string, entries []string) []string {
	if len(entries) == 0 {
		return nil
	}
	lines := []string{heading}
	for _, e := range entries {
		lines = append(lines, "  "+e)
	}
	return lines
}

func spotNames(at []sheet.Spot) []string {
	names := make([]string, len(at))
	for i, s := range at {
		names[i] = s.String()
	}
	return names
}
