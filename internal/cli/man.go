package cli

import (
	"fmt"
	"strings"

	"github.com/muesli/mango"
	mango_cobra "github.com/muesli/mango-cobra"
	"github.com/muesli/roff"
	"github.com/spf13/cobra"
)

func (p *program) manCommand() *cobra.Command {
	return &cobra.Command{
		Use: "man", Short: "Write the manual page", Args: cobra.NoArgs, Hidden: true,
		RunE: func(c *cobra.Command, _ []string) error {
			page, err := manual(c.Root())
			if err != nil {
				return err
			}
			_, err = fmt.Fprintln(p.stdout, page)
			return err
		},
	}
}

// manual is the manual page, for man to read. It is the same whenever it is written: the day in it is that of the release.
func manual(root *cobra.Command) (string, error) {
	page, err := mango_cobra.NewManPage(1, root)
	if err != nil {
		return "", err
	}
	tellMore(page.Root.Commands, root)
	for _, s := range manualSections {
		page = page.WithSection(s.name, strings.TrimSpace(s.text))
	}
	_, text, _ := strings.Cut(page.Build(roff.NewDocument()), "\n") // instead of a heading with today
	heading := fmt.Sprintf(".TH %s 1 %q %q %q", strings.ToUpper(root.Name()), Made, strings.TrimSpace(root.Name()+" "+Version), root.Short)
	return heading + "\n" + strings.TrimRight(text, "\n"), nil
}

// tellMore puts what the help of a command says, where that is more than a line, in place of that line.
func tellMore(commands map[string]*mango.Command, of *cobra.Command) {
	for _, c := range of.Commands() {
		if told := commands[c.Name()]; told != nil {
			if c.Long != "" {
				told.Short = c.Short + ". " + c.Long
			}
			tellMore(told.Commands, c)
		}
	}
}

// manualSections are what stands after the commands.
var manualSections = []struct{ name, text string }{
	{"Exit status", `
* 0: all is well; check has found nothing that must not stay
* 1: a stop that nobody has accepted, no plan that holds every rule, or a dialogue that ended unsaved
* 2: something can't be read or written, or was asked for wrongly`},
	{"Files", `
The folder for settings is $XDG_CONFIG_HOME/underveil or ~/.config/underveil, on macOS ~/Library/Application Support/underveil, on Windows the folder underveil in that of AppData. In it:
* settings.toml: keys, colours, units and paper; underveil settings write begins one
* studio.toml: strands in stock, times, prices and limits of the house; underveil studio write begins one
The program keeps what it remembers by itself in $XDG_STATE_HOME/underveil or ~/.local/state/underveil, on macOS and Windows in the folder for settings. underveil system tells which folders are in use.`},
	{"Environment", `
* NO_COLOR: set, no colours are used
* COLORFGBG: tells a light background from a dark one, where --background and the settings don't
* LC_ALL, LC_CTYPE, LANG: without UTF-8 in the first of them that is set, maps and frames are drawn with ASCII characters
* TERM, COLORTERM: tell how many colours the terminal has
* XDG_CONFIG_HOME, XDG_STATE_HOME: see above`},
	{"Completion", `
underveil completion bash, zsh, fish or powershell writes what a shell needs to complete commands, options and file names; underveil completion bash --help says where to put it. An archive of a release has them too.`},
}
