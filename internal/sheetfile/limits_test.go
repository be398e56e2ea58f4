package sheetfile

import (
	"maps"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/sheet"
)

func TestBadLimitsSamples(t *testing.T) {
	wantRefused(t, "bad-limits", func(name string, data []byte) ([]Notice, error) {
		of, limits, err := DecodeLimits(name, data)
		if err != nil && (of != "" || limits != nil) {
			t.Error("there are limits beside the error")
		}
		return nil, err
	})
}

// However limits are written, they are the same limits.
func TestHandEditedLimits(t *testing.T) {
	want := map[sheet.LimitName]float64{sheet.LimitNape: 25, sheet.LimitEar: 15, "veil": 47.5}
	for _, name := range []string{"full.toml", "full-otherwise.toml"} {
		for edit, data := range asSaved(readSample(t, filepath.Join(samples, "good-limits", name))) {
			of, limits, err := DecodeLimits(name, data)
			if err != nil || of != "Ashgrove College" || !maps.Equal(limits, want) {
				t.Errorf("%s%s: %q, %v, error %v", name, edit, of, limits, err)
			}
		}
	}
}

func TestDamagedNameOfACollegeBecomesSafe(t *testing.T) {
	of, _, err := DecodeLimits("hostile.toml", readSample(t, filepath.Join(samples, "good-limits", "hostile.toml")))
	if err != nil || !printable.Clean(of) || !strings.HasPrefix(of, "Ash") {
		t.Errorf("%+q, error %v", of, err)
	}
}

func TestLoadLimits(t *testing.T) {
	path := filepath.Join(t.TempDir(), "college.toml")
	if _, _, err := LoadLimits(path); err == nil || !strings.Contains(err.Error(), "no such file") {
		t.Errorf("error %v", err)
	}
	if err := os.WriteFile(path, readSample(t, filepath.Join(samples, "good-limits", "full.toml")), 0o600); err != nil {
		t.Fatal(err)
	}
	of, limits, err := LoadLimits(path)
	if err != nil || of != "Ashgrove College" || len(limits) != 3 {
		t.Errorf("%q, %v, error %v", of, limits, err)
	}
}
