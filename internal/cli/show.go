package cli

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
	"example.org/underveil/internal/tally"
	"example.org/underveil/internal/unit"
)

func (p *program) showCommand() *cobra.Command {
	var wide bool
	c := &cobra.Command{
		Use: "show SHEET", Short: "Show a sheet as plain text: the map, the totals and the findings", Args: sheetsNamed(1, 1),
		RunE: func(_ *cobra.Command, args []string) error { return p.show(args[0], wide) },
	}
	c.Flags().BoolVar(&wide, "wide", false, "two columns for a slot, closer to true shape")
	return c
}

func (p *program) show(path string, wide bool) error {
	s, t, rep, err := p.checked(path)
	if err != nil {
		return err
	}
	title := printable.Line(s.Title)
	if s.Client != "" {
		title += ", client " + printable.Line(s.Client)
	}
	fmt.Fprintf(p.stdout, "%s\n\n%s\n", title, mapText(s, t, rep, p.glyphs(), wide))
	writeTotals(p.stdout, s, tally.Count(s, t), p.settings().Units)
	fmt.Fprintf(p.stdout, "\n%s\n", counted(rep))
	writeReport(p.lengths(s.Typed()...), "", rep)
	return nil
}

// mapText is the whole map as lines of text.
func mapText(s *sheet.Sheet, t *slots.Table, rep *rule.Report, g figure.Glyphs, wide bool) string {
	w, h := figure.Size(t, wide)
	scr := cells.NewScreen(w, h)
	figure.Draw(scr, cells.Rect{W: w, H: h}, figure.View{Sheet: s, Ground: figure.NewGround(t, rule.ZonesOf(s)), Report: rep,
		Glyphs: g, Wide: wide, Top: len(t.Lines) - 1})
	return scr.String()
}

// writeTotals writes strands and rows, lengths in a unit.
func writeTotals(w io.Writer, s *sheet.Sheet, total tally.Totals, u unit.Unit) {
	fmt.Fprintf(w, "%s, %.1f g, %s: %d whole and %d split, %d of these trimmed\n", printable.Count(total.Strands, "strand"), total.Grams,
		printable.Count(total.Packs, "pack"), total.Whole, total.Split, total.Trimmed)
	for _, o := range total.Shades {
		fmt.Fprintf(w, "  %c %-14s %7s  %4d strands  %6.1f g  %s\n", o.Key, printable.Line(o.Name), unit.Figure(o.Shade.Length, u), o.Strands(), o.Grams, tally.Packs(o))
	}
	if len(total.Rows) > 0 {
		fmt.Fprintln(w, "\nrows, from the nape up")
	}
	wide := len(unit.Figure(100, u)) // of the strips, below each other
	for _, o := range total.Rows {
		wide = max(wide, len(unit.Figure(o.Strip.Length, u)))
	}
	for i, o := range total.Rows {
		fmt.Fprintf(w, "  %-28s %9s  strip %*s, %8s, first %s%s\n", o.Place, printable.Count(o.Bonds(), "bond"), wide, unit.Figure(o.Strip.Length, u),
			printable.Count(o.Strip.Holes, "hole"), unit.In(firstHole(o), u), forLook(s.LookOf(s.Rows[i])))
	}
}

// forLook is what a row is for, after a gap, or nothing.
func forLook(l sheet.Look) string {
	if l == "" {
		return ""
	}
	return ", for " + string(l)
}

// firstHole says where the first hole of a strip lies: "72 mm left".
func firstHole(o tally.OfRow) string {
	minus, plus := o.Ways()
	switch at := float64(o.Strip.First); {
	case at < 0:
		return fmt.Sprintf("%.0f mm %s", -at, minus)
	case at > 0:
		return fmt.Sprintf("%.0f mm %s", at, plus)
	}
	return "at the centre"
}

// counted is how many findings there are, in words.
func counted(rep *rule.Report) string {
	var parts []string
	for _, c := range []struct {
		n    int
		word string
	}{{rep.Stops, "stop"}, {rep.Cautions, "caution"}, {rep.Notes, "note"}, {rep.Accepted, "accepted"}} {
		if c.n > 0 {
			parts = append(parts, rule.Counted(c.n, c.word))
		}
	}
	if parts == nil {
		return "the rules find nothing"
	}
	return "findings: " + strings.Join(parts, ", ")
}
