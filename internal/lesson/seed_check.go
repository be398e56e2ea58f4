package lesson

import (
	"fmt"
	"slices"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// CheckFaults says, a sentence each, what is wrong with a sheet with faults to find: start, the same without them: answer, and the
// list of the faults. It is in order where every fault is a stop or a caution of its rule in its slot of the start alone, no other rule
// has something grave to say of that slot, and all that is grave on the start and not on the answer is listed. Both sheets are
// looked at by their own limits and on their own day.
func CheckFaults(start, answer *sheet.Sheet, faults []sheet.Concern) []string {
	table, err := slots.For(start, nil)
	if err != nil {
		return []string{"the start does not fit the head: " + printable.Line(err.Error())}
	}
	begun := rule.Check(start, table)
	if table, err = slots.For(answer, table); err != nil {
		return []string{"the answer does not fit the head: " + printable.Line(err.Error())}
	}
	ended := rule.Check(answer, table)
	var problems []string
	for i, fault := range faults {
		if slices.Contains(faults[:i], fault) {
			problems = append(problems, faultName(fault)+": this fault is listed twice")
			continue
		}
		problems = append(problems, faulty(fault, begun, ended)...)
	}
	return append(problems, unlisted(begun, ended, faults)...)
}

// faultName is a concern as a sentence begins with it: "nape, height 10, slot 3 left".
func faultName(c sheet.Concern) string { return printable.Line(c.Rule + ", " + rule.Where(c)) }

// faulty says what is wrong with one listed fault.
func faulty(fault sheet.Concern, begun, ended *rule.Report) []string {
	if _, known := rule.ByID(fault.Rule); !known {
		return []string{faultName(fault) + ": no rule is called that"}
	}
	if fault.On != sheet.OnSlot || fault.About != "" {
		return []string{faultName(fault) + ": a fault is in one slot, so that it can be pointed at"}
	}
	var problems []string
	switch f := findingOf(begun, fault); {
	case f == nil:
		problems = append(problems, faultName(fault)+": on the start the rule reports nothing there")
	case f.Accepted != nil:
		problems = append(problems, faultName(fault)+": on the start somebody has accepted that, so it is no fault")
	case f.Severity < rule.Caution:
		problems = append(problems, faultName(fault)+": on the start that is only a note, so it is no fault")
	}
	if findingOf(ended, fault) != nil {
		problems = append(problems, faultName(fault)+": on the answer the rule reports it still")
	}
	for _, f := range begun.Findings {
		if f.Rule != fault.Rule && f.Severity >= rule.Caution && f.On == sheet.OnSlot && spotOf(f.Concern) == spotOf(fault) {
			problems = append(problems, fmt.Sprintf("%s: %s reports that slot as well, so there are two right answers", faultName(fault), f.Rule))
		}
	}
	return problems
}

// unlisted says what of the grave findings is on one of the sheets only and is no listed fault.
func unlisted(begun, ended *rule.Report, faults []sheet.Concern) []string {
	var problems []string
	for _, f := range begun.Findings {
		if isGrave(&f) && !gravely(ended, f.Concern) && !slices.Contains(faults, f.Concern) {
			problems = append(problems, faultName(f.Concern)+": the start has it and the answer has not, so it is a fault that is not listed")
		}
	}
	for _, f := range ended.Findings {
		if isGrave(&f) && !gravely(begun, f.Concern) {
			problems = append(problems, faultName(f.Concern)+": the answer has it and the start has not, so the answer is no better there")
		}
	}
	return problems
}

// isGrave reports whether a finding is a stop or a caution that nobody accepted.
func isGrave(f *rule.Finding) bool { return f.Severity >= rule.Caution && f.Accepted == nil }

// gravely reports whether a report has a grave finding about a concern.
func gravely(rep *rule.Report, c sheet.Concern) bool {
	f := findingOf(rep, c)
	return f != nil && isGrave(f)
}
