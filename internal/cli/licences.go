package cli

import (
	"fmt"
	"io/fs"
	"strings"

	"github.com/spf13/cobra"

	"example.org/underveil/assets"
)

// licenceList is the file that names everything with its licence; the other files beside it are the texts.
const licenceList = "licences/list.txt"

func (p *program) licencesCommand() *cobra.Command {
	texts := false
	c := &cobra.Command{
		Use: "licences", Short: "The licences of what the program is made with", Args: cobra.NoArgs,
		Long: "Licences lists the modules and fonts that are part of the program on some system, with the names of their licences.\n" +
			"With --texts their notices and the texts follow.",
		RunE: func(*cobra.Command, []string) error { return p.licences(texts) },
	}
	c.Flags().BoolVar(&texts, "texts", false, "the texts of the licences too")
	return c
}

func (p *program) licences(texts bool) error {
	list, err := assets.Licences.ReadFile(licenceList)
	if err != nil {
		return err
	}
	fmt.Fprint(p.stdout, string(list))
	if !texts {
		return nil
	}
	names, err := fs.Glob(assets.Licences, "licences/*.txt")
	if err != nil {
		return err
	}
	for _, name := range names {
		if name == licenceList {
			continue
		}
		text, err := assets.Licences.ReadFile(name)
		if err != nil {
			return err
		}
		fmt.Fprintf(p.stdout, "\n%s\n\n%s", strings.Repeat("-", 76), text)
	}
	return nil
}
