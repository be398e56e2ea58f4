package cli

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"example.org/underveil/internal/bust"
	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/fall"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// viewFlags are what view is asked for.
type viewFlags struct {
	from, wear  string
	parting     int
	weeks       int
	width, tall int
}

func (p *program) viewCommand() *cobra.Command {
	var f viewFlags
	c := &cobra.Command{
		Use: "view SHEET", Short: "Draw the head itself as plain text, seen from any side", Args: sheetsNamed(1, 1),
		Long: "View draws the head itself, from any side, with its hairline, zones and rows. With --wear it is shaded by the own hair\n" +
			"that covers a bond when the hair is worn that way, and the bonds that would show are marked.",
		RunE: func(_ *cobra.Command, args []string) error { return p.view(args[0], f) },
	}
	c.Flags().StringVar(&f.from, "from", "back", "from where: "+strings.Join(bust.Names, ", ")+"; and any but above with -above")
	c.Flags().StringVar(&f.wear, "wear", "", "how the hair is worn: down, half-up, low or high")
	c.Flags().IntVar(&f.parting, "parting", 1, "worn down: with which of the sheet's partings")
	c.Flags().IntVar(&f.weeks, "weeks", 0, "how long after the fitting: 0, 6 or 8")
	c.Flags().IntVar(&f.width, "width", 72, "columns")
	c.Flags().IntVar(&f.tall, "height", 30, "lines")
	return c
}

// Pictures beyond this are no use on any terminal.
const (
	leastView = 10
	mostView  = 500
)

func (p *program) view(path string, f viewFlags) error {
	from, ok := bust.Named(f.from)
	if !ok {
		return fmt.Errorf("--from is one of %s, not %q", strings.Join(bust.Names, ", "), printable.Line(f.from))
	}
	if f.width < leastView || f.width > mostView || f.tall < leastView || f.tall > mostView {
		return fmt.Errorf("--width and --height are from %d to %d", leastView, mostView)
	}
	s, t, rep, err := p.checked(path)
	if err != nil {
		return err
	}
	reading, err := f.reading(s)
	if err != nil {
		return err
	}
	g := p.glyphs()
	v := figure.View{Sheet: s, Ground: figure.NewGround(t, rule.ZonesOf(s)), Report: rep, Glyphs: g}
	if reading.Kind != rule.ByZone {
		v.Shading = figure.NewShading(t, rule.ScaleOf(reading, s, t))
	}
	scr := cells.NewScreen(f.width, f.tall)
	relief := bust.NewRelief(t.Head, t.Zones.Hairline, from, f.width, f.tall, g == figure.ASCII)
	bust.Draw(scr, cells.Rect{W: f.width, H: f.tall}, relief, figure.Scene(v))
	fmt.Fprintf(p.stdout, "%s, %s\n%s\n", printable.Line(s.Title), from, scr)
	if v.Shading != nil {
		fmt.Fprintln(p.stdout, legend(v.Shading, s, g))
	}
	return nil
}

// reading is what the head is to be shaded by.
func (f viewFlags) reading(s *sheet.Sheet) (rule.Reading, error) {
	time := slices.Index(fall.Weeks[:], f.weeks)
	if time < 0 {
		return rule.Reading{}, fmt.Errorf("--weeks is one of %s, not %d", strings.Trim(fmt.Sprint(fall.Weeks), "[]"), f.weeks)
	}
	if f.wear == "" {
		if f.weeks != 0 {
			return rule.Reading{}, fmt.Errorf("--weeks needs --wear: the zones do not change as hair grows")
		}
		return rule.Reading{}, nil
	}
	short := map[string]sheet.Wear{"half-up": sheet.WornHalfUp, "low": sheet.WornLowTail, "high": sheet.WornHighTail}
	wear, ok := short[f.wear]
	if !ok {
		wear = sheet.Wear(f.wear)
	}
	if !slices.Contains(sheet.Wears, wear) {
		return rule.Reading{}, fmt.Errorf("--wear is down, half-up, low or high, not %q", printable.Line(f.wear))
	}
	r := rule.Reading{Kind: rule.ByCover, Way: slots.Way{Wear: wear}, Time: time}
	if wear == sheet.WornDown {
		if n := max(1, len(s.Partings)); f.parting < 1 || f.parting > n {
			return r, fmt.Errorf("--parting %d: the sheet has %s", f.parting, printable.Count(len(s.Partings), "parting"))
		}
		r.Way.Parting = f.parting - 1
	}
	return r, nil
}

// legend says what the head is shaded by and what the marks mean.
func legend(sh *figure.Shading, s *sheet.Sheet, g figure.Glyphs) string {
	var b strings.Builder
	b.WriteString(sh.Scale.Name(s))
	if sh.Scale.Time > 0 {
		b.WriteString(" " + fall.When(sh.Scale.Time))
	}
	b.WriteString(":")
	for _, it := range sh.Legend(g) {
		fmt.Fprintf(&b, "  %c %s", it.Mark, it.Says)
	}
	return b.String() + " " + sh.Scale.Unit()
}
