// Package lesson is what is practised and taught: exercises and their marking, sheets with faults to find, attempts on a
// training head, and demonstrations that are stepped through.
//
// It reads the same rules and totals as everything else: there is no second way to check.
package lesson

import (
	"fmt"
	"strings"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// Task is what a learner does in an exercise.
type Task string

// The tasks.
const (
	Place Task = "place" // place bonds until what counts is met
	Find  Task = "find"  // mark what is wrong on a sheet, and name the rule
	Fit   Task = "fit"   // fit a plan on a training head, and enter what was really made
)

// Tasks lists every task.
var Tasks = []Task{Place, Find, Fit}

// Showing is when a learner sees what the rules find.
type Showing string

// Findings are shown after every key, when they are asked for, or not before the mark.
const (
	Live  Showing = "live"
	Asked Showing = "asked"
	Never Showing = "never"
)

// Showings lists every way of showing findings.
var Showings = []Showing{Live, Asked, Never}

// Exercise is a practice sheet with a brief and what counts.
type Exercise struct {
	ID    string // the name of its file, as sheetfile.ExerciseID has it; of those that come with the program it is unique
	Own   bool   // it is somebody's own and does not come with the program
	Title string
	Task  Task
	Brief string // what is to be done, in paragraphs
	Who   string // the client, in a sentence or two

	Findings    Showing
	May         []Part   // what of the sheet may be touched
	Clear       []string // ids of rules that may not report anything, or AllStops, AllCautions
	Targets     []Target
	MostStrands int             // 0 where any number will do
	Faults      []sheet.Concern // of Find: each is on a slot, and the rule reports it there
	Tolerance   scalp.MM        // of Fit: how far from where it was planned a bond may lie

	Hints  []Hint // unfolded one at a time
	Ending string // what to take along, shown with the worked answer

	Start  *sheet.Sheet
	Answer *sheet.Sheet // of Place one that passes; of Find the sheet without its faults; of Fit the plan
}

// What Clear may hold besides the ids of rules: findings of a severity, whatever their rule.
const (
	AllStops    = "stops"
	AllCautions = "cautions"
)

// Hint is a push in the right direction, true of the start: either a rule reports something there, or a target is missed.
// Its text may hold {value}, {limit} and {where} of that finding, or {value} of that target.
type Hint struct {
	Text   string
	Rule   string       // the rule that reports on the start, or empty
	At     *sheet.Spot  // where it does, or nil for anywhere
	On     *sheet.Place // on which row it does, or nil for anywhere
	Target int          // the target missed at the start, by its number from 1, or 0
}

// Attempt is what a learner made of an exercise.
type Attempt struct {
	Exercise string // its ID
	Learner  string // initials or a number
	Date     string // ISO 8601, or empty
	Hints    int    // how many were unfolded
	Answered bool   // an answer was looked at

	Sheet *sheet.Sheet
	Found []sheet.Concern // of Find: what was marked, each a rule and a slot
	Off   []Off           // of Fit: bonds that do not lie in the middle of their slot
	Seen  []sheet.Spot    // of Fit: planned slots that were looked at
	Signed

	Steps []Step   // how it was made; not handed in
	Marks []Marked // each time that it was marked; not handed in
}

// Marked is a mark that was given.
type Marked struct {
	On     string // the day, ISO 8601
	Met    int
	Of     int
	Passed bool
	Hints  int // unfolded by then

	Answered bool // an answer had been looked at by then
}

// Off is how far a bond on a training head lies from the middle of its slot.
type Off = sheet.Off

// Signed is by whom an attempt was looked at.
type Signed struct {
	Assessor string
	On       string // the day, ISO 8601
	Seal     string // over all that was signed, so that a later change is seen; it does not prove who signed
}

// Share is the mark in %.
func (m Marked) Share() float64 { return 100 * float64(m.Met) / float64(max(1, m.Of)) }

// String is the mark in words: "passed, 7 of 7, with 2 hints and the answer".
func (m Marked) String() string {
	word := "not yet"
	if m.Passed {
		word = "passed"
	}
	text := fmt.Sprintf("%s, %d of %d, with %s", word, m.Met, m.Of, printable.Count(m.Hints, "hint"))
	if m.Answered {
		text += " and the answer"
	}
	return text
}

// MayWords says what of the sheet the exercise leaves to the learner.
func (x *Exercise) MayWords() string {
	if x.Task == Find {
		return "nothing: what is wrong is named, not mended"
	}
	if len(x.May) == 0 {
		return "nothing"
	}
	words := make([]string, len(x.May))
	for i, part := range x.May {
		words[i] = part.Words()
	}
	return strings.Join(words, ", ")
}

// Script is a sheet and what is done to it, step by step: a demonstration, or a recorded session.
type Script struct {
	Title string
	About string // for whom and what for, or empty
	Say   string // about the start, or empty
	Start *sheet.Sheet
	Steps []Step
}

// Step is one step of a script.
type Step struct {
	Did   string       // as the history names it: "place a bond"
	Say   string       // what to look at, or empty
	Look  *sheet.Spot  // where to look, or nil
	Sheet *sheet.Sheet // after it
}

// At is the sheet after n steps; 0 is the start.
func (s *Script) At(n int) *sheet.Sheet {
	if n == 0 {
		return s.Start
	}
	return s.Steps[n-1].Sheet
}
