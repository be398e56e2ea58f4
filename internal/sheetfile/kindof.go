package sheetfile

import "strings"

// Kind is a kind of file, as the key tells that each file of it begins with; a sheet is known by its head.
type Kind string

// The kinds.
const (
	SheetKind    Kind = "head"
	ExerciseKind Kind = "exercise"
	AttemptKind  Kind = "attempt"
	ScriptKind   Kind = "demonstration"
)

// KindOf is the kind of the file at a path, as far as a look at its keys tells, whether or not the rest of it can be read. What is of no other
// kind is taken for a sheet.
func KindOf(path string) Kind {
	data, bad := read(&headSheet, path)
	if bad != nil {
		return SheetKind
	}
	for line := range strings.Lines(string(data)) {
		if strings.HasPrefix(strings.TrimSpace(line), "[") {
			break // keys at the top come first
		}
		key, _, _ := strings.Cut(line, "=")
		switch k := Kind(strings.TrimSpace(key)); k {
		case ExerciseKind, AttemptKind, ScriptKind:
			return k
		}
	}
	return SheetKind
}
