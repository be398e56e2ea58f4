//go:build unix

package recovery

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

// How a file is locked: by one alone, or by several who only read it.
const (
	alone  = unix.LOCK_EX
	shared = unix.LOCK_SH
)

// tryLock locks a file for as long as it is open, or returns ErrTaken at once. Closing it or the end of the process, however
// it comes, takes the lock away.
func tryLock(f *os.File, how int) error {
	for {
		switch err := unix.Flock(int(f.Fd()), how|unix.LOCK_NB); {
		case err == nil:
			return nil
		case errors.Is(err, unix.EINTR):
		case errors.Is(err, unix.EWOULDBLOCK):
			return ErrTaken
		default:
			return &os.PathError{Op: "lock", Path: f.Name(), Err: err}
		}
	}
}

// syncFolder brings the names in a folder to the disk, as well as may be.
func syncFolder(folder string) {
	f, err := os.Open(folder)
	if err != nil {
		return
	}
	_ = f.Sync()
	_ = f.Close()
}
