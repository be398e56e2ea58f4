package cli

import (
	"strings"
	"time"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/recovery"
	"example.org/underveil/internal/sheetfile"
	"example.org/underveil/internal/tui"
)

// unsaved is where sheets are kept that are not saved: beside what else the program remembers by itself. Without a folder
// for that nothing is kept, which the editor tells when there is something to keep.
func unsaved() tui.Unsaved {
	return tui.Unsaved{Folder: recovery.Folder(inState("unsaved")), Encode: sheetfile.Encode, Now: time.Now}
}

// leftError is an error about a sheet of which there is more than the file.
type leftError struct {
	error
	more string
}

func (e *leftError) Error() string { return e.error.Error() + "\n" + e.more }
func (e *leftError) Unwrap() error { return e.error }

// withWhatIsLeft says with an error about a sheet what else there is of it: what was left unsaved, and versions saved before.
func withWhatIsLeft(path string, err error) error {
	var more []string
	if len(recovery.Folder(inState("unsaved")).Of(path)) > 0 {
		more = append(more, "unsaved work on it is kept: underveil without a sheet offers it on the start page")
	}
	if all := earlierFolder().All(path); len(all) > 0 {
		more = append(more, printable.Count(len(all), "version")+" saved before can be had: underveil earlier "+printable.Line(path)+" lists them")
	}
	if more == nil {
		return err
	}
	return &leftError{err, strings.Join(more, "\n")}
}
