// Package progress keeps what learners have made of exercises: a file for each learner and exercise, so that work goes on where it
// was left, and what was passed is known.
package progress

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"unicode"

	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/sheetfile"
)

// Folder is where progress is kept: in it a folder for each learner, in that a file for each exercise. The zero value keeps nothing.
type Folder string

// ErrName is about a learner's name that cannot be one.
var ErrName = errors.New("initials, a number or a short name, in letters, digits and blanks")

// longestName is how long a learner's name may be, in characters.
const longestName = 24

// Name is a learner's name as it is kept: without blanks at its ends, and otherwise as it was typed. Names that differ in capitals alone
// are the same learner's.
func Name(typed string) (string, error) {
	name := strings.Join(strings.Fields(typed), " ")
	if name == "" || len([]rune(name)) > longestName {
		return "", ErrName
	}
	for _, r := range name {
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != ' ' && r != '-' {
			return "", ErrName
		}
	}
	return name, nil
}

// of is the folder of a learner. A name holds nothing that a file system could take for a path.
func (f Folder) of(learner string) string {
	return filepath.Join(string(f), strings.ReplaceAll(strings.ToLower(learner), " ", "-"))
}

func (f Folder) file(learner, exercise string) string {
	return filepath.Join(f.of(learner), filepath.Base(exercise)+".toml")
}

// Keep writes what a learner has made of an exercise.
func (f Folder) Keep(x *lesson.Exercise, a *lesson.Attempt) error {
	if f == "" {
		return nil
	}
	if _, err := Name(a.Learner); err != nil {
		return err
	}
	if err := os.MkdirAll(f.of(a.Learner), 0o700); err != nil {
		return err
	}
	return sheetfile.WriteAtomic(f.file(a.Learner, x.ID), sheetfile.EncodeAttempt(a, x.Start))
}

// Take reads what a learner has made of an exercise; nil where that is nothing yet. What does not fit the exercise any more, which
// has changed since, is put aside under another name, and the error says so.
func (f Folder) Take(x *lesson.Exercise, learner string) (*lesson.Attempt, error) {
	if f == "" {
		return nil, nil
	}
	path := f.file(learner, x.ID)
	data, err := os.ReadFile(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil
	case err != nil:
		return nil, err
	}
	a, _, err := sheetfile.DecodeProgress(path, data, x.Start)
	if err == nil {
		return a, nil
	}
	old := path + ".old"
	if moved := os.Rename(path, old); moved != nil {
		return nil, moved
	}
	return nil, fmt.Errorf("what was kept does not fit this exercise any more, and was put aside as %s", old)
}

// Record is how a learner stands with an exercise.
type Record struct {
	Exercise string // its ID
	Marks    []lesson.Marked
	Hints    int
}

// Best is the best mark, the latest of equals; ok is false where none was given yet.
func (r Record) Best() (best lesson.Marked, ok bool) {
	for _, m := range r.Marks {
		if !ok || share(m) >= share(best) {
			best, ok = m, true
		}
	}
	return best, ok
}

// Passed reports whether the exercise was ever passed.
func (r Record) Passed() bool {
	return slices.ContainsFunc(r.Marks, func(m lesson.Marked) bool { return m.Passed })
}

func share(m lesson.Marked) float64 { return float64(m.Met) / float64(max(1, m.Of)) }

// Of is how a learner stands with each exercise that was begun, by ID. Files that cannot be read are left out.
func (f Folder) Of(learner string) map[string]Record {
	all := map[string]Record{}
	if f == "" || learner == "" {
		return all
	}
	paths, err := filepath.Glob(filepath.Join(globbed(f.of(learner)), "*.toml"))
	if err != nil {
		return all
	}
	for _, path := range paths {
		id := strings.TrimSuffix(filepath.Base(path), ".toml")
		if r, err := sheetfile.GlanceProgress(path); err == nil {
			all[id] = Record{Exercise: id, Marks: r.Marks, Hints: r.Hints}
		}
	}
	return all
}

// globbed is a path without anything that a pattern would take for more than itself.
func globbed(path string) string {
	return strings.NewReplacer(`[`, `[[]`, `*`, `[*]`, `?`, `[?]`).Replace(path)
}

// Learner is somebody who has practised here.
type Learner struct {
	Name  string
	Since string // when last, as a time that sorts; by the clock of the file system
}

// Learners are those who have practised here, who did so last first. Names are as they were typed last.
func (f Folder) Learners() []string {
	entries, err := os.ReadDir(string(f))
	if f == "" || err != nil {
		return nil
	}
	var all []Learner
	for _, e := range entries {
		if l, ok := f.lastOf(e); ok {
			all = append(all, l)
		}
	}
	slices.SortStableFunc(all, func(a, b Learner) int { return cmp.Or(-cmp.Compare(a.Since, b.Since), cmp.Compare(a.Name, b.Name)) })
	names := make([]string, len(all))
	for i, l := range all {
		names[i] = l.Name
	}
	return names
}

// lastOf is the learner whose folder an entry is, by the file written last.
func (f Folder) lastOf(e os.DirEntry) (Learner, bool) {
	var last Learner
	paths, _ := filepath.Glob(filepath.Join(globbed(filepath.Join(string(f), e.Name())), "*.toml"))
	newest := ""
	for _, path := range paths {
		info, err := os.Stat(path)
		if err != nil {
			continue
		}
		if when := info.ModTime().UTC().Format("20060102150405.000000000"); when >= last.Since {
			last.Since, newest = when, path
		}
	}
	if newest == "" {
		return last, false
	}
	a, err := sheetfile.GlanceProgress(newest)
	if err != nil || a.Learner == "" {
		return last, false
	}
	last.Name = a.Learner
	return last, true
}
