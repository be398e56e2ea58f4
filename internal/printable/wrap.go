package printable

import "strings"

// Wrap breaks a text into lines of at most width columns, made safe to show, the first after one lead and the others after another. A
// word too long for a line is broken. Blanks before the text stand before every line. There is always one line.
func Wrap(text string, width int, lead, others string) []string {
	deep := text[:len(text)-len(strings.TrimLeft(text, " "))]
	if len(deep) > max(0, width)/2 { // or nothing would have room beside them
		deep = Blanks(max(0, width) / 2)
	}
	w := wrapper{width: width, others: others + deep}
	w.begin(lead + deep)
	for _, word := range strings.Fields(Line(text)) {
		if w.begun && w.used+1+Width(word) > width {
			w.end()
		}
		if w.begun {
			w.put(' ', 1)
		}
		for _, r := range word {
			wide := RuneWidth(r)
			if w.begun && wide > 0 && w.used+wide > width { // a mark stays with its letter
				w.end()
			}
			w.put(r, wide)
			w.begun = true
		}
	}
	w.end()
	return w.lines
}

// wrapper is how far Wrap has come. It counts the cells of a line as it goes, since a text can be long.
type wrapper struct {
	lines  []string
	line   strings.Builder
	used   int  // cells of the line
	begun  bool // there is something of the text in it
	width  int
	others string
}

func (w *wrapper) begin(lead string) {
	w.line.Reset()
	w.line.WriteString(lead)
	w.used, w.begun = Width(lead), false
}

func (w *wrapper) put(r rune, wide int) {
	w.line.WriteRune(r)
	w.used += wide
}

func (w *wrapper) end() {
	w.lines = append(w.lines, strings.TrimRight(w.line.String(), " "+joiners)) // a joiner has lost what it was to join
	w.begin(w.others)
}

// Blanks are so many blanks; none for fewer than none.
func Blanks(n int) string { return strings.Repeat(" ", max(0, n)) }
