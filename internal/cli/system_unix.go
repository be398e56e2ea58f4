//go:build unix

package cli

import (
	"fmt"
	"io/fs"
	"os"
	"syscall"

	"golang.org/x/sys/unix"
)

// terminalSize is how many columns and lines a terminal has.
func terminalSize(f *os.File) (w, h int, err error) {
	size, err := unix.IoctlGetWinsize(int(f.Fd()), unix.TIOCGWINSZ)
	if err != nil {
		return 0, 0, err
	}
	return int(size.Col), int(size.Row), nil
}

// owner says whose a file is, by its number and never by a name; mine is false only where it is somebody else's.
func owner(info fs.FileInfo) (whose string, mine bool) {
	stat, ok := info.Sys().(*syscall.Stat_t)
	switch {
	case !ok:
		return "", true
	case int(stat.Uid) == os.Geteuid():
		return "yours", true
	}
	return fmt.Sprintf("of user %d", stat.Uid), false
}

// open is whether others than the owner may read a file or a folder, as its mode says.
func open(info fs.FileInfo) bool { return info.Mode().Perm()&0o077 != 0 }

// modeOf is the mode of a file in octal digits.
func modeOf(info fs.FileInfo) string { return fmt.Sprintf("%04o", info.Mode().Perm()) }
