package sheetfile

import (
	"os"
	"testing"
	"time"

	"golang.org/x/sys/windows"
)

// A sheet that somebody is reading is saved when he has done with it.
func TestSaveWhileItIsRead(t *testing.T) {
	path := sheetAt(t, oldSheet)
	reader, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(sheetAt(t, newSheet), path); !inUse(err) {
		t.Fatalf("a file that is read is replaced with %v; then waiting has no use", err)
	}
	closed := time.AfterFunc(20*time.Millisecond, func() { _ = reader.Close() })
	defer closed.Stop()
	if err := WriteAtomic(path, []byte(newSheet)); err != nil {
		t.Fatal(err)
	}
	wantOnly(t, path, newSheet)
}

// One that somebody keeps open is not saved, and stays as it was.
func TestSaveWhileItIsKeptOpen(t *testing.T) {
	path := sheetAt(t, oldSheet)
	reader, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer reader.Close()
	wantError(t, WriteAtomic(path, []byte(newSheet)), windows.ERROR_ACCESS_DENIED, "cannot save to "+path+
		": another program has it open; close it there or save under another name (the sheet on disk is as it was)")
	wantOnly(t, path, oldSheet)
}
