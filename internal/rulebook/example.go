package rulebook

import (
	"fmt"

	"example.org/underveil/assets"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
	"example.org/underveil/internal/slots"
)

// Example shows a rule on a sheet: as it reports something, and as it does not.
type Example struct {
	Wrong, Right Shown
}

// Shown is a sheet of an example, with what the rules find on it.
type Shown struct {
	Sheet  *sheet.Sheet
	Table  *slots.Table
	Report *rule.Report
	Says   string // what is to be seen on it
}

// ExampleOf is the example of a rule, from the demonstration of its name in the assets: wrong is its start, right what its
// steps make of it. It is looked at by the usual limits, on the day of the sheet. The error says what is wrong with the
// demonstration, or that there is none.
func ExampleOf(r *rule.Rule) (*Example, error) {
	name := "rules/" + r.ID + ".toml"
	data, err := assets.Rules.ReadFile(name)
	if err != nil {
		return nil, fmt.Errorf("the rule %s has no example: %w", r.ID, err)
	}
	script, _, err := sheetfile.DecodeScript(name, data)
	if err != nil {
		return nil, err
	}
	last := len(script.Steps)
	if last == 0 {
		return nil, fmt.Errorf("the example of %s has no step that mends it", r.ID)
	}
	x := &Example{Wrong: Shown{Sheet: script.Start, Says: script.Say}, Right: Shown{Sheet: script.At(last), Says: script.Steps[last-1].Say}}
	if err := x.Wrong.check(nil); err != nil {
		return nil, fmt.Errorf("the example of %s: %w", r.ID, err)
	}
	if err := x.Right.check(x.Wrong.Table); err != nil {
		return nil, fmt.Errorf("the example of %s: %w", r.ID, err)
	}
	return x, nil
}

// check looks at a sheet as the rules do; have is a table that may serve.
func (s *Shown) check(have *slots.Table) (err error) {
	s.Sheet = s.Sheet.With(func(c *sheet.Sheet) { c.Today = c.Date })
	if s.Table, err = slots.For(s.Sheet, have); err != nil {
		return err
	}
	s.Report = rule.Check(s.Sheet, s.Table)
	return nil
}

// of are the findings of a rule, those that nobody accepted.
func (s *Shown) of(r *rule.Rule) []rule.Finding {
	var found []rule.Finding
	for _, f := range s.Report.Findings {
		if f.Rule == r.ID && f.Accepted == nil {
			found = append(found, f)
		}
	}
	return found
}
