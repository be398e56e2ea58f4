package tui

import (
	"os"
	"path/filepath"
	"strings"
)

// asFile is a path as it was typed for a new file: with the ending that sheets have, and in a folder, where that is one, under
// the name that was offered.
func asFile(path, offered string) string {
	path = atHome(path)
	if info, err := os.Stat(path); err == nil && info.IsDir() || strings.HasSuffix(path, string(filepath.Separator)) {
		path = filepath.Join(path, filepath.Base(offered))
	}
	return asSheet(path)
}

// asSheet is a file name as it was typed, with the ending that sheets have.
func asSheet(path string) string {
	if path = atHome(path); !strings.EqualFold(filepath.Ext(path), ".toml") {
		path += ".toml"
	}
	return path
}

// atHome reads ~ at the beginning of a path as the user's own folder, as a shell would.
func atHome(path string) string {
	if rest, ok := strings.CutPrefix(path, "~/"); ok {
		if home, err := os.UserHomeDir(); err == nil {
			return filepath.Join(home, rest)
		}
	}
	return path
}

// fileName makes a file name of a title: "spring fitting" is spring-fitting.toml.
func fileName(title string) string {
	keep := func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			return r
		case r > 0x7f:
			return r
		}
		return '-'
	}
	name := strings.Trim(strings.Map(keep, strings.ToLower(title)), "-")
	for strings.Contains(name, "--") {
		name = strings.ReplaceAll(name, "--", "-")
	}
	if name == "" {
		name = "sheet"
	}
	return name + ".toml"
}
