package ordinary

import (
	"os"
	"path/filepath"
	"testing"
)

// A file has one name by whatever way, before it is there, while it is and when it is gone.
func TestResolve(t *testing.T) {
	root, err := filepath.EvalSymlinks(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(filepath.Join(root, "true"), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("true", filepath.Join(root, "link")); err != nil {
		t.Skipf("no symbolic links here: %v", err)
	}
	t.Chdir(root)
	file := filepath.Join(root, "true", "a", "b.toml")
	ways := []string{file, "true/a/b.toml", "link/a/b.toml", filepath.Join(root, "link", "a", "b.toml"), "link/../true/./a/b.toml"}
	check := func(when string) {
		t.Helper()
		for _, way := range ways {
			if got := Resolve(way); got != file {
				t.Errorf("%s, %s is %s, want %s", when, way, got, file)
			}
		}
	}
	check("before there is a folder")
	if err := os.Mkdir(filepath.Dir(file), 0o700); err != nil {
		t.Fatal(err)
	}
	check("before it is made")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	check("while it is there")
	if err := os.RemoveAll(filepath.Dir(file)); err != nil {
		t.Fatal(err)
	}
	check("when it is gone")
	if got := Resolve("/"); got != filepath.FromSlash("/") {
		t.Errorf("the root is %s", got)
	}
}
