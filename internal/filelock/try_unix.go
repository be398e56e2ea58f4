//go:build unix

package filelock

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

const (
	alone  = unix.LOCK_EX
	shared = unix.LOCK_SH
)

func try(f *os.File, how int) error {
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
