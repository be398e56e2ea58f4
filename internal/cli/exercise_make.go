package cli

import (
	"errors"
	"fmt"
	"os"

	"github.com/spf13/cobra"

	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
)

func (p *program) exerciseNewCommand() *cobra.Command {
	var to, start string
	c := &cobra.Command{
		Use: "new SHEET", Short: "Begin an exercise from a sheet, which is its answer", Args: oneExercise("sheet"),
		Long: "New begins an exercise in a file: the sheet is its answer, and the learner begins with the same sheet without its rows, or with\n" +
			"another one. It says what is still to be written; exercise check says so again at any time.",
		RunE: func(_ *cobra.Command, args []string) error { return p.newExercise(args[0], start, to) },
	}
	c.Flags().StringVar(&to, "to", "", "the file to begin")
	c.Flags().StringVar(&start, "start", "", "the sheet that the learner begins with, instead of the answer without its rows")
	return c
}

func (p *program) newExercise(from, begin, to string) error {
	if err := notThere(to); err != nil {
		return err
	}
	answer, _, err := load(from)
	if err != nil {
		return err
	}
	start := answer.With(func(c *sheet.Sheet) { c.Rows = nil })
	if begin != "" {
		if start, _, err = load(begin); err != nil {
			return err
		}
	}
	data := sheetfile.EncodeExercise(lesson.New(sheetfile.ExerciseID(to), start, answer))
	x, _, err := sheetfile.DecodeExercise(to, data) // as it will be read
	if err != nil {
		return err
	}
	problems, err := p.problems(x)
	if err != nil {
		return err
	}
	if err := sheetfile.WriteAtomic(to, data); err != nil {
		return err
	}
	fmt.Fprintf(p.stdout, "%s\nmay be touched: %s\nstill to be done:\n", printable.Line(to), x.MayWords())
	for _, problem := range problems {
		writeLines(p.stdout, printable.Wrap(p.inUnit(problem), exerciseWidth, "  ", "    "))
	}
	return nil
}

// notThere asks for the name of a file to begin: one that is not there yet.
func notThere(to string) error {
	if to == "" {
		return errors.New("name the file to begin: --to FILE")
	}
	if _, err := os.Lstat(to); err == nil {
		return fmt.Errorf("%s is there already; --to begins a file", printable.Line(to))
	}
	return nil
}

func (p *program) exerciseFaultsCommand() *cobra.Command {
	var to string
	var count int
	var seed uint64
	c := &cobra.Command{
		Use: "faults SHEET", Short: "Make an exercise in finding faults from a sheet that has none", Args: oneExercise("sheet"),
		Long: "Faults puts some mistakes into a sheet that has none, each of which one rule reports in one slot, and makes a complete exercise of\n" +
			"it, with brief, hints and answer. The same sheet, count and seed give the same mistakes. Without --to the file is shown.",
		RunE: func(_ *cobra.Command, args []string) error { return p.faultExercise(args[0], count, seed, to) },
	}
	c.Flags().StringVar(&to, "to", "", "the file to begin; without it the exercise is shown")
	c.Flags().IntVar(&count, "count", 5, fmt.Sprintf("how many mistakes, 1 to %d", lesson.MostFaults))
	c.Flags().Uint64Var(&seed, "seed", 1, "another number makes other mistakes")
	return c
}

func (p *program) faultExercise(from string, count int, seed uint64, to string) error {
	if to != "" {
		if err := notThere(to); err != nil {
			return err
		}
	}
	answer, _, err := load(from)
	if err != nil {
		return err
	}
	id := sheetfile.ExerciseID(to)
	if to == "" {
		id = "faults"
	}
	j, err := p.judge(&lesson.Exercise{Start: answer})
	if err != nil {
		return err
	}
	answer = j.Under(answer) // by whose limits it will be marked
	made, err := lesson.Seed(answer, count, seed)
	if err != nil {
		return fmt.Errorf("%s: %w", printable.Line(from), err)
	}
	data := sheetfile.EncodeExercise(lesson.ToFind(id, answer, made))
	x, _, err := sheetfile.DecodeExercise(to, data) // as it will be read
	if err != nil {
		return err
	}
	switch problems, err := p.problems(x); {
	case err != nil:
		return err
	case len(problems) > 0:
		return fmt.Errorf("%s: no exercise comes of these mistakes, another seed may do: %s", printable.Line(from), problems[0])
	}
	if to == "" {
		_, err = p.out.Write(data) // as it is, whatever the terminal can show
		return err
	}
	if err := sheetfile.WriteAtomic(to, data); err != nil {
		return err
	}
	fmt.Fprintln(p.stdout, printable.Line(to))
	return nil
}

func (p *program) exerciseStartCommand() *cobra.Command {
	var to string
	c := &cobra.Command{
		Use: "start NAME|FILE", Short: "Write the sheet that an exercise begins with, for those who hand in a plain sheet", Args: oneExercise("exercise"),
		RunE: func(_ *cobra.Command, args []string) error {
			if err := notThere(to); err != nil {
				return err
			}
			x, err := p.exercise(args[0])
			if err != nil {
				return err
			}
			if err := sheetfile.Save(to, x.Start); err != nil {
				return err
			}
			fmt.Fprintln(p.stdout, printable.Line(to))
			return nil
		},
	}
	c.Flags().StringVar(&to, "to", "", "the file to begin")
	return c
}
