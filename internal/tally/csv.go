package tally

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"

	"example.org/underveil/internal/money"
	"example.org/underveil/internal/printable"
)

// csvColumns are the columns of an order as CSV. Lengths are mm, masses grams, times seconds; what is planned, spare,
// needed, from the drawer, to buy, in a pack and left over is strands. The price is that of a pack, or of an hour in the
// row of the chair; to_order is what the packs to buy come to, and the sum what the client pays.
var csvColumns = []string{"kind", "name", "length_mm", "grams_each",
	"planned", "spare", "needed", "from_drawer", "to_buy", "pack", "packs", "left_over",
	"count", "seconds_each", "seconds", "price", "to_order", "sum", "currency", "note"}

// CSV writes the order as RFC 4180 has it, for a spreadsheet or a shop system: a row of column names, then one row for
// each line of the order (kind "strand"), new tips where there are any ("tip"), part of the work ("work") and sum
// ("total": hair, chair, total). What a row has nothing to say to is empty, among it the sum of a line, or of the chair, that has no price: the note says
// why. No cell can be taken for a formula; see printable.Cell. The error is that of w.
func (o Order) CSV(w io.Writer) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true
	out.Write(csvColumns) // the writer keeps its first error
	for _, l := range o.Lines {
		out.Write(csvRow(o.csvLine(l)))
	}
	if o.Tips > 0 {
		out.Write(csvRow(map[string]string{"kind": "tip", "needed": strconv.Itoa(o.Tips)}))
	}
	for _, step := range o.Work {
		out.Write(csvRow(map[string]string{"kind": "work", "name": step.Name, "count": strconv.Itoa(step.Count),
			"seconds_each": seconds(step.Each), "seconds": seconds(step.All)}))
	}
	hair := o.csvTotal("hair", o.Hair)
	hair["to_order"] = o.Currency.Number(o.Buying)
	out.Write(csvRow(hair))
	out.Write(csvRow(o.csvChair()))
	total := o.csvTotal("total", o.Total)
	if len(o.Unpriced) > 0 {
		total["note"] = "not in it: " + strings.Join(o.Unpriced, ". ")
	}
	out.Write(csvRow(total))
	out.Flush()
	return out.Error()
}

func (o Order) csvLine(l OrderLine) map[string]string {
	cells := map[string]string{
		"kind": "strand", "name": l.Name, "currency": o.Currency.Code,
		"length_mm": fmt.Sprintf("%g", float64(l.Length)), "grams_each": fmt.Sprintf("%g", l.Grams),
		"planned": strconv.Itoa(l.Planned), "spare": strconv.Itoa(l.Spare), "needed": strconv.Itoa(l.Needed),
		"from_drawer": strconv.Itoa(l.Taken), "to_buy": strconv.Itoa(l.ToBuy),
		"pack": strconv.Itoa(l.Pack), "packs": strconv.Itoa(l.Packs), "left_over": strconv.Itoa(l.LeftOver),
	}
	if l.Priced {
		cells["price"], cells["to_order"], cells["sum"] = o.Currency.Number(l.Price), o.Currency.Number(l.Bought), o.Currency.Number(l.Sum)
	} else {
		cells["note"] = l.whyUnpriced()
	}
	return cells
}

func (o Order) csvChair() map[string]string {
	cells := o.csvTotal("chair", o.Chair)
	cells["seconds"] = seconds(o.Duration)
	if o.Hour > 0 {
		cells["price"] = o.Currency.Number(o.Hour)
	}
	if why := o.whyNoChair(); why != "" {
		cells["sum"], cells["note"] = "", why
	}
	return cells
}

func (o Order) csvTotal(name string, sum money.Amount) map[string]string {
	return map[string]string{"kind": "total", "name": name, "sum": o.Currency.Number(sum), "currency": o.Currency.Code}
}

// csvRow puts cells in the order of the columns, each made safe by printable.Cell.
func csvRow(cells map[string]string) []string {
	row := make([]string, len(csvColumns))
	for i, column := range csvColumns {
		row[i] = printable.Cell(cells[column])
	}
	return row
}

// seconds is a time in whole seconds.
func seconds(d time.Duration) string { return strconv.FormatInt(int64(d/time.Second), 10) }
