package sheetfile

import "testing"

// The number that puts an exercise in its place is no part of what it is called.
func TestExerciseID(t *testing.T) {
	for path, want := range map[string]string{
		"first-row.toml": "first-row", "01-first-row.toml": "first-row", "exercises/12-ear.toml": "ear", "/a/b.c/07-two.rows.toml": "two.rows",
		"01.toml": "01", "01-.toml": "01-", "-x.toml": "-x", "2nd.toml": "2nd", "row": "row", "": ".",
	} {
		if got := ExerciseID(path); got != want {
			t.Errorf("%q: %q, want %q", path, got, want)
		}
	}
}
