// Package cli is the command line: thin commands over the sheet, the rules and
// the editor.
package cli

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/mattn/go-isatty"
	"github.com/spf13/cobra"

	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/sheetfile"
	"example.org/underveil/internal/studio"
	"example.org/underveil/internal/tui"
)

// Exit codes of every command.
const (
	exitOK    = 0
	exitStops = 1 // a stop that nobody accepted, no plan, or a dialogue that ended unsaved
	exitInput = 2 // something can't be read, or was asked for wrongly
)

// errStops is how check ends when there is a stop.
var errStops = errors.New("a stop is not accepted")

// program is one run of the program: where it reads and writes, and what the
// flags say.
type program struct {
	in, out    *os.File
	stdout     io.Writer
	stderr     io.Writer
	ascii      bool
	background string
	studioFile string
	todayIs    string
	limitsFile string
	plainly    bool           // the editor as a dialogue in lines
	has        *studio.Studio // once it was read
	from       string         // where it is from
	holds      *college       // whose limits hold in place of the studio's, once they were read
	set        *userSettings  // once they were read
	setTold    bool           // where they can't be read, that is told already
}

// Run runs the program and returns its exit code.
func Run(args []string, stdin, stdout, stderr *os.File) int {
	cobra.MousetrapHelpText = "" // a double click opens the editor like anything else
	written := &faithful{to: stdout}
	p := &program{in: stdin, out: stdout, stdout: written, stderr: stderr}
	written.plain = func() bool { return p.glyphs() == figure.ASCII }
	root := p.root()
	if leavesWildcards {
		args = unfolded(args)
	}
	root.SetArgs(args)
	root.SetOut(written)
	root.SetErr(stderr)
	err := root.Execute()
	p.tellOfSettings()
	if written.err != nil { // what was to be shown is not there to be seen
		err = fmt.Errorf("cannot write the output: %w", written.err)
	}
	switch {
	case err == nil:
		return exitOK
	case errors.Is(err, tui.ErrRefused):
		fmt.Fprintln(stderr, message(tui.ErrRefused))
		return exitInput
	case errors.Is(err, errStops), errors.Is(err, errWrong), errors.Is(err, tui.ErrNotSaved): // which was said
		return exitStops
	case errors.Is(err, errRefused):
		fmt.Fprintln(stderr, message(err))
		return exitStops
	default:
		fmt.Fprintln(stderr, message(err))
		return exitInput
	}
}

// faithful remembers that something could not be written, which most writing does not look at. Where the
// terminal is a plain one it spells the signs of units in letters.
type faithful struct {
	to    io.Writer
	plain func() bool
	err   error
}

func (f *faithful) Write(p []byte) (int, error) {
	n, text := len(p), p
	if f.plain() {
		text = []byte(printable.ASCII(string(p)))
	}
	_, err := f.to.Write(text)
	if f.err == nil {
		f.err = err
	}
	return n, err
}

// message is an error as it is shown. Errors in a sheet bring their own form.
func message(err error) string {
	text := err.Error()
	var in *sheetfile.Error
	if errors.As(err, &in) || strings.HasPrefix(text, "underveil: ") {
		return inPrint(text)
	}
	return "underveil: " + printable.Line(text)
}

// inPrint makes each line of a text safe to show.
func inPrint(text string) string {
	lines := strings.Split(text, "\n")
	for i, l := range lines {
		lines[i] = printable.Line(l)
	}
	return strings.Join(lines, "\n")
}

func (p *program) root() *cobra.Command {
	root := &cobra.Command{
		Use:   "underveil [SHEET]",
		Short: "Head sheets for bonded hair strands",
		Long: "Underveil plans where every strand of a bonded-strand service goes on one client's head.\n" +
			"It opens the editor; with a sheet, on that sheet. Where the output is not a terminal it shows the sheet as text.",
		Args:                       oneSheet,
		SuggestionsMinimumDistance: 2,
		Version:                    version(),
		SilenceErrors:              true, SilenceUsage: true,
		RunE: func(_ *cobra.Command, args []string) error {
			switch {
			case p.plainly:
				return p.plain(args)
			case isatty.IsTerminal(p.out.Fd()):
				return p.edit(args)
			case len(args) == 1:
				return p.show(args[0], false)
			}
			return errors.New("the output is not a terminal, so the editor can't open; name a sheet to show it as text: underveil show SHEET")
		},
	}
	root.PersistentFlags().BoolVar(&p.ascii, "ascii", false, "draw with ASCII characters only")
	root.PersistentFlags().StringVar(&p.background, "background", "", "the terminal's background, light or dark (found from COLORFGBG otherwise)")
	root.PersistentFlags().StringVar(&p.studioFile, "studio", "", "the studio file, instead of the one in the settings folder or the one that comes with the program")
	root.PersistentFlags().StringVar(&p.limitsFile, "limits", "", "the file with the limits of a college, in place of the studio's own")
	root.PersistentFlags().StringVar(&p.todayIs, "today", "", "the day to reckon from, like 2026-03-02 (otherwise by the clock)")
	root.Flags().BoolVar(&p.plainly, "plain", false, "the editor as a dialogue in lines, for a screen reader or a slow line")
	root.CompletionOptions.HiddenDefaultCmd = true
	root.SetFlagErrorFunc(func(c *cobra.Command, err error) error {
		text := err.Error()
		if i := strings.Index(text, ": strconv."); i >= 0 { // for a programmer
			text = text[:i] + ": it is a whole number"
		}
		return fmt.Errorf("%s; %s --help lists the options", text, c.CommandPath())
	})
	root.AddCommand(p.checkCommand(), p.showCommand(), p.whyCommand(), p.viewCommand(), p.planCommand(), p.matchCommand(), p.orderCommand(), p.cardCommand(), p.visitCommand(), p.dueCommand(), p.stockCommand(), p.studioCommand(), p.practiseCommand(), p.progressCommand(), p.exerciseCommand(), p.markCommand(), p.demonstrateCommand(), p.rulesCommand(), p.earlierCommand(), p.settingsCommand(), p.systemCommand(), p.licencesCommand(), p.keysCommand(), p.manCommand())
	completes(root)
	return root
}

// oneSheet asks for at most one sheet to edit. What is no file may be a command written wrongly.
func oneSheet(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	_, err := os.Lstat(args[0])
	if like := c.SuggestionsFor(args[0]); err != nil && len(like) > 0 {
		return fmt.Errorf("there is no command and no sheet %q; did you mean underveil %s?", args[0], like[0])
	}
	switch {
	case len(args) == 1:
		return nil // the editor says what is wrong with it
	case err != nil:
		return fmt.Errorf("there is no command and no sheet %q; underveil --help lists the commands", args[0])
	}
	return errors.New("the editor opens one sheet at a time; underveil check takes several")
}

// sheetsNamed asks for a number of sheets on the command line.
func sheetsNamed(least, most int) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		switch {
		case len(args) < least:
			return fmt.Errorf("name a sheet: underveil %s SHEET", c.Name())
		case len(args) > most:
			return fmt.Errorf("underveil %s takes one sheet", c.Name())
		}
		return nil
	}
}

// needsTerminal says what keeps the editor from opening.
func (p *program) needsTerminal() error {
	switch {
	case p.plainly:
		return nil
	case !isatty.IsTerminal(p.out.Fd()):
		return errors.New("the output is not a terminal, so the editor can't open")
	case !isatty.IsTerminal(p.in.Fd()):
		return errors.New("the editor needs a keyboard, and the input is not a terminal")
	}
	return nil
}

func (p *program) edit(args []string) error {
	if err := p.needsTerminal(); err != nil {
		return err
	}
	kind := sheetfile.SheetKind
	if len(args) == 1 {
		kind = sheetfile.KindOf(args[0])
	}
	switch kind {
	case sheetfile.ExerciseKind:
		return p.practise(args, "")
	case sheetfile.AttemptKind:
		return p.lookAt(args[0])
	}
	opts, err := p.editorOptions()
	if err != nil {
		return err
	}
	if kind == sheetfile.ScriptKind {
		if opts.Script, _, err = loadScript(args[0]); err != nil {
			return err
		}
		return p.open(opts, nil)
	}
	var first *tui.Opened
	if len(args) == 1 {
		read := stamp(args[0]) // before it is read, so that a change in between is noticed
		s, notices, err := load(args[0])
		if err != nil {
			return withWhatIsLeft(args[0], err)
		}
		first = &tui.Opened{Path: args[0], Stamp: read, Sheet: s, Notices: notices}
	}
	return p.open(opts, first)
}

func (p *program) keysCommand() *cobra.Command {
	return &cobra.Command{
		Use: "keys", Short: "List the keys of the editor", Args: cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			group := ""
			for _, k := range tui.KeysWith(p.settings().Keys) {
				if k.Group != group {
					group = k.Group
					fmt.Fprintln(p.stdout, group)
				}
				keys := k.Keys
				if p.glyphs() == figure.ASCII {
					keys = tui.InWords(keys)
				}
				fmt.Fprintf(p.stdout, "  %-15s%s\n", keys, k.Does)
			}
			return nil
		},
	}
}
