// Package ledger reads the sheets of a folder one after another and keeps of each the few lines that a list of many
// clients needs: who is due when, and what strands and tips the coming visits take.
package ledger

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
)

// Unread is a file, or a folder, that could not be read. Its text is safe to show.
type Unread struct{ File, Why string }

// ending is how the files that are looked at end.
const ending = ".toml"

// Each reads every head sheet in a folder and the folders in it, several at once, and hands what of makes of each to take, one at
// a time and in no particular order; where of says false there is nothing to take. Sheets are not kept, so that a
// folder of any size takes as much memory as a small one, but for what take keeps.
//
// Only ordinary files that end in .toml are read, and symbolic links are not followed, but for the folder itself. Files of
// another kind, like a studio file, are passed over. What cannot be read does not stop the others: unread tells of it, in the
// order of the names. The error is that of the folder itself, and says what to do.
func Each[T any](folder string, of func(file string, s *sheet.Sheet) (T, bool), take func(T)) (sheets int, unread []Unread, err error) {
	if err := IsFolder(folder); err != nil {
		return 0, nil, err
	}
	type result struct {
		of    T
		ok    bool
		wrong *Unread
	}
	names, results := make(chan string, 64), make(chan result, 64)
	var work sync.WaitGroup
	work.Go(func() {
		defer close(names)
		walk(folder, func(name string) { names <- name }, func(u Unread) { results <- result{wrong: &u} })
	})
	for range runtime.GOMAXPROCS(0) {
		work.Go(func() {
			for name := range names {
				s, wrong, other := read(folder, name)
				switch {
				case other:
				case wrong != nil:
					results <- result{wrong: wrong}
				default:
					line, ok := of(shown(folder, name), s)
					results <- result{of: line, ok: ok}
				}
			}
		})
	}
	go func() {
		work.Wait()
		close(results)
	}()
	for r := range results {
		switch {
		case r.wrong != nil:
			unread = append(unread, *r.wrong)
			continue
		case r.ok:
			take(r.of)
		}
		sheets++
	}
	slices.SortFunc(unread, func(a, b Unread) int { return strings.Compare(a.File, b.File) })
	return sheets, unread, nil
}

// IsFolder says what is wrong where sheets are looked for and there is no folder.
func IsFolder(name string) error {
	info, err := os.Stat(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("%s: no such folder; check the name", printable.Quote(name))
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("%s: no permission to look into it; ask its owner", printable.Quote(name))
	case err != nil:
		return fmt.Errorf("%s cannot be looked into: %w", printable.Quote(name), err)
	case !info.IsDir():
		return fmt.Errorf("%s is a file; name the folder that the sheets are in", printable.Quote(name))
	}
	return nil
}

// walk names the files that may be sheets, by their path in the folder with slashes, and tells of folders that it cannot look into.
func walk(folder string, found func(name string), wrong func(Unread)) {
	fs.WalkDir(os.DirFS(folder), ".", func(name string, d fs.DirEntry, err error) error { // it has no error but those of this function
		switch {
		case err != nil:
			wrong(Unread{printable.Line(shown(folder, name)), printable.Line(reason(err)) + ": what is in it is not looked at"})
		case d.Type().IsRegular() && strings.EqualFold(path.Ext(name), ending):
			found(name)
		}
		return nil
	})
}

// shown is the path of a file as the folder was named.
func shown(folder, name string) string { return filepath.Join(folder, filepath.FromSlash(name)) }

// reason is an error without the path, which stands beside it.
func reason(err error) string {
	var at *fs.PathError
	if errors.As(err, &at) {
		return at.Err.Error()
	}
	return err.Error()
}

// read reads one sheet. other tells of a file that is no head sheet at all.
func read(folder, name string) (s *sheet.Sheet, wrong *Unread, other bool) {
	file := shown(folder, name)
	s, err := sheetfile.Glance(file)
	if err == nil {
		return s, nil, false
	}
	var all sheetfile.Errors
	if !errors.As(err, &all) || len(all) == 0 {
		return nil, &Unread{printable.Line(file), printable.Line(err.Error())}, false
	}
	if isOther(all[0]) {
		return nil, nil, true
	}
	return nil, &Unread{printable.Line(file), all.Brief()}, false
}

// isOther reports whether a file is of another kind: a studio file, or anything else that has nothing of a head sheet.
func isOther(e *sheetfile.Error) bool {
	return strings.HasPrefix(e.Problem, "this is a studio file") || strings.HasPrefix(e.Problem, "this is not a head sheet")
}
