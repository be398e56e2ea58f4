// Package ordinary reads files and folders that nobody vouches for, no more of them than is asked for: a device may have no end, a pipe
// may never begin, and a folder may hold a million names.
package ordinary

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"os"
	"slices"
	"strings"
)

// Why a file is not read. Each can come within an fs.PathError.
var (
	Err     = errors.New("it is not an ordinary file")
	ErrLong = errors.New("it is longer than any such file")
)

// Open opens an ordinary file, or what a symbolic link to one leads to, for reading. It waits for nobody: what is of another kind is not
// opened, even if it was put into the place of a file meanwhile.
func Open(path string) (*os.File, fs.FileInfo, error) {
	info, err := os.Stat(path)
	if err == nil && !info.Mode().IsRegular() {
		err = &fs.PathError{Op: "open", Path: path, Err: Err}
	}
	if err != nil {
		return nil, nil, err
	}
	f, err := os.OpenFile(path, os.O_RDONLY|withoutWaiting, 0)
	if err != nil {
		return nil, nil, err
	}
	if info, err = f.Stat(); err == nil && !info.Mode().IsRegular() {
		err = &fs.PathError{Op: "open", Path: path, Err: Err}
	}
	if err != nil {
		_ = f.Close()
		return nil, nil, err
	}
	return f, info, nil
}

// Read is what is in an ordinary file of at most so many bytes. Its error is Err, ErrLong, or that of the system.
func Read(path string, most int64) ([]byte, error) {
	f, info, err := Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	long := &fs.PathError{Op: "read", Path: path, Err: ErrLong}
	if info.Size() > most {
		return nil, long
	}
	var data bytes.Buffer
	data.Grow(int(info.Size()) + bytes.MinRead)       // for all of it in one go
	_, err = data.ReadFrom(io.LimitReader(f, most+1)) // the size may be a lie, or grow
	switch {
	case err != nil:
		return nil, err
	case int64(data.Len()) > most:
		return nil, long
	}
	return data.Bytes(), nil
}

// atOnce is how many entries of a folder are read at a time.
const atOnce = 512

// Entries are the entries of a folder, of which at most so many are looked at, sorted by name. Its error is that of the system; what was
// read before it comes along.
func Entries(folder string, most int) ([]fs.DirEntry, error) {
	f, err := os.OpenFile(folder, os.O_RDONLY|withoutWaiting, 0)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	var all []fs.DirEntry
	for len(all) < most {
		some, failed := f.ReadDir(min(atOnce, most-len(all)))
		all = append(all, some...)
		if failed != nil {
			if !errors.Is(failed, io.EOF) {
				err = failed
			}
			break
		}
	}
	slices.SortFunc(all, func(a, b fs.DirEntry) int { return strings.Compare(a.Name(), b.Name()) })
	return all, err
}
