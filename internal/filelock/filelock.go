// Package filelock locks files that are open, between programs: with flock on Unix and LockFileEx on Windows.
//
// Both belong to the open file, so that a program is kept from locking a file twice by itself too, and the system takes a lock away with the
// process, however that ends. Libraries for locks open a file of their own to lock, and on Windows lock its first byte, which then can't
// be read; so these are some lines of our own.
package filelock

import (
	"errors"
	"os"
)

// ErrTaken is about a file that somebody else has locked.
var ErrTaken = errors.New("it is open in another window")

// Alone locks a file for one alone, for as long as it is open, or returns ErrTaken at once. Any other error says that this disk has no locks.
func Alone(f *os.File) error { return try(f, alone) }

// Shared locks a file against those who want it alone, and not against each other. Its errors are those of Alone.
func Shared(f *os.File) error { return try(f, shared) }

// StillAt reports whether an open file is the one at its path: before its lock was had, it may have been removed.
func StillAt(path string, f *os.File) bool {
	mine, err1 := f.Stat()
	there, err2 := os.Stat(path)
	return err1 == nil && err2 == nil && os.SameFile(mine, there)
}
