package cli

import (
	"errors"
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"example.org/underveil/assets"
	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/progress"
	"example.org/underveil/internal/sheetfile"
	"example.org/underveil/internal/tui"
)

func (p *program) practiseCommand() *cobra.Command {
	var learner string
	c := &cobra.Command{
		Use: "practise [NAME|FILE [HAND-IN]]", Short: "Open an exercise in the editor; without a name, the list of them",
		Long: "Practise opens an exercise: its brief stands beside the map, A has hints, the mark and an answer. What is made is kept under the\n" +
			"learner's name on this machine, and goes on where it was left. With a hand-in it opens that, to be looked at, marked and signed;\n" +
			"nothing of it is kept unless it is handed in again.",
		Args: cobra.MaximumNArgs(2),
		RunE: func(_ *cobra.Command, args []string) error { return p.practise(args, learner) },
	}
	c.Flags().StringVar(&learner, "learner", "", "who practises: initials, a number or a short name")
	c.Flags().BoolVar(&p.plainly, "plain", false, "as a dialogue in lines, for a screen reader or a slow line")
	return c
}

// practise opens the list of exercises, or one of them, or a hand-in at it.
func (p *program) practise(args []string, learner string) error {
	opts, err := p.editorOptions()
	if err != nil {
		return err
	}
	first := &tui.Opened{Practice: true, Learner: learner}
	if learner != "" {
		if first.Learner, err = progress.Name(learner); err != nil {
			return fmt.Errorf("--learner: %w", err)
		}
	}
	if len(args) > 0 {
		if first.Exercise, err = p.exercise(args[0]); err != nil {
			return err
		}
	}
	if len(args) > 1 {
		if first.Attempt, _, err = sheetfile.LoadAttempt(args[1]); err != nil {
			return err
		}
		if id := first.Attempt.Exercise; id != "" && id != first.Exercise.ID {
			return fmt.Errorf("%s is for another exercise, %s", printable.Line(args[1]), printable.Quote(id))
		}
		first.Path = args[1]
	}
	if err := p.needsTerminal(); err != nil {
		return err
	}
	return p.open(opts, first)
}

// lookAt opens a hand-in at an exercise that comes with the program.
func (p *program) lookAt(path string) error {
	a, _, err := sheetfile.LoadAttempt(path)
	if err != nil {
		return err
	}
	list, err := exercises()
	if err != nil {
		return err
	}
	if !slices.ContainsFunc(list, func(x tui.Demo) bool { return x.Name == a.Exercise }) {
		return fmt.Errorf("%s is an attempt at %s, which does not come with the program; underveil practise FILE-OF-THE-EXERCISE %s shows it",
			printable.Line(path), printable.Quote(a.Exercise), printable.Line(path))
	}
	return p.practise([]string{a.Exercise, path}, "")
}

func (p *program) progressCommand() *cobra.Command {
	return &cobra.Command{
		Use: "progress [LEARNER]", Short: "Tell how a learner stands with the exercises, to be printed", Args: cobra.MaximumNArgs(1),
		Long: "Progress tells of each exercise whether it was passed, with how many hints, and every mark that was given on this machine.\n" +
			"Without a name it is about whoever practised last.",
		RunE: func(_ *cobra.Command, args []string) error {
			folder := progressFolder()
			known := folder.Learners()
			if len(known) == 0 {
				return errors.New("nobody has practised on this machine yet; underveil practise begins")
			}
			who := known[0]
			if len(args) == 1 {
				var err error
				if who, err = progress.Name(args[0]); err != nil {
					return err
				}
				i := indexFold(known, who)
				if i < 0 {
					return fmt.Errorf("%s has not practised on this machine; those who have: %s", printable.Line(who), printable.Line(strings.Join(known, ", ")))
				}
				who = known[i]
			}
			list, err := exercises()
			if err != nil {
				return err
			}
			fmt.Fprint(p.stdout, progressText(who, folder.Of(who), list))
			return nil
		},
	}
}

// indexFold is where a name is in a list, whatever its capitals.
func indexFold(list []string, name string) int {
	for i, other := range list {
		if strings.EqualFold(other, name) {
			return i
		}
	}
	return -1
}

// progressText is how a learner stands, as a page of at most 80 columns.
func progressText(who string, records map[string]progress.Record, list []tui.Demo) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n\n", printable.Line(who))
	passed := 0
	for i, x := range list {
		record, begun := records[x.Name]
		state := "not begun"
		best, marked := record.Best()
		switch {
		case marked:
			state = best.String()
		case begun:
			state = "begun"
		}
		if record.Passed() {
			passed++
		}
		fmt.Fprintf(&b, "%2d  %-44.44s  %s\n", i+1, printable.Line(x.About), state)
		for _, m := range record.Marks {
			fmt.Fprintf(&b, "      %s  %s\n", m.On, m)
		}
	}
	fmt.Fprintf(&b, "\n%d of %d passed\n", passed, len(list))
	shipped := func(id string) bool { return slices.ContainsFunc(list, func(x tui.Demo) bool { return x.Name == id }) }
	first := true
	for _, id := range slices.Sorted(maps.Keys(records)) {
		if shipped(id) {
			continue
		}
		if first {
			b.WriteString("\nexercises of others\n")
			first = false
		}
		state := "begun"
		if best, marked := records[id].Best(); marked {
			state = best.String()
		}
		fmt.Fprintf(&b, "    %-44.44s  %s\n", printable.Line(id), state)
		for _, m := range records[id].Marks {
			fmt.Fprintf(&b, "      %s  %s\n", m.On, m)
		}
	}
	return b.String()
}

// progressFolder is where what learners make is kept: beside what else the program remembers by itself.
func progressFolder() progress.Folder { return progress.Folder(inState("learners")) }

// lessons are what the editor has for those who learn.
func (p *program) lessons() (tui.Lessons, error) {
	list, err := exercises()
	return tui.Lessons{
		Exercises: list,
		Read: func(name string, data []byte) (*lesson.Exercise, error) {
			x, _, err := sheetfile.DecodeExercise(name, data)
			return x, err
		},
		HandIn: func(path string, a *lesson.Attempt) error {
			return sheetfile.WriteAtomic(path, sheetfile.EncodeAttempt(a, nil))
		},
		Seal:     sheetfile.Seal,
		Progress: progressFolder(),
	}, err
}

// exercises are those that come with the program, in their order, each with its title.
func exercises() ([]tui.Demo, error) {
	list, err := listed(assets.Exercises, "exercises")
	for i := range list {
		x := &list[i]
		x.Name, x.About = sheetfile.ExerciseID(x.Name), titleIn(x.Data)
	}
	return list, err
}

// exercise is the one that comes with the program under a name, or else the one in a file.
func (p *program) exercise(name string) (*lesson.Exercise, error) {
	list, err := exercises()
	if err != nil {
		return nil, err
	}
	for _, of := range list {
		if of.Name == name {
			x, _, err := sheetfile.DecodeExercise(of.Name+".toml", of.Data)
			return x, err
		}
	}
	if _, err := os.Lstat(name); err != nil && !strings.Contains(name, ".") {
		return nil, fmt.Errorf("there is no exercise %s; underveil exercise lists them", printable.Quote(name))
	}
	x, _, err := sheetfile.LoadExercise(name)
	if err == nil {
		x.Own = true
	}
	return x, err
}

// titleIn is the title of an exercise, without reading the rest of it.
func titleIn(data []byte) string {
	for line := range strings.Lines(string(data)) {
		if key, value, ok := strings.Cut(line, "="); ok && strings.TrimSpace(key) == "exercise" {
			return strings.Trim(strings.TrimSpace(value), `"`)
		}
	}
	return ""
}
