package sheetfile

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

func TestLoadAndSave(t *testing.T) {
	path := filepath.Join(t.TempDir(), "head.toml")
	s := sheet.New(scalp.Sizes[0].Measures).WithBond(sheet.Place{At: 60}, 2, sheet.Bond{Shade: 'a'})
	if err := Save(path, s); err != nil {
		t.Fatal(err)
	}
	got, notices, err := Load(path)
	if err != nil || notices != nil {
		t.Fatal(err, notices)
	}
	if !bytes.Equal(Encode(got), Encode(s)) {
		t.Error(diff(string(Encode(s)), string(Encode(got))))
	}
	if err := Save(filepath.Join(path, "in-a-file.toml"), s); err == nil {
		t.Error("saved into a file")
	}
}

func TestLoadErrors(t *testing.T) {
	folder := t.TempDir()
	big := filepath.Join(folder, "big.toml")
	if err := os.WriteFile(big, bytes.Repeat([]byte("#\n"), MaxSize/2+1), 0o600); err != nil {
		t.Fatal(err)
	}
	bad := filepath.Join(folder, "bad.toml")
	if err := os.WriteFile(bad, []byte("format = 1\nhead = 3\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		path, want string
		cause      error
	}{
		"missing": {filepath.Join(folder, "gone.toml"),
			": no such file; check the name and the folder, or make a new sheet", fs.ErrNotExist},
		"missing folder": {filepath.Join(folder, "gone", "head.toml"),
			": no such file; check the name and the folder, or make a new sheet", fs.ErrNotExist},
		"folder":       {folder, ": this is a folder; give the name of a sheet in it", nil},
		"no name":      {"", "underveil: (no name): there is no file name; give the name of a sheet", nil},
		"strange name": {filepath.Join(folder, "a\x1b[2J\u202eb"), "a\uFFFD[2J\uFFFDb: no such file;", fs.ErrNotExist},
		"too long":     {big, ": the file has 1048578 bytes, and no head sheet has more than 1048576; is it another file?", nil},
		"not a sheet":  {bad, ":2:8: head is a number, and should be a table\n", nil},
	} {
		t.Run(name, func(t *testing.T) {
			s, notices, err := Load(c.path)
			if err == nil || s != nil || notices != nil {
				t.Fatalf("Load gives %v, %v, %v", s, notices, err)
			}
			if text := err.Error(); !strings.HasPrefix(text, "underveil: ") || !strings.Contains(text, c.want) {
				t.Errorf("message %q, want %q in it", text, c.want)
			}
			if c.cause != nil && !errors.Is(err, c.cause) {
				t.Errorf("%v is not behind it", c.cause)
			}
			wantSafeError(t, err)
		})
	}
}

// A file of 100 MB is not read into memory.
func TestHugeFileIsNotRead(t *testing.T) {
	path := filepath.Join(t.TempDir(), "huge.toml")
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(f.Truncate(100<<20), f.Close()); err != nil { // a hole: it takes no space on the disk
		t.Fatal(err)
	}
	if used := allocated(func() { _, _, err = Load(path) }); used > 1<<16 {
		t.Errorf("%d bytes allocated to refuse a file", used)
	}
	if err == nil || !strings.Contains(err.Error(), "the file has 104857600 bytes") {
		t.Error(err)
	}
}

// allocated is the bytes that f allocates.
func allocated(f func()) uint64 {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	f()
	runtime.ReadMemStats(&after)
	return after.TotalAlloc - before.TotalAlloc
}
