// Package class marks the hand-ins of a class: every attempt in a folder at one exercise, with what was missed most often.
package class

import (
	"cmp"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"

	"example.org/underveil/internal/ledger"
	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/unit"
)

// State is how a hand-in came out.
type State string

// The states.
const (
	Passed    State = "passed"
	NotYet    State = "not yet"
	Elsewhere State = "not marked" // it is for another exercise
	NotRead   State = "not read"
)

// HandIn is one file of a class, and how it came out. All its text is safe to show.
type HandIn struct {
	File    string // its name in the folder
	Learner string // initials or a number, or empty
	Date    string // ISO 8601, or empty
	State   State
	Why     string // of what was not read or not marked

	Met, Of int     // points
	Share   float64 // in %
	Plain   bool    // it is an ordinary head sheet, which says nothing of a learner or of hints
	Hints   int     // that were unfolded
	Seen    bool    // the answer was looked at
	First   Point   // the first that was missed, or that took a point off; nothing where all were met
	Next    string  // what to try next, or empty
	Points  []Point // where they were asked for

	Like     string // "the start, untouched" or "the worked answer", or empty
	Assessor string // who signed it, or empty
	Unsealed string // what is wrong with the seal of one that is signed, or empty
}

// Marked reports whether there is a mark.
func (h HandIn) Marked() bool { return h.State == Passed || h.State == NotYet }

// Point is one point of a mark, as lesson.Point has it.
type Point struct {
	What, Why string
	Met       bool
	Off       bool // it takes a point off
}

// Missed is a point that was missed, or a slot that was marked wrongly, and by how many.
type Missed struct {
	What    string
	By      int
	Wrongly bool // marked as wrong where nothing is
}

// Same are hand-ins with the same content.
type Same struct {
	Like  string // what they are like besides each other, as in HandIn
	Files []string
}

// Class is a folder of hand-ins, marked.
type Class struct {
	ID, Title string // of the exercise
	LimitsOf  string // the college whose limits hold, or empty
	Unsolved  string // the mark of the exercise's own answer, where it does not pass by these limits; or empty
	Task      lesson.Task
	Units     unit.Unit // that Text shows lengths in
	Others    int       // files and folders in the folder that are no hand-ins
	HandIns   []HandIn
	Missed    []Missed // the most often missed first
	Same      []Same   // in the order of their first files
}

// Count is how many hand-ins are in a state.
func (c *Class) Count(s State) int {
	n := 0
	for _, h := range c.HandIns {
		if h.State == s {
			n++
		}
	}
	return n
}

// BadSeals is how many of those that passed are signed, and were changed after that.
func (c *Class) BadSeals() int {
	n := 0
	for _, h := range c.HandIns {
		if h.State == Passed && h.Unsealed != "" {
			n++
		}
	}
	return n
}

// Twice are learners who have handed in more than once, with their files.
func (c *Class) Twice() []Same {
	var all []Same
	at := map[string]int{}
	for _, h := range c.HandIns {
		name := strings.ToLower(h.Learner)
		if name == "" || h.State == Elsewhere {
			continue
		}
		if at[name] == 0 {
			all = append(all, Same{Like: h.Learner})
			at[name] = len(all)
		}
		all[at[name]-1].Files = append(all[at[name]-1].Files, h.File)
	}
	return slices.DeleteFunc(all, func(s Same) bool { return len(s.Files) < 2 })
}

// Marked is how many hand-ins have a mark.
func (c *Class) Marked() int { return c.Count(Passed) + c.Count(NotYet) }

// Mean is the mean share of the points, in %, of those that have a mark; 0 for none.
func (c *Class) Mean() float64 {
	sum := 0.0
	for _, h := range c.HandIns {
		if h.Marked() {
			sum += h.Share
		}
	}
	return sum / float64(max(1, c.Marked()))
}

// Terms are what a class is marked by.
type Terms struct {
	Exercise *lesson.Exercise
	Limits   map[sheet.LimitName]float64 // a college's own, or nil
	LimitsOf string                      // the college
	Points   bool                        // all points of each mark are kept
	NoHandIn []string                    // files that may lie in the folder and are none: the exercise itself
}

// Mark marks every hand-in of a folder, several at once, sorted by name. Hand-ins are the files that end in .toml, not those in folders below it and not
// hidden ones; each is an attempt or an ordinary head sheet. Of each only its row is kept, so that a folder of any size takes little
// memory.
//
// What cannot be read or marked has a row that says why, and is in unread besides; it does not stop the others. The error is that of
// the folder itself, and says what to do.
func Mark(folder string, by Terms) (c *Class, unread []ledger.Unread, err error) {
	files, others, err := filesIn(folder, by.NoHandIn)
	if err != nil {
		return nil, nil, err
	}
	results := make([]result, len(files))
	next := make(chan int)
	known := knownOf(by)
	var work sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(files)) {
		work.Go(func() {
			m := newMarker(by, known)
			for i := range next {
				results[i] = m.mark(folder, files[i])
			}
		})
	}
	for i := range files {
		next <- i
	}
	close(next)
	work.Wait()
	c = &Class{ID: printable.Line(by.Exercise.ID), Title: by.Exercise.Title, LimitsOf: by.LimitsOf, Task: by.Exercise.Task, Others: others, Unsolved: unsolved(by)}
	c.gather(results, by.Exercise.Task)
	for _, h := range c.HandIns {
		if h.State == NotRead {
			unread = append(unread, ledger.Unread{File: filepath.Join(printable.Line(folder), h.File), Why: h.Why})
		}
	}
	return c, unread, nil
}

// unsolved is the mark of the exercise's own answer by these terms, where it does not pass.
func unsolved(by Terms) string {
	j := &lesson.Judge{Exercise: by.Exercise, Limits: by.Limits, LimitsOf: by.LimitsOf}
	switch m, err := j.Points(j.Answered()); {
	case err != nil:
		return printable.Line(err.Error())
	case !m.Passed:
		return m.Summary()
	}
	return ""
}

// ending is how the files that are looked at end.
const ending = ".toml"

// filesIn are the hand-ins of a folder, by name, and how many files and folders there are besides, other than some that may be.
func filesIn(folder string, but []string) (files []fs.DirEntry, others int, err error) {
	if err := ledger.IsFolder(folder); err != nil {
		return nil, 0, err
	}
	entries, err := os.ReadDir(folder)
	if err != nil {
		var at *fs.PathError
		if errors.As(err, &at) {
			err = at.Err
		}
		return nil, 0, errors.New(printable.Quote(folder) + " cannot be looked into: " + err.Error())
	}
	for _, e := range entries {
		switch {
		case isOneOf(filepath.Join(folder, e.Name()), but):
		case !strings.EqualFold(filepath.Ext(e.Name()), ending) || strings.HasPrefix(e.Name(), "."):
			others++
		default:
			files = append(files, e)
		}
	}
	return files, others, nil
}

// isOneOf reports whether a path is the same file as one of others.
func isOneOf(path string, others []string) bool {
	for _, other := range others {
		there, err := os.Stat(other)
		if err != nil || filepath.Base(other) != filepath.Base(path) { // for a class of thousands each look at the disk counts
			continue
		}
		if info, err := os.Stat(path); err == nil && os.SameFile(info, there) {
			return true
		}
	}
	return false
}

// gather makes the class of what came of its files.
func (c *Class) gather(results []result, task lesson.Task) {
	missed := map[Missed]int{}
	groups := map[content]int{} // by content, the number of the group from 1
	for _, r := range results {
		c.HandIns = append(c.HandIns, r.HandIn)
		for _, m := range r.missed {
			missed[m]++
		}
		if !r.Marked() || task == lesson.Find && r.State == Passed {
			continue // who finds every fault and nothing else hands in what everybody does who is right
		}
		n := groups[r.content]
		if n == 0 {
			c.Same = append(c.Same, Same{Like: r.Like})
			n = len(c.Same)
			groups[r.content] = n
		}
		c.Same[n-1].Files = append(c.Same[n-1].Files, r.File)
	}
	c.Same = slices.DeleteFunc(c.Same, func(s Same) bool { return len(s.Files) < 2 })
	for m, by := range missed {
		m.By = by
		c.Missed = append(c.Missed, m)
	}
	slices.SortFunc(c.Missed, func(a, b Missed) int { return cmp.Or(cmp.Compare(b.By, a.By), strings.Compare(a.What, b.What)) })
}
