package cli

import (
	"fmt"
	"os"
	"strings"
	"time"

	"github.com/mattn/go-isatty"
	"github.com/spf13/cobra"

	"example.org/underveil/assets"
	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
	"example.org/underveil/internal/slots"
	"example.org/underveil/internal/tui"
)

func (p *program) demonstrateCommand() *cobra.Command {
	var large bool
	c := &cobra.Command{
		Use: "demonstrate [FILE|NAME]", Short: "Step through a demonstration, forward and back", Args: cobra.MaximumNArgs(1),
		Long: "Demonstrate opens the editor on a demonstration: a sheet, and what is done to it step by step, each with what to look\n" +
			"at and the findings that come and go. D in the editor records one. Without a name it lists those that come with the\n" +
			"program. Where the output is not a terminal it writes the steps as text, to be checked or read aloud.",
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return p.listDemonstrations()
			}
			script, told, err := demonstrationNamed(args[0])
			if err != nil {
				return err
			}
			if !isatty.IsTerminal(p.out.Fd()) {
				for _, line := range told {
					fmt.Fprintln(p.stderr, printable.Line(line))
				}
				return p.writeSteps(script)
			}
			if err := p.needsTerminal(); err != nil {
				return err
			}
			opts, err := p.editorOptions()
			if err != nil {
				return err
			}
			opts.Script, opts.Large = script, large
			return tui.Run(p.in, p.out, opts, nil)
		},
	}
	c.Flags().BoolVar(&large, "large", false, "in the large layout, for a projector")
	return c
}

// demonstrations are those in assets; the first line of each, a comment, says what it shows.
func demonstrations() ([]tui.Demo, error) { return listed(assets.Demonstrations, "demonstrations") }

func (p *program) listDemonstrations() error {
	list, err := demonstrations()
	if err != nil {
		return err
	}
	for _, d := range list {
		fmt.Fprintf(p.stdout, "%-22s%s\n", d.Name, d.About)
	}
	fmt.Fprintln(p.stdout, "\nunderveil demonstrate NAME steps through one; --large is for a projector")
	return nil
}

// demonstrationNamed reads a demonstration: a file, or one that comes with the program.
func demonstrationNamed(name string) (*lesson.Script, []string, error) {
	if _, err := os.Lstat(name); err == nil {
		return loadScript(name)
	}
	list, err := demonstrations()
	if err != nil {
		return nil, nil, err
	}
	var names []string
	for _, d := range list {
		if d.Name == name {
			return parseScript(d.Name, d.Data)
		}
		names = append(names, d.Name)
	}
	hint := "underveil demonstrate lists those that come with the program"
	if like := sheetfile.Meant(name, names); like != "" {
		hint = "did you mean underveil demonstrate " + like + "?"
	}
	return nil, nil, fmt.Errorf("there is no file and no demonstration %s; %s", printable.Quote(name), hint)
}

// loadScript, parseScript and saveScript read and write demonstrations.
func loadScript(path string) (*lesson.Script, []string, error) {
	s, notices, err := sheetfile.LoadScript(path)
	return s, inLines(notices), err
}

func parseScript(name string, data []byte) (*lesson.Script, []string, error) {
	s, notices, err := sheetfile.DecodeScript(name, data)
	return s, inLines(notices), err
}

// saveScript writes a demonstration, and returns how many steps its file has.
func saveScript(path string, s *lesson.Script) (steps int, err error) {
	data := sheetfile.EncodeScript(s)
	written, _, err := sheetfile.DecodeScript(path, data)
	if err != nil { // or nobody would know until it is to be shown
		return 0, err
	}
	return len(written.Steps), sheetfile.WriteAtomic(path, data)
}

// writeSteps writes a demonstration as text: what is said, what was done, what is found otherwise than before.
func (p *program) writeSteps(script *lesson.Script) error {
	before, err := p.reportOf(script.Start)
	if err != nil {
		return err
	}
	fmt.Fprintln(p.stdout, printable.Line(script.Title))
	p.saying(script.About, "")
	fmt.Fprintln(p.stdout, "\nthe start")
	p.saying(script.Say, "  ")
	fmt.Fprintf(p.stdout, "  %s\n", counted(before))
	for i, step := range script.Steps {
		after, err := p.reportOf(step.Sheet)
		if err != nil {
			return fmt.Errorf("step %d: %w", i+1, err)
		}
		head := fmt.Sprintf("step %d of %d", i+1, len(script.Steps))
		if step.Did != "" {
			head += ": " + printable.Line(step.Did)
		}
		fmt.Fprintf(p.stdout, "\n%s\n", head)
		p.saying(step.Say, "  ")
		if step.Look != nil {
			fmt.Fprintf(p.stdout, "  look at %s\n", step.Look)
		}
		for _, n := range lesson.Together(lesson.Between(before, after)) {
			word := n.Severity.String()
			if n.Accepted != nil {
				word = "accepted " + word
			}
			fmt.Fprintf(p.lengths(script.Start.Typed()...), "  %s %s %s, %s: %s\n", n.Turn.Word(), word, n.Rule, n.Where(), printable.Line(n.Message()))
		}
		fmt.Fprintf(p.stdout, "  %s\n", counted(after))
		before = after
	}
	return nil
}

// saying writes a text of several lines, each broken to the width of a page; nothing where there is none.
func (p *program) saying(text, lead string) {
	if text == "" {
		return
	}
	for _, line := range strings.Split(text, "\n") {
		for _, l := range printable.Wrap(p.inUnit(line), 96, lead, lead) {
			fmt.Fprintln(p.stdout, l)
		}
	}
}

// reportOf is what the rules find on a sheet, as the editor would look at it.
func (p *program) reportOf(s *sheet.Sheet) (*rule.Report, error) {
	st, _, err := p.studio()
	if err != nil {
		return nil, err
	}
	now, err := p.now()
	if err != nil {
		return nil, err
	}
	s = st.House(s).With(func(c *sheet.Sheet) { c.Today = now.Format(time.DateOnly) })
	t, err := slots.For(s, nil)
	if err != nil {
		return nil, err
	}
	return rule.Check(s, t), nil
}
