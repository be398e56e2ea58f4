package tally

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/unit"
)

// Text is the order and the estimate as lines of plain text, safe to show, for a page of width columns. From 72 columns
// on, with sums of up to twelve digits, nothing is wider than the page: a name that has no room beside its figures
// stands in lines of its own above them.
func (o Order) Text(width int) string {
	t := &page{width: width}
	t.heading(o)
	if len(o.Lines) == 0 {
		t.paragraph("", "No bond is placed on the sheet, so there is nothing to order yet.")
		return t.String()
	}
	t.hair(o)
	t.work(o)
	t.estimate(o)
	t.remarks(o)
	return t.String()
}

// page is text that is being laid out for a width.
type page struct {
	strings.Builder
	width int
}

func (t *page) heading(o Order) {
	title := "order and estimate"
	if o.Title != "" {
		title += ": " + o.Title
	}
	if o.Client != "" {
		title += ", client " + o.Client
	}
	t.paragraph("", title)
	if o.Studio != "" {
		t.paragraph("", "studio: "+o.Studio)
	}
	t.WriteByte('\n')
}

func (t *page) hair(o Order) {
	t.paragraph("", "hair, in strands")
	rows := [][]string{{"shade", "length", "each", "planned", "spare", "drawer", "to buy", "packs", "left"}}
	for _, l := range o.Lines {
		rows = append(rows, []string{l.Name, unit.In(fmt.Sprintf("%.4g mm", float64(l.Length)), o.Units), fmt.Sprintf("%.3g g", l.Grams),
			strconv.Itoa(l.Planned), strconv.Itoa(l.Spare), strconv.Itoa(l.Taken),
			strconv.Itoa(l.ToBuy), packsOf(l), strconv.Itoa(l.LeftOver)})
	}
	t.table(rows)
	spare := "No spare strands are planned."
	if o.Spare > 0 {
		spare = fmt.Sprintf("Spare strands are %d %% of those planned, rounded up.", o.Spare)
	}
	t.paragraph("  ", spare)
	if o.In > 0 {
		t.paragraph("  ", printable.Count(o.In, "bond")+" in the head already: this is what the plan takes, and is not to be bought for them again.")
	}
	for _, l := range o.Lines {
		if l.Missing > 0 {
			t.paragraph("  ", fmt.Sprintf("%s, re-used: %d more planned than came out. They are not in the order; take other strands for them.", o.label(l), l.Missing))
		}
	}
	if o.Tips > 0 {
		t.paragraph("  ", printable.Count(o.Tips, "new tip")+" for the strands that came out and go in again.")
	}
	t.WriteByte('\n')
}

// label is the strand of a line in words, its length in the unit of the text.
func (o Order) label(l OrderLine) string { return unit.In(l.label(), o.Units, l.Name) }

// packsOf is the packs to buy of a line: "2 of 25".
func packsOf(l OrderLine) string {
	if l.Reused {
		return "re-used"
	}
	return fmt.Sprintf("%d of %d", l.Packs, l.Pack)
}

func (t *page) work(o Order) {
	t.paragraph("", "work")
	rows := [][]string{{"", "times", "each", "together"}}
	for _, w := range o.Work {
		rows = append(rows, []string{w.Name, strconv.Itoa(w.Count), inHours(w.Each), inHours(w.All)})
	}
	t.table(append(rows, []string{"chair time", "", "", inHours(o.Duration)}))
	t.WriteByte('\n')
}

func (t *page) estimate(o Order) {
	title := "estimate"
	if o.Currency.Code != "" {
		title += ", in " + o.Currency.Code
	}
	t.paragraph("", title)
	rows := [][]string{{"", "a pack", "to order", "client pays"}}
	for _, l := range o.Lines {
		row := []string{o.label(l), "", "", "no price"}
		if l.Reused {
			row[3] = "re-used"
		}
		if l.Priced {
			row = []string{o.label(l), o.Currency.Number(l.Price), o.Currency.Number(l.Bought), o.Currency.Number(l.Sum)}
		}
		rows = append(rows, row)
	}
	total := "total"
	if len(o.Unpriced) > 0 {
		total = "total of what has a price"
	}
	t.table(append(rows,
		[]string{"hair", "", o.Currency.Number(o.Buying), o.Currency.Number(o.Hair)},
		o.chairRow(),
		[]string{total, "", "", o.Currency.Number(o.Total)}))
	t.WriteByte('\n')
}

// chairRow is the row of the estimate for chair time.
func (o Order) chairRow() []string {
	chair, sum := "chair, "+inHours(o.Duration), "no price"
	if o.Hour > 0 {
		chair += " at " + o.Currency.Number(o.Hour) + " an hour"
	}
	if o.whyNoChair() == "" {
		sum = o.Currency.Number(o.Chair)
	}
	return []string{chair, "", "", sum}
}

// remarks say what the sums leave out, how they come about, and how far they hold.
func (t *page) remarks(o Order) {
	if len(o.Unpriced) > 0 {
		t.paragraph("", "Not in the total:")
		var names []string // which stay as they are written
		for _, l := range o.Lines {
			names = append(names, l.Name)
		}
		for _, u := range o.Unpriced {
			t.paragraph("  ", unit.In(u, o.Units, names...))
		}
	}
	t.paragraph("", "The client pays the strands planned, each its share of the price of a pack. Spare strands and what is left of the packs "+
		"go into the drawer.")
	t.paragraph("", "This is an estimate. It stands only after hair and scalp have been looked at, and may change until then.")
}

// gap is between two columns of a table.
const gap = 2

// table lays out rows, all as long as the first: the first column to the left, the others to the right, the last of
// them at the edge of the page. A text that has no room in the first column stands in lines of its own, above the
// rest of its row.
func (t *page) table(rows [][]string) {
	widths := make([]int, len(rows[0]))
	first := t.width
	for i := range widths {
		for _, row := range rows {
			widths[i] = max(widths[i], printable.Width(row[i]))
		}
		if i > 0 {
			first -= gap + widths[i]
		}
	}
	for _, row := range rows {
		name := "  " + printable.Line(row[0])
		if printable.Width(name) > first {
			t.paragraph("  ", row[0])
			name = ""
		}
		line := name + printable.Blanks(first-printable.Width(name))
		for i, text := range row[1:] {
			line += printable.Blanks(gap+widths[i+1]-printable.Width(text)) + text
		}
		t.WriteString(strings.TrimRight(line, " ") + "\n")
	}
}

// paragraph writes a text over as many lines as it takes, each after an indent. A word too long for a line is broken.
func (t *page) paragraph(indent, text string) {
	for _, l := range printable.Wrap(text, t.width, indent, indent) {
		t.WriteString(l + "\n")
	}
}

// inHours is a time in words, to the second: "2 h 35 min", "1 min 30 s".
func inHours(d time.Duration) string {
	var parts []string
	for _, part := range []struct {
		name string
		is   time.Duration
	}{{"h", time.Hour}, {"min", time.Minute}, {"s", time.Second}} {
		if n := d / part.is; n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, part.name))
			d %= part.is
		}
	}
	if parts == nil {
		return "0 min"
	}
	return strings.Join(parts, " ")
}
