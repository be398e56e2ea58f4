package cli

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"example.org/underveil/internal/earlier"
	"example.org/underveil/internal/hold"
	"example.org/underveil/internal/ordinary"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
	"example.org/underveil/internal/tui"
)

func (p *program) files() tui.Files {
	versions, holds := earlierFolder(), &hold.Keeper{Folder: holdFolder()}
	return tui.Files{
		Load: load,
		Save: func(path string, s *sheet.Sheet) (told, stamp string, err error) { return save(versions, path, s) },
		Parse: func(name string, data []byte) (*sheet.Sheet, error) {
			s, _, err := sheetfile.Decode(name, data)
			return s, err
		},
		Exists: func(path string) bool {
			_, err := os.Lstat(path)
			return err == nil
		},
		Stamp:  stamp,
		Glance: glance,
		Hold:   holds.Of,
		Before: func(path string) []tui.Version { return before(versions, path) },
		Recent: recentSheets,
		List:   sheetsHere,
		Opened: remember,
		Card:   p.cardFor,

		LoadScript:  loadScript,
		SaveScript:  saveScript,
		ParseScript: parseScript,
	}
}

// stamp tells two states of a file apart by what is in it.
func stamp(path string) string {
	f, _, err := ordinary.Open(path)
	if err != nil {
		return ""
	}
	defer f.Close()
	return stampOf(f)
}

// stampOf is the stamp of a file by what can be read of it.
func stampOf(r io.Reader) string {
	sum := sha256.New()
	if _, err := io.Copy(sum, io.LimitReader(r, sheetfile.MaxSize+1)); err != nil {
		return ""
	}
	return string(sum.Sum(nil))
}

// load reads a sheet and what was cleaned on the way.
func load(path string) (*sheet.Sheet, []string, error) {
	s, notices, err := sheetfile.Load(path)
	return s, inLines(notices), err
}

// inLines are notices as they are told.
func inLines(notices []sheetfile.Notice) []string {
	var told []string
	for _, n := range notices {
		told = append(told, fmt.Sprintf("line %d: %s", n.Line, n.Text))
	}
	return told
}

// glance tells two states of a file apart without reading it. A file that was put in the place of another is another by its place on the disk.
func glance(path string) string {
	info, err := os.Stat(path)
	if err != nil {
		return ""
	}
	return fmt.Sprint(info.ModTime().UnixNano(), info.Size(), placeOnDisk(info))
}

// save writes a sheet to a file, after keeping what is in it. told is what else whoever saved should know; the stamp is of what was written, whatever
// is in the file by now.
func save(versions earlier.Folder, path string, s *sheet.Sheet) (told, mark string, err error) {
	data := sheetfile.Encode(s)
	var say []string
	names := otherNames(path)
	if kept := versions.Keep(path, data); kept != nil {
		say = append(say, "what was in it before could not be kept: "+ordinary.Cause(kept).Error())
	}
	switch err := sheetfile.WriteAtomic(path, data); {
	case errors.Is(err, sheetfile.ErrUnconfirmed): // it is there all the same
		say = append(say, "the disk did not confirm it, and a power cut might undo it: save again, or elsewhere as well")
	case err != nil:
		return "", "", err
	}
	if names > 0 {
		say = append(say, "the file has "+printable.Count(names, "other name")+" (hard links), under which it is as it was")
	}
	return strings.Join(say, "; "), stampOf(bytes.NewReader(data)), nil
}

// before are the versions of a sheet that were saved before.
func before(versions earlier.Folder, path string) []tui.Version {
	var all []tui.Version
	for _, v := range versions.All(path) {
		data, err := v.Data()
		read := tui.Version{At: v.At, Err: err}
		if err == nil {
			read.Sheet, _, read.Err = sheetfile.Decode(path, data)
		}
		all = append(all, read)
	}
	return all
}

// earlierFolder and holdFolder are where the versions saved before and the holds are kept; empty without a folder for what the program remembers.
func earlierFolder() earlier.Folder { return earlier.Folder(inState("earlier")) }
func holdFolder() hold.Folder       { return hold.Folder(inState("held")) }

func inState(name string) string {
	d, err := stateDir()
	if err != nil {
		return ""
	}
	return filepath.Join(d, name)
}
