package cli

import (
	"os"
	"slices"
	"testing"
)

func TestWildcards(t *testing.T) {
	t.Chdir(t.TempDir())
	for _, name := range []string{"b.toml", "a.toml", "c.txt", "[d.toml"} {
		if err := os.WriteFile(name, nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	args := []string{"check", "*.toml", "?.txt", "*.pdf", "[*", "--limits=*.toml", "c.txt"}
	want := []string{"check", "[d.toml", "a.toml", "b.toml", "c.txt", "*.pdf", "[*", "--limits=*.toml", "c.txt"}
	if got := unfolded(args); !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	if got := unfolded(nil); len(got) != 0 {
		t.Errorf("%q", got)
	}
}
