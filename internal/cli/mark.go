package cli

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"example.org/underveil/internal/class"
)

func (p *program) markCommand() *cobra.Command {
	var format string
	c := &cobra.Command{
		Use: "mark EXERCISE FOLDER", Short: "Mark what a class handed in: every attempt in a folder at one exercise",
		Long: "Mark marks every file in a folder that ends in .toml, an attempt or an ordinary sheet, at an exercise that comes with the program or\n" +
			"is in a file: the mark of each and the first thing that it missed, what was missed most often, and which are the same whoever\n" +
			"handed them in. The marks are those that the editor gives. Folders in it and hidden files are not looked at, and links not\n" +
			"followed. It exits 2 when a file can't be read; the others are marked all the same.",
		Args: func(_ *cobra.Command, args []string) error {
			switch {
			case len(args) < 2:
				return errors.New("name the exercise and the folder with what was handed in: underveil mark EXERCISE FOLDER")
			case len(args) > 2:
				return errors.New("underveil mark takes one exercise and one folder")
			}
			return nil
		},
	}
	c.Flags().StringVar(&format, "format", "text", "text, csv for a spreadsheet, or json with every point of each")
	c.RunE = func(_ *cobra.Command, args []string) error {
		if format != "text" && format != "csv" && format != "json" {
			return fmt.Errorf("--format is text, csv or json, not %q", format)
		}
		return p.mark(args[0], args[1], format)
	}
	return c
}

func (p *program) mark(name, folder, format string) error {
	x, err := p.exercise(name)
	if err != nil {
		return err
	}
	j, err := p.judge(x)
	if err != nil {
		return err
	}
	defer overManySheets()()
	marked, unread, err := class.Mark(folder, class.Terms{Exercise: x, Limits: j.Limits, LimitsOf: j.LimitsOf, Points: format == "json",
		NoHandIn: []string{name, p.limitsFile}})
	if err != nil {
		return err
	}
	switch format {
	case "csv":
		err = marked.CSV(p.stdout)
	case "json":
		err = marked.JSON(p.stdout)
	default:
		marked.Units = p.settings().Units
		_, err = fmt.Fprint(p.stdout, marked.Text(listWidth))
	}
	return errors.Join(err, unreadError(unread, "marked"))
}
