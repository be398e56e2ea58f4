package filelock

import (
	"errors"
	"os"

	"golang.org/x/sys/windows"
)

const (
	alone  = windows.LOCKFILE_EXCLUSIVE_LOCK
	shared = 0
)

// What is locked on Windows nobody else can read, so it is a byte far beyond the end.
func try(f *os.File, how uint32) error {
	const farAway = 1 << 30 // times 4 GiB
	at := &windows.Overlapped{OffsetHigh: farAway}
	err := windows.LockFileEx(windows.Handle(f.Fd()), how|windows.LOCKFILE_FAIL_IMMEDIATELY, 0, 1, 0, at)
	switch {
	case err == nil:
		return nil
	case errors.Is(err, windows.ERROR_LOCK_VIOLATION), errors.Is(err, windows.ERROR_IO_PENDING):
		return ErrTaken
	}
	return &os.PathError{Op: "lock", Path: f.Name(), Err: err}
}
