package lesson

import (
	"fmt"
	"slices"
	"strings"

	"example.org/underveil/internal/sheet"
)

// Check says what is wrong with an exercise, a sentence each: whether it can be solved, its own answer passing and its start not,
// whether its hints are true, and whether it is worded completely. An exercise that comes out of it with nothing can be handed to learners.
func (j *Judge) Check() []string {
	problems := j.wording()
	problems = append(problems, j.solving()...)
	for i := range j.Exercise.Hints {
		if text, err := j.HintText(i, j.Exercise.Start); err != nil {
			problems = append(problems, fmt.Sprintf("hint %d is not true of the start: %v", i+1, err))
		} else if strings.ContainsAny(text, "{}") {
			problems = append(problems, fmt.Sprintf("hint %d: in braces stand {value} and {limit}, and {where} of a finding", i+1))
		}
	}
	return problems
}

// The least that an exercise says, in characters: less is a heading, not a brief.
const (
	leastBrief  = 60
	leastEnding = 60
)

// wording says what of the texts is missing.
func (j *Judge) wording() []string {
	x := j.Exercise
	var problems []string
	missing := func(is bool, problem string) {
		if is {
			problems = append(problems, problem)
		}
	}
	missing(strings.TrimSpace(x.Title) == "", "it has no title: exercise is empty")
	missing(len(x.Brief) < leastBrief, "the brief is too short to work from: say what is to be done, and for what")
	missing(strings.TrimSpace(x.Who) == "", "nothing is said about the client: add who")
	missing(len(x.Ending) < leastEnding, "the ending is too short: say what to take along from it")
	missing(len(x.Hints) == 0, "it has no hint")
	missing(strings.Contains(x.Brief+x.Who+x.Ending, unworded), "it still has texts to be written, marked with "+unworded)
	for i, h := range x.Hints {
		missing(len(strings.TrimSpace(h.Text)) < 10, fmt.Sprintf("hint %d says too little", i+1))
		missing(strings.Contains(h.Text, unworded), fmt.Sprintf("hint %d is still to be written", i+1))
	}
	if _, t, err := j.Report(x.Start); err == nil {
		for i, target := range x.Targets {
			if target.Row == nil {
				continue
			}
			_, err := t.Line(*target.Row)
			missing(err != nil, fmt.Sprintf("target %d: no row can lie at %s: %v", i+1, target.Row, err))
		}
	}
	for i, id := range x.Clear {
		missing(slices.Contains(x.Clear[:i], id), id+" is listed twice in clear")
	}
	return problems
}

// solving says whether the exercise can be solved, and is not solved to begin with.
func (j *Judge) solving() []string {
	x := j.Exercise
	var problems []string
	switch x.Task {
	case Find:
		problems = CheckFaults(j.Under(x.Start), j.Under(x.Answer), x.Faults)
		if len(x.Faults) == 0 {
			problems = append(problems, "there is no fault to find: add [[fault]]")
		}
	case Fit:
		if x.Answer.Bonds() == 0 {
			problems = append(problems, "the plan has no bond to fit: the answer is the plan")
		}
		if x.Tolerance == 0 {
			problems = append(problems, "to fit it needs a tolerance, in mm")
		}
	default:
		if len(x.Clear)+len(x.Targets) == 0 {
			problems = append(problems, "nothing counts: add clear, or [[target]]")
		}
		if len(x.May) == 0 {
			problems = append(problems, "nothing may be touched: add may")
		}
	}
	if len(problems) > 0 {
		return problems
	}
	switch start, err := j.Mark(&Attempt{Sheet: x.Start}); {
	case err != nil:
		return append(problems, "the start does not fit the head: "+err.Error())
	case start.Passed:
		problems = append(problems, "the start passes as it is: there is nothing to do")
	}
	switch answer, err := j.Mark(j.Answered()); {
	case err != nil:
		problems = append(problems, "the answer does not fit the head: "+err.Error())
	case !answer.Passed:
		for _, p := range answer.Points {
			if !p.Met {
				problems = append(problems, "the answer does not pass: "+p.What+": "+p.Why)
			}
		}
	}
	return append(problems, j.tooEasy()...)
}

// tooEasy says what an answer that is none would pass by.
func (j *Judge) tooEasy() []string {
	x := j.Exercise
	if x.Task != Place {
		return nil
	}
	var problems []string
	offset := func(r sheet.Row) bool { return r.Offset }
	if slices.Contains(x.Clear, "stacked") && !slices.ContainsFunc(x.Answer.Rows, offset) {
		problems = append(problems, "stacked is in clear, and it looks only below rows for which the offset was asked: no row of the answer has offset = true")
	}
	for _, r := range x.Answer.Rows {
		for slot, b := range r.All() {
			one := x.Answer.With(func(c *sheet.Sheet) { c.Rows = nil }).WithBond(r.Place, slot, b)
			if m, err := j.Points(AttemptOf(x, one)); err == nil && m.Passed && x.Answer.Bonds() > 1 {
				return append(problems, "a single bond would pass: add [[target]] with what is asked for, like bonds")
			}
			break // one of each row will do
		}
	}
	return problems
}

// Answered is the attempt that the exercise itself gives as its answer.
func (j *Judge) Answered() *Attempt {
	x := j.Exercise
	switch x.Task {
	case Find:
		return &Attempt{Exercise: x.ID, Sheet: x.Start, Found: x.Faults}
	case Fit:
		a := &Attempt{Exercise: x.ID, Sheet: x.Answer}
		for _, r := range x.Answer.Rows {
			for slot := range r.All() {
				a.Seen = append(a.Seen, sheet.Spot{At: r.Place, Slot: slot})
			}
		}
		return a
	}
	return &Attempt{Exercise: x.ID, Sheet: x.Answer}
}

// unworded marks texts of a new exercise that are still to be written.
const unworded = "..."

// New begins an exercise from a sheet: its answer is that sheet, its start the same without rows, or a start of its own. What counts is
// that nothing grave is found, and as many strands as the answer takes; the texts are still to be written.
func New(id string, start, answer *sheet.Sheet) *Exercise {
	return &Exercise{
		ID: id, Title: answer.Title, Task: Place, Findings: Live,
		Brief:  "What is to be done, and for what " + unworded,
		Who:    "The client, in a sentence " + unworded,
		Ending: "What to take along " + unworded,
		Start:  start, Answer: answer, May: Changed(start, answer),
		Clear:   []string{AllStops, AllCautions},
		Targets: []Target{{Of: FigureBonds, Least: float64(max(1, answer.Bonds()-2)), Most: float64(answer.Bonds() + 2)}},
		Hints:   []Hint{{Text: "There are {value} of {limit} bonds " + unworded, Target: 1}},
	}
}
