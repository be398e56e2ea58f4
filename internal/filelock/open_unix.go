//go:build unix

package filelock

import "os"

// Open is os.OpenFile for a file that may be removed while it is open. On Unix any may be.
func Open(path string, flag int, mode os.FileMode) (*os.File, error) {
	return os.OpenFile(path, flag, mode)
}
