package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/tally"
)

func (p *program) orderCommand() *cobra.Command {
	var format string
	c := &cobra.Command{
		Use: "order SHEET", Short: "Write the order and the estimate of a sheet: strands, packs, price, chair time", Args: sheetsNamed(1, 1),
		RunE: func(_ *cobra.Command, args []string) error {
			if format != "text" && format != "csv" {
				return fmt.Errorf("--format is text or csv, not %q", format)
			}
			return p.order(args[0], format == "csv")
		},
	}
	c.Flags().StringVar(&format, "format", "text", "text, or csv for a spreadsheet")
	return c
}

// orderWidth is how wide the text may be, in columns.
const orderWidth = 80

func (p *program) order(path string, asCSV bool) error {
	s, t, rep, err := p.checked(path)
	if err != nil {
		return err
	}
	st, from, err := p.studio()
	if err != nil {
		return err
	}
	order := tally.OrderOf(s, tally.Count(s, t), st)
	if asCSV {
		return order.CSV(p.stdout)
	}
	order.Units = p.settings().Units
	fmt.Fprintf(p.stdout, "%s\nprices and times: %s\n", order.Text(orderWidth), printable.Line(from))
	if !rep.Clear() {
		fmt.Fprintf(p.stdout, "not accepted on the sheet: %s; look at the findings before hair is bought\n", rule.Counted(rep.Stops, "stop"))
	}
	return nil
}
