// Package rule checks a sheet: every rule is one documented value, and its
// findings say what is wrong, where, by how much, why it matters and what to do.
//
// A rule never forbids and never prints. The editor and the command line read the
// same findings.
package rule

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// Severity is how much a finding matters.
type Severity uint8

// A note tells, a caution asks, a stop should be put right before any heat.
const (
	Note Severity = iota
	Caution
	Stop
)

// String is the severity's word.
func (s Severity) String() string { return [...]string{"note", "caution", "stop"}[s] }

// Rule is one rule.
type Rule struct {
	ID       string
	Title    string   // one line, no full stop
	Doc      string   // why it matters, for somebody who is learning
	Since    string   // release that brought it
	Severity Severity // the most that it reports
	// Limits are the limits that it measures against, and after them the figures that it reckons with besides: all of
	// sheet.Limits that its findings depend on.
	Limits []sheet.LimitName
	Check  func(*Pass)
	// Fixes are what would make a finding go away, the most ordinary first. It
	// may return none.
	Fixes func(*Pass, Finding) []Fix
}

// All lists the rules in the order in which they are explained.
var All = []*Rule{
	offScalp, nape, ear, temple, fringe, part, face, keepOff,
	thinVeil, showsUp, fallsAside,
	rowGap, bondGap, stacked, trim, load, split, totalLoad, balance, wish, lengthBlend,
	shadeRule, refer, overdue, reused,
}

// ByID finds a rule.
func ByID(id string) (*Rule, bool) {
	for _, r := range All {
		if r.ID == id {
			return r, true
		}
	}
	return nil, false
}

// Finding is one thing that a rule reports.
type Finding struct {
	sheet.Concern
	Severity Severity
	Value    float64         // what was measured
	Limit    float64         // what it is measured against
	Unit     string          // of both: "mm", "%", "hairs/mm"; empty when nothing was measured
	AtMost   bool            // the limit is the most allowed, not the least
	Source   string          // where the limit comes from
	What     string          // what was measured, or the whole message when nothing was
	Near     []sheet.Concern // other places it speaks of
	Reading  Reading         // what to shade the map by to see it
	Accepted *sheet.Accepted // the acceptance that covers it, or nil
}

// Message is the finding in one line: "12.4 mm from the nape hairline, at least 20.0 mm". A length says its unit both times,
// so that both can be shown in another.
func (f Finding) Message() string {
	if f.Unit == "" {
		return f.What
	}
	if f.AtMost && f.Limit == 0 { // anything is too much
		return fmt.Sprintf("%.1f %s %s", f.Value, f.Unit, f.What)
	}
	word := "at least"
	if f.AtMost {
		word = "at most"
	}
	digits := 1
	if fmt.Sprintf("%.1f", f.Value) == fmt.Sprintf("%.1f", f.Limit) {
		digits = 2 // a limit need not be a whole number of tenths
	}
	text := fmt.Sprintf("%.*f %s %s, %s %.*f", digits, f.Value, f.Unit, f.What, word, digits, f.Limit)
	if f.Unit == "mm" {
		text += " mm"
	}
	return text
}

// Where is the place of the finding in words: "height 10, slot 3 left".
func (f Finding) Where() string { return Where(f.Concern) }

// Where is the place of a concern in words.
func Where(c sheet.Concern) string {
	switch c.On {
	case sheet.OnSheet:
		if c.About != "" {
			return "the sheet, " + c.About
		}
		return "the sheet"
	case sheet.OnRow:
		return c.Row.String()
	}
	return c.Row.String() + ", " + SlotName(c.Row, c.Slot)
}

// SlotName is a slot in words.
func SlotName(at sheet.Place, slot int) string {
	minus, plus := at.Ways()
	zero := "slot 0, the centre"
	if at.Along {
		zero = "slot 0, over the ears"
	}
	switch {
	case slot < 0:
		return fmt.Sprintf("slot %d %s", -slot, minus)
	case slot > 0:
		return fmt.Sprintf("slot %d %s", slot, plus)
	}
	return zero
}

// Reason is why the finding matters.
func (f Finding) Reason() string {
	r, _ := ByID(f.Rule)
	return r.Doc
}

// Fix is a change that would make a finding go away.
type Fix struct {
	Label string // a verb phrase: "lift it"
	Large bool   // it takes out more than the finding is about, and should be asked for by name
	Do    func(*sheet.Sheet) *sheet.Sheet
}

// Report is what the rules found on a sheet.
type Report struct {
	Findings []Finding // the gravest first, then row by row as on the map, and in a row rule by rule; accepted ones last
	Stops    int       // not accepted
	Cautions int       // not accepted
	Notes    int       // not accepted
	Accepted int
	// Stale are acceptances whose finding is gone.
	Stale []sheet.Accepted
}

// Clear reports whether no stop is left that nobody accepted.
func (r *Report) Clear() bool { return r.Stops == 0 }

// Counted is a number of findings in words: "2 stops", "1 note", "3 accepted".
func Counted(n int, kind string) string {
	if kind == "accepted" {
		return fmt.Sprintf("%d %s", n, kind)
	}
	return printable.Count(n, kind)
}

// Check runs every rule.
func Check(s *sheet.Sheet, t *slots.Table) *Report {
	p := newPass(s, t)
	for _, r := range All {
		p.rule = r
		r.Check(p)
	}
	return p.report()
}

// Fixes are the changes that make a finding of the sheet go away and bring neither a
// new stop nor another finding of the same rule, the most ordinary first. Each has been tried.
func Fixes(s *sheet.Sheet, t *slots.Table, f Finding) []Fix {
	r, ok := ByID(f.Rule)
	if !ok || r.Fixes == nil {
		return nil
	}
	p := newPass(s, t)
	p.rule = r
	before := Check(s, t)
	return slices.DeleteFunc(r.Fixes(p, f), func(fix Fix) bool {
		fixed := fix.Do(s)
		if t, err := slots.For(fixed, t); err == nil {
			return !better(before, Check(fixed, t), f.Concern)
		}
		return true
	})
}

// better reports whether a finding is gone, no stop has come, and the same trouble has not
// come up somewhere else as gravely.
func better(before, after *Report, gone sheet.Concern) bool {
	had := map[sheet.Concern]Severity{}
	for _, f := range before.Findings {
		had[f.Concern] = f.Severity
	}
	for _, f := range after.Findings {
		was, there := had[f.Concern]
		switch {
		case f.Concern == gone,
			f.Severity == Stop && (!there || was < Stop),
			f.Rule == gone.Rule && !there && f.Severity >= had[gone]:
			return false
		}
	}
	return true
}

func (p *Pass) report() *Report {
	rep := &Report{Findings: p.found}
	used := make([]bool, len(p.Sheet.Accepted))
	for i := range rep.Findings {
		f := &rep.Findings[i]
		for k := range p.Sheet.Accepted {
			if p.Sheet.Accepted[k].Concern == f.Concern {
				f.Accepted, used[k] = &p.Sheet.Accepted[k], true
			}
		}
		switch {
		case f.Accepted != nil:
			rep.Accepted++
		case f.Severity == Stop:
			rep.Stops++
		case f.Severity == Caution:
			rep.Cautions++
		default:
			rep.Notes++
		}
	}
	for k, a := range p.Sheet.Accepted {
		if !used[k] {
			rep.Stale = append(rep.Stale, a)
		}
	}
	slices.SortStableFunc(rep.Findings, func(a, b Finding) int {
		return cmp.Or(
			compareBool(a.Accepted != nil, b.Accepted != nil),
			-cmp.Compare(a.Severity, b.Severity),
			comparePlace(a.Concern, b.Concern),
		) // and in a row rule by rule, from left to right
	})
	return rep
}

func compareBool(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}

// comparePlace orders concerns as the map does, the whole sheet last.
func comparePlace(a, b sheet.Concern) int {
	return cmp.Or(
		compareBool(a.On == sheet.OnSheet, b.On == sheet.OnSheet),
		compareBool(a.Row.Along, b.Row.Along),
		cmp.Compare(a.Row.At, b.Row.At),
	)
}

// slack is how far a value may miss its limit before it is reported: half of the
// last digit shown, so that no message reads "20.0, at least 20.0" and a bond that
// touches the limit does not flicker.
const slack = 0.05

// short reports whether a value misses the least allowed.
func short(value, least float64) bool { return value < least-slack }

// Validate says what is wrong with the list of rules; a test calls it.
func Validate(rules []*Rule) error {
	seen := map[string]bool{}
	for _, r := range rules {
		switch {
		case r.ID == "" || strings.ToLower(r.ID) != r.ID:
			return fmt.Errorf("rule %q: an id is lower case", r.ID)
		case seen[r.ID]:
			return fmt.Errorf("rule %s is there twice", r.ID)
		case r.Title == "" || strings.HasSuffix(r.Title, "."):
			return fmt.Errorf("rule %s: a title is one line without a full stop", r.ID)
		case len(r.Doc) < 80:
			return fmt.Errorf("rule %s is not explained", r.ID)
		case r.Since == "":
			return fmt.Errorf("rule %s does not say since when", r.ID)
		case r.Check == nil:
			return fmt.Errorf("rule %s checks nothing", r.ID)
		}
		for i, name := range r.Limits {
			if _, ok := name.Info(); !ok || slices.Contains(r.Limits[:i], name) {
				return fmt.Errorf("rule %s: %q is no limit, or there twice", r.ID, name)
			}
		}
		seen[r.ID] = true
	}
	return nil
}
