package cli

import (
	"errors"
	"fmt"
	"io"
	"os"

	"github.com/spf13/cobra"

	"example.org/underveil/internal/plan"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheetfile"
	"example.org/underveil/internal/tally"
)

func (p *program) planCommand() *cobra.Command {
	var write bool
	var to string
	c := &cobra.Command{
		Use: "plan SHEET", Short: "Plan a placement from the wish, the hair and what is in stock", Args: sheetsNamed(1, 1),
		Long: "Plan works out which partings get a row, in which pattern, of which strands, so that every rule holds and the\n" +
			"wish is met as nearly as it can be. It prints the plan, and writes it only where it is told to: into the sheet\n" +
			"with --write, in place of the rows there, or to another file with --to.",
		RunE: func(_ *cobra.Command, args []string) error {
			if write && to != "" {
				return errors.New("--write writes into the sheet and --to to another file; take one of them")
			}
			if _, err := os.Lstat(to); to != "" && err == nil {
				return fmt.Errorf("%s is there already; --to begins a file, and --write writes into the sheet", printable.Line(to))
			}
			if write {
				to = args[0]
			}
			return p.plan(args[0], to)
		},
	}
	c.Flags().BoolVar(&write, "write", false, "write the plan into the sheet, in place of its rows")
	c.Flags().StringVar(&to, "to", "", "write the sheet with the plan to another file")
	return c
}

// errRefused is how plan ends when nothing worth fitting is possible.
var errRefused = errors.New("no plan is worth fitting")

func (p *program) plan(path, to string) error {
	s, t, _, err := p.checked(path)
	if err != nil {
		return err
	}
	switch {
	case len(s.Wish) == 0:
		return fmt.Errorf("%s: nothing is wished for; add a line like wish = [\"volume\"]", printable.Line(path))
	case len(s.Shades) == 0:
		return fmt.Errorf("%s: there is no shade to plan with", printable.Line(path))
	}
	st, _, err := p.studio()
	if err != nil {
		return err
	}
	made := plan.Make(s, t, plan.Means{Stock: st})
	writePlan(p.lengths(s.Typed()...), made)
	if made.Refused {
		return errRefused
	}
	fmt.Fprintf(p.stdout, "\n%s\n", mapText(made.Sheet, t, made.Report, p.glyphs(), false))
	writeTotals(p.stdout, made.Sheet, tally.Count(made.Sheet, t), p.settings().Units)
	fmt.Fprintf(p.stdout, "\n%s\n", counted(made.Report))
	writeReport(p.lengths(s.Typed()...), "", made.Report)
	if to == "" {
		return nil
	}
	return sheetfile.Save(to, made.Sheet)
}

// writePlan says how far each look is met, and what keeps the plan from more.
func writePlan(w io.Writer, made plan.Proposal) {
	for _, l := range made.Looks {
		fmt.Fprintf(w, "%-12s%3.0f %% met: %.0f of %.0f %s\n", l.Look, 100*l.Share(), l.Got, l.Wanted, l.Unit)
	}
	if made.Binding.Rule == "" {
		return
	}
	if made.Refused {
		fmt.Fprintln(w, "that is too little to be worth fitting, so nothing is proposed")
	}
	fmt.Fprintf(w, "held by %s: %s\n", made.Binding.Rule, made.Binding.What)
	if r, ok := rule.ByID(made.Binding.Rule); ok {
		fmt.Fprintf(w, "  %s reports %s\n", r.ID, r.Title)
	}
	for _, r := range made.Loosen() {
		fmt.Fprintf(w, "  %s: %.0f %% of the wish would be met\n", r.What, 100*r.Met)
	}
}
