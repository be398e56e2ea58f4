package ordinary

import "path/filepath"

// Resolve is the path from the root that a path leads to, behind symbolic links as far as there is anything: what does not exist, or not any
// more, keeps its name behind the last folder that does. So a file has one name before it is made, while it is there and when it is gone. It looks at the
// disk, and may take long where that is at the far end of a line.
func Resolve(path string) string {
	if full, err := filepath.Abs(path); err == nil {
		path = full
	}
	rest := ""
	for folder := path; ; {
		if target, err := filepath.EvalSymlinks(folder); err == nil {
			return filepath.Join(target, rest)
		}
		up := filepath.Dir(folder)
		if up == folder {
			return path
		}
		rest = filepath.Join(filepath.Base(folder), rest)
		folder = up
	}
}
