package cli

import (
	"errors"
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"example.org/underveil/internal/ledger"
	"example.org/underveil/internal/printable"
)

func (p *program) stockCommand() *cobra.Command {
	var format string
	c := &cobra.Command{
		Use: "stock FOLDER", Short: "Add up the strands and tips that the coming visits of the clients in a folder take", Args: oneFolder,
		Long: "Stock reads every head sheet in a folder and the folders in it, and adds up what the coming visits take: new strands for\n" +
			"planned fittings, for those lost and those that will be too short, and tips for all that come out, against what the studio\n" +
			"has in its drawer. Symbolic links in the folder are not followed. It exits 2 when a sheet can't be read; the others are\n" +
			"added up all the same.",
	}
	until := dayFlag(c, "until", fmt.Sprintf("the last day of the visits that are looked at (otherwise in %d weeks)", ledger.StockWeeks), func() time.Time { return time.Time{} })
	c.Flags().StringVar(&format, "format", "text", "text, or csv for a spreadsheet")
	c.RunE = func(_ *cobra.Command, args []string) error {
		if err := textOrCSV(format); err != nil {
			return err
		}
		from, err := p.day()
		if err != nil {
			return err
		}
		to, err := until()
		switch {
		case err != nil:
			return err
		case to.IsZero():
			to = from.AddDate(0, 0, 7*ledger.StockWeeks)
		case to.Before(from):
			return fmt.Errorf("--until %s is before today, %s; give a later day", to.Format(time.DateOnly), from.Format(time.DateOnly))
		}
		st, file, err := p.studio()
		if err != nil {
			return err
		}
		defer overManySheets()()
		stock, unread, err := ledger.StockOf(args[0], from, to, st)
		if err != nil {
			return err
		}
		if format == "csv" {
			err = stock.CSV(p.stdout)
		} else {
			stock.Units = p.settings().Units
			_, err = fmt.Fprintf(p.stdout, "%sdrawer and packs: %s\n", stock.Text(listWidth), printable.Line(file))
		}
		return errors.Join(err, unreadError(unread, "in the sums"))
	}
	return c
}
