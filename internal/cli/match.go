package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/shade"
	"example.org/underveil/internal/sheet"
)

func (p *program) matchCommand() *cobra.Command {
	return &cobra.Command{
		Use: "match SHEET", Short: "List what in stock matches the client's colour, the best first", Args: sheetsNamed(1, 1),
		RunE: func(_ *cobra.Command, args []string) error { return p.match(args[0]) },
	}
}

func (p *program) match(path string) error {
	s, _, _, err := p.checked(path)
	if err != nil {
		return err
	}
	reading, where := s.Reading()
	if reading == "" {
		return fmt.Errorf("%s: there is no reading of the client's colour; add one under [hair], like ends = \"#8a5a32\"", printable.Line(path))
	}
	st, from, err := p.studio()
	if err != nil {
		return err
	}
	found := st.Matches(s)
	if found == nil {
		return fmt.Errorf("%s: no strand has a reading of its colour", printable.Line(from))
	}
	fmt.Fprintf(p.stdout, "the client %s: %s  %s\n\n", where, reading.Hex(), numbers(reading.Lab()))
	for _, b := range found {
		word := "off"
		if b.Close(s) {
			word = "close"
		}
		fmt.Fprintf(p.stdout, "  %6.2f ΔE00 %-6s %s  %s  %s, %s\n", b.Difference, word, b.Colour.Hex(), numbers(b.Colour), printable.Line(b.String()),
			p.inUnit(fmt.Sprintf("%g mm", float64(b.Repeat[0].Length))))
	}
	fmt.Fprintln(p.stdout)
	if !found[0].Close(s) {
		fmt.Fprintln(p.stdout, "none is close: tone it, and test and colour the strands before the fitting")
	}
	if st.LeavesOut(s) {
		fmt.Fprintf(p.stdout, "strands that are not %s, as the hair is, are left out\n", s.Hair.Texture)
	}
	most, source := s.Limit(sheet.LimitShade)
	fmt.Fprintf(p.stdout, "close is at most %g ΔE00 (%s)\nfrom %s\n", most, source, printable.Line(from))
	return nil
}

// numbers writes a colour as L*, a*, b*.
func numbers(c shade.Lab) string { return fmt.Sprintf("L* %5.1f  a* %5.1f  b* %5.1f", c.L, c.A, c.B) }
