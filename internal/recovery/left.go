package recovery

import (
	"bytes"
	"cmp"
	"errors"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.org/underveil/internal/filelock"
	"example.org/underveil/internal/ordinary"
)

const (
	ending = ".log"
	// unreadableFor is how long a log without a whole record stays, for whoever wants to look at it otherwise. A program that is
	// killed at its first change leaves such a one.
	unreadableFor = 24 * time.Hour
)

// So many logs are looked at, and so many bytes of what they hold kept: far more than anybody leaves, and no more than there is room for.
const (
	mostLogs = 1000
	mostKept = 64 << 20
)

// Why something left over can't be claimed.
var (
	ErrTaken = filelock.ErrTaken
	ErrGone  = errors.New("it was taken up or dropped in another window")
)

// Left is a sheet that a program has left over which is no longer alive: what it had kept last.
type Left struct {
	Origin
	Record
	file    string   // where the log is
	claimed *os.File // open and locked, or nil
}

// All are the sheets left over, the one left last first. What can't be looked at is left out: this is a help, and failing
// is no reason to trouble anyone.
func (f Folder) All() []*Left {
	entries, err := ordinary.Entries(string(f), mostLogs)
	if f == "" || err != nil {
		return nil
	}
	var all []*Left
	kept := 0                                              // bytes of their sheets
	alive, furthest := map[string]bool{}, map[string]int{} // by session
	for _, e := range entries {
		if !e.Type().IsRegular() || filepath.Ext(e.Name()) != ending {
			continue
		}
		left, err := look(filepath.Join(string(f), e.Name()))
		session, begun := nameParts(e.Name())
		switch {
		case errors.Is(err, ErrTaken):
			alive[session] = true
		case left != nil && kept < mostKept:
			all = append(all, left)
			kept += len(left.Sheet)
			furthest[session] = max(furthest[session], begun)
		}
	}
	slices.SortFunc(all, func(a, b *Left) int { return cmp.Or(b.At.Compare(a.At), cmp.Compare(b.Changes, a.Changes)) })
	return slices.DeleteFunc(all, func(l *Left) bool {
		session, begun := nameParts(filepath.Base(l.file))
		if alive[session] { // and is about to remove this file
			return true
		}
		if begun < furthest[session] { // begun anew, and the writer killed before this file was gone
			_ = l.Drop()
			return true
		}
		return false
	})
}

// Of are the sheets left over that were opened from a file, the one left last first. An empty path is for sheets that have
// no file yet.
func (f Folder) Of(path string) []*Left {
	all := f.All()
	if path != "" && len(all) > 0 {
		path = ordinary.Resolve(path)
	}
	return slices.DeleteFunc(all, func(l *Left) bool { return !sameFile(l.Path, path) })
}

// sameFile reports whether two paths lead to one file, by whatever way.
func sameFile(a, b string) bool {
	if a == b || a == "" || b == "" {
		return a == b
	}
	if ordinary.Resolve(a) == ordinary.Resolve(b) {
		return true
	}
	one, err1 := os.Stat(a)
	two, err2 := os.Stat(b)
	return err1 == nil && err2 == nil && os.SameFile(one, two)
}

// nameParts are what the names of all files of one log have in common, and how many there were before this one.
func nameParts(name string) (session string, begun int) {
	session, number, ok := cutLast(strings.TrimSuffix(name, ending), "-")
	begun, err := strconv.Atoi(number)
	if !ok || err != nil {
		return name, 0 // named by somebody else
	}
	return session, begun
}

func cutLast(text, sep string) (before, after string, found bool) {
	i := strings.LastIndex(text, sep)
	if i < 0 {
		return text, "", false
	}
	return text[:i], text[i+len(sep):], true
}

// look reads a log, or nil where there is no whole record in it. Its error is ErrTaken where the writer is alive.
func look(path string) (*Left, error) {
	f, err := filelock.Open(path, os.O_RDWR, 0) // for writing, since some network disks lock no other file
	if err != nil {
		return nil, err
	}
	defer f.Close()
	if err := filelock.Shared(f); err != nil { // others may look at the same time
		return nil, err
	}
	if !filelock.StillAt(path, f) {
		return nil, nil
	}
	data, err := io.ReadAll(io.LimitReader(f, longest+2*maxFrame))
	if err != nil {
		return nil, err
	}
	left := &Left{file: path}
	ok := false
	if left.Origin, left.Record, ok = read(data); ok {
		return left, nil
	}
	ours := bytes.HasPrefix(data, []byte(magic)) || bytes.HasPrefix([]byte(magic), data) // a newer program's is not to be thrown away
	if info, err := f.Stat(); err == nil && ours && time.Since(info.ModTime()) > unreadableFor {
		_ = f.Close()
		_ = left.Drop()
	}
	return nil, nil
}

// Claim makes sure that nobody else takes this up or drops it, until it is dropped or released. Its error is ErrTaken or
// ErrGone where somebody has.
func (l *Left) Claim() error {
	if l.claimed != nil {
		return nil
	}
	f, err := filelock.Open(l.file, os.O_RDWR, 0)
	if errors.Is(err, os.ErrNotExist) {
		return ErrGone
	}
	if err != nil {
		return err
	}
	err = lock(f)
	if err == nil && !filelock.StillAt(l.file, f) {
		err = ErrGone
	}
	if err != nil {
		_ = f.Close()
		return err
	}
	l.claimed = f
	return nil
}

// Drop removes it for good, claiming it before where that was not done.
func (l *Left) Drop() error {
	err := l.Claim()
	if errors.Is(err, ErrGone) {
		return nil
	}
	if err != nil {
		return err
	}
	f := l.claimed
	l.claimed = nil
	return remove(f, l.file)
}

// Release gives up a claim: it is left over as before.
func (l *Left) Release() {
	if l.claimed != nil {
		_ = l.claimed.Close()
		l.claimed = nil
	}
}
