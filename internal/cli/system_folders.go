package cli

import (
	"cmp"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"example.org/underveil/internal/filelock"
	"example.org/underveil/internal/ordinary"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/recovery"
	"example.org/underveil/internal/sheetfile"
)

// folders tells where the program keeps what, and tries whether it can.
func (s *survey) folders() {
	if own, err := settingsPath(); err != nil {
		s.line("settings", "no folder")
		s.amiss("set HOME, or XDG_CONFIG_HOME to a folder from the root", "there is no folder for settings: %v", err)
	} else {
		s.folder("settings", filepath.Dir(own), false)
		s.file("  settings.toml", own, "not there; underveil settings write begins one")
	}
	s.studioInUse()
	if d := os.Getenv("XDG_STATE_HOME"); d != "" && !filepath.IsAbs(d) {
		s.amiss("write the whole path, from the root", "XDG_STATE_HOME is not the path of a folder from the root, and is not heard")
	}
	state, err := stateDir()
	if err != nil {
		s.line("state", "no folder")
		s.amiss("set HOME, or XDG_STATE_HOME to a folder from the root; until then nothing that is not saved can be kept, and no earlier version",
			"there is no folder for what the program remembers by itself: %v", err)
		return
	}
	if !s.folder("state", state, true) {
		return
	}
	s.within(state)
	if n := len(recovery.Folder(inState("unsaved")).All()); n > 0 {
		s.line("  unsaved", printable.Count(n, "sheet")+" left over, which the start page offers")
	} else {
		s.line("  unsaved", "nothing left over")
	}
	s.line("  earlier", s.versions())
	s.line("  learners", printable.Count(len(progressFolder().Learners()), "learner"))
	s.line("  recent", printable.Count(len(recentSheets()), "sheet")+" open lately")
}

// studioInUse tells which studio file is in use, and whether it can be read.
func (s *survey) studioInUse() {
	switch own := ownStudio(); {
	case s.studioFile != "":
		s.file("  studio file", s.studioFile, "not there")
	case own != "":
		s.file("  studio.toml", own, "not there")
	default:
		s.line("  studio.toml", "not there; the one that comes with the program is used")
	}
	if _, _, err := s.studio(); err != nil {
		what := err.Error()
		var bad sheetfile.Errors
		if errors.As(err, &bad) {
			what = bad.Brief()
		}
		s.amiss("underveil studio says more; mend it, or take it away", "the studio file can't be read: %s", what)
	}
}

// folder tells of a folder of the program, and reports whether it is there.
func (s *survey) folder(name, path string, locks bool) (there bool) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist) && !isLink(path):
		s.line(name, path+", made when it is needed")
		if at := above(path); at != "" {
			if _, err := s.try(at, false); err != nil {
				s.amiss("make it, or see to it that the folder above can be written", "%s can't be made: %v", path, ordinary.Cause(err))
			}
		}
		return false
	case err != nil:
		s.line(name, path)
		s.amiss("see to it that it is a folder of yours", "%s can't be looked at: %v", path, ordinary.Cause(err))
		return false
	case !info.IsDir():
		s.line(name, path)
		s.amiss("put that file elsewhere", "%s is a file, and should be a folder", path)
		return false
	}
	told := s.about(path, info, "chmod -R go-rwx ")
	tried, err := s.try(path, locks)
	if err != nil {
		tried = "can't be written"
		s.amiss("see to it that there is room and that the folder may be written", "%s can't be written: %v", path, ordinary.Cause(err))
	}
	s.line(name, path)
	s.line("", strings.Join(append(told, tried), ", "))
	return true
}

// file tells of a file of the program.
func (s *survey) file(name, path, missing string) {
	switch info, err := os.Stat(path); {
	case errors.Is(err, fs.ErrNotExist) && !isLink(path):
		s.line(name, missing)
	case err != nil:
		s.line(name, "there")
		s.amiss("see to it that it can be read", "%s can't be looked at: %v", path, ordinary.Cause(err))
	default:
		s.line(name, strings.Join(append([]string{"there"}, s.about(path, info, "chmod 600 ")...), ", "))
	}
}

// about is the mode of a file or folder and whose it is, and notes what is wrong with them; narrow is what makes the mode narrower. In a
// folder that is closed to others a file is too.
func (s *survey) about(path string, info fs.FileInfo, narrow string) (told []string) {
	if mode := modeOf(info); mode != "" {
		told = append(told, mode)
	}
	whose, mine := owner(info)
	if whose != "" {
		told = append(told, whose)
	}
	if !mine {
		s.amiss("give it to the user who runs the program, or run the program as that user", "%s is %s", path, whose)
	}
	if in, err := os.Stat(filepath.Dir(path)); open(info) && (info.IsDir() || err != nil || open(in)) {
		s.amiss(narrow+path, "%s can be looked into by others, with mode %s", path, modeOf(info))
	}
	return told
}

// isLink reports whether there is a link at a path, wherever it leads.
func isLink(path string) bool {
	info, err := os.Lstat(path)
	return err == nil && info.Mode()&fs.ModeSymlink != 0
}

// above is the nearest folder above a path that is there, or empty.
func above(path string) string {
	for at := filepath.Dir(path); ; at = filepath.Dir(at) {
		if _, err := os.Stat(at); err == nil {
			return at
		}
		if at == filepath.Dir(at) {
			return ""
		}
	}
}

// try makes a file in a folder and removes it again, and where locks are wanted tries whether one keeps another out.
func (s *survey) try(folder string, locks bool) (told string, err error) {
	f, err := os.CreateTemp(folder, ".underveil-*.tmp")
	if err != nil {
		return "", err
	}
	defer func() {
		err = cmp.Or(err, f.Close(), os.Remove(f.Name()))
	}()
	if _, err := f.WriteString("written to try whether it can be\n"); err != nil || !locks {
		return "can be written", err
	}
	switch err := keepsOut(f); {
	case errors.Is(err, errNoLock):
		s.amiss("keep it on a disk of this machine", "the disk of %s lets one program in where another has locked a file", folder)
	case err != nil:
		s.amiss("keep it on a disk of this machine; here nothing that is not saved can be kept", "the disk of %s has no locks: %v", folder, ordinary.Cause(err))
	default:
		return "can be written, locks hold", nil
	}
	return "can be written, locks don't hold", nil
}

var errNoLock = errors.New("a second lock was given")

// keepsOut locks a file and tries to lock it again, as another program would.
func keepsOut(f *os.File) error {
	if err := filelock.Alone(f); err != nil {
		return err
	}
	again, err := os.OpenFile(f.Name(), os.O_RDWR, 0)
	if err != nil {
		return err
	}
	defer again.Close()
	switch err := filelock.Alone(again); {
	case err == nil:
		return errNoLock
	case errors.Is(err, filelock.ErrTaken):
		return nil
	default:
		return err
	}
}

// mostWithin is how many files of a folder are looked at.
const mostWithin = 20000

// within notes what in a folder belongs to others.
func (s *survey) within(folder string) {
	looked, others := 0, 0
	_ = filepath.WalkDir(folder, func(path string, d fs.DirEntry, err error) error {
		if looked++; looked > mostWithin {
			return filepath.SkipAll
		}
		if err != nil || path == folder {
			return nil // what can't be looked at by its owner can't be by others
		}
		if info, err := d.Info(); err == nil {
			if _, mine := owner(info); !mine {
				others++
			}
		}
		return nil
	})
	if others > 0 {
		s.amiss("give them to the user who runs the program", "%s in %s belong to another user", printable.Count(others, "file"), folder)
	}
}

// versions is how many versions of sheets are kept that were saved before.
func (s *survey) versions() string {
	sheets, versions := 0, 0
	folder := inState("earlier")
	for _, of := range namesIn(folder) {
		n := 0
		for _, name := range namesIn(filepath.Join(folder, of)) {
			if filepath.Ext(name) == ".toml" {
				n++
			}
		}
		if versions += n; n > 0 {
			sheets++
		}
	}
	return printable.Count(versions, "version") + " of " + printable.Count(sheets, "sheet") + " saved over"
}

// namesIn are the names in a folder, none where it can't be read.
func namesIn(folder string) (names []string) {
	entries, _ := os.ReadDir(folder)
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}
