package retention

import (
	"fmt"
	"strings"

	"example.org/underveil/internal/printable"
)

// NarrowestText is the least width of Report.Text; asked for less it takes so much all the same.
const NarrowestText = 52

// Text is the report as lines of plain text, safe to show, none wider than width columns: a line for each group with the bonds kept of
// those known, a bar of their share with its interval, and both as figures; then what stands out, and how it is reckoned.
// ascii draws with ASCII characters only, but for what a file holds. A name that has no room beside its bar stands on
// a line above it.
func (r Report) Text(width int, ascii bool) string {
	p := r.page(max(width, NarrowestText), ascii)
	if r.All.Made == 0 {
		p.paragraph("No bond has been made yet.")
		return p.String()
	}
	if r.All.Known == 0 {
		p.paragraph(fmt.Sprintf("How many bonds are kept is known once they are looked at on a day after the fitting: %s made so far.", printable.Count(r.All.Made, "bond")))
		return p.String()
	}
	p.line("", "all", r.All, true)
	p.WriteString("\nvisit over visit\n")
	for _, c := range r.Cycles {
		p.cycle(c)
	}
	for _, g := range r.Groupings {
		p.WriteString("\n" + g.Name + "\n")
		for _, one := range g.Groups {
			mark := ""
			if one.Odd {
				mark = "*"
			}
			p.line(mark, one.Name, one.Count, false)
		}
	}
	p.WriteByte('\n')
	p.odd(r)
	p.reckoned(r)
	return p.String()
}

// page is the text while it is written.
type page struct {
	strings.Builder
	marks
	scale
	width int
	name  int // columns of the names
	kept  int // and of the bonds kept of those known
}

const (
	gap       = 2 // between columns; figures begin with a blank of their own
	leastBar  = 10
	mostBar   = 36
	leastName = 8
	fairName  = 18 // a date and a kind of visit
)

// page lays out the columns.
func (r Report) page(width int, ascii bool) *page {
	p := &page{width: width, marks: drawn}
	if ascii {
		p.marks = plain
	}
	counts := []Count{r.All}
	for _, c := range r.Cycles {
		counts = append(counts, c.Count)
		p.name = max(p.name, printable.Width(c.name()))
	}
	for _, g := range r.Groupings {
		for _, one := range g.Groups {
			counts = append(counts, one.Count)
			p.name = max(p.name, printable.Width(one.Name))
		}
	}
	for _, c := range counts {
		p.kept = max(p.kept, len(keptOf(c)))
	}
	room := width - gap - gap - p.kept - gap - 1 - widestFigures // of name and bar
	p.name = max(leastName, min(p.name, max(fairName, room*2/5), room-leastBar))
	p.scale = scaleOf(counts, max(leastBar, min(mostBar, room-p.name)))
	return p
}

// line is one group. The first has the scale above it.
func (p *page) line(mark, name string, c Count, first bool) {
	if first {
		p.WriteString(strings.TrimRight(pad("bonds kept", gap+p.name+gap+p.kept+gap)+p.axis(), " ") + "\n")
	}
	lead := pad(mark, gap)
	if name = printable.Line(name); printable.Width(name) > p.name {
		p.wrapped(lead, printable.Blanks(gap), name)
		lead, name = printable.Blanks(gap), ""
	}
	text := lead + pad(name, p.name) + printable.Blanks(gap) + fmt.Sprintf("%*s", p.kept, keptOf(c)) + printable.Blanks(gap) + p.bar(c, p.marks) + " " + figures(c)
	p.WriteString(text + "\n")
}

func keptOf(c Count) string { return fmt.Sprintf("%d/%d", c.Kept, c.Known) }

func (c Cycle) name() string { return c.Date + " " + string(c.Kind) }

// cycle is one fitting or refit, with what became of its bonds in words below.
func (p *page) cycle(c Cycle) {
	p.line("", c.name(), c.Count, false)
	words := fmt.Sprintf("%d made", c.Made)
	if c.Known > 0 {
		words += fmt.Sprintf(", %d lost, %d slipped", c.Lost(), c.Slipped)
	}
	switch unknown := c.Made - c.Known; {
	case c.Days > 0 && unknown > 0:
		words += fmt.Sprintf(", %d not looked at since; the last look after %s", unknown, printable.Count(c.Days, "day"))
	case c.Days > 0:
		words += fmt.Sprintf("; the last look after %s", printable.Count(c.Days, "day"))
	default:
		words += ", not looked at since that day"
	}
	p.wrapped("    ", "    ", words)
}

// odd says what stands out.
func (p *page) odd(r Report) {
	switch {
	case r.Comparisons == 0:
		p.paragraph("There is no group yet to compare with a rest.")
	case len(r.Odd) == 0:
		p.paragraph(fmt.Sprintf("Nothing stands out in %s of a group with the rest of its kind.", printable.Count(r.Comparisons, "comparison")))
	default:
		p.paragraph(fmt.Sprintf("Stands out (*), in %s of a group with the rest of its kind:", printable.Count(r.Comparisons, "comparison")))
	}
	for _, o := range r.Odd {
		p.wrapped("* ", "  ", o.words())
	}
}

// words say how a group differs: "nearest edge temple: 71 % kept, 97 % of the rest; 6 to 46 points fewer".
func (o Odd) words() string {
	low, high, than := o.Low, o.High, "more"
	if o.Difference() < 0 {
		low, high, than = -o.High, -o.Low, "fewer"
	}
	from := fmt.Sprintf("%.0f", 100*low)
	if 100*low < 1 { // never none: then it would not stand out
		from = "less than 1"
	}
	return fmt.Sprintf("%s %s: %s kept, %s of the rest; %s to %.0f points %s", o.Grouping, printable.Line(o.Group),
		percent(o.Share()), percent(o.Rest.Share()), from, 100*high, than)
}

// reckoned says what the figures are.
func (p *page) reckoned(r Report) {
	p.WriteByte('\n')
	p.paragraph("Kept is what was never found lost until it was taken out or last looked at; a finished visit is taken to have looked at every bond. " +
		"In brackets, and as the whisker, is where the share lies 95 times of 100 (Wilson's interval).")
	if r.Comparisons > 0 {
		p.paragraph("What stands out does so by Newcombe's interval for a difference, drawn wider by Bonferroni's rule for the number of comparisons. " +
			"Bonds of one head are not independent of one another: take it as a hint of where to look.")
	}
	if n := r.All.Made - r.All.Known; n > 0 {
		p.paragraph(fmt.Sprintf("Not counted: %s not looked at on any day after the one of the fitting.", printable.Count(n, "bond")))
	}
	if r.Aside {
		p.paragraph("Bonds fitted half a hole aside are counted in the slot of their number.")
	}
}

// paragraph writes a text over as many lines as it takes.
func (p *page) paragraph(text string) { p.wrapped("", "", text) }

// wrapped writes a text over as many lines as it takes, the first after one lead and the others after another.
func (p *page) wrapped(lead, others, text string) {
	for _, l := range printable.Wrap(text, p.width, lead, others) {
		p.WriteString(l + "\n")
	}
}
