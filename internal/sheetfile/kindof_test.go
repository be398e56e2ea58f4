package sheetfile

import (
	"os"
	"path/filepath"
	"testing"
)

// The kind of a file is seen by its keys, also where the rest of it cannot be read.
func TestKindOf(t *testing.T) {
	nested := "[start]\nsheet = '''\nexercise = 1\n'''\n"
	for text, want := range map[string]Kind{
		"exercise = \"x\"\n": ExerciseKind,
		"# a remark\nformat = 1\nattempt= \"x\"\nbroken [": AttemptKind,
		"format = 1\r\ndemonstration = \"x\"\r\n":          ScriptKind,
		"format = 1\ntitle = \"exercise\"\n[head]\n":       SheetKind,
		"format = 1\n" + nested:                            SheetKind,
		"":                                                 SheetKind,
		"exercises = 1\n":                                  SheetKind,
	} {
		path := filepath.Join(t.TempDir(), "file.toml")
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		if got := KindOf(path); got != want {
			t.Errorf("%q is %q, want %q", text, got, want)
		}
	}
	if got := KindOf(filepath.Join(t.TempDir(), "none.toml")); got != SheetKind {
		t.Errorf("a file that is not there is %q", got)
	}
}
