//go:build unix

package cli

import (
	"os"
	"path/filepath"
	"syscall"
)

// oddFiles are files of Unix that have no end, no beginning, or no place: none may keep the program waiting.
func (e *evil) oddFiles(folder string) (files []string) {
	e.t.Helper()
	at := func(name string) string {
		files = append(files, filepath.Join(folder, name))
		return files[len(files)-1]
	}
	for _, err := range []error{
		syscall.Mkfifo(at("pipe.toml"), 0o600),
		os.Symlink("/dev/zero", at("endless.toml")),
		os.Symlink("/dev/tty", at("terminal.toml")),
		os.Symlink("pipe.toml", at("to-a-pipe.toml")),
		os.Symlink("round.toml", at("round.toml")),
		os.Symlink("there.toml", at("here.toml")),
		os.Symlink("here.toml", at("there.toml")),
		os.Symlink("nowhere.toml", at("gone.toml")),
		os.Symlink("/proc/self/mem", at("memory.toml")),
	} {
		if err != nil {
			e.t.Fatal(err)
		}
	}
	return files
}
