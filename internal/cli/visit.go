package cli

import (
	"fmt"
	"io"
	"time"

	"github.com/spf13/cobra"

	"example.org/underveil/internal/care"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/retention"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
	"example.org/underveil/internal/visit"
)

func (p *program) visitCommand() *cobra.Command {
	var steps bool
	c := &cobra.Command{
		Use: "visit SHEET", Short: "Tell of the visits of a sheet: what was done, what is due, and how many bonds were kept", Args: sheetsNamed(1, 1),
		Long: "Visit tells of each fitting, inspection, refit and removal on a sheet, what is in the head and since when, when the client\n" +
			"is due, what the strands come to when they are re-tipped, and how many bonds were kept, with how sure that is. Visits are\n" +
			"recorded in the editor.",
	}
	c.Flags().BoolVar(&steps, "steps", false, "also how bonds are made and taken out, step by step, with what to be careful of")
	c.RunE = func(_ *cobra.Command, args []string) error {
		now, err := p.now()
		if err != nil {
			return err
		}
		s, t, _, err := p.checked(args[0])
		if err != nil {
			return err
		}
		p.writeVisits(s, t, now)
		if steps {
			writeSteps(p.stdout)
		}
		return nil
	}
	return c
}

// visitWidth is how wide what is told of visits may be, in columns.
const visitWidth = 80

func (p *program) writeVisits(s *sheet.Sheet, t *slots.Table, today time.Time) {
	w, typed := p.stdout, s.Typed()
	for _, part := range visit.Story(s, today) {
		fmt.Fprintln(w, part.Head)
		for _, line := range part.Lines {
			writeLines(w, printable.Wrap(p.inUnit(line, typed...), visitWidth, "  ", "      "))
		}
		fmt.Fprintln(w)
	}
	if len(s.Visits) > 0 {
		fmt.Fprint(w, retention.Of(s, t).Text(visitWidth, p.glyphs() == figure.ASCII))
	}
}

// writeSteps tells what is laid out, how bonds are made and how they are taken out, with the caution of each step.
func writeSteps(w io.Writer) {
	for _, part := range []struct {
		head  string
		steps []care.Step
	}{{"laying out", care.LayOut}, {"fitting, step by step", care.Fitting}, {"taking out, step by step", care.Removing}} {
		fmt.Fprintln(w, "\n"+part.head)
		for i, step := range part.steps {
			writeLines(w, printable.Wrap(step.Do, visitWidth, fmt.Sprintf("%3d ", i+1), "    "))
			if step.Caution != "" {
				writeLines(w, printable.Wrap(step.Caution, visitWidth, "    ! ", "      "))
			}
		}
	}
	fmt.Fprintln(w, "Local codes and licensed practice decide.")
}

func writeLines(w io.Writer, lines []string) {
	for _, l := range lines {
		fmt.Fprintln(w, l)
	}
}
