package cli

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/printable"
)

func (p *program) exerciseCommand() *cobra.Command {
	c := &cobra.Command{
		Use: "exercise", Short: "List the exercises that come with the program; its commands show, check and make them",
		Long: "Exercise lists the exercises that come with the program: id, task and title, in the order in which to take them. Practise opens\n" +
			"one. An exercise is a TOML file with a brief, what counts, a sheet to begin with and an answer that passes.",
		Args: func(c *cobra.Command, args []string) error {
			if len(args) == 0 {
				return nil
			}
			return fmt.Errorf("there is no underveil exercise %s; %s --help lists what there is", printable.Line(args[0]), c.CommandPath())
		},
		RunE: func(*cobra.Command, []string) error { return p.listExercises() },
	}
	c.AddCommand(p.exerciseShowCommand(), p.exerciseCheckCommand(), p.exerciseNewCommand(), p.exerciseFaultsCommand(), p.exerciseStartCommand())
	return c
}

func (p *program) listExercises() error {
	list, err := exercises()
	if err != nil {
		return err
	}
	for _, of := range list {
		x, err := p.exercise(of.Name)
		if err != nil {
			return err
		}
		fmt.Fprintf(p.stdout, "%-22s %-6s %s\n", printable.Line(x.ID), x.Task, x.Title)
	}
	return nil
}

// oneExercise asks for one exercise, or a sheet to make one of, on the command line.
func oneExercise(what string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		if len(args) != 1 {
			return fmt.Errorf("name one %s: underveil exercise %s", what, c.Use)
		}
		return nil
	}
}

func (p *program) exerciseShowCommand() *cobra.Command {
	return &cobra.Command{
		Use: "show NAME|FILE", Short: "Show the brief of an exercise, what counts and what may be touched", Args: oneExercise("exercise"),
		RunE: func(_ *cobra.Command, args []string) error {
			x, err := p.exercise(args[0])
			if err != nil {
				return err
			}
			p.showExercise(x)
			return nil
		},
	}
}

// exerciseWidth is how wide an exercise may be as text, in columns.
const exerciseWidth = 80

func (p *program) showExercise(x *lesson.Exercise) {
	texts := func(lead string, texts ...string) {
		for _, text := range texts {
			for _, part := range strings.Split(text, "\n") {
				writeLines(p.stdout, printable.Wrap(p.inUnit(part), exerciseWidth, lead, lead))
			}
		}
	}
	head := func(text string) { fmt.Fprintf(p.stdout, "\n%s\n", text) }
	texts("", x.Title)
	if x.Who != "" {
		head("the client")
		texts("  ", x.Who)
	}
	head("the brief")
	texts("  ", x.Brief)
	head("what counts")
	texts("  ", x.Counts()...)
	head("what may be touched")
	texts("  ", x.MayWords())
	head("findings and hints")
	texts("  ", "the rules show what they find "+shownWhen[x.Findings], printable.Count(len(x.Hints), "hint"))
}

// shownWhen are the ways of showing findings in words.
var shownWhen = map[lesson.Showing]string{lesson.Live: "all the time", lesson.Asked: "when they are asked", lesson.Never: "with the mark, not before"}

func (p *program) exerciseCheckCommand() *cobra.Command {
	return &cobra.Command{
		Use: "check NAME|FILE...", Short: "Say what is wrong with exercises before learners get them",
		Long: "Check says of each exercise whether it can be solved: whether its answer passes and its start does not, whether its hints are\n" +
			"true, and whether its texts are there. It says nothing and exits 0 when all is in order; exits 1 when something is wrong, and 2\n" +
			"when an exercise can't be read.",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return errors.New("name an exercise, or several: underveil exercise check NAME|FILE")
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error { return p.checkExercises(args) },
	}
}

// checkExercises checks one after another. One that can't be read does not keep the others from being checked.
func (p *program) checkExercises(names []string) error {
	if _, err := p.college(); err != nil {
		return err
	}
	var unread error
	wrong := false
	for _, name := range names {
		x, err := p.exercise(name)
		if err != nil {
			if unread != nil {
				fmt.Fprintln(p.stderr, message(unread))
			}
			unread = err
			continue
		}
		problems, err := p.problems(x)
		if err != nil {
			return err
		}
		for _, problem := range problems {
			wrong = true
			fmt.Fprintf(p.lengths(name), "%s: %s\n", printable.Line(name), problem)
		}
	}
	switch {
	case unread != nil:
		return unread
	case wrong:
		return errStops
	}
	return nil
}

// problems are what is wrong with an exercise, safe to show.
func (p *program) problems(x *lesson.Exercise) ([]string, error) {
	j, err := p.judge(x)
	if err != nil {
		return nil, err
	}
	problems := j.Check()
	for i := range problems {
		problems[i] = printable.Line(problems[i])
	}
	return problems, nil
}
