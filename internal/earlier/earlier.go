// Package earlier keeps what was in a file before it was saved over, so that a save can be gone back on.
//
// The versions lie in the state folder and not beside the file: a folder of clients' sheets is looked into, shared and copied, and a version there would be taken
// for one more client. For each file there is a folder, named after its path by a hash; in it a line that says which file that is, and the versions under
// numbers that only grow, since a clock can be set back. Each is the file as it was, byte for byte.
package earlier

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.org/underveil/internal/ordinary"
	"example.org/underveil/internal/sheetfile"
)

// Folder is where versions are kept; it is made when it is needed. In an empty one nothing is kept.
type Folder string

// Most is how many versions of a file are kept: the latest.
const Most = 10

const (
	ending   = ".toml"
	nameFile = "of" // which file the versions are of
)

// ErrNone says that there is no folder for versions.
var ErrNone = errors.New("there is no folder for it")

// Version is a file as it was before it was saved over.
type Version struct {
	Number int       // grows with every version of a file
	At     time.Time // when it had been written, by the clock of its disk
	path   string
}

// Keep keeps the file at path as it is now, because it is about to be saved over with data. It keeps nothing where there is no file, where it has that very
// content already, or where it is no ordinary file or longer than a sheet may be, which none of ours is.
func (f Folder) Keep(path string, data []byte) error {
	old, at, err := content(path)
	if err != nil || old == nil || bytes.Equal(old, data) {
		return err
	}
	if f == "" {
		return ErrNone
	}
	of := f.of(path)
	all := versions(of)
	number := 1
	if len(all) > 0 {
		if last, err := all[0].Data(); err == nil && bytes.Equal(last, old) {
			return nil
		}
		number = all[0].Number + 1
	}
	if err := os.MkdirAll(of, 0o700); err != nil {
		return err
	}
	if err := sheetfile.WriteAtomic(filepath.Join(of, nameFile), []byte(ordinary.Resolve(path)+"\n")); err != nil {
		return err
	}
	to := filepath.Join(of, strconv.Itoa(number)+ending)
	if err := sheetfile.WriteAtomic(to, old); err != nil {
		return err
	}
	_ = os.Chtimes(to, at, at) // when it was written is not worth failing for
	for _, v := range all[min(len(all), Most-1):] {
		_ = os.Remove(v.path) // one too many does no harm, and the next time it is tried again
	}
	return nil
}

// content is what is in a file and when it was written, or nothing where there is none that could be a sheet.
func content(path string) ([]byte, time.Time, error) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, time.Time{}, nil
	case err != nil:
		return nil, time.Time{}, err
	case !info.Mode().IsRegular() || info.Size() > sheetfile.MaxSize:
		return nil, time.Time{}, nil
	}
	file, _, err := ordinary.Open(path)
	if err != nil {
		return nil, time.Time{}, err
	}
	defer file.Close()
	data, err := io.ReadAll(io.LimitReader(file, sheetfile.MaxSize+1))
	if err != nil || len(data) > sheetfile.MaxSize {
		return nil, time.Time{}, err
	}
	return append([]byte{}, data...), info.ModTime(), nil
}

// All are the versions of the file at path, the latest first.
func (f Folder) All(path string) []Version {
	if f == "" {
		return nil
	}
	return versions(f.of(path))
}

// Forget removes all versions of the file at path, and says how many there were.
func (f Folder) Forget(path string) (int, error) {
	all := f.All(path)
	if f == "" {
		return 0, nil
	}
	return len(all), os.RemoveAll(f.of(path))
}

// Data is what is in a version.
func (v Version) Data() ([]byte, error) {
	data, _, err := content(v.path)
	if err == nil && data == nil {
		err = fmt.Errorf("version %d: %w", v.Number, fs.ErrNotExist)
	}
	return data, err
}

// versions are those in a folder, the latest first. What bears no number is not one.
func versions(of string) []Version {
	entries, err := os.ReadDir(of)
	if err != nil {
		return nil
	}
	var all []Version
	for _, e := range entries {
		name, isVersion := strings.CutSuffix(e.Name(), ending)
		number, err := strconv.Atoi(name)
		info, gone := e.Info()
		if !isVersion || err != nil || number < 1 || gone != nil || !info.Mode().IsRegular() {
			continue
		}
		all = append(all, Version{number, info.ModTime(), filepath.Join(of, e.Name())})
	}
	slices.SortFunc(all, func(a, b Version) int { return b.Number - a.Number })
	return all
}

// of is the folder for the versions of a file.
func (f Folder) of(path string) string {
	sum := sha256.Sum256([]byte(ordinary.Resolve(path)))
	return filepath.Join(string(f), hex.EncodeToString(sum[:12]))
}
