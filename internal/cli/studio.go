package cli

import (
	"cmp"
	"fmt"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"example.org/underveil/assets"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/sheetfile"
	"example.org/underveil/internal/studio"
)

// builtIn is how the studio is called that is used where there is no other.
const builtIn = "the studio that comes with the program"

// studioPath is where the user's own studio is kept.
func studioPath() (string, error) {
	d, err := os.UserConfigDir()
	if err != nil {
		return "", err
	}
	return filepath.Join(d, "underveil", "studio.toml"), nil
}

// loadStudio reads the studio that a flag names, or else the user's own, or else the one that comes with the
// program, and says which. A file that is there and wrong is an error, and no other is taken in its place.
func loadStudio(flag string) (st *studio.Studio, from string, err error) {
	path := flag
	if path == "" {
		path = ownStudio()
	}
	if path == "" {
		st, _, err = sheetfile.DecodeStudio("studio.toml", assets.Studio)
		return st, builtIn, err
	}
	st, _, err = sheetfile.LoadStudio(path)
	return st, path, err
}

// studio is the studio that the commands work with, read once, and where it is from.
func (p *program) studio() (st *studio.Studio, from string, err error) {
	if p.has == nil {
		st, from, err := loadStudio(p.studioFile)
		if err == nil {
			err = p.holdTo(st)
		}
		if err != nil {
			return nil, "", err
		}
		p.has, p.from = st, from
	}
	return p.has, p.from, nil
}

// studioCommand tells of the studio file, or begins one.
func (p *program) studioCommand() *cobra.Command {
	c := &cobra.Command{
		Use: "studio", Short: "Tell which studio file is in use; studio write begins one", Args: cobra.NoArgs,
		Long: "The studio file says what strands are in stock and what they cost, how long the work takes, and which limits\n" +
			"the studio has of its own. It is a TOML file in the settings folder.",
		RunE: func(*cobra.Command, []string) error {
			st, from, err := p.studio()
			if err != nil {
				return err
			}
			own, err := studioPath()
			if err != nil {
				return err
			}
			fmt.Fprintf(p.stdout, "in use: %s\n%s, %s, %s\nyour own would be: %s\n", printable.Line(from),
				printable.Count(len(st.Strands), "strand"), st.Currency.Code, printable.Count(len(st.Limits), "limit")+" of "+cmp.Or(st.LimitsOf, "its own"), printable.Line(own))
			return nil
		},
	}
	c.AddCommand(&cobra.Command{
		Use: "write", Short: "Write the studio that comes with the program to the settings folder, to be changed", Args: cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			own, err := studioPath()
			if err != nil {
				return err
			}
			if ownStudio() != "" {
				return fmt.Errorf("%s is there already", own)
			}
			if err := os.MkdirAll(filepath.Dir(own), 0o700); err != nil {
				return err
			}
			if err := sheetfile.WriteAtomic(own, assets.Studio); err != nil {
				return err
			}
			fmt.Fprintf(p.stdout, "%s\n", printable.Line(own))
			return nil
		},
	})
	return c
}

// ownStudio is the path of the user's own studio, or empty where there is none. A link that leads nowhere is one, and
// so is a file that cannot be looked at, so that reading it says what is wrong.
func ownStudio() string {
	path, err := studioPath()
	if err != nil {
		return "" // without a folder for settings there is no such file
	}
	if _, err := os.Lstat(path); os.IsNotExist(err) {
		return ""
	}
	return path
}
