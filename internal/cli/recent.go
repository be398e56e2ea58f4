package cli

import (
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"

	"example.org/underveil/internal/ordinary"
	"example.org/underveil/internal/sheetfile"
)

// So many sheets that were open lately are offered, and so many remembered: those that are not there now may be there again.
const (
	mostRecent     = 10
	mostRemembered = 3 * mostRecent
)

// stateDir is the user's folder for what a program remembers by itself.
func stateDir() (string, error) {
	if d := os.Getenv("XDG_STATE_HOME"); d != "" && filepath.IsAbs(d) {
		return filepath.Join(d, "underveil"), nil
	}
	if runtime.GOOS == "windows" || runtime.GOOS == "darwin" {
		d, err := os.UserConfigDir()
		return filepath.Join(d, "underveil"), err
	}
	home, err := os.UserHomeDir()
	return filepath.Join(home, ".local", "state", "underveil"), err
}

func recentFile() (string, error) {
	d, err := stateDir()
	return filepath.Join(d, "recent"), err
}

// recentSheets are the sheets that were open lately and are still there, the last
// first. It is a help and nothing more: when it can't be read there are none.
func recentSheets() []string {
	var list []string
	for _, p := range remembered() {
		if len(list) == mostRecent {
			break // the disks of the others need not be waited for
		}
		if _, err := os.Stat(p); err == nil {
			list = append(list, p)
		}
	}
	return list
}

// remembered are the paths of the sheets that were open lately, whether they are still there or not: one may be on a disk that comes back, or
// at the far end of a line that is slow.
func remembered() []string {
	path, err := recentFile()
	if err != nil {
		return nil
	}
	data, err := ordinary.Read(path, 1<<17)
	if err != nil {
		return nil
	}
	list := slices.DeleteFunc(strings.Split(string(data), "\n"), func(p string) bool { return p == "" })
	return list[:min(len(list), mostRemembered)]
}

// remember puts a sheet at the head of the recent ones. Only its path is kept, for
// the owner's eyes; failing is no reason to trouble anyone.
func remember(path string) {
	full, err := filepath.Abs(path)
	if path == "" || err != nil {
		return
	}
	at, err := recentFile()
	if err != nil || os.MkdirAll(filepath.Dir(at), 0o700) != nil {
		return
	}
	list := slices.DeleteFunc(remembered(), func(p string) bool { return p == full })
	list = append([]string{full}, list...)
	list = list[:min(len(list), mostRemembered)]
	_ = sheetfile.WriteAtomic(at, []byte(strings.Join(list, "\n")+"\n"))
}

// forgetRecent takes a sheet from the recent ones.
func forgetRecent(path string) error {
	at, err := recentFile()
	if err != nil {
		return err
	}
	before, full := remembered(), ordinary.Resolve(path)
	list := slices.DeleteFunc(slices.Clone(before), func(p string) bool { return ordinary.Resolve(p) == full })
	if len(list) == len(before) {
		return nil
	}
	return sheetfile.WriteAtomic(at, []byte(strings.Join(append(list, ""), "\n")))
}

// Of a folder so many names are looked at, and so many sheets in it offered.
const (
	mostLookedAt = 20000
	mostHere     = 200
)

// sheetsHere are the TOML files of the folder at hand.
func sheetsHere() []string {
	entries, _ := ordinary.Entries(".", mostLookedAt)
	var list []string
	for _, e := range entries {
		if strings.HasSuffix(e.Name(), ".toml") {
			list = append(list, e.Name())
		}
	}
	return list[:min(len(list), mostHere)]
}
