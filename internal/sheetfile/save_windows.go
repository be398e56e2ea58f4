package sheetfile

import (
	"errors"
	"io/fs"

	"golang.org/x/sys/windows"
)

// syncFolder has nothing to do: Windows offers no way to sync a folder, and journals its names itself.
func syncFolder(string) error { return nil }

// keepOwner has nothing to do: a new file on Windows takes its owner and rights from the folder.
func keepOwner(tempFile, fs.FileInfo) {}

func systemAdvice(cause error) (advice, bool) {
	switch {
	case errors.Is(cause, windows.ERROR_DISK_FULL), errors.Is(cause, windows.ERROR_HANDLE_DISK_FULL):
		return advice{"no space left on the disk", "free some space or save elsewhere"}, true
	case errors.Is(cause, windows.ERROR_DISK_QUOTA_EXCEEDED):
		return advice{"your share of the disk is used up", "free some space or save elsewhere"}, true
	case errors.Is(cause, windows.ERROR_WRITE_PROTECT):
		return advice{"the disk is read-only", "save elsewhere"}, true
	case errors.Is(cause, windows.ERROR_SHARING_VIOLATION), errors.Is(cause, windows.ERROR_LOCK_VIOLATION):
		return advice{"another program has it open", "close it there or save under another name"}, true
	case errors.Is(cause, windows.ERROR_INVALID_NAME):
		return advice{"the name has a character that Windows does not allow", "save under another name"}, true
	case errors.Is(cause, windows.ERROR_FILENAME_EXCED_RANGE):
		return advice{"the name is too long", "save under a shorter name"}, true
	}
	return advice{}, false
}
