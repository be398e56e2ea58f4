package cli

import (
	"errors"
	"fmt"
	"runtime/debug"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"example.org/underveil/internal/ledger"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/visit"
)

// listWidth is how wide a list of many sheets may be, in columns.
const listWidth = 80

func (p *program) dueCommand() *cobra.Command {
	var format string
	var all bool
	c := &cobra.Command{
		Use: "due FOLDER", Short: "List who of the clients in a folder is overdue, due, or up for an early check", Args: oneFolder,
		Long: "Due reads every head sheet in a folder and the folders in it, and lists who is overdue, due, or up for an early check,\n" +
			"the most pressing first, and which visits were begun and not finished. Symbolic links in the folder are not followed. It\n" +
			"exits 2 when a sheet can't be read; the others are listed all the same.",
	}
	c.Flags().BoolVar(&all, "all", false, "also those that are just wearing their strands, and planned fittings")
	c.Flags().StringVar(&format, "format", "text", "text, or csv for a spreadsheet")
	c.RunE = func(_ *cobra.Command, args []string) error {
		if err := textOrCSV(format); err != nil {
			return err
		}
		day, err := p.day()
		if err != nil {
			return err
		}
		st, _, err := p.studio()
		if err != nil {
			return err
		}
		defer overManySheets()()
		list, unread, err := ledger.Due(args[0], day, all, st.House)
		if err != nil {
			return err
		}
		if format == "csv" {
			err = list.CSV(p.stdout)
		} else {
			list.Units = p.settings().Units
			_, err = fmt.Fprint(p.stdout, list.Text(listWidth))
		}
		return errors.Join(err, unreadError(unread, "in the list"))
	}
	return c
}

// overManySheets lets the garbage of reading sheets grow further before it is collected, for a tenth of the time, until the function
// that it returns is called.
func overManySheets() func() {
	before := debug.SetGCPercent(200)
	return func() { debug.SetGCPercent(before) }
}

// oneFolder asks for one folder on the command line.
func oneFolder(c *cobra.Command, args []string) error {
	switch len(args) {
	case 0:
		return fmt.Errorf("name the folder with the sheets: underveil %s FOLDER", c.Name())
	case 1:
		return nil
	}
	return fmt.Errorf("underveil %s takes one folder, and reads the folders in it as well", c.Name())
}

// textOrCSV says what is wrong with a format.
func textOrCSV(format string) error {
	if format != "text" && format != "csv" {
		return fmt.Errorf("--format is text or csv, not %q", format)
	}
	return nil
}

// dayFlag gives a command a flag for a day. The function reads it once the flags are there: the day as it is written, or
// otherwise another, in no time zone.
func dayFlag(c *cobra.Command, name, usage string, otherwise func() time.Time) func() (time.Time, error) {
	written := c.Flags().String(name, "", usage)
	return func() (time.Time, error) {
		if *written == "" && !c.Flags().Changed(name) {
			return otherwise(), nil
		}
		day, err := visit.Day(*written)
		if err != nil {
			return time.Time{}, fmt.Errorf("--%s: %w", name, err)
		}
		return day, nil
	}
}

// day is the day of now, in no time zone.
func (p *program) day() (time.Time, error) {
	now, err := p.now()
	return time.Date(now.Year(), now.Month(), now.Day(), 0, 0, 0, 0, time.UTC), err
}

// unreadError tells of what could not be read in a folder and so is not in what was written; nil where all could be.
func unreadError(unread []ledger.Unread, in string) error {
	if len(unread) == 0 {
		return nil
	}
	verb := "was"
	if len(unread) > 1 {
		verb = "were"
	}
	var b strings.Builder
	fmt.Fprintf(&b, "underveil: %s could not be read and %s not %s:", printable.Count(len(unread), "file"), verb, in)
	for _, u := range unread {
		fmt.Fprintf(&b, "\n  %s: %s", u.File, u.Why)
	}
	return errors.New(b.String())
}
