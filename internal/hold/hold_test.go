package hold_test

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"example.org/underveil/internal/filelock"
	"example.org/underveil/internal/hold"
)

// TestMain is another program too: one that holds a file until it is killed.
func TestMain(m *testing.M) {
	if path := os.Getenv("HOLD_TEST"); path != "" {
		if _, err := hold.Folder(os.Getenv("HOLD_FOLDER")).Of(path); err != nil {
			os.Exit(3)
		}
		os.Stdout.WriteString("held\n")
		time.Sleep(time.Minute)
	}
	os.Exit(m.Run())
}

func wantTaken(t *testing.T, f hold.Folder, path string) {
	t.Helper()
	h, err := f.Of(path)
	var taken *hold.Taken
	if !errors.As(err, &taken) || !errors.Is(err, filelock.ErrTaken) || h != nil {
		t.Fatalf("%s: %v, %v; want that it is taken", path, h, err)
	}
	if since := time.Since(taken.Since); since < 0 || since > time.Hour {
		t.Errorf("%s: taken since %v", path, taken.Since)
	}
}

func mustHold(t *testing.T, f hold.Folder, path string) *hold.Hold {
	t.Helper()
	h, err := f.Of(path)
	if err != nil {
		t.Fatalf("%s: %v", path, err)
	}
	t.Cleanup(h.Release)
	return h
}

func TestOneAtATime(t *testing.T) {
	f, dir := hold.Folder(filepath.Join(t.TempDir(), "held")), t.TempDir()
	one, two := filepath.Join(dir, "one.toml"), filepath.Join(dir, "two.toml")
	h := mustHold(t, f, one)
	wantTaken(t, f, one)
	mustHold(t, f, two)
	h.Release()
	h.Release()
	mustHold(t, f, one)
	wantTaken(t, f, one)
}

// One file is one file, by whatever path, before and after it is made.
func TestPathsToOneFile(t *testing.T) {
	f, dir := hold.Folder(t.TempDir()), t.TempDir()
	file, link, linked := filepath.Join(dir, "a.toml"), filepath.Join(dir, "b.toml"), filepath.Join(dir, "folder")
	if err := os.Symlink(dir, linked); err != nil {
		t.Skipf("no symbolic links here: %v", err)
	}
	if err := os.Symlink("a.toml", link); err != nil {
		t.Fatal(err)
	}
	t.Chdir(dir)
	h := mustHold(t, f, file)
	wantTaken(t, f, "a.toml")
	wantTaken(t, f, filepath.Join(linked, "a.toml"))
	h.Release()
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	mustHold(t, f, link)
	for _, path := range []string{file, "./a.toml", "b.toml", filepath.Join(linked, "b.toml")} {
		wantTaken(t, f, path)
	}
}

// A program that is killed holds nothing any more, and leaves nothing in the way.
func TestKilled(t *testing.T) {
	folder, path := t.TempDir(), filepath.Join(t.TempDir(), "a.toml")
	other := exec.Command(os.Args[0])
	other.Env = append(os.Environ(), "HOLD_TEST="+path, "HOLD_FOLDER="+folder)
	out, err := other.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := other.Start(); err != nil {
		t.Fatal(err)
	}
	if n, err := out.Read(make([]byte, 5)); n == 0 {
		t.Fatalf("the other program says nothing: %v", err)
	}
	wantTaken(t, hold.Folder(folder), path)
	if err := other.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	_ = other.Wait()
	mustHold(t, hold.Folder(folder), path).Release()
	if left, _ := os.ReadDir(folder); len(left) > 0 && runtime.GOOS != "windows" {
		t.Errorf("left over: %v", left)
	}
}

func TestNowhereToHold(t *testing.T) {
	if h, err := hold.Folder("").Of("a.toml"); h != nil || !errors.Is(err, hold.ErrNone) {
		t.Errorf("%v, %v", h, err)
	}
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if h, err := hold.Folder(filepath.Join(file, "in")).Of("a.toml"); h != nil || err == nil || errors.Is(err, filelock.ErrTaken) {
		t.Errorf("%v, %v", h, err)
	}
	(*hold.Hold)(nil).Release()
}

// However many want it, and take it in turn, never two have it at a time.
func TestManyAtOnce(t *testing.T) {
	f, path := hold.Folder(t.TempDir()), filepath.Join(t.TempDir(), "a.toml")
	var have, had, wrong atomic.Int32
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			for range 100 {
				h, err := f.Of(path)
				if err != nil {
					if !errors.Is(err, filelock.ErrTaken) {
						wrong.Add(1)
					}
					continue
				}
				if have.Add(1) > 1 {
					wrong.Add(1)
				}
				had.Add(1)
				have.Add(-1)
				h.Release()
			}
		})
	}
	all.Wait()
	if wrong.Load() > 0 || had.Load() == 0 {
		t.Errorf("%d times wrong of %d", wrong.Load(), had.Load())
	}
}

// A program that opens a file twice is not in its own way, and others come in when it has done with it as often.
func TestTheSameProgramTwice(t *testing.T) {
	folder, path := hold.Folder(t.TempDir()), filepath.Join(t.TempDir(), "a.toml")
	mine, theirs := hold.Keeper{Folder: folder}, hold.Keeper{Folder: folder}
	first, err := mine.Of(path)
	if err != nil {
		t.Fatal(err)
	}
	second, err := mine.Of(path)
	if err != nil {
		t.Fatalf("it is in its own way: %v", err)
	}
	first()
	first()
	if _, err := theirs.Of(path); !errors.Is(err, filelock.ErrTaken) {
		t.Fatalf("another has it too: %v", err)
	}
	second()
	release, err := theirs.Of(path)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := mine.Of(path); !errors.Is(err, filelock.ErrTaken) {
		t.Fatalf("the first has it too: %v", err)
	}
	release()
}

// A program that releases late removes no lock of another, after a cleaner of old files has taken its own.
func TestACleaner(t *testing.T) {
	folder, path := t.TempDir(), filepath.Join(t.TempDir(), "a.toml")
	f := hold.Folder(folder)
	first := mustHold(t, f, path)
	locks, err := os.ReadDir(folder)
	if err != nil || len(locks) != 1 {
		t.Fatalf("%v, %v", locks, err)
	}
	if err := os.Remove(filepath.Join(folder, locks[0].Name())); err != nil {
		t.Skipf("it can't be removed here: %v", err)
	}
	mustHold(t, f, path)
	first.Release()
	wantTaken(t, f, path)
}
