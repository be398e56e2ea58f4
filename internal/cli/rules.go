package cli

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/rulebook"
	"example.org/underveil/internal/sheet"
)

func (p *program) rulesCommand() *cobra.Command {
	return &cobra.Command{
		Use: "rules [RULE]", Short: "List the rules, or explain one with a picture of wrong and right",
		Long: "Rules lists the rules: how grave at most what they report is, and what that is about. With the id of a rule it\n" +
			"explains that one: the reason, a picture of wrong and right, and each limit with where it comes from.",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 1 {
				return errors.New("underveil rules explains one rule at a time")
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 1 {
				return p.explainRule(args[0])
			}
			for _, r := range rule.All {
				fmt.Fprintf(p.stdout, "%-13s %-8s %s\n", r.ID, r.Severity, r.Title)
			}
			return nil
		},
	}
}

// explainRule prints the page of a rule, with the studio's own limits where it has any.
func (p *program) explainRule(id string) error {
	r, err := rulebook.Find(id)
	if err != nil {
		return err
	}
	st, _, err := p.studio()
	if err != nil {
		return err
	}
	page, err := rulebook.Of(r, st.House(&sheet.Sheet{}))
	if err != nil {
		return err
	}
	page.Units = p.settings().Units
	fmt.Fprint(p.stdout, page.Screen(rulebook.Width, p.glyphs()))
	return nil
}
