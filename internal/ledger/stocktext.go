package ledger

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"example.org/underveil/internal/listing"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/unit"
)

// Text is the stock as lines of plain text, safe to show, for a page of width columns, at least 72.
func (st Stock) Text(width int) string {
	p := &listing.Page{Width: max(width, 72)}
	p.Paragraph(fmt.Sprintf("what the visits from %s to %s take, of %s", iso(st.From), iso(st.Until), printable.Count(st.Sheets, "sheet")))
	p.WriteByte('\n')
	p.Paragraph(fmt.Sprintf("planned fittings: %d%s", st.Fittings, st.asides()))
	p.Paragraph(fmt.Sprintf("due back: %d", st.Returns))
	p.Paragraph(fmt.Sprintf("new tips: %d, one for each piece that is in", st.Tips))
	p.WriteByte('\n')
	if len(st.Needs) == 0 {
		p.Paragraph("No new strands are needed.")
	} else {
		st.strandTable(p)
	}
	p.WriteByte('\n')
	st.reckoned(p)
	return p.String()
}

// asides says what is odd about the planned fittings.
func (st Stock) asides() string {
	var parts []string
	for _, a := range []struct {
		n    int
		what string
	}{{st.Undated, "without a date"}, {st.Past, "with a date gone by"}} {
		if a.n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", a.n, a.what))
		}
	}
	if parts == nil {
		return ""
	}
	return ", of these " + strings.Join(parts, ", ")
}

func (st Stock) strandTable(p *listing.Page) {
	rows := []listing.Row{{Cells: []string{"new strands", "clients", "planned", "lost", "short", "spare", "drawer", "packs"}}}
	for _, n := range st.Needs {
		e := listing.Row{Cells: []string{n.Name + ", " + unit.In(fmt.Sprintf("%.4g mm", float64(n.Length)), st.Units), strconv.Itoa(n.Clients), strconv.Itoa(n.Fitting), strconv.Itoa(n.Lost),
			strconv.Itoa(n.Short), strconv.Itoa(n.OrderLine.Spare), strconv.Itoa(n.Taken), fmt.Sprintf("%d of %d", n.Packs, n.Pack)}}
		if why := n.notStocked(); why != "" {
			e.Notes = append(e.Notes, unit.In(why, st.Units))
		}
		rows = append(rows, e)
	}
	p.Table(rows, nil)
}

// notStocked says that the studio has no such strand, and what it has instead.
func (n Need) notStocked() string {
	switch {
	case n.Stocked:
		return ""
	case n.Elsewhere == nil:
		return "not in the studio's stock"
	}
	lengths := make([]string, len(n.Elsewhere))
	for i, length := range n.Elsewhere {
		lengths[i] = fmt.Sprintf("%g mm", float64(length))
	}
	return "not in the studio's stock, which has it in " + strings.Join(lengths, ", ")
}

// reckoned says what the figures rest on.
func (st Stock) reckoned(p *listing.Page) {
	p.Paragraph("Reckoned with: every strand that comes out is re-tipped once and goes back in, so that each piece that is in takes a tip. " +
		"Lost are new strands for slots that are empty now. Short are new strands for pieces that will be below the length promised once they are cut back for the tip, " +
		"where a new one of the kind is not; if the client takes them shorter, none is needed. " +
		"Planned are new strands; those used before come out of the client's own drawer. Halves pair within a client." + st.spareWords())
	instead := 0
	for _, n := range st.Needs {
		instead += n.Instead
	}
	if instead > 0 {
		p.Paragraph(fmt.Sprintf("Of those planned, %d stand in for strands used before of which there are too few.", instead))
	}
	if st.Later > 0 {
		p.Paragraph(fmt.Sprintf("Not counted: %s planned for later than %s.", printable.Count(st.Later, "fitting"), iso(st.Until)))
	}
	if st.Idle > 0 {
		p.Paragraph(fmt.Sprintf("Not counted: %s with rows whose strands were taken out; a date of the fitting after that counts them.", printable.Count(st.Idle, "sheet")))
	}
}

func (st Stock) spareWords() string {
	if st.Spare == 0 {
		return ""
	}
	return fmt.Sprintf(" Spare are %d %% of what is needed, rounded up.", st.Spare)
}

// CSV writes the stock as RFC 4180 has it, for a spreadsheet: a row of column names, one row for the tips (kind "tip") and one for
// each strand ("strand"). Lengths are mm; instead is how many of those planned stand in for strands used before; needed is planned,
// lost, short and spare; all numbers but clients and packs are strands, or tips. What a row has nothing to say to is
// empty. No cell can be taken for a formula. The error is that of w.
func (st Stock) CSV(w io.Writer) error {
	out := listing.NewCells(w)
	out.Row("kind", "name", "length_mm", "clients", "planned", "instead", "lost", "short", "spare", "needed", "from_drawer", "to_buy", "pack", "packs", "left_over", "note")
	tips := strconv.Itoa(st.Tips)
	out.Row("tip", "", "", strconv.Itoa(st.Returns), "", "", "", "", "", tips, "", "", "", "", "", "")
	for _, n := range st.Needs {
		row := []string{"strand", printable.Line(n.Name), fmt.Sprintf("%g", float64(n.Length))}
		for _, figure := range []int{n.Clients, n.Fitting, n.Instead, n.Lost, n.Short, n.OrderLine.Spare, n.Needed, n.Taken, n.ToBuy, n.Pack, n.Packs, n.LeftOver} {
			row = append(row, strconv.Itoa(figure))
		}
		out.Row(append(row, n.notStocked())...)
	}
	return out.Done()
}
