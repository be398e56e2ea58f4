package lesson

import (
	"fmt"
	"slices"
	"strings"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
)

// ToFind is a complete exercise in finding the faults of a seeded sheet; answer is the sheet without them. It has a hint for each fault, which
// is true because the rule reports on that row: it names the rule, or where another hint has done so already, the row.
func ToFind(id string, answer *sheet.Sheet, made Seeded) *Exercise {
	x := &Exercise{ID: id, Title: "Faults to find", Task: Find, Findings: Never, Start: made.Sheet, Answer: answer, Faults: made.Faults}
	if answer.Title != "" {
		x.Title += ": " + answer.Title
	}
	x.Brief = fmt.Sprintf("Somebody made %s on this sheet. Go through it as if the client came tomorrow: mark each slot where a bond may not be as it is, "+
		"and name the rule that says so. Whatever is marked and in order takes a point off.", printable.Count(len(made.Faults), "mistake"))
	x.Who = clientOf(answer)
	var rules []string
	for _, fault := range made.Faults {
		text := fmt.Sprintf("There is another of those on the row at %s. Go along it slot by slot.", fault.Row)
		if !slices.Contains(rules, fault.Rule) {
			rules = append(rules, fault.Rule)
			r, _ := rule.ByID(fault.Rule)
			text = fmt.Sprintf("Look for %s: %s.", r.Title, r.ID)
		}
		x.Hints = append(x.Hints, Hint{Text: text, Rule: fault.Rule, On: &fault.Row})
	}
	x.Ending = fmt.Sprintf("What was wrong here is reported by %s. Every sheet is gone through once before any heat: along each row, "+
		"then along the hairline, the partings and the patches.", listOf(rules))
	return x
}

// clientOf is the client of a sheet in a sentence.
func clientOf(s *sheet.Sheet) string {
	text := "A client"
	if s.Client != "" {
		text = "Client " + s.Client
	}
	var hair []string
	for _, word := range []string{s.Hair.Density, s.Hair.Texture} {
		if word != "" {
			hair = append(hair, word)
		}
	}
	switch {
	case s.Hair.Length > 0:
		text += fmt.Sprintf(" with %s of %g mm", strings.Join(append(hair, "hair"), " "), float64(s.Hair.Length))
	case hair != nil:
		text += " with " + strings.Join(hair, " ") + " hair"
	}
	worn := []string{string(sheet.WornDown)}
	if len(s.Worn) > 0 {
		worn = nil
		for _, w := range s.Worn {
			worn = append(worn, string(w))
		}
	}
	text += ", worn " + listOf(worn)
	if len(s.Wish) > 0 {
		var looks []string
		for _, l := range s.Wish {
			looks = append(looks, string(l))
		}
		text += ", for " + listOf(looks)
	}
	return text + "."
}

// listOf is words as they are listed: "nape, ear and face".
func listOf(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// Counts are the things that an exercise is marked by, a line each. Of Find they do not say where.
func (x *Exercise) Counts() []string {
	var lines []string
	switch x.Task {
	case Find:
		lines = append(lines, printable.Count(len(x.Faults), "fault")+" to find and to name; one named wrongly takes one off")
	case Fit:
		lines = append(lines, "every planned bond was looked at")
		for _, r := range x.Answer.Rows {
			lines = append(lines, rowWords(r.Place, r.Count(), x.Tolerance))
		}
		lines = append(lines, "no planned bond is missing", "nothing is made besides the plan", "every bond is of the kind planned")
	}
	for _, id := range x.Clear {
		lines = append(lines, id+": clear")
	}
	for _, t := range x.Targets {
		lines = append(lines, t.String())
	}
	if x.MostStrands > 0 {
		lines = append(lines, Target{Of: FigureStrands, Most: float64(x.MostStrands)}.String())
	}
	return lines
}
