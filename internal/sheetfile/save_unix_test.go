//go:build unix

package sheetfile

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"testing"
)

func TestCausesThatUsersMeet(t *testing.T) {
	for cause, text := range map[syscall.Errno]string{
		syscall.ENOSPC:       "no space left on the disk; free some space or save elsewhere",
		syscall.EDQUOT:       "your share of the disk is used up; free some space or save elsewhere",
		syscall.EROFS:        "the disk is read-only; save elsewhere",
		syscall.ENAMETOOLONG: "the name is too long; save under a shorter name",
		syscall.EACCES:       "no permission to write there; have it allowed or save elsewhere",
	} {
		path := sheetAt(t, oldSheet)
		err := faults{write: asInLife(cause)}.disk().write(path, []byte(newSheet))
		wantError(t, err, cause, "cannot save to "+path+": "+text+" (the sheet on disk is as it was)")
		wantOnly(t, path, oldSheet)
	}
}

// Readers who open the file at any time see one of the sheets in full. (Windows replaces no file that is open.)
func TestReadersSeeOneSheetOrTheOther(t *testing.T) {
	first, second := bytes.Repeat([]byte("a"), 1<<16), bytes.Repeat([]byte("b"), 1<<16)
	path := sheetAt(t, string(first))
	done := make(chan error)
	go func() {
		var err error
		for i := 0; i < 40 && err == nil; i++ {
			err = WriteAtomic(path, [][]byte{second, first}[i%2])
		}
		done <- err
	}()
	for {
		select {
		case err := <-done:
			if err != nil {
				t.Fatal(err)
			}
			return
		default:
		}
		got, err := os.ReadFile(path)
		if err != nil {
			t.Fatalf("for a moment there was no file: %v", err)
		}
		if !bytes.Equal(got, first) && !bytes.Equal(got, second) {
			t.Fatalf("a reader saw %d bytes that are neither sheet", len(got))
		}
	}
}

func TestModeIsKept(t *testing.T) {
	for _, mode := range []fs.FileMode{0o600, 0o640, 0o644, 0o664, 0o200, 0o777} {
		path := sheetAt(t, oldSheet)
		if err := os.Chmod(path, mode); err != nil {
			t.Fatal(err)
		}
		if err := WriteAtomic(path, []byte(newSheet)); err != nil {
			t.Fatal(err)
		}
		wantMode(t, path, mode)
	}
}

func TestNewSheetIsPrivate(t *testing.T) {
	path := filepath.Join(t.TempDir(), "head.toml")
	if err := WriteAtomic(path, []byte(newSheet)); err != nil {
		t.Fatal(err)
	}
	wantMode(t, path, 0o600)
}

func TestModeThatCannotBeSet(t *testing.T) {
	refuses := faults{chmod: asInLife(syscall.EPERM)}.disk()
	path := sheetAt(t, oldSheet) // mode 0644, the temporary file has 0600
	err := refuses.write(path, []byte(newSheet))
	wantError(t, err, syscall.EPERM, "cannot save to "+path+
		": no permission to write there; have it allowed or save elsewhere (the sheet on disk is as it was)")
	wantOnly(t, path, oldSheet)

	// Nothing to set, nothing to fail.
	if err := os.Chmod(path, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := refuses.write(path, []byte(newSheet)); err != nil {
		t.Error(err)
	}
	wantOnly(t, path, newSheet)
}

func TestLinksAreFollowed(t *testing.T) {
	folder := t.TempDir()
	// sheets/ and pointer/ are folders; desk/ is a link to a folder elsewhere, so desk/.. is not folder.
	for _, name := range []string{"sheets", "pointer", "away/deep"} {
		if err := os.MkdirAll(filepath.Join(folder, name), 0o700); err != nil {
			t.Fatal(err)
		}
	}
	for name, dest := range map[string]string{
		"desk":              filepath.Join(folder, "away/deep"),
		"pointer/one":       "two",
		"pointer/two":       "../sheets/head.toml",
		"pointer/new":       "../sheets/new.toml",
		"pointer/absolute":  filepath.Join(folder, "sheets/absolute.toml"),
		"pointer/over-desk": "../desk/../over.toml",
		"pointer/nowhere":   "../gone/head.toml",
		"pointer/circle":    "circle",
	} {
		if err := os.Symlink(dest, filepath.Join(folder, name)); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.WriteFile(filepath.Join(folder, "sheets/head.toml"), []byte(oldSheet), 0o640); err != nil {
		t.Fatal(err)
	}
	for link, target := range map[string]string{
		"pointer/one":       "sheets/head.toml", // exists
		"pointer/new":       "sheets/new.toml",  // the link leads to nothing yet
		"pointer/absolute":  "sheets/absolute.toml",
		"pointer/over-desk": "away/over.toml",
	} {
		if err := WriteAtomic(filepath.Join(folder, link), []byte(newSheet)); err != nil {
			t.Error(err)
		}
		if got, err := os.ReadFile(filepath.Join(folder, target)); string(got) != newSheet {
			t.Errorf("by %s: %s holds %q (%v)", link, target, got, err)
		}
		if info, err := os.Lstat(filepath.Join(folder, link)); err != nil || info.Mode()&fs.ModeSymlink == 0 {
			t.Errorf("%s is no link any more", link)
		}
	}
	wantMode(t, filepath.Join(folder, "sheets/head.toml"), 0o640)
	wantNames(t, filepath.Join(folder, "sheets"), "absolute.toml", "head.toml", "new.toml")

	if err := WriteAtomic(filepath.Join(folder, "pointer/nowhere"), nil); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a link into a folder that is not there: %v", err)
	}
	if err := WriteAtomic(filepath.Join(folder, "pointer/circle"), nil); !errors.Is(err, syscall.ELOOP) {
		t.Errorf("a link to itself: %v", err)
	}
	wantNames(t, filepath.Join(folder, "pointer"), "absolute", "circle", "new", "nowhere", "one", "over-desk", "two")
}

// What happens to other hard links is documented, so it is tested.
func TestOtherHardLinksKeepTheOldSheet(t *testing.T) {
	path := sheetAt(t, oldSheet)
	other := filepath.Join(t.TempDir(), "other.toml")
	if err := os.Link(path, other); err != nil {
		t.Skip(err)
	}
	if err := WriteAtomic(path, []byte(newSheet)); err != nil {
		t.Fatal(err)
	}
	wantOnly(t, path, newSheet)
	wantOnly(t, other, oldSheet)
}

func TestMoreRefusals(t *testing.T) {
	t.Run("a device", func(t *testing.T) {
		err := WriteAtomic(os.DevNull, nil)
		wantError(t, err, errNotOrdinary,
			"cannot save to /dev/null: it is not an ordinary file; save under another name (nothing was written)")
	})
	t.Run("a file for a folder", func(t *testing.T) {
		path := sheetAt(t, oldSheet)
		err := WriteAtomic(path+"/head.toml", nil)
		wantError(t, err, syscall.ENOTDIR, "cannot save to "+path+
			"/head.toml: a part of the path is a file, not a folder; correct the path or save elsewhere (nothing was written)")
		wantOnly(t, path, oldSheet)
	})
	t.Run("a folder that may not be written", func(t *testing.T) {
		notAsRoot(t)
		path := sheetAt(t, oldSheet)
		folder := filepath.Dir(path)
		if err := os.Chmod(folder, 0o500); err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { _ = os.Chmod(folder, 0o700) })
		err := WriteAtomic(path, []byte(newSheet))
		wantError(t, err, fs.ErrPermission, "cannot save to "+path+
			": no permission to write there; have it allowed or save elsewhere (the sheet on disk is as it was)")
		wantOnly(t, path, oldSheet)
	})
	t.Run("a file that others may write, but not we", func(t *testing.T) {
		notAsRoot(t)
		path := sheetAt(t, oldSheet)
		if err := os.Chmod(path, 0o466); err != nil {
			t.Fatal(err)
		}
		err := WriteAtomic(path, []byte(newSheet))
		wantError(t, err, fs.ErrPermission, "cannot save to "+path+
			": no permission to write there; have it allowed or save elsewhere (the sheet on disk is as it was)")
		wantOnly(t, path, oldSheet)
	})
}

func TestFolderThatMayNotBeReadTakesASheet(t *testing.T) {
	notAsRoot(t)
	path := sheetAt(t, oldSheet)
	folder := filepath.Dir(path)
	if err := os.Chmod(folder, 0o300); err != nil {
		t.Fatal(err)
	}
	err := WriteAtomic(path, []byte(newSheet))
	if err := os.Chmod(folder, 0o700); err != nil {
		t.Fatal(err)
	}
	if err != nil {
		t.Error(err)
	}
	wantOnly(t, path, newSheet)
}

func TestOwnerIsKept(t *testing.T) {
	if os.Geteuid() != 0 {
		t.Skip("only root can give files away")
	}
	const owner, group = 4321, 8765
	path := sheetAt(t, oldSheet)
	if err := os.Chown(path, owner, group); err != nil {
		t.Skip(err)
	}
	if err := WriteAtomic(path, []byte(newSheet)); err != nil {
		t.Fatal(err)
	}
	info, err := os.Stat(path)
	if err != nil {
		t.Fatal(err)
	}
	stat := info.Sys().(*syscall.Stat_t)
	if stat.Uid != owner || stat.Gid != group {
		t.Errorf("owner %d, group %d, want %d, %d", stat.Uid, stat.Gid, owner, group)
	}
}

// A write that the system itself cuts short: a limit on the size of files, in a process of its own since it cannot be
// lifted again.
func TestWriteCutShortByTheSystem(t *testing.T) {
	const sheetVariable, limit = "UNDERVEIL_TEST_LIMITED_SHEET", 4096
	if path := os.Getenv(sheetVariable); path != "" {
		if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: limit, Max: limit}); err != nil {
			fmt.Println(err)
			os.Exit(3)
		}
		err := WriteAtomic(path, make([]byte, 2*limit))
		if !errors.Is(err, syscall.EFBIG) {
			fmt.Println(err)
			os.Exit(4)
		}
		os.Exit(0)
	}
	path := sheetAt(t, oldSheet)
	child := exec.Command(os.Args[0], "-test.run=^TestWriteCutShortByTheSystem$")
	child.Env = append(os.Environ(), sheetVariable+"="+path)
	if out, err := child.CombinedOutput(); err != nil {
		t.Errorf("%v: %s", err, out)
	}
	wantOnly(t, path, oldSheet)
}

func notAsRoot(t *testing.T) {
	t.Helper()
	if os.Geteuid() == 0 {
		t.Skip("root is allowed everything")
	}
}

func wantMode(t *testing.T, path string, mode fs.FileMode) {
	t.Helper()
	info, err := os.Stat(path)
	if err != nil {
		t.Fatal(err)
	}
	if info.Mode().Perm() != mode {
		t.Errorf("mode %v, want %v", info.Mode().Perm(), mode)
	}
}

// A folder that is there and takes no files is not said to be missing.
func TestFolderWithoutRoomForFiles(t *testing.T) {
	const path = "/proc/head.toml"
	err := WriteAtomic(path, nil)
	if !errors.Is(err, fs.ErrNotExist) {
		t.Skipf("/proc is of another kind here: %v", err)
	}
	wantError(t, err, fs.ErrNotExist, "cannot save to "+path+": the system takes no new file in /proc; save elsewhere (nothing was written)")
}
