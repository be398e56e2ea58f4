package sheetfile

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"

	"example.org/underveil/internal/ordinary"
	"example.org/underveil/internal/printable"
)

var (
	errNotOrdinary = errors.New("not an ordinary file")
	errReadOnly    = fmt.Errorf("the file is read-only: %w", fs.ErrPermission)
)

// saveError tells the user by its text, and the program by its cause, why a sheet was not saved.
type saveError struct {
	text  string
	cause error
}

func (e *saveError) Error() string { return e.text }
func (e *saveError) Unwrap() error { return e.cause }

// advice is what went wrong and what the user can do, each half a sentence.
type advice struct{ problem, remedy string }

// failure explains what kept a sheet from being saved to path. old is the sheet on disk, nil for none.
func failure(path, folder string, old fs.FileInfo, cause error) error {
	state := "nothing was written"
	if old != nil {
		state = "the sheet on disk is as it was"
	}
	return newSaveError(path, adviseOn(folder, cause), state, cause)
}

// ErrUnconfirmed is about a sheet that is in place, while the disk did not confirm that it will stay.
var ErrUnconfirmed = errors.New("the disk did not confirm it")

// unconfirmed explains that the sheet is saved, but perhaps not for good.
func unconfirmed(path string, cause error) error {
	a := advice{"the disk did not confirm it: " + ordinary.Cause(cause).Error(), "save again, or save elsewhere as well"}
	return newSaveError(path, a, "the new sheet is in place, but a power cut might undo that", errors.Join(ErrUnconfirmed, cause))
}

// newSaveError cleans the text as a whole: the path, and the names in some causes, come from outside.
func newSaveError(path string, a advice, state string, cause error) error {
	text := fmt.Sprintf("cannot save to %s: %s; %s (%s)", path, a.problem, a.remedy, state)
	return &saveError{printable.Line(text), cause}
}

// notAFolder is about a path that goes on after a file.
var notAFolder = advice{"a part of the path is a file, not a folder", "correct the path or save elsewhere"}

func adviseOn(folder string, cause error) advice {
	if a, known := systemAdvice(cause); known {
		return a
	}
	switch {
	case errors.Is(cause, errNotOrdinary):
		return advice{"it is not an ordinary file", "save under another name"}
	case errors.Is(cause, errReadOnly):
		return advice{"the file is read-only", "make it writable or save under another name"}
	case errors.Is(cause, syscall.EISDIR):
		return advice{"it is a folder", "add a file name"}
	case errors.Is(cause, fs.ErrNotExist):
		return adviseOnFolder(folder)
	case errors.Is(cause, syscall.ENOTDIR):
		return notAFolder
	case errors.Is(cause, fs.ErrPermission):
		return advice{"no permission to write there", "have it allowed or save elsewhere"}
	}
	return advice{ordinary.Cause(cause).Error(), "try again or save elsewhere"}
}

// adviseOnFolder is about a file that cannot be made because the system finds something missing. It may find so in a
// folder that is there, like /proc, which takes no files.
func adviseOnFolder(folder string) advice {
	info, err := os.Stat(folder)
	switch {
	case err == nil && info.IsDir():
		return advice{"the system takes no new file in " + tidy(folder), "save elsewhere"}
	case err == nil: // Windows has one error for this and for a folder that is not there
		return notAFolder
	}
	return advice{"there is no folder " + missing(folder), "make the folder or save elsewhere"}
}

// missing is the folder to make. Of a path with steps up it is the first that is not there: a step up from there leads
// nowhere, though the path would look right when tidied.
func missing(folder string) string {
	if !stepsUp(folder) {
		return tidy(folder)
	}
	for i := 1; i < len(folder); i++ {
		if os.IsPathSeparator(folder[i]) {
			if _, err := os.Stat(folder[:i]); errors.Is(err, fs.ErrNotExist) {
				return folder[:i]
			}
		}
	}
	return folder
}

// tidy is a path without what is idle in it. A step up stays, since it may begin behind a link.
func tidy(folder string) string {
	if stepsUp(folder) {
		return folder
	}
	return filepath.Clean(folder)
}

func stepsUp(path string) bool {
	return slices.Contains(strings.Split(filepath.ToSlash(path), "/"), "..")
}
