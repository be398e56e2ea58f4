// Package hold tells whether another program on this machine has a file open to change it.
//
// A hold is a lock on a small file in the state folder, named after the path of the file that is held. The file itself can't be locked,
// since a save puts a new one in its place, and a lock file beside it would lie about in folders that people share and look into. So two machines
// that work in one shared folder do not see each other's holds: there the change of the file is noticed, and told before anything is written over it.
// Of a file with several names (hard links) each is held by itself, for a save changes only the one that it goes to.
package hold

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"os"
	"path/filepath"
	"time"

	"example.org/underveil/internal/filelock"
	"example.org/underveil/internal/ordinary"
)

// Folder is where holds are kept; it is made when it is needed. In an empty one nothing can be held.
type Folder string

// ErrNone says that there is no folder for holds.
var ErrNone = errors.New("there is no folder for it")

// Taken is the error about a file that is held by another program.
type Taken struct {
	Since time.Time // by the clock of the disk; zero where that is not known
}

func (t *Taken) Error() string { return filelock.ErrTaken.Error() }
func (t *Taken) Unwrap() error { return filelock.ErrTaken }

// Hold is a file that is held until Release, or until this process ends, however it does.
type Hold struct {
	file *os.File
	path string
}

// Of holds the file at path, whether or not there is one yet; by whatever symbolic links, it is the file that they lead to. Its error is a *Taken
// where another program holds it, and anything else where it can't be known.
func (f Folder) Of(path string) (*Hold, error) { return f.by(nameFor(path)) }

// by holds by the name of a lock. It looks at the state folder alone.
func (f Folder) by(name string) (*Hold, error) {
	if f == "" {
		return nil, ErrNone
	}
	if err := os.MkdirAll(string(f), 0o700); err != nil {
		return nil, err
	}
	at := filepath.Join(string(f), name)
	for range 20 { // a hold that is being released removes its file
		h, err := try(at)
		if h != nil || err != nil {
			return h, err
		}
	}
	return nil, &Taken{}
}

// try holds by the file at, or returns nothing where that file was removed meanwhile.
func try(at string) (*Hold, error) {
	file, err := filelock.Open(at, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return nil, err
	}
	err = filelock.Alone(file)
	switch {
	case errors.Is(err, filelock.ErrTaken):
		err = &Taken{Since: changed(file)}
	case err == nil && filelock.StillAt(at, file):
		now := time.Now()
		_ = os.Chtimes(at, now, now) // it may have been left by a program that was killed
		return &Hold{file, at}, nil
	}
	_ = file.Close()
	return nil, err
}

func changed(file *os.File) time.Time {
	info, err := file.Stat()
	if err != nil {
		return time.Time{}
	}
	return info.ModTime()
}

// Release gives the file up. It may be called of none, and more than once.
func (h *Hold) Release() {
	if h == nil || h.file == nil {
		return
	}
	if filelock.StillAt(h.path, h.file) { // and not somebody else's by now, after a cleaner of old files came by
		_ = os.Remove(h.path) // while it is locked, so that nobody locks a file that is about to go
	}
	_ = h.file.Close()
	h.file = nil
}

// nameFor is the name of the lock for a file. It tells nobody which sheets there are. It looks at the disk of the file, which may be far.
func nameFor(path string) string {
	sum := sha256.Sum256([]byte(ordinary.Resolve(path)))
	return hex.EncodeToString(sum[:12]) + ".lock"
}
