package cli

import (
	"errors"
	"fmt"
	"os"

	"github.com/spf13/cobra"

	"example.org/underveil/internal/earlier"
	"example.org/underveil/internal/filelock"
	"example.org/underveil/internal/hold"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/recovery"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
)

// earlierCommand tells of the versions of a sheet that were saved before.
func (p *program) earlierCommand() *cobra.Command {
	var number int
	var to string
	var forget bool
	c := &cobra.Command{
		Use: "earlier SHEET", Short: "List the versions of a sheet that were saved before; --number N --to FILE writes one", Args: sheetsNamed(1, 1),
		Long: fmt.Sprintf("Whenever the editor saves a sheet, what was in the file before is kept on this machine, the last %d times.\n", earlier.Most) +
			"They are listed with the latest first. In the editor Z lays one beside the sheet, or brings it back.\n" +
			"--forget removes all that this machine keeps of a sheet besides the file: its versions, what was left\n" +
			"unsaved, and its name among the sheets open lately.",
		RunE: func(cmd *cobra.Command, args []string) error {
			numbered, named := cmd.Flags().Changed("number"), cmd.Flags().Changed("to")
			switch {
			case forget && (numbered || named):
				return fmt.Errorf("--forget removes all versions; write one to a file before, without it")
			case forget:
				return p.forget(args[0])
			case numbered != named:
				return fmt.Errorf("--number and --to go together: underveil earlier SHEET --number 3 --to old.toml")
			case numbered:
				return p.writeVersion(args[0], number, to)
			}
			return p.listVersions(args[0])
		},
	}
	c.Flags().IntVar(&number, "number", 0, "the version to write, by its number in the list")
	c.Flags().StringVar(&to, "to", "", "the file to write it to")
	c.Flags().BoolVar(&forget, "forget", false, "remove all that this machine keeps of the sheet besides the file")
	return c
}

func (p *program) listVersions(path string) error {
	all := earlierFolder().All(path)
	if len(all) == 0 {
		fmt.Fprintf(p.stdout, "%s has not been saved over on this machine\n", printable.Line(path))
		return nil
	}
	for _, v := range all {
		fmt.Fprintf(p.stdout, "%4d  saved %s  %s\n", v.Number, v.At.Local().Format("2006-01-02 15:04"), p.versionInBrief(path, v))
	}
	return nil
}

// versionInBrief is how much is on a version, or that it can't be read.
func (p *program) versionInBrief(path string, v earlier.Version) string {
	s, err := decodeVersion(path, v)
	if err != nil {
		return "can't be read"
	}
	return sheet.Brief(s)
}

func decodeVersion(path string, v earlier.Version) (*sheet.Sheet, error) {
	data, err := v.Data()
	if err != nil {
		return nil, err
	}
	s, _, err := sheetfile.Decode(path, data)
	return s, err
}

// writeVersion writes a version, byte for byte, to a file that is not there yet.
func (p *program) writeVersion(path string, number int, to string) error {
	for _, v := range earlierFolder().All(path) {
		if v.Number != number {
			continue
		}
		if _, err := os.Lstat(to); err == nil {
			return fmt.Errorf("%s is there already; give a name that is free", to)
		}
		data, err := v.Data()
		if err != nil {
			return err
		}
		if err := sheetfile.WriteAtomic(to, data); err != nil {
			return err
		}
		fmt.Fprintln(p.stdout, printable.Line(to))
		return nil
	}
	return fmt.Errorf("there is no version %d of %s; underveil earlier %s lists them", number, path, path)
}

// forget removes what is kept of a sheet besides its file. What another window has open stays.
func (p *program) forget(path string) error {
	release, err := (&hold.Keeper{Folder: holdFolder()}).Of(path)
	if errors.Is(err, filelock.ErrTaken) {
		return fmt.Errorf("%s is open in a window, which keeps what is not saved; close it first", path)
	}
	if err == nil {
		defer release()
	}
	if _, err := os.Lstat(path); err != nil && len(earlierFolder().All(path)) == 0 && len(recovery.Folder(inState("unsaved")).Of(path)) == 0 {
		return fmt.Errorf("there is no sheet %s, and nothing is kept of one", path)
	}
	n, err := earlierFolder().Forget(path)
	if err != nil {
		return err
	}
	unsaved, err := 0, error(nil)
	for _, left := range recovery.Folder(inState("unsaved")).Of(path) {
		if err = left.Drop(); err != nil {
			return err
		}
		unsaved++
	}
	if err := forgetRecent(path); err != nil {
		return err
	}
	fmt.Fprintf(p.stdout, "forgotten: %s, %s, and the name among the sheets open lately; the file itself is as it was\n",
		printable.Count(n, "version"), copies(unsaved))
	return nil
}

func copies(n int) string {
	if n == 1 {
		return "1 unsaved copy"
	}
	return fmt.Sprintf("%d unsaved copies", n)
}
