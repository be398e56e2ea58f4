package cli

import (
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

const leastStudio = "format = 1\ncurrency = \"JPY\"\n"

// ownFolder makes a folder for settings, and returns where the studio is in it.
func ownFolder(t *testing.T) string {
	t.Helper()
	if runtime.GOOS == "windows" || runtime.GOOS == "darwin" {
		t.Skip("the folder for settings is found in another way")
	}
	config := t.TempDir()
	t.Setenv("XDG_CONFIG_HOME", config)
	path, err := studioPath()
	if err != nil || path != filepath.Join(config, "underveil", "studio.toml") {
		t.Fatalf("the studio is in %s, error %v", path, err)
	}
	if err := os.Mkdir(filepath.Dir(path), 0o700); err != nil {
		t.Fatal(err)
	}
	return path
}

func write(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

// Without any studio file there is the one that comes with the program; the user's own goes before it, and one that is
// named before both.
func TestWhichStudio(t *testing.T) {
	own := ownFolder(t)
	named := filepath.Join(t.TempDir(), "other.toml")
	write(t, named, strings.Replace(leastStudio, "JPY", "CHF", 1))
	want := func(flag, from, currency string) {
		t.Helper()
		st, got, err := loadStudio(flag)
		if err != nil {
			t.Fatal(err)
		}
		if got != from || st.Currency.Code != currency {
			t.Errorf("the studio is from %s, in %s; want %s, %s", got, st.Currency.Code, from, currency)
		}
	}
	want("", builtIn, "EUR")
	want(named, named, "CHF")
	write(t, own, leastStudio)
	want("", own, "JPY")
	want(named, named, "CHF")
}

// Where the system has no folder for settings, there is no studio in it.
func TestStudioWithoutFolder(t *testing.T) {
	ownFolder(t)
	t.Setenv("XDG_CONFIG_HOME", "")
	t.Setenv("HOME", "")
	if st, from, err := loadStudio(""); err != nil || from != builtIn || len(st.Strands) == 0 {
		t.Errorf("from %s, error %v", from, err)
	}
}

// A studio file that is there and wrong, or named and not there, is an error.
func TestWrongStudioIsNotReplaced(t *testing.T) {
	for name, spoil := range map[string]func(path string) error{
		"no studio": func(path string) error { return os.WriteFile(path, []byte("format = 1\n"), 0o600) },
		"empty":     func(path string) error { return os.WriteFile(path, nil, 0o600) },
		"folder":    func(path string) error { return os.Mkdir(path, 0o700) },
		"lost link": func(path string) error { return os.Symlink(path+".gone", path) },
		"no folder": func(path string) error { // a file in its place
			if err := os.Remove(filepath.Dir(path)); err != nil {
				return err
			}
			return os.WriteFile(filepath.Dir(path), nil, 0o600)
		},
	} {
		t.Run(name, func(t *testing.T) {
			own := ownFolder(t)
			if err := spoil(own); err != nil {
				t.Fatal(err)
			}
			st, _, err := loadStudio("")
			if err == nil || st != nil || !strings.Contains(err.Error(), own) {
				t.Errorf("studio %v, error %v", st, err)
			}
		})
	}
	if st, _, err := loadStudio(filepath.Join(t.TempDir(), "gone.toml")); err == nil || st != nil {
		t.Errorf("studio %v, error %v", st, err)
	}
}
