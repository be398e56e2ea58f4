package earlier_test

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.org/underveil/internal/earlier"
	"example.org/underveil/internal/sheetfile"
)

// save saves a text as the program does: what is there is kept first.
func save(t *testing.T, f earlier.Folder, path, text string) {
	t.Helper()
	if err := f.Keep(path, []byte(text)); err != nil {
		t.Fatal(err)
	}
	if err := sheetfile.WriteAtomic(path, []byte(text)); err != nil {
		t.Fatal(err)
	}
}

// wantVersions holds the versions of a file, the latest first.
func wantVersions(t *testing.T, f earlier.Folder, path string, want ...string) {
	t.Helper()
	all := f.All(path)
	if len(all) != len(want) {
		t.Fatalf("%d versions, want %q", len(all), want)
	}
	for i, v := range all {
		if data, err := v.Data(); err != nil || string(data) != want[i] {
			t.Errorf("version %d: %q, %v; want %q", v.Number, data, err, want[i])
		}
		if i > 0 && v.Number >= all[i-1].Number {
			t.Errorf("version %d comes after %d", v.Number, all[i-1].Number)
		}
	}
}

func TestWhatWasSavedOver(t *testing.T) {
	f, path := earlier.Folder(filepath.Join(t.TempDir(), "earlier")), filepath.Join(t.TempDir(), "a.toml")
	save(t, f, path, "one")
	wantVersions(t, f, path)
	save(t, f, path, "two")
	wantVersions(t, f, path, "one")
	save(t, f, path, "two") // nothing new
	save(t, f, path, "three")
	wantVersions(t, f, path, "two", "one")
	if n, err := f.Forget(path); n != 2 || err != nil {
		t.Errorf("forgotten %d, %v", n, err)
	}
	wantVersions(t, f, path)
	if left, _ := os.ReadDir(string(f)); len(left) > 0 {
		t.Errorf("left over: %v", left)
	}
	save(t, f, path, "four")
	wantVersions(t, f, path, "three")
}

// The save itself may fail and be tried again: then the version is there already.
func TestTriedAgain(t *testing.T) {
	f, path := earlier.Folder(t.TempDir()), filepath.Join(t.TempDir(), "a.toml")
	save(t, f, path, "one")
	for range 3 {
		if err := f.Keep(path, []byte("two")); err != nil {
			t.Fatal(err)
		}
	}
	wantVersions(t, f, path, "one")
}

func TestOnlyTheLatestAreKept(t *testing.T) {
	f, path := earlier.Folder(t.TempDir()), filepath.Join(t.TempDir(), "a.toml")
	var want []string
	for n := range earlier.Most + 5 {
		save(t, f, path, fmt.Sprint("sheet ", n))
		if n < earlier.Most+4 {
			want = append([]string{fmt.Sprint("sheet ", n)}, want...)
		}
	}
	wantVersions(t, f, path, want[:earlier.Most]...)
}

// A clock that was set back does not change the order, and each version says when it had been written.
func TestTheClockIsSetBack(t *testing.T) {
	f, path := earlier.Folder(t.TempDir()), filepath.Join(t.TempDir(), "a.toml")
	at := time.Date(2026, time.April, 7, 12, 0, 0, 0, time.UTC)
	save(t, f, path, "one")
	for _, text := range []string{"two", "three", "four"} {
		if err := os.Chtimes(path, at, at); err != nil {
			t.Fatal(err)
		}
		save(t, f, path, text)
		if v := f.All(path)[0]; !v.At.Equal(at) {
			t.Errorf("before %s: %v, want %v", text, v.At, at)
		}
		at = at.AddDate(-1, 0, 0)
	}
	wantVersions(t, f, path, "three", "two", "one")
}

// A file is the same by a link to it; files of one name in two folders are two.
func TestWhichFile(t *testing.T) {
	f, one, two := earlier.Folder(t.TempDir()), filepath.Join(t.TempDir(), "a.toml"), filepath.Join(t.TempDir(), "a.toml")
	save(t, f, one, "one")
	save(t, f, two, "two")
	save(t, f, one, "one again")
	wantVersions(t, f, two)
	link := filepath.Join(filepath.Dir(two), "link.toml")
	if err := os.Symlink(one, link); err != nil {
		t.Skipf("no symbolic links here: %v", err)
	}
	save(t, f, link, "by the link")
	wantVersions(t, f, one, "one again", "one")
	if name, err := os.ReadFile(filepath.Join(firstIn(t, string(f)), "of")); err != nil || !strings.HasSuffix(strings.TrimSpace(string(name)), "a.toml") {
		t.Errorf("the folder says %q, %v", name, err)
	}
}

func firstIn(t *testing.T, folder string) string {
	t.Helper()
	entries, err := os.ReadDir(folder)
	if err != nil || len(entries) == 0 {
		t.Fatalf("nothing in %s: %v", folder, err)
	}
	return filepath.Join(folder, entries[0].Name())
}

// What no sheet can be is not kept, and what is no version is not taken for one.
func TestWhatIsNotKept(t *testing.T) {
	f, dir := earlier.Folder(t.TempDir()), t.TempDir()
	long := filepath.Join(dir, "long")
	if err := os.WriteFile(long, bytes.Repeat([]byte("x"), sheetfile.MaxSize+1), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{long, dir, filepath.Join(dir, "none")} {
		if err := f.Keep(path, []byte("new")); err != nil {
			t.Errorf("%s: %v", path, err)
		}
		wantVersions(t, f, path)
	}
	path := filepath.Join(dir, "a.toml")
	save(t, f, path, "one")
	save(t, f, path, "two")
	in := firstIn(t, string(f))
	for _, name := range []string{"x.toml", "-3.toml", "0.toml", "4", "99999999999999999999.toml"} {
		if err := os.WriteFile(filepath.Join(in, name), nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	wantVersions(t, f, path, "one")
}

func TestNowhereToKeep(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.toml")
	if err := os.WriteFile(path, []byte("one"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := earlier.Folder("").Keep(path, nil); !errors.Is(err, earlier.ErrNone) {
		t.Error(err)
	}
	if err := earlier.Folder(filepath.Join(path, "in")).Keep(path, nil); err == nil {
		t.Error("it is kept in a file")
	}
	if n, err := earlier.Folder("").Forget(path); n != 0 || err != nil {
		t.Error(n, err)
	}
}

// A file that is gone is still known by whatever way led to it, so that what was in it can be had, or forgotten.
func TestTheFileIsGone(t *testing.T) {
	f, dir := earlier.Folder(t.TempDir()), t.TempDir()
	if err := os.Mkdir(filepath.Join(dir, "true"), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("true", filepath.Join(dir, "link")); err != nil {
		t.Skipf("no symbolic links here: %v", err)
	}
	path := filepath.Join(dir, "link", "a.toml")
	save(t, f, path, "one")
	save(t, f, path, "two")
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	wantVersions(t, f, path, "one")
	if n, err := f.Forget(path); n != 1 || err != nil {
		t.Errorf("forgotten %d, %v", n, err)
	}
	if left, _ := os.ReadDir(string(f)); len(left) > 0 {
		t.Errorf("left over: %v", left)
	}
}
