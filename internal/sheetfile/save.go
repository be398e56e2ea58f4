// Package sheetfile keeps head sheets on disk: it reads and writes them and never leaves half a sheet behind.
package sheetfile

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"time"
)

// WriteAtomic makes data the content of the file at path, in one step: at any moment, a power cut included, the file
// holds either the old sheet or the new one in full. It writes a temporary file in the same folder, brings it to the
// disk and renames it over the old one. A symbolic link stays; the file that it leads to is replaced, or made if
// there is none yet. A new file has mode 0600, for a sheet says much about a person; an old one keeps its mode and,
// as far as the system lets us, its owner and group.
//
// The file is a new one to the system. Of several hard links only the one at path gets the new sheet, the others keep
// the old; access lists and extended attributes are lost. Writing in place would keep all that, but a full disk
// halfway would then cost the old sheet. A process killed halfway leaves a file .underveil-*.tmp in the folder, which a save there removes when it is an hour old.
//
// On any error the file is as it was and the temporary file is gone. There is one exception, which its message names:
// the new sheet is in place, but the disk did not confirm the rename. A file without any write permission is refused,
// though a rename could replace it, and so is all that is not an ordinary file. An error says in one sentence what
// could not be done, where, why, and what to do; errors.Is finds its cause.
func WriteAtomic(path string, data []byte) error {
	return realDisk.write(path, data)
}

// disk is the steps that can fail, for the tests to make each of them fail.
type disk struct {
	create     func(folder string) (tempFile, error)
	rename     func(from, to string) error
	remove     func(path string) error
	syncFolder func(folder string) error
}

type tempFile interface {
	io.WriteCloser
	Name() string
	Stat() (fs.FileInfo, error)
	Chmod(fs.FileMode) error
	Chown(uid, gid int) error
	Sync() error
}

var realDisk = disk{
	create:     func(folder string) (tempFile, error) { return os.CreateTemp(folder, temporaryBegin+"*"+temporaryEnd) }, // mode 0600
	rename:     rename,
	remove:     os.Remove,
	syncFolder: syncFolder,
}

func (d disk) write(path string, data []byte) error {
	target := followLinks(path)
	folder, name := splitPath(target)
	if name == "" {
		return failure(path, folder, nil, syscall.EISDIR)
	}
	old, err := replaceable(target)
	if err != nil {
		return failure(path, folder, old, err)
	}
	temp, err := d.writeTemp(folder, data, old)
	if err != nil {
		return failure(path, folder, old, err)
	}
	if err := d.rename(temp, target); err != nil {
		_ = d.remove(temp) // the rename is what went wrong and what the user must hear of
		return failure(path, folder, old, err)
	}
	clearUp(folder)
	if err := d.syncFolder(folder); err != nil {
		return unconfirmed(path, err)
	}
	return nil
}

// How the names of temporary files begin and end.
const (
	temporaryBegin = ".underveil-"
	temporaryEnd   = ".tmp"
)

// abandoned is how old a temporary file is that nobody is writing any more.
const abandoned = time.Hour

// clearUp removes what processes that were killed halfway have left in a folder, each of it a whole sheet. What can't be removed stays.
func clearUp(folder string) {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return
	}
	for _, e := range entries {
		ours := strings.HasPrefix(e.Name(), temporaryBegin) && strings.HasSuffix(e.Name(), temporaryEnd) && e.Type().IsRegular()
		if !ours {
			continue
		}
		if info, err := e.Info(); err == nil && time.Since(info.ModTime()) > abandoned {
			_ = os.Remove(filepath.Join(folder, e.Name()))
		}
	}
}

// followLinks returns the path that symbolic links at path lead to in the end, whether or not a file is there. Paths
// are joined without tidying them, because "link/../x" is not "x".
func followLinks(path string) string {
	if target, err := filepath.EvalSymlinks(path); err == nil {
		return target
	}
	for range 40 { // links in a circle: the system will say so when the path is used
		dest, err := os.Readlink(path)
		if err != nil {
			return path
		}
		if !filepath.IsAbs(dest) {
			folder, _ := splitPath(path)
			dest = folder + string(filepath.Separator) + dest
		}
		path = dest
	}
	return path
}

// splitPath is filepath.Split with "." for no folder, since an empty one would mean the system's temporary folder.
func splitPath(path string) (folder, name string) {
	folder, name = filepath.Split(path)
	if folder == "" {
		folder = "."
	}
	return folder, name
}

// replaceable returns the file at target, nil for none, and an error if what is there must not be replaced.
func replaceable(target string) (fs.FileInfo, error) {
	old, err := os.Stat(target)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil
	case err != nil:
		return nil, err
	case old.IsDir():
		return nil, syscall.EISDIR
	case !old.Mode().IsRegular():
		return nil, errNotOrdinary
	case old.Mode().Perm()&0o222 == 0: // root may write it all the same, but somebody meant it to stay
		return old, errReadOnly
	}
	probe, err := os.OpenFile(target, os.O_WRONLY, 0) // does not change the file
	if err != nil {
		return old, err
	}
	return old, probe.Close()
}

// writeTemp writes data to a new file in the folder, with owner and mode of the old file if there is one, and sees it
// on to the disk. On an error it leaves no file.
func (d disk) writeTemp(folder string, data []byte, old fs.FileInfo) (name string, err error) {
	f, err := d.create(folder)
	if err != nil {
		return "", err
	}
	defer func() {
		if err != nil {
			_ = f.Close() // Windows removes only closed files
			_ = d.remove(f.Name())
		}
	}()
	n, err := f.Write(data)
	if err == nil && n < len(data) {
		err = io.ErrShortWrite
	}
	if err != nil {
		return "", err
	}
	if err := likeOld(f, old); err != nil {
		return "", err
	}
	if err := f.Sync(); err != nil {
		return "", err
	}
	return f.Name(), f.Close()
}

// likeOld gives f the owner and the mode of old. Where the mode is right already it is left alone, because memory
// sticks have no modes and refuse to set one.
func likeOld(f tempFile, old fs.FileInfo) error {
	if old == nil {
		return nil
	}
	keepOwner(f, old)
	now, err := f.Stat()
	if err != nil || now.Mode().Perm() == old.Mode().Perm() {
		return err
	}
	return f.Chmod(old.Mode().Perm())
}
