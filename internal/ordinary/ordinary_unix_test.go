//go:build unix

package ordinary

import (
	"errors"
	"os"
	"path/filepath"
	"syscall"
	"testing"
)

// What has no end or no beginning keeps nobody waiting, whatever it is reached by.
func TestNothingIsWaitedFor(t *testing.T) {
	folder := t.TempDir()
	in := func(name string) string { return filepath.Join(folder, name) }
	for _, err := range []error{syscall.Mkfifo(in("pipe"), 0o600), os.Symlink("pipe", in("link")), os.Symlink("/dev/zero", in("zero")), os.Symlink("round", in("round"))} {
		if err != nil {
			t.Fatal(err)
		}
	}
	for _, name := range []string{"pipe", "link", "zero"} {
		if _, err := Read(in(name), 10); !errors.Is(err, Err) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := Read(in("round"), 10); err == nil {
		t.Error("a link in a circle is read")
	}
	if _, err := Entries(in("pipe"), 10); err == nil {
		t.Error("a pipe is a folder")
	}
}

// A file that is put into the place of another between a look and the opening is not waited for either.
func TestNothingIsWaitedForInItsPlace(t *testing.T) {
	folder := t.TempDir()
	at, file, pipe := filepath.Join(folder, "at"), filepath.Join(folder, "file"), filepath.Join(folder, "pipe")
	if err := errors.Join(os.WriteFile(file, []byte("x"), 0o600), syscall.Mkfifo(pipe, 0o600)); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(file, at); err != nil {
		t.Fatal(err)
	}
	done := make(chan bool)
	go func() {
		for n := 0; ; n++ {
			select {
			case <-done:
				return
			default:
				to := []string{file, pipe}[n%2]
				next := at + "-next"
				_ = os.Symlink(to, next)
				_ = os.Rename(next, at)
			}
		}
	}()
	for range 20000 {
		if data, err := Read(at, 10); err == nil && string(data) != "x" {
			t.Fatalf("%q is read", data)
		}
	}
	close(done)
}
