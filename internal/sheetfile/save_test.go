package sheetfile

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"
)

const (
	oldSheet = "client = \"Zoë\"\n"
	newSheet = "client = \"Zoë\"\nrows = 4\n"
)

// faults makes chosen steps of a save fail. A step whose error is nil works as usual.
type faults struct {
	create, write, short, chmod, sync, close, rename, syncFolder error
}

func (f faults) disk() disk {
	d := realDisk
	d.create = func(folder string) (tempFile, error) {
		if f.create != nil {
			return nil, f.create
		}
		file, err := realDisk.create(folder)
		return &faultyFile{file, f}, err
	}
	if f.rename != nil {
		d.rename = func(string, string) error { return f.rename }
	}
	if f.syncFolder != nil {
		d.syncFolder = func(string) error { return f.syncFolder }
	}
	return d
}

type faultyFile struct {
	tempFile
	faults
}

// Write lets half of the data through before it fails, as a disk does that fills up.
func (f *faultyFile) Write(data []byte) (int, error) {
	if f.write == nil && f.short == nil {
		return f.tempFile.Write(data)
	}
	n, err := f.tempFile.Write(data[:len(data)/2])
	if err == nil {
		err = f.write
	}
	return n, err
}

func (f *faultyFile) Chmod(mode fs.FileMode) error {
	if f.chmod != nil {
		return f.chmod
	}
	return f.tempFile.Chmod(mode)
}

func (f *faultyFile) Sync() error {
	if f.sync != nil {
		return f.sync
	}
	return f.tempFile.Sync()
}

func (f *faultyFile) Close() error {
	if err := f.tempFile.Close(); err != nil {
		return err
	}
	return f.close
}

// asInLife wraps an error as package os does, name of a temporary file and all.
func asInLife(cause error) error {
	return &fs.PathError{Op: "write", Path: "/secret/.underveil-123.tmp", Err: cause}
}

func TestEachStepThatFailsLeavesTheOldSheet(t *testing.T) {
	disk, input := errors.New("the disk says no"), syscall.EIO
	for name, c := range map[string]struct {
		faults faults
		cause  error
		text   string // what the message holds between the path and the state of the sheet
	}{
		"create": {faults{create: asInLife(fs.ErrPermission)}, fs.ErrPermission, "no permission to write there; have it allowed or save elsewhere"},
		"write":  {faults{write: asInLife(disk)}, disk, "the disk says no; try again or save elsewhere"},
		"short":  {faults{short: io.ErrShortWrite}, io.ErrShortWrite, "short write; try again or save elsewhere"},
		"sync":   {faults{sync: asInLife(input)}, input, input.Error() + "; try again or save elsewhere"},
		"close":  {faults{close: asInLife(disk)}, disk, "the disk says no; try again or save elsewhere"},
		"rename": {faults{rename: asInLife(disk)}, disk, "the disk says no; try again or save elsewhere"},
	} {
		t.Run(name, func(t *testing.T) {
			path := sheetAt(t, oldSheet)
			err := c.faults.disk().write(path, []byte(newSheet))
			wantError(t, err, c.cause, "cannot save to "+path+": "+c.text+" (the sheet on disk is as it was)")
			wantOnly(t, path, oldSheet)
		})
		t.Run(name+", new file", func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "new.toml")
			err := c.faults.disk().write(path, []byte(newSheet))
			wantError(t, err, c.cause, "cannot save to "+path+": "+c.text+" (nothing was written)")
			wantNames(t, filepath.Dir(path))
		})
	}
}

// After the rename the old sheet is gone, so the message must say another thing.
func TestUnconfirmedSaveSaysSo(t *testing.T) {
	path := sheetAt(t, oldSheet)
	err := faults{syncFolder: asInLife(syscall.EIO)}.disk().write(path, []byte(newSheet))
	wantError(t, err, syscall.EIO, "cannot save to "+path+": the disk did not confirm it: "+syscall.EIO.Error()+
		"; save again, or save elsewhere as well (the new sheet is in place, but a power cut might undo that)")
	wantOnly(t, path, newSheet)
	if !errors.Is(err, ErrUnconfirmed) {
		t.Error("it can't be told from a save that failed")
	}
}

func TestSaveReplacesAndMakes(t *testing.T) {
	path := filepath.Join(t.TempDir(), "head.toml")
	for _, sheet := range []string{oldSheet, newSheet, "", oldSheet} {
		if err := WriteAtomic(path, []byte(sheet)); err != nil {
			t.Fatal(err)
		}
		wantOnly(t, path, sheet)
	}
}

func TestSaveIntoTheWorkingFolder(t *testing.T) {
	folder := t.TempDir()
	t.Chdir(folder)
	if err := WriteAtomic("head.toml", []byte(newSheet)); err != nil {
		t.Fatal(err)
	}
	wantOnly(t, filepath.Join(folder, "head.toml"), newSheet)
}

func TestRefusals(t *testing.T) {
	folder := t.TempDir()
	t.Run("a folder", func(t *testing.T) {
		err := WriteAtomic(folder, nil)
		wantError(t, err, syscall.EISDIR, "cannot save to "+folder+": it is a folder; add a file name (nothing was written)")
	})
	t.Run("no file name", func(t *testing.T) {
		path := folder + string(filepath.Separator) + "none" + string(filepath.Separator)
		err := WriteAtomic(path, nil)
		wantError(t, err, syscall.EISDIR, "cannot save to "+path+": it is a folder; add a file name (nothing was written)")
	})
	t.Run("nothing at all", func(t *testing.T) {
		if err := WriteAtomic("", nil); err == nil {
			t.Error("no error")
		}
	})
	t.Run("no such folder", func(t *testing.T) {
		path := filepath.Join(folder, "gone", "head.toml")
		err := WriteAtomic(path, nil)
		wantError(t, err, fs.ErrNotExist, "cannot save to "+path+": there is no folder "+filepath.Dir(path)+
			"; make the folder or save elsewhere (nothing was written)")
	})
	t.Run("steps up from no folder", func(t *testing.T) {
		t.Chdir(folder)
		path := filepath.FromSlash("gone/../../head.toml")
		if runtime.GOOS == "windows" {
			t.Skip("there a step up is taken before anything is looked for")
		}
		wantError(t, WriteAtomic(path, nil), fs.ErrNotExist, "cannot save to "+path+
			": there is no folder gone; make the folder or save elsewhere (nothing was written)")
	})
	wantNames(t, folder)

	t.Run("a read-only file", func(t *testing.T) {
		path := sheetAt(t, oldSheet)
		if err := os.Chmod(path, 0o444); err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { _ = os.Chmod(path, 0o644) }) // Windows removes no read-only file
		err := WriteAtomic(path, []byte(newSheet))
		wantError(t, err, fs.ErrPermission, "cannot save to "+path+
			": the file is read-only; make it writable or save under another name (the sheet on disk is as it was)")
		wantOnly(t, path, oldSheet)
	})
}

func TestMessagesAreSafeToShow(t *testing.T) {
	path := filepath.Join(t.TempDir(), "gone\x1b[2J\u202e", "head.toml")
	err := WriteAtomic(path, nil)
	if err == nil || strings.ContainsAny(err.Error(), "\x1b\u202e") {
		t.Errorf("message %q", err)
	}
}

// sheetAt writes a sheet into a folder of its own and returns its path.
func sheetAt(t *testing.T, sheet string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "head.toml")
	if err := os.WriteFile(path, []byte(sheet), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// wantOnly asserts that the file holds the sheet and is alone in its folder: no temporary file is left.
func wantOnly(t *testing.T, path, sheet string) {
	t.Helper()
	got, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != sheet {
		t.Errorf("the file holds %q, want %q", got, sheet)
	}
	wantNames(t, filepath.Dir(path), filepath.Base(path))
}

func wantNames(t *testing.T, folder string, names ...string) {
	t.Helper()
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, entry := range entries {
		got = append(got, entry.Name())
	}
	if !slices.Equal(got, names) {
		t.Errorf("the folder holds %q, want %q", got, names)
	}
}

func wantError(t *testing.T, err, cause error, text string) {
	t.Helper()
	if err == nil {
		t.Fatal("no error")
	}
	if err.Error() != text {
		t.Errorf("message\n %s, want\n %s", err, text)
	}
	if !errors.Is(err, cause) {
		t.Errorf("%v does not wrap %v", err, cause)
	}
}

// What a killed process has left goes with a later save, once nobody can be writing it any more; nothing else does.
func TestWhatKilledProcessesLeave(t *testing.T) {
	path := sheetAt(t, oldSheet)
	folder := filepath.Dir(path)
	old := time.Now().Add(-2 * abandoned)
	for name, at := range map[string]time.Time{".underveil-1.tmp": old, ".underveil-2.tmp": time.Now(), "underveil-3.tmp": old, ".underveil-4.toml": old} {
		other := filepath.Join(folder, name)
		if err := os.WriteFile(other, nil, 0o600); err != nil {
			t.Fatal(err)
		}
		if err := os.Chtimes(other, at, at); err != nil {
			t.Fatal(err)
		}
	}
	if err := WriteAtomic(path, []byte(newSheet)); err != nil {
		t.Fatal(err)
	}
	wantNames(t, folder, ".underveil-2.tmp", ".underveil-4.toml", filepath.Base(path), "underveil-3.tmp")
}
