package cli

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"

	"github.com/spf13/cobra"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/unit"
	"example.org/underveil/internal/why"
)

func (p *program) whyCommand() *cobra.Command {
	return &cobra.Command{
		Use: "why SHEET [SLOT]", Short: "Write out how the figures of a slot, or of the whole sheet, come about",
		Long: "Why writes out how the figures of a slot come about: measures, density, section, load, the hair over it,\n" +
			"growth, and each limit with where it comes from. Without a slot it does so for the whole sheet.\n\n" +
			"A slot is written as the findings write it, \"height 60, slot 7 left\" or \"front to back, 16 left, slot 3 back\",\n" +
			"or short: 60/7L, 60/0, along-16/3B.",
		Args: func(c *cobra.Command, args []string) error {
			if len(args) > 2 {
				return fmt.Errorf("underveil why takes a sheet and a slot; write the slot in quotes: \"height 60, slot 7 left\"")
			}
			return sheetsNamed(1, 2)(c, args)
		},
		RunE: func(_ *cobra.Command, args []string) error {
			s, t, rep, err := p.checked(args[0])
			if err != nil {
				return err
			}
			if len(args) == 1 {
				p.writeWhy(s, why.Sheet(s, t, rep))
				return nil
			}
			at, slot, err := parseSlot(args[1])
			if err != nil {
				return err
			}
			sections, err := why.Slot(s, t, rep, at, slot)
			if err != nil {
				return err
			}
			p.writeWhy(s, sections)
			return nil
		},
	}
}

// writeWhy writes what explains the figures of a sheet. Sums stay in mm, which they come out in.
func (p *program) writeWhy(s *sheet.Sheet, sections []why.Section) {
	out := p.lengths(s.Typed()...)
	for i, sec := range sections {
		if i > 0 {
			fmt.Fprintln(p.stdout)
		}
		fmt.Fprintln(p.stdout, sec.Title)
		for _, line := range sec.Lines {
			fmt.Fprintf(out, "  %s\n", printable.Line(line))
		}
	}
	if p.settings().Units != unit.MM {
		fmt.Fprintln(p.stdout, "\n"+why.InMM)
	}
}

// parseSlot reads a slot as findings write it, or short: two numbers, each with its side after it.
func parseSlot(text string) (at sheet.Place, slot int, err error) {
	refused := fmt.Errorf("%q is no slot; write it like \"height 60, slot 7 left\" or 60/7L", printable.Line(text))
	words := strings.ToLower(text)
	for _, along := range []string{"front to back", "along"} {
		if rest, ok := strings.CutPrefix(strings.TrimSpace(words), along); ok {
			words, at.Along = rest, true
		}
	}
	var numbers []float64
	for _, w := range strings.FieldsFunc(words, func(r rune) bool { return r == ',' || r == '/' || r == ':' || unicode.IsSpace(r) }) {
		number, side := splitSide(w)
		if number != "" {
			v, err := strconv.ParseFloat(number, 64)
			if err != nil {
				return at, 0, refused
			}
			numbers = append(numbers, v)
		}
		switch side {
		case "left", "l", "back", "b":
			if len(numbers) == 0 {
				return at, 0, refused
			}
			numbers[len(numbers)-1] *= -1
		case "middle":
			numbers = append(numbers, 0)
		case "", "right", "r", "front", "f", "height", "slot", "the", "centre", "over", "ears", "mm":
		default:
			return at, 0, refused
		}
	}
	if len(numbers) != 2 || numbers[1] != float64(int(numbers[1])) {
		return at, 0, refused
	}
	at.At = scalp.MM(numbers[0])
	return at, int(numbers[1]), nil
}

// splitSide takes a word apart into the number that it begins with and what comes after.
func splitSide(word string) (number, side string) {
	i := strings.IndexFunc(word, func(r rune) bool { return !unicode.IsDigit(r) && r != '.' && r != '-' && r != '+' })
	if i < 0 {
		return word, ""
	}
	return word[:i], word[i:]
}
