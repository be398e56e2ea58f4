package sheetfile

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"syscall"

	"example.org/underveil/internal/ordinary"
	"example.org/underveil/internal/sheet"
)

// Load reads the sheet in a file. Its error is an Errors; errors.Is finds the cause of one that comes from the system,
// like fs.ErrNotExist.
func Load(path string) (*sheet.Sheet, []Notice, error) {
	data, bad := read(&headSheet, path)
	if bad != nil {
		return nil, nil, Errors{bad}
	}
	return Decode(path, data)
}

// Save writes a sheet to a file, in one step: see WriteAtomic.
func Save(path string, s *sheet.Sheet) error { return WriteAtomic(path, Encode(s)) }

// read is the bytes of an ordinary file, at most as many as such a file may have. Whatever else is at the path is not
// opened, for a device may have no end and a pipe may never begin.
func read(kind *schema, path string) ([]byte, *Error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, unreadable(kind, path, err)
	}
	if bad := isOrdinary(kind, path, info); bad != nil {
		return nil, bad
	}
	f, info, err := ordinary.Open(path)
	if err != nil {
		return nil, unreadable(kind, path, err)
	}
	defer f.Close()
	if bad := isOrdinary(kind, path, info); bad != nil { // it may be another by now
		return nil, bad
	}
	var text bytes.Buffer
	text.Grow(int(info.Size()) + bytes.MinRead)          // for all of it in one go
	_, err = text.ReadFrom(io.LimitReader(f, MaxSize+1)) // the size may be a lie, or grow
	switch {
	case err != nil:
		return nil, unreadable(kind, path, err)
	case text.Len() > MaxSize:
		return nil, tooLong(kind, path, 0)
	}
	return text.Bytes(), nil
}

// isOrdinary refuses what is no ordinary file, and one that is too long.
func isOrdinary(kind *schema, path string, info fs.FileInfo) *Error {
	switch mode := info.Mode(); {
	case mode.IsDir():
		return newError(path, "this is a folder", "give the name of "+theKind(kind.short)+" in it", syscall.EISDIR)
	case !mode.IsRegular():
		return newError(path, "this is not an ordinary file", "copy the "+kind.short+" into a file and give its name", errNotOrdinary)
	case info.Size() > MaxSize:
		return tooLong(kind, path, info.Size())
	}
	return nil
}

// unreadable explains why a file cannot be read.
func unreadable(kind *schema, path string, err error) *Error {
	if impossible(err) {
		err = fmt.Errorf("%w: %w", fs.ErrNotExist, err)
	}
	switch {
	case path == "":
		return newError(path, "there is no file name", "give the name of "+theKind(kind.short), err)
	case errors.Is(err, fs.ErrNotExist):
		return newError(path, "no such file", "check the name and the folder"+kind.anew, err)
	case errors.Is(err, fs.ErrPermission):
		return newError(path, "no permission to read it", "ask its owner, or copy it to where you may read it", err)
	case errors.Is(err, syscall.ENOTDIR):
		return newError(path, "a part of the path is a file, not a folder", "check the path", err)
	}
	if a, known := systemAdviceOnReading(err); known {
		return newError(path, a.problem, a.remedy, err)
	}
	return newError(path, ordinary.Cause(err).Error(), "try again, or copy the file elsewhere", err)
}
