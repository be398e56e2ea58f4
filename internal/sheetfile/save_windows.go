package sheetfile

import (
	"errors"
	"io/fs"
	"os"
	"time"

	"golang.org/x/sys/windows"
)

// syncFolder has nothing to do: Windows offers no way to sync a folder, and journals its names itself.
func syncFolder(string) error { return nil }

// rename puts a file in the place of another, and waits up to a second for that to be closed: Windows replaces no file that somebody reads, as a
// virus scanner does after each save, and this program in another window.
func rename(from, to string) error {
	const first, last = time.Millisecond, 512 * time.Millisecond
	for wait := first; ; wait *= 2 {
		err := os.Rename(from, to)
		if !inUse(err) || wait > last {
			return err
		}
		time.Sleep(wait)
	}
}

// inUse reports whether a file may not have been replaced because somebody has it open. Windows says of that in some cases no more than that access is denied.
func inUse(err error) bool {
	return errors.Is(err, windows.ERROR_SHARING_VIOLATION) || errors.Is(err, windows.ERROR_ACCESS_DENIED)
}

// keepOwner has nothing to do: a new file on Windows takes its owner and rights from the folder.
func keepOwner(tempFile, fs.FileInfo) {}

func systemAdviceOnReading(cause error) (advice, bool) {
	if errors.Is(cause, windows.ERROR_SHARING_VIOLATION) || errors.Is(cause, windows.ERROR_LOCK_VIOLATION) {
		return advice{"another program has it open", "close it there and try again"}, true
	}
	return advice{}, false
}

// impossible reports whether no file can have the name that an error is about, since it has a character that Windows does not allow.
func impossible(err error) bool { return errors.Is(err, windows.ERROR_INVALID_NAME) }

func systemAdvice(cause error) (advice, bool) {
	var renaming *os.LinkError
	switch {
	case errors.As(cause, &renaming) && errors.Is(cause, windows.ERROR_ACCESS_DENIED): // that it may be written was seen before
		return advice{"another program has it open", "close it there or save under another name"}, true
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
