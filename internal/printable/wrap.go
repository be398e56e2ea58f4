package printable

import "strings"

// Wrap breaks a text into lines of at most width columns, made safe to show, the first after one lead and the others after another. A
// word too long for a line is broken. Blanks before the text stand before every line. There is always one line.
func Wrap(text string, width int, lead, others string) []string {
	var lines []string
	deep := text[:len(text)-len(strings.TrimLeft(text, " "))]
	lead, others = lead+deep, others+deep
	line, begun := lead, false
	end := func() {
		lines = append(lines, strings.TrimRight(line, " "))
		line, begun = others, false
	}
	for _, word := range strings.Fields(Line(text)) {
		if begun && Width(line+" "+word) > width {
			end()
		}
		if begun {
			line += " "
		}
		for _, r := range word {
			if begun && Width(line+string(r)) > width {
				end()
			}
			line += string(r)
			begun = true
		}
	}
	end()
	return lines
}

// Blanks are so many blanks; none for fewer than none.
func Blanks(n int) string { return strings.Repeat(" ", max(0, n)) }
