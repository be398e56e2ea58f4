//go:build unix

package cli

import (
	"io/fs"
	"os"
	"syscall"
)

// placeOnDisk is the number that a file has on its disk.
func placeOnDisk(info fs.FileInfo) uint64 {
	if stat, ok := info.Sys().(*syscall.Stat_t); ok {
		return uint64(stat.Ino)
	}
	return 0
}

// otherNames is how many other names a file has: hard links, which a save does not follow.
func otherNames(path string) int {
	info, err := os.Stat(path)
	if err != nil {
		return 0
	}
	if stat, ok := info.Sys().(*syscall.Stat_t); ok && stat.Nlink > 1 {
		return int(stat.Nlink) - 1
	}
	return 0
}
