// Package plan proposes a placement: which partings get a row, in which pattern, whole or split or trimmed, of which
// strands, so that every rule holds and the client's wish is met as nearly as it can be.
//
// It works in four steps. Each line of the map is tried with each pattern that a wished look may have, and the rules
// themselves say which slots of it will not do, which carry half a strand and which are trimmed: what is left is
// a choice for that line. The lines are then gone through from the nape up, keeping for every choice the best ways of
// having got there for each amount of hair, so that the set of rows found is the best but for how coarsely the amounts are told apart. The
// rows found are evened out and cut back to what was wished for, and in the end the whole sheet is checked once more.
// The same sheet, table and stock give the same plan.
package plan

import (
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
	"example.org/underveil/internal/studio"
)

// Proposal is a placement for one client.
type Proposal struct {
	// Sheet is the sheet with the proposed rows in place of its own, and with the shades that they need. Where
	// nothing worth fitting is possible it has no rows.
	Sheet *sheet.Sheet
	// Looks are the looks wished for and how far each is met.
	Looks []Met
	// Value is what the search makes as large as it can: what the wish is served, less hair to no purpose and gaps.
	Value float64
	// Refused is true where so little of the wish can be met that nothing is proposed.
	Refused bool
	// Binding is what keeps the plan from meeting more of the wish; its Rule is empty where all of it is met.
	Binding Binding
	// Report is what the rules find on Sheet.
	Report *rule.Report

	// Repeat is the shades used for length and volume, in turn.
	Repeat string

	base  *sheet.Sheet // without rows, with the shades that the plan uses
	table *slots.Table
}

// Means is what a plan may use.
type Means struct {
	// Stock is the strands to choose from where the client's colour was read. It may be nil.
	Stock *studio.Studio
	// Repeat is the shades of the sheet to use for length and volume, whatever is in stock; empty leaves the choice
	// to the plan.
	Repeat string
}

// Met is how far a look is met.
type Met struct {
	Look   sheet.Look
	Wanted float64
	Got    float64
	Unit   string  // of both: what is counted
	Short  float64 // of length: the share by which the strands fall short of the length that is wished for
}

// Share is how much of what is wanted there is, from 0 to 1.
func (m Met) Share() float64 { return share(m.Got, m.Wanted) * (1 - m.Short) }

// met is the share of a whole wish that is met.
func met(looks []Met) float64 {
	sum := 0.0
	for _, l := range looks {
		sum += l.Share() / float64(len(looks))
	}
	return sum
}

// Enough is the share of a look from which on it counts as met: a strand more or less is no matter.
const Enough = 0.97

// leastWorth is the share of the wish below which a plan is not worth the hair and the time. Common practice, no source.
const leastWorth = 0.25

// Make plans for a sheet that has at least one shade. Its present rows and acceptances have no part in it.
func Make(s *sheet.Sheet, t *slots.Table, with Means) Proposal {
	p := newPlanner(s, t, with)
	p.gather()
	var rows []*choice
	for _, found := range p.search() {
		if found = p.settle(found); p.worth(found) > p.worth(rows)+same {
			rows = found
		}
	}
	return p.proposal(s, p.share(rows))
}

// planner is one plan being made.
type planner struct {
	base  *sheet.Sheet // without rows, with the shades that the plan may use
	table *slots.Table

	main       string // the repeat of shades for length and volume
	highlights string // and for highlights

	aim     aim
	choices []*choice              // of all lines, from the nape up
	costs   map[[2]*choice]float64 // of one choice after another
	apart   map[[2]int]bool        // whether two lines may both have rows
	lost    losses                 // of what was tried
	tried   int                    // bonds
	first   int                    // index in table.Lines of the lowest line that may have a row
	last    int                    // and of the highest that has a choice
}

// newPlanner knows what is wished for and of what strands.
func newPlanner(s *sheet.Sheet, t *slots.Table, with Means) *planner {
	p := &planner{table: t, costs: map[[2]*choice]float64{}, apart: map[[2]int]bool{}}
	p.base = s.With(func(c *sheet.Sheet) { c.Rows, c.Accepted = nil, nil })
	p.chooseStrands(with)
	p.aim = p.wanted()
	return p
}

// proposal says what the rows come to.
func (p *planner) proposal(s *sheet.Sheet, rows []*choice) Proposal {
	made := Proposal{Repeat: p.main, base: p.base, table: p.table}
	got := sum(rows)
	made.Looks = p.looks(got)
	met := met(made.Looks)
	if met < Enough {
		made.Binding = p.binding(rows, got)
	}
	if made.Refused = met < leastWorth; made.Refused {
		rows, made.Sheet = nil, s.With(func(c *sheet.Sheet) { c.Rows = nil })
	} else {
		made.Sheet = p.with(rows).With(func(c *sheet.Sheet) { c.Accepted = s.Accepted })
	}
	made.Value = p.worth(rows)
	made.Report = rule.Check(made.Sheet, p.table)
	return made
}

// with is the sheet with some rows.
func (p *planner) with(rows []*choice) *sheet.Sheet {
	s := p.base
	for _, c := range rows {
		s = s.WithRow(c.row)
	}
	return s
}
