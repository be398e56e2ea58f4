package tui

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"example.org/underveil/internal/scalp"
)

const screens = "../../testdata/screens"

// golden holds a text against a file of testdata/screens, or writes it there.
func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join(screens, name)
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("%v; -update writes it", err)
	}
	if want := string(data); got != want {
		t.Errorf("%s: %s\nit is now\n%s", name, firstDifference(got, want), got)
	}
}

// firstDifference is the first line in which two texts differ.
func firstDifference(got, want string) string {
	g, w := strings.Split(got, "\n"), strings.Split(want, "\n")
	for i := range max(len(g), len(w)) {
		var a, b string
		if i < len(g) {
			a = g[i]
		}
		if i < len(w) {
			b = w[i]
		}
		if a != b {
			return "line " + strconv.Itoa(i+1) + " is\n" + a + "\nwant\n" + b
		}
	}
	return "the same"
}

func mm(v float64) scalp.MM { return scalp.MM(v) }

// headSizes are the four ordinary heads.
var headSizes = []scalp.Measures{scalp.Sizes[0].Measures, scalp.Sizes[1].Measures, scalp.Sizes[2].Measures, scalp.Sizes[3].Measures}
