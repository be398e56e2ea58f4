// Package recovery keeps what is not saved, so that a program that is killed loses at most the key in flight.
//
// Every change of a sheet appends a record to a log with one write, before it is seen on the screen. A record is the whole
// sheet: it has a few KB, which take some microseconds, less than it would take to work out what is otherwise, and each
// record can be read without the ones before. A record that was being written when the end came has a checksum that does
// not fit, and is left out.
//
// What the system has taken over with a write it keeps when the program is killed. For a power cut the log is brought to the
// disk as well, in the next pause of a second, or after twenty seconds without one. That is done from beside, but while it
// lasts the system can hold up a write to the same file for some milliseconds: hence the pause.
//
// There is a log for exactly as long as there is something that leaving would ask about. A sheet that is only looked at has
// none, and when it is saved, or left unsaved on purpose, the log is removed. A program that is told to end, by a signal
// or because its window went away, leaves the log, since nobody has said that the changes are not wanted.
//
// Whether the writer of a log is still alive is told by a lock on the file, which the system takes away with the process
// however that ends. The number of the process would not do: it is given to another one in time, and then the log would
// never be offered again. A lock belongs to the open file, so a program does not take its own log for left over either. Where a disk
// has no locks nothing is kept, and the caller hears of it.
//
// A log that has grown to a megabyte is begun anew with its last record: in a file of another name, since Windows does not
// rename a file that is open. Should the end come between making the one and removing the other, the one that has got
// further counts.
//
// Logs hold what a sheet says of a client. They are for their owner's eyes (mode 0600, in a folder of mode 0700), and their
// names say nothing. One that can be read stays until somebody has said what is to become of it, however old it is, since
// the start page shows it every time; one in which there is no whole record, which nobody could ever take up, is removed
// after a day.
package recovery

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"sync"
	"time"

	"example.org/underveil/internal/filelock"
)

// Folder is where logs are; it is made when the first one is begun. In an empty one nothing can be kept.
type Folder string

// longest is how many bytes a log may have before it is begun anew.
const longest = 1 << 20

// A log is brought to the disk when nothing was kept for a while, or when it has been waiting for that for too long.
const (
	pause   = time.Second
	longFor = 20 * time.Second
)

// Log is what one sheet that is open keeps. Its methods are for one goroutine.
type Log struct {
	folder  Folder
	session string
	begun   int // files so far

	origin  Origin
	path    string
	file    *os.File // nil where there is nothing to keep
	size    int64
	torn    bool // a write has failed halfway, and what is appended after it could not be read
	changes int
	last    Record

	syncing  sync.Mutex     // held while a file is brought to the disk
	removing sync.WaitGroup // of files before the one at hand
	sharing  sync.Mutex     // of file, where it is changed, and of the two below
	unsynced time.Time      // since when something is not on the disk; zero where all is
	timer    *time.Timer    // to bring it there; nil before anything was kept
}

// Log is a log of a sheet; there is no file before something is kept.
func (f Folder) Log() *Log {
	return &Log{folder: f, session: fmt.Sprintf("%d-%08x", os.Getpid(), rand.Uint32())}
}

// Resume counts on from the changes of a log that was taken up.
func (l *Log) Resume(changes int) { l.changes = changes }

// Keep writes a record after the ones before, and begins a log where there is none, or where the sheet has another
// origin by now. How many changes it is the log itself counts. After an error the last record that was kept is there
// still, and Keep can be tried again with the next.
func (l *Log) Keep(o Origin, r Record) error {
	r.Changes = l.changes + 1
	record, err := r.framed()
	if err != nil {
		return err
	}
	if !l.goesOn(o) || l.size >= longest || l.append(record) != nil {
		err = l.begin(o, record)
	}
	if err != nil && l.goesOn(o) { // a log that is too long is better than none
		err = l.append(record)
	}
	if err != nil {
		return err
	}
	l.changes++
	l.last = r
	l.syncSoon()
	return nil
}

// End says why the program ends, where something is kept and it can still be said. What is kept is as it was; that the reason
// can't be written is no reason to trouble anyone.
func (l *Log) End(why string) {
	if l.file == nil || l.torn {
		return
	}
	r := l.last
	r.Ended = why
	if record, err := r.framed(); err == nil {
		_ = l.append(record)
		_ = l.file.Sync()
	}
}

// goesOn reports whether a record can be appended to the file at hand: it may have been removed by somebody.
func (l *Log) goesOn(o Origin) bool {
	if l.file == nil || l.origin != o || l.torn {
		return false
	}
	_, err := os.Lstat(l.path)
	return err == nil
}

func (l *Log) append(record []byte) error {
	n, err := l.file.Write(record)
	l.size += int64(n)
	l.torn = err != nil && n > 0
	return err
}

// begin makes a new file with one record. The file before is removed only when that is done.
func (l *Log) begin(o Origin, record []byte) error {
	start, err := opening(o)
	if err != nil {
		return err
	}
	if l.folder == "" {
		return errors.New("there is no folder to keep it in")
	}
	if err := os.MkdirAll(string(l.folder), 0o700); err != nil {
		return err
	}
	l.begun++
	path := filepath.Join(string(l.folder), fmt.Sprintf("%s-%d%s", l.session, l.begun, ending))
	f, err := filelock.Open(path, os.O_RDWR|os.O_CREATE|os.O_EXCL|os.O_APPEND, 0o600)
	if err != nil {
		return err
	}
	n := 0
	if err = lock(f); err == nil {
		n, err = f.Write(append(start, record...))
	}
	if err != nil {
		_ = remove(f, path) // it holds nothing yet
		return err
	}
	old, oldPath := l.file, l.path
	l.use(f)
	l.path, l.origin, l.size, l.torn = path, o, int64(n), false
	if old != nil {
		l.putAway(old, oldPath)
	}
	return nil
}

// putAway removes the file before the one at hand, at once or when it is no longer being brought to the disk. If that fails
// it is left over, and has got less far.
func (l *Log) putAway(f *os.File, path string) {
	if !l.syncing.TryLock() {
		l.removing.Go(func() { _ = l.removeSynced(f, path) })
		return
	}
	defer l.syncing.Unlock()
	_ = remove(f, path)
}

// use makes f the file of the log.
func (l *Log) use(f *os.File) {
	l.sharing.Lock()
	l.file = f
	l.sharing.Unlock()
}

// removeSynced removes a file that is no longer used when it is not being brought to the disk: on Windows it can't be
// while it is.
func (l *Log) removeSynced(f *os.File, path string) error {
	l.syncing.Lock()
	defer l.syncing.Unlock()
	return remove(f, path)
}

// lock has a file for its own, or returns ErrTaken. Somebody looking for what is left over may hold it, for the moment that
// reading it takes.
func lock(f *os.File) error {
	for range 50 {
		if err := filelock.Alone(f); !errors.Is(err, ErrTaken) {
			return err
		}
		time.Sleep(time.Millisecond)
	}
	return ErrTaken
}

// Drop removes the log: what it kept is saved, or not wanted. Another can be begun afterwards.
func (l *Log) Drop() error {
	f := l.file
	if f == nil {
		return nil
	}
	l.use(nil)
	l.changes = 0
	err := l.removeSynced(f, l.path)
	l.removing.Wait()
	return err
}

// Close leaves the log where it is, as one whose writer is no longer alive.
func (l *Log) Close() error {
	f := l.file
	if f == nil {
		return nil
	}
	l.use(nil)
	l.removing.Wait()
	return f.Close()
}

// remove removes a file that is open: on Unix before its lock is gone, so that nobody takes it for left over; Windows
// removes only what is closed.
func remove(f *os.File, path string) error {
	err := os.Remove(path)
	if closed := f.Close(); closed != nil {
		return closed
	}
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		err = os.Remove(path)
	}
	if errors.Is(err, os.ErrNotExist) {
		return nil
	}
	return err
}

// syncSoon sees to it that what was kept comes to the disk, in the next pause and on its own.
func (l *Log) syncSoon() {
	l.sharing.Lock()
	defer l.sharing.Unlock()
	now := time.Now()
	if l.unsynced.IsZero() {
		l.unsynced = now
	}
	switch {
	case l.timer == nil:
		l.timer = time.AfterFunc(pause, l.sync)
	case now.Sub(l.unsynced) < longFor: // else it stays as it was set last
		l.timer.Reset(pause)
	}
}

// sync brings the log to the disk. What goes wrong there is not told: the log still does what it is there for, and the
// next time may go better.
func (l *Log) sync() {
	l.syncing.Lock()
	defer l.syncing.Unlock()
	l.sharing.Lock()
	l.unsynced = time.Time{}
	f := l.file
	l.sharing.Unlock()
	if f != nil {
		_ = f.Sync() // closed by now, it does nothing
		syncFolder(string(l.folder))
	}
}
