//go:build unix

package sheetfile

import (
	"errors"
	"io/fs"
	"os"
	"syscall"
)

// syncFolder brings the folder's list of names to the disk, without which a power cut can undo a rename. Folders that
// may be written but not read cannot be synced, and some network disks cannot sync any: the sheet is saved there as
// well as may be.
func syncFolder(folder string) error {
	f, err := os.Open(folder)
	if errors.Is(err, fs.ErrPermission) {
		return nil
	}
	if err != nil {
		return err
	}
	defer f.Close()
	if err := f.Sync(); !errors.Is(err, syscall.EINVAL) && !errors.Is(err, syscall.ENOTSUP) {
		return err
	}
	return nil
}

// rename puts a file in the place of another, also where that is being read.
func rename(from, to string) error { return os.Rename(from, to) }

// keepOwner gives f the owner and group of old, or else the group alone, so that a sheet in a folder shared by a salon
// stays everybody's, and a sheet saved by root stays its owner's. Where the system allows neither, f stays ours.
func keepOwner(f tempFile, old fs.FileInfo) {
	stat, ok := old.Sys().(*syscall.Stat_t)
	if !ok {
		return
	}
	if f.Chown(int(stat.Uid), int(stat.Gid)) != nil {
		_ = f.Chown(-1, int(stat.Gid))
	}
}

// systemAdviceOnReading has nothing to add to what is said of every system.
func systemAdviceOnReading(error) (advice, bool) { return advice{}, false }

// impossible reports whether no file can have the name that an error is about. On Unix files can have any.
func impossible(error) bool { return false }

func systemAdvice(cause error) (advice, bool) {
	switch {
	case errors.Is(cause, syscall.ENOSPC):
		return advice{"no space left on the disk", "free some space or save elsewhere"}, true
	case errors.Is(cause, syscall.EDQUOT):
		return advice{"your share of the disk is used up", "free some space or save elsewhere"}, true
	case errors.Is(cause, syscall.EROFS):
		return advice{"the disk is read-only", "save elsewhere"}, true
	case errors.Is(cause, syscall.ENAMETOOLONG):
		return advice{"the name is too long", "save under a shorter name"}, true
	}
	return advice{}, false
}
