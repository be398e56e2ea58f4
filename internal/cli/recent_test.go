package cli

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"
)

// What was open lately and is not there, as on a disk that was taken out, is not offered; when it is there again it is.
func TestOpenLately(t *testing.T) {
	dir := t.TempDir()
	t.Setenv("XDG_STATE_HOME", filepath.Join(dir, "state"))
	disk := filepath.Join(dir, "disk")
	sheet := func(n int) string { return filepath.Join(disk, fmt.Sprintf("%02d.toml", n)) }
	if err := os.Mkdir(disk, 0o700); err != nil {
		t.Fatal(err)
	}
	var want []string // the last first
	for n := range 12 {
		if err := os.WriteFile(sheet(n), nil, 0o600); err != nil {
			t.Fatal(err)
		}
		remember(sheet(n))
		want = slices.Insert(want, 0, sheet(n))
	}
	wantRecent := func(when string, want ...string) {
		t.Helper()
		if got := recentSheets(); !slices.Equal(got, want) {
			t.Errorf("%s: offered are %q, want %q", when, got, want)
		}
	}
	wantRecent("all are there", want[:mostRecent]...)

	away := filepath.Join(dir, "away")
	if err := os.Rename(disk, away); err != nil {
		t.Fatal(err)
	}
	wantRecent("the disk is out")
	other := filepath.Join(dir, "other.toml")
	if err := os.WriteFile(other, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	remember(other)
	wantRecent("another was opened meanwhile", other)
	if err := forgetRecent(other); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(away, disk); err != nil {
		t.Fatal(err)
	}
	wantRecent("the disk is back", want[:mostRecent]...)

	remember(sheet(3))
	wantRecent("one was opened again", append([]string{sheet(3)}, slices.DeleteFunc(want, func(p string) bool { return p == sheet(3) })[:mostRecent-1]...)...)
	for n := range mostRemembered + 5 {
		remember(filepath.Join(dir, fmt.Sprintf("gone-%d.toml", n)))
	}
	if got := remembered(); len(got) != mostRemembered {
		t.Errorf("%d are remembered, want %d", len(got), mostRemembered)
	}
}
