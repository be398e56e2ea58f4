package card

import (
	"fmt"
	"slices"
	"strings"

	"example.org/underveil/internal/card/letter"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/unit"
)

// textWidth is how wide the card as text is at most, in columns.
const textWidth = 80

// Text is the card as lines of plain text, at most 80 columns wide and safe to show. ascii draws the map with ASCII
// characters only, and spells the signs of units in letters.
func (c *Card) Text(ascii bool) string {
	w := &textWriter{ascii: ascii}
	c.stationText(w)
	w.rule()
	c.homeText(w)
	if ascii {
		return printable.ASCII(w.String())
	}
	return w.String()
}

type textWriter struct {
	strings.Builder
	ascii   bool
	columns []int // of the table
}

func (c *Card) stationText(w *textWriter) {
	w.para("", "", c.title)
	w.para("", "", fmt.Sprintf("client %s   date %s   by %s", orLine(c.client), orLine(c.date), orLine(c.by)))
	if c.open != "" {
		w.para("", "", c.open)
	}
	w.line("")
	w.WriteString(c.mapText(w.ascii))
	w.line("")
	if len(c.lines) == 0 {
		w.para("", "", "No bond is placed on the sheet yet.")
	} else {
		w.line("the rows, in the order of fitting")
		c.tableText(w)
		w.para("", "", c.note())
		c.shadesText(w)
	}
	for _, text := range append([]string{c.aside}, c.leftOut...) {
		if text != "" {
			w.para("", "", text)
		}
	}
	w.section("in all")
	for _, t := range c.totals {
		w.para("  ", "    ", t.figure+" "+t.of)
	}
	w.section("lay out first")
	for _, text := range c.layOut {
		w.para("  [ ] ", "      ", text)
	}
	w.section("step by step")
	for i, st := range c.steps {
		w.para(fmt.Sprintf("  %d ", i+1), "    ", st.do)
		for _, text := range st.cautions {
			w.para("    ! ", "      ", text)
		}
	}
	if len(c.accepted) > 0 {
		w.section("accepted findings")
		for _, text := range c.accepted {
			w.para("  ", "    ", text)
		}
	}
}

func (c *Card) homeText(w *textWriter) {
	h := c.home
	w.line("your strands, and how to look after them")
	for _, text := range h.worn {
		w.para("  ", "    ", text)
	}
	w.section("when to come back")
	for _, d := range h.dates {
		w.para("  ", "    ", d.when+": "+d.what)
	}
	w.section("every day")
	for _, text := range h.daily {
		w.para("  - ", "    ", text)
	}
	w.section("what to watch for")
	for _, it := range h.watch {
		w.para("  - ", "    ", it.Do+": "+it.Caution)
	}
	w.para("  ", "  ", h.normal)
	w.section("whom to call")
	for _, text := range []string{h.studio, orLine(h.contact)} {
		if text != "" {
			w.para("  ", "    ", text)
		}
	}
	w.line("")
	w.para("", "", sourceNote(h.sources))
}

// orLine is a text, or a line to write it on.
func orLine(text string) string {
	if text == "" {
		return strings.Repeat("_", 16)
	}
	return text
}

func (w *textWriter) line(text string) { w.WriteString(text + "\n") }

func (w *textWriter) section(title string) { w.line("\n" + title) }

func (w *textWriter) rule() { w.line("\n" + strings.Repeat("-", textWidth) + "\n") }

// para writes a paragraph, its first line after one indent and the others after another.
func (w *textWriter) para(first, later, text string) {
	for i, line := range wrapText(text, textWidth-len(later)) {
		indent := later
		if i == 0 {
			indent = first
		}
		w.line(indent + line)
	}
}

// wrapText breaks a text into lines of at most so many columns, between words, or within a word that is wider. A text without
// words is one empty line.
func wrapText(text string, width int) []string {
	var lines []string
	var line strings.Builder
	used := 0 // cells of the line
	put := func(r rune) {
		line.WriteRune(r)
		used += printable.RuneWidth(r)
	}
	end := func() {
		lines = append(lines, line.String())
		line.Reset()
		used = 0
	}
	for _, word := range wordsOf(printable.Line(unmarked(text)), width) {
		if used > 0 && used+1+printable.Width(word) > width {
			end()
		} else if used > 0 {
			put(' ')
		}
		for _, r := range word {
			if wide := printable.RuneWidth(r); used > 0 && wide > 0 && used+wide > width {
				end()
			}
			put(r)
		}
	}
	end()
	for i := range lines {
		lines[i] = strings.ReplaceAll(lines[i], letter.NoBreak, " ")
	}
	return lines
}

// wordsOf are what a text may be broken between. One that is wider than the line is broken where else no line ends, too.
func wordsOf(text string, width int) []string {
	var list []string
	for _, word := range strings.Split(text, " ") {
		if printable.Width(word) > width {
			list = append(list, strings.Split(word, letter.NoBreak)...)
		} else {
			list = append(list, word)
		}
	}
	return list
}

// textColumns are the widths of the columns of the table as text, in the order of columns, of which the last, for initials, has
// no place in it.
var textColumns = []int{2, 10, 8, 5, 6, 11, 12, 7, 11}

func (c *Card) tableText(w *textWriter) {
	if w.columns = textColumns; c.unit != unit.MM { // heights have two figures
		w.columns = slices.Clone(textColumns)
		w.columns[2]++
		w.columns[len(textColumns)-1]--
	}
	heads := make([]string, len(textColumns))
	for i := range heads {
		heads[i] = columns[i].head
	}
	w.cells(heads)
	for i, l := range c.lines {
		cells := make([]string, len(textColumns))
		for k := range cells {
			cells[k] = columns[k].text(i, l)
		}
		if i > 0 && l.panel == c.lines[i-1].panel {
			cells[1] = ""
		}
		w.cells(cells)
	}
}

// shadesText writes which shade each piece has in which hole, where there is more than one: what the letters say on the drawn map.
func (c *Card) shadesText(w *textWriter) {
	if len(c.keys) < 2 {
		return
	}
	w.section("shades, hole by hole from the first on (capital: split; ': trimmed)")
	for i, p := range c.pieces {
		text := ""
		for k, b := range p.Bonds {
			if k > 0 {
				text += strings.Repeat(".", b.Slot-p.Bonds[k-1].Slot-1)
			}
			key := string(rune(b.Shade))
			if b.Split {
				key = strings.ToUpper(key)
			}
			if text += key; b.Trimmed {
				text += "'"
			}
		}
		w.para(fmt.Sprintf("%2d ", i+1), "   ", text)
	}
}

// cells writes a row of cells, each over as many lines as it takes.
func (w *textWriter) cells(cells []string) {
	var wrapped [][]string
	tall := 1
	for i, text := range cells {
		lines := wrapText(text, w.columns[i])
		wrapped = append(wrapped, lines)
		tall = max(tall, len(lines))
	}
	for k := range tall {
		line := ""
		for i, lines := range wrapped {
			text := ""
			if k < len(lines) {
				text = lines[k]
			}
			pad := strings.Repeat(" ", w.columns[i]-printable.Width(text))
			if columns[i].right || i == 0 {
				text = pad + text
			} else {
				text += pad
			}
			line += text + " "
		}
		w.line(strings.TrimRight(line, " "))
	}
}
