package cli

import (
	"io/fs"
	"os"

	"golang.org/x/sys/windows"
)

// terminalSize is how many columns and lines a terminal has.
func terminalSize(f *os.File) (w, h int, err error) {
	var info windows.ConsoleScreenBufferInfo
	if err := windows.GetConsoleScreenBufferInfo(windows.Handle(f.Fd()), &info); err != nil {
		return 0, 0, err
	}
	return int(info.Window.Right-info.Window.Left) + 1, int(info.Window.Bottom-info.Window.Top) + 1, nil
}

// owner, open and modeOf say nothing on Windows, where who may read a file stands in lists that a folder hands down.
func owner(fs.FileInfo) (whose string, mine bool) { return "", true }
func open(fs.FileInfo) bool                       { return false }
func modeOf(fs.FileInfo) string                   { return "" }
