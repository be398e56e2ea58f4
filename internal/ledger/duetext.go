package ledger

import (
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"

	"example.org/underveil/internal/listing"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/unit"
	"example.org/underveil/internal/visit"
)

// Text is the list as lines of plain text, safe to show, for a page of width columns, at least 60: those that stand alike
// together, each client with its days in one line and the file below it.
func (l List) Text(width int) string {
	p := &listing.Page{Width: max(width, 60)}
	p.Paragraph(fmt.Sprintf("who is due on %s, of %s", iso(l.Today), printable.Count(l.Sheets, "sheet")))
	for _, state := range States {
		l.section(p, state)
	}
	p.WriteByte('\n')
	if len(l.Lines) == 0 {
		p.Paragraph("Nobody is due, or up for an early check.")
	}
	if left := l.left(); left != "" {
		p.Paragraph(left)
	}
	return strings.TrimRight(p.String(), "\n") + "\n"
}

// left is how many clients are in no line of the list, in words.
func (l List) left() string {
	var parts []string
	if n := l.Counts[visit.Wearing]; n > 0 && !l.All {
		parts = append(parts, fmt.Sprintf("%d wearing", n))
	}
	if n := l.Counts[Planned]; n > 0 && !l.All {
		parts = append(parts, fmt.Sprintf("%d planned", n))
	}
	none := l.Sheets
	for _, n := range l.Counts {
		none -= n
	}
	text := ""
	if parts != nil {
		text = "Not listed: " + strings.Join(parts, ", ") + "; --all lists them. "
	}
	if none > 0 {
		text += fmt.Sprintf("With nothing in and nothing planned: %d.", none)
	}
	return text
}

// section writes the lines of one state.
func (l List) section(p *listing.Page, state visit.State) {
	var rows []listing.Row
	for _, line := range l.Lines {
		if line.State == state {
			rows = append(rows, l.entry(line))
		}
	}
	if rows == nil {
		return
	}
	p.WriteByte('\n')
	head := append([]string{fmt.Sprintf("%s: %d", state, len(rows))}, columns[state]...)
	p.Table(append([]listing.Row{{Cells: head}}, rows...), leastWidths(l.Units))
}

// columns are the heads of the columns for each state, after the client.
var columns = map[visit.State][]string{
	visit.Overdue: {"fitted", "back by", "over", "grown"},
	visit.DueNow:  {"fitted", "back by", "left", "grown"},
	visit.CheckUp: {"fitted", "check by", "left", "grown"},
	NotFinished:   {"fitted", "due from", "left", "grown"},
	Planned:       {"", "fitting", "left", ""},
	visit.Wearing: {"fitted", "due from", "left", "grown"},
}

// leastWidths are the least that each column is wide, so that the columns of all states stand below one another.
func leastWidths(u unit.Unit) []int {
	return []int{0, len(time.DateOnly), len(time.DateOnly), len("20 days over"), len(unit.Figure(20, u))}
}

// entry is one client under the columns of its state.
func (l List) entry(line Line) listing.Row {
	e := listing.Row{Cells: []string{line.name()}, Notes: []string{line.File}}
	switch {
	case line.State == Planned:
		e.Cells = append(e.Cells, "", orNone(line.Planned), strings.Replace(l.until(line.Planned), "over", "ago", 1), "")
	case !line.Held():
		e.Cells = append(e.Cells, "", "", "", "")
	default:
		day := line.Day()
		if line.State == NotFinished {
			day = iso(line.From)
		}
		days := l.until(day)
		if line.State == visit.Overdue {
			days = printable.Count(visit.Days(line.By, l.Today), "day")
		}
		e.Cells = append(e.Cells, iso(line.Fitted), day, days, unit.Figure(line.Grown, l.Units))
	}
	if line.NotFinished != "" {
		e.Notes = append(e.Notes, line.NotFinished+" not finished")
	}
	return e
}

// until is how many days are left to a date, in words.
func (l List) until(date string) string {
	day, err := visit.Day(date)
	if err != nil {
		return ""
	}
	switch n := visit.Days(l.Today, day); {
	case n == 0:
		return "today"
	case n < 0:
		return printable.Count(-n, "day") + " over"
	default:
		return printable.Count(n, "day")
	}
}

func orNone(date string) string {
	if date == "" {
		return "no date"
	}
	return date
}

// name is what a client goes by: "014, spring fitting".
func (l Line) name() string {
	switch {
	case l.Client == "" && l.Title == "":
		return "(no title)"
	case l.Client == "":
		return l.Title
	case l.Title == "":
		return l.Client
	}
	return l.Client + ", " + l.Title
}

// CSV writes the list as RFC 4180 has it, for a spreadsheet: a row of column names, then one row for each line. Dates are ISO 8601,
// days_left is how many days there are to due_by, days_over how many it is past, growth is mm. What a row has nothing to
// say to is empty. No cell can be taken for a formula. The error is that of w.
func (l List) CSV(w io.Writer) error {
	out := listing.NewCells(w)
	out.Row("state", "client", "title", "file", "fitted", "check_by", "due_from", "due_by", "days_since", "days_left", "days_over", "grown_mm", "not_finished", "planned")
	for _, line := range l.Lines {
		row := []string{string(line.State), printable.Line(line.Client), printable.Line(line.Title), printable.Line(line.File), "", "", "", "", "", "", "", "",
			line.NotFinished, line.Planned}
		if line.Held() {
			left, over := strconv.Itoa(visit.Days(l.Today, line.By)), ""
			if n := visit.Days(line.By, l.Today); n > 0 {
				left, over = "", strconv.Itoa(n)
			}
			copy(row[4:], []string{iso(line.Fitted), iso(line.Check), iso(line.From), iso(line.By), strconv.Itoa(line.Days), left, over,
				strconv.FormatFloat(float64(line.Grown), 'f', 1, 64)})
		}
		out.Row(row...)
	}
	return out.Done()
}
