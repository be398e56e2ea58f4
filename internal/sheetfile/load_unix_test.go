//go:build unix

package sheetfile

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// Devices and pipes are not opened: one has no end, the other may never begin.
func TestOnlyOrdinaryFilesAreRead(t *testing.T) {
	pipe := filepath.Join(t.TempDir(), "pipe")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Skip(err)
	}
	link := filepath.Join(t.TempDir(), "link")
	if err := os.Symlink("/dev/zero", link); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{"/dev/zero", "/dev/null", link, pipe} {
		_, _, err := Load(path)
		want := "underveil: " + path + ": this is not an ordinary file; copy the sheet into a file and give its name"
		if err == nil || err.Error() != want {
			t.Errorf("message %q, want %q", err, want)
		}
	}
}

func TestFileForAFolder(t *testing.T) {
	path := filepath.Join(sheetAt(t, newSheet), "head.toml")
	_, _, err := Load(path)
	if err == nil || !strings.Contains(err.Error(), "a part of the path is a file, not a folder; check the path") {
		t.Error(err)
	}
}

func TestFileThatMayNotBeRead(t *testing.T) {
	notAsRoot(t)
	path := sheetAt(t, newSheet)
	if err := os.Chmod(path, 0o200); err != nil {
		t.Fatal(err)
	}
	_, _, err := Load(path)
	if err == nil || !strings.Contains(err.Error(), ": no permission to read it; ask its owner") || !errors.Is(err, fs.ErrPermission) {
		t.Error(err)
	}
}
