package ordinary

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"testing"
)

func TestRead(t *testing.T) {
	folder := t.TempDir()
	at := filepath.Join(folder, "file")
	for size := range 6 {
		if err := os.WriteFile(at, make([]byte, size), 0o600); err != nil {
			t.Fatal(err)
		}
		data, err := Read(at, 3)
		if fits := size <= 3; fits && (err != nil || len(data) != size) || !fits && (!errors.Is(err, ErrLong) || data != nil) {
			t.Errorf("of %d bytes %d are read: %v", size, len(data), err)
		}
	}
	if _, err := Read(folder, 3); !errors.Is(err, Err) {
		t.Errorf("a folder is read: %v", err)
	}
	if _, err := Read(at+"x", 3); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("what is not there is read: %v", err)
	}
}

func TestEntries(t *testing.T) {
	folder := t.TempDir()
	var want []string
	for i := range 1300 {
		name := fmt.Sprintf("%05d", i*7919%1300)
		want = append(want, name)
		if err := os.WriteFile(filepath.Join(folder, name), nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	slices.Sort(want)
	for _, most := range []int{0, 1, 511, 512, 513, 1299, 1300, 5000} {
		all, err := Entries(folder, most)
		if err != nil || len(all) != min(most, len(want)) || !slices.IsSortedFunc(all, func(a, b fs.DirEntry) int { return cmpNames(a, b) }) {
			t.Errorf("%d of at most %d: %v", len(all), most, err)
		}
		if most >= len(want) {
			for i, e := range all {
				if e.Name() != want[i] {
					t.Fatalf("entry %d is %s", i, e.Name())
				}
			}
		}
	}
	if _, err := Entries(folder+"x", 5); !errors.Is(err, fs.ErrNotExist) {
		t.Error(err)
	}
}

func cmpNames(a, b fs.DirEntry) int {
	if a.Name() < b.Name() {
		return -1
	}
	return 1
}
