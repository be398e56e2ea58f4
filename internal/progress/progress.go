// Package progress keeps what learners have made of exercises: a file for each learner and exercise, so that work goes on where it
// was left, and what was passed is known.
package progress

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
	"unicode"

	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/ordinary"
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

// of is the folder of a learner. A name holds nothing that a file system could take for a path, and no underscore.
func (f Folder) of(learner string) string {
	return filepath.Join(string(f), strings.ReplaceAll(strings.ToLower(learner), " ", "_"))
}

// File is where a learner's work at an exercise is kept. Somebody's own exercises are told apart by what they begin with, since two may have
// one name.
func (f Folder) File(learner string, x *lesson.Exercise) string {
	name := filepath.Base(x.ID)
	if x.Own {
		sum := sha256.Sum256(sheetfile.Encode(x.Start))
		name += "-" + hex.EncodeToString(sum[:4])
	}
	return filepath.Join(f.of(learner), name+".toml")
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
	return sheetfile.WriteAtomic(f.File(a.Learner, x), sheetfile.EncodeAttempt(a, x.Start))
}

// ErrKept is about work that is there and cannot be taken up, and must not be written over.
var ErrKept = errors.New("what was kept cannot be read")

// Take reads what a learner has made of an exercise; nil where that is nothing yet. Work that does not fit the exercise any more, which
// has changed since, is put aside under another name: the error says so, and the attempt has the marks and hints without a sheet. An
// ErrKept is about a file that cannot be looked into at all.
func (f Folder) Take(x *lesson.Exercise, learner string) (*lesson.Attempt, error) {
	if f == "" {
		return nil, nil
	}
	path := f.File(learner, x)
	data, err := ordinary.Read(path, sheetfile.MaxSize)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil
	case err != nil:
		return nil, fmt.Errorf("%w: %w", ErrKept, err)
	}
	a, _, err := sheetfile.DecodeProgress(path, data, x.Start)
	if err == nil {
		return a, nil
	}
	marks, unread := sheetfile.GlanceProgress(path)
	aside, moved := putAside(path)
	switch {
	case moved != nil:
		return nil, fmt.Errorf("%w: %w", ErrKept, moved)
	case unread != nil:
		marks = nil
	default:
		marks.Signed = lesson.Signed{}
	}
	return marks, fmt.Errorf("what was kept does not fit this exercise any more, and was put aside as %s", aside)
}

// putAside gives a file another name, one that is free.
func putAside(path string) (aside string, err error) {
	for n := 1; ; n++ {
		aside = fmt.Sprintf("%s.old%d", path, n)
		if _, err := os.Lstat(aside); errors.Is(err, fs.ErrNotExist) {
			return aside, os.Rename(path, aside)
		} else if n == 1000 {
			return "", errors.New("there are too many files that were put aside")
		}
	}
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
		if !ok || m.Share() >= best.Share() {
			best, ok = m, true
		}
	}
	return best, ok
}

// Passed reports whether the exercise was ever passed.
func (r Record) Passed() bool {
	return slices.ContainsFunc(r.Marks, func(m lesson.Marked) bool { return m.Passed })
}

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

// learner is somebody who has practised here.
type learner struct {
	name string
	last time.Time // by the clock of the file system
}

// mostLearners is how many folders of learners are looked into.
const mostLearners = 2000

// Learners are those who have practised here, who did so last first. Names are as they were typed last.
func (f Folder) Learners() []string {
	entries, err := ordinary.Entries(string(f), mostLearners)
	if f == "" || err != nil {
		return nil
	}
	var all []learner
	for _, e := range entries {
		if l, ok := f.lastOf(e); ok {
			all = append(all, l)
		}
	}
	slices.SortStableFunc(all, func(a, b learner) int { return cmp.Or(b.last.Compare(a.last), cmp.Compare(a.name, b.name)) })
	names := make([]string, len(all))
	for i, l := range all {
		names[i] = l.name
	}
	return names
}

// lastOf is the learner whose folder an entry is, by the file written last of those that can be read.
func (f Folder) lastOf(e os.DirEntry) (last learner, ok bool) {
	paths, _ := filepath.Glob(filepath.Join(globbed(filepath.Join(string(f), e.Name())), "*.toml"))
	for _, path := range paths {
		info, err := os.Stat(path)
		if err != nil || ok && !info.ModTime().After(last.last) {
			continue
		}
		if a, err := sheetfile.GlanceProgress(path); err == nil && a.Learner != "" {
			last, ok = learner{a.Learner, info.ModTime()}, true
		}
	}
	return last, ok
}
