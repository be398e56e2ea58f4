package cli

import (
	"path/filepath"
	"time"

	"example.org/underveil/internal/recovery"
	"example.org/underveil/internal/sheetfile"
	"example.org/underveil/internal/tui"
)

// unsaved is where sheets are kept that are not saved: beside what else the program remembers by itself. Without a folder
// for that nothing is kept, which the editor tells when there is something to keep.
func unsaved() tui.Unsaved {
	u := tui.Unsaved{Encode: sheetfile.Encode, Now: time.Now}
	if d, err := stateDir(); err == nil {
		u.Folder = recovery.Folder(filepath.Join(d, "unsaved"))
	}
	return u
}
