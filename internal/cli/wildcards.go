package cli

import (
	"path/filepath"
	"runtime"
	"strings"
)

// leavesWildcards says that the shells of this system hand on *.toml as it is, and leave it to the program to look what there is.
const leavesWildcards = runtime.GOOS == "windows"

// unfolded are arguments with the files in place of the wildcards that stand for them. What stands for none is left, to be told of as it was typed.
func unfolded(args []string) []string {
	var all []string
	for _, arg := range args {
		var files []string
		if strings.ContainsAny(arg, "*?") && !strings.HasPrefix(arg, "-") {
			files, _ = filepath.Glob(arg) // fails only for a pattern that stands for nothing
		}
		if len(files) == 0 {
			files = []string{arg}
		}
		all = append(all, files...)
	}
	return all
}
