package class

import (
	"errors"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"

	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
)

// marker marks hand-ins one after another. One is for one goroutine.
type marker struct {
	by    Terms
	known map[content]string // contents that are no work of a learner's, and what they are called
	heads sheetfile.Heads
	judge *lesson.Judge // of hand-ins on the head of the start, whose table stays
	other *lesson.Judge // of those with another one
}

func newMarker(by Terms, known map[content]string) *marker {
	judge := func() *lesson.Judge {
		return &lesson.Judge{Exercise: by.Exercise, Limits: by.Limits, LimitsOf: by.LimitsOf}
	}
	return &marker{by: by, known: known, judge: judge(), other: judge()}
}

// result is what came of a file.
type result struct {
	HandIn
	content content
	missed  []Missed // with no counts
}

// mark reads a file and marks what is in it.
func (m *marker) mark(folder string, file fs.DirEntry) result {
	r := result{HandIn: HandIn{File: printable.Line(file.Name())}}
	notRead := func(why string) result {
		r.State, r.Why = NotRead, why
		return r
	}
	if file.Type()&fs.ModeSymlink != 0 {
		return notRead("this is a link, and links are not followed; put the file itself there")
	}
	a, _, err := m.heads.LoadAttempt(filepath.Join(folder, file.Name()))
	var all sheetfile.Errors
	switch {
	case errors.As(err, &all):
		return notRead(all.Brief())
	case err != nil:
		return notRead(printable.Line(err.Error()))
	}
	r.about(a)
	if a.Exercise != "" && a.Exercise != m.by.Exercise.ID {
		r.State, r.Why = Elsewhere, "this is for another exercise, "+printable.Quote(a.Exercise)
		return r
	}
	if err := r.marked(m.judgeOf(a.Sheet), a, m.by.Points); err != nil {
		return notRead("this does not fit the head: " + printable.Line(err.Error()))
	}
	r.content = contentOf(a)
	r.Like = m.known[r.content]
	return r
}

// judgeOf is the judge for a sheet. A table of slots takes longer than all the rest, so one that most hand-ins share is not given up for
// one that moved the hairline.
func (m *marker) judgeOf(s *sheet.Sheet) *lesson.Judge {
	start := m.by.Exercise.Start
	for _, p := range lesson.Changed(start, s) {
		if slices.Contains(ofTheTable, p) {
			return m.other
		}
	}
	was, _ := start.Limit(sheet.LimitFringeDepth) // the one limit that says where something lies
	if is, _ := s.Limit(sheet.LimitFringeDepth); is != was {
		return m.other
	}
	return m.judge
}

// ofTheTable are the parts that the distances of a slot table depend on.
var ofTheTable = []lesson.Part{lesson.Head, lesson.Strip, lesson.Worn, lesson.Patches}

// about takes over whose attempt it is and what is beside the sheet. Texts are copied, or they would hold on to all of the file.
func (r *result) about(a *lesson.Attempt) {
	r.Learner, r.Date, r.Assessor, r.Hints = strings.Clone(a.Learner), strings.Clone(a.Date), strings.Clone(a.Assessor), a.Hints
	r.Seen = a.Answered
	r.Plain = a.Exercise == ""
	switch {
	case a.Seal == "" && (a.Assessor != "" || a.On != ""):
		r.Unsealed = "it is signed and has no seal"
	case a.Seal != "" && a.Seal != sheetfile.Seal(a):
		r.Unsealed = "its seal does not fit: it was changed after it was signed"
	}
}

// marked takes over the mark of an attempt.
func (r *result) marked(j *lesson.Judge, a *lesson.Attempt, all bool) error {
	judge := j.Points
	if all {
		judge = j.Mark // with what to try next, which takes its time
	}
	mark, err := judge(a)
	if err != nil {
		return err
	}
	r.Met, r.Of, r.Share, r.State = mark.Met, mark.Of, mark.Share(), NotYet
	if mark.Passed {
		r.State = Passed
	}
	for _, p := range mark.Points {
		point := Point{What: printable.Line(p.What), Why: printable.Line(p.Why), Met: p.Met, Off: p.Off}
		if all {
			r.Points = append(r.Points, point)
		}
		if p.Met {
			continue
		}
		r.missed = append(r.missed, Missed{What: point.What, Wrongly: p.Off && p.Concern != nil})
		if r.First == (Point{}) {
			r.First = point
		}
	}
	if all {
		r.Next = printable.Line(mark.Next)
	}
	return nil
}
