// Package golden compares what a test drew with a file that was looked at once.
package golden

import (
	"flag"
	"os"
	"path/filepath"
	"testing"
)

var update = flag.Bool("update", false, "write the golden drawings anew")

// Compare fails the test where a drawing is not what stands in a file, which go test -update writes.
func Compare(t *testing.T, file, got string) {
	t.Helper()
	if *update {
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatalf("%v; go test -update writes it", err)
	}
	if got != string(want) {
		t.Errorf("%s is drawn as\n%s\nwant\n%s", filepath.Base(file), got, want)
	}
}
