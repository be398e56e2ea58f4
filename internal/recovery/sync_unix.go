//go:build unix

package recovery

import "os"

// syncFolder brings the names in a folder to the disk, as well as may be.
func syncFolder(folder string) {
	f, err := os.Open(folder)
	if err != nil {
		return
	}
	_ = f.Sync()
	_ = f.Close()
}
