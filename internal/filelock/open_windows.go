package filelock

import (
	"os"

	"golang.org/x/sys/windows"
)

// Open is os.OpenFile for a file that may be removed while it is open, by whoever has opened it so as well. What os.OpenFile has opened can't
// be, so that a log could not be removed while another window looks at it. Of the flags it knows O_RDWR, which it takes for granted, O_CREATE, O_EXCL and O_APPEND.
func Open(path string, flag int, _ os.FileMode) (*os.File, error) {
	name, err := windows.UTF16PtrFromString(path)
	if err != nil {
		return nil, &os.PathError{Op: "open", Path: path, Err: err}
	}
	access, how := uint32(windows.GENERIC_READ|windows.GENERIC_WRITE), uint32(windows.OPEN_EXISTING)
	if flag&os.O_APPEND != 0 { // all that writing takes but the right to write elsewhere than at the end
		access = windows.GENERIC_READ | windows.FILE_GENERIC_WRITE&^windows.FILE_WRITE_DATA
	}
	switch {
	case flag&(os.O_CREATE|os.O_EXCL) == os.O_CREATE|os.O_EXCL:
		how = windows.CREATE_NEW
	case flag&os.O_CREATE != 0:
		how = windows.OPEN_ALWAYS
	}
	const others = windows.FILE_SHARE_READ | windows.FILE_SHARE_WRITE | windows.FILE_SHARE_DELETE
	file, err := windows.CreateFile(name, access, others, nil, how, windows.FILE_ATTRIBUTE_NORMAL, 0)
	if err != nil {
		return nil, &os.PathError{Op: "open", Path: path, Err: err}
	}
	return os.NewFile(uintptr(file), path), nil
}
