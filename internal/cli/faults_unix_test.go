//go:build unix

package cli

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"example.org/underveil/internal/ptytest"
	"example.org/underveil/internal/recovery"
	"example.org/underveil/internal/sheetfile"
)

// faults is what goes wrong around the program, each tried on the real program on a terminal. What it said, what became of the file and of
// the work are what the test has seen; they are the table in DEVELOPERS.md.
var faults = []struct {
	name string
	try  func(w *bench)
}{
	{"killed (kill -9) with changes unsaved", func(w *bench) { w.killed(syscall.SIGKILL, "the program was killed, or the machine stopped") }},
	{"its window closed, or the line broken (hang-up)", func(w *bench) { w.killed(syscall.SIGHUP, "its window was closed, or the line to it broke") }},
	{"told to end (SIGTERM)", func(w *bench) { w.killed(syscall.SIGTERM, "the program was told from outside to end") }},
	{"the disk is full", func(w *bench) {
		disk := w.ownDisk()
		s := w.edit()
		w.fill(disk)
		s.Press("Ctrl+S")
		w.sees(s, "no space left on the disk", "free some space")
		w.wantFile(w.before)
		w.wantNoLitter()
		w.must(os.Remove(filepath.Join(disk, "filler")))
		s.Press("Esc", "Ctrl+S")
		s.WaitFor("saved to")
		w.wantFile(w.after)
		w.ends(s, "as saved before; once there is room ctrl+s saves it", "on the screen all the time")
	}},
	{"the disk of the program's own folder is full", func(w *bench) {
		w.state = w.newDisk()
		w.fill(w.state)
		s := w.open()
		s.Press(w.keys...)
		w.sees(s, "save often: a crash would lose changes")
		s.Press("Ctrl+S")
		w.sees(s, "could not be kept")
		w.wantFile(w.after)
		w.ends(s, "saved", "on the screen all the time")
	}},
	{"the folder is read-only", func(w *bench) {
		disk := w.ownDisk()
		s := w.edit()
		w.mount("-o", "remount,ro", disk)
		s.Press("Ctrl+S")
		w.sees(s, "the disk is read-only; save elsewhere")
		w.wantFile(w.before)
		w.elsewhere(s)
		w.ends(s, "as saved before", "saved under another name")
	}},
	{"the folder, a network share, is gone", func(w *bench) {
		disk := w.ownDisk()
		s := w.edit()
		w.must(syscall.Unmount(disk, 2)) // lazily: MNT_DETACH
		w.must(os.Remove(disk))
		w.sees(s, "is not there any more, or can't be read")
		s.Press("Ctrl+S")
		w.sees(s, "there is no folder")
		w.elsewhere(s)
		w.ends(s, "out of reach", "saved under another name")
	}},
	{"the clock was set back a day while changes were unsaved", func(w *bench) {
		tomorrow := time.Now().Add(24 * time.Hour)
		log := w.unsaved().Log()
		sum := stamp(w.path)
		w.must(log.Keep(recovery.Origin{Path: w.path, Stamp: sum}, recovery.Record{At: tomorrow.Add(-time.Minute), Sheet: w.before}))
		w.must(log.Keep(recovery.Origin{Path: w.path, Stamp: sum}, recovery.Record{At: tomorrow.Add(-time.Hour), Sheet: w.after}))
		w.must(log.Close())
		w.must(os.Chtimes(w.path, tomorrow, tomorrow))
		s := w.open()
		w.sees(s, "left unfinished")
		s.WaitFor(tomorrow.Add(-time.Hour).Format("on 2 January"))
		s.Press("t", "Ctrl+S")
		s.WaitFor("saved to")
		w.wantFile(w.after)
		w.ends(s, "as saved before", "all of it offered: the last change counts, whatever the clock says")
	}},
	{"open in two windows", func(w *bench) {
		one := w.edit()
		two := w.open()
		w.sees(two, "is open in another window", "work on a copy")
		two.Press("l", "Space", "Ctrl+S")
		two.WaitFor("save here all the same")
		w.wantFile(w.before)
		one.Press("Ctrl+S")
		one.WaitFor("saved to")
		w.wantFile(w.after)
		one.Quit("q")
		two.Press("Esc")
		w.sees(two, "Something else has changed") // it looks by itself, and tells once
		two.Press("Esc", "Ctrl+S")
		w.sees(two, "that file has changed")
		w.wantFile(w.after)
		two.Press("Esc")
		two.Quit("q", "d")
		w.ends(nil, "by whoever saves first; the other is asked", "in each window")
	}},
	{"the sheet is a symbolic link", func(w *bench) {
		link := filepath.Join(w.dir, "link.toml")
		w.must(os.Symlink("client.toml", link))
		s := w.openAs("link.toml")
		s.Press(w.keys...)
		s.Press("Ctrl+S")
		w.sees(s, "saved to link.toml")
		if to, err := os.Readlink(link); err != nil || to != "client.toml" {
			w.t.Errorf("the link leads to %q, %v", to, err)
		}
		w.wantFile(w.after)
		w.ends(s, "the one that it leads to is saved, and the link stays", "saved")
	}},
	{"the sheet has a second name (hard link)", func(w *bench) {
		other := filepath.Join(w.dir, "other.toml")
		w.must(os.Link(w.path, other))
		s := w.edit()
		s.Press("Ctrl+S")
		w.sees(s, "the file has 1 other name (hard links), under which it is as it was")
		w.wantFile(w.after)
		if data, err := os.ReadFile(other); err != nil || string(data) != string(w.before) {
			w.t.Errorf("under the other name it is %q, %v", data, err)
		}
		w.ends(s, "saved; as before under its other name", "saved")
	}},
	{"something else writes the file, nothing unsaved", func(w *bench) {
		s := w.open()
		w.replace(w.after)
		w.sees(s, "something else has changed client.toml, and it was read again")
		s.WaitFor("9 strands")
		s.Press("u")
		s.WaitFor("nothing placed yet")
		s.Press("Ctrl+S")
		s.WaitFor("saved to")
		w.wantFile(w.before)
		w.ends(s, "read again; u brings back what was here", "none was lost")
	}},
	{"something else writes the file, with changes unsaved", func(w *bench) {
		s := w.edit()
		theirs := []byte(strings.Replace(string(w.before), killTitle, "theirs", 1))
		w.replace(theirs)
		w.sees(s, "the file has changed")
		w.answer(s, "k")
		s.Press("Ctrl+S")
		s.WaitFor("saved to")
		w.wantFile(w.after)
		s.Press("Z")
		s.WaitFor("saved before")
		s.Press("Enter")
		s.WaitFor("theirs")
		s.Press("u", "Ctrl+L")
		w.ends(s, "as chosen; what was replaced comes back with Z", "on the screen all the time")
	}},
	{"the file is removed", func(w *bench) {
		s := w.edit()
		w.must(os.Remove(w.path))
		w.sees(s, "is not there any more")
		s.Press("Ctrl+S")
		s.WaitFor("saved to")
		w.wantFile(w.after)
		w.ends(s, "written again", "on the screen all the time")
	}},
	{"the file is damaged by something else", func(w *bench) {
		s := w.edit()
		w.replace([]byte("title = \x1b[2J\n"))
		w.sees(s, "can't be read any more")
		s.Press("Ctrl+S")
		w.sees(s, "that file has changed")
		w.answer(s, "r")
		s.WaitFor("saved to")
		w.wantFile(w.after)
		w.ends(s, "replaced when that was asked for", "on the screen all the time")
	}},
	{"killed while it saves, again and again", func(w *bench) {
		const times = 20
		for n := range times {
			s := w.edit()
			s.Press("Ctrl+S")
			time.Sleep(time.Duration(n) * 200 * time.Microsecond)
			s.Signal(syscall.SIGKILL)
			s.Wait()
			now, err := os.ReadFile(w.path)
			w.must(err)
			switch string(now) {
			case string(w.before):
				s = w.open()
				s.WaitFor("left unfinished")
				s.Press("t")
				s.WaitFor("taken up where it was left")
				s.Quit("q", "d")
			case string(w.after):
			default:
				w.t.Fatalf("the file is neither the one sheet nor the other:\n%s", now)
			}
			w.replace(w.before)
			w.must(os.RemoveAll(string(w.unsaved())))
		}
		w.ends(nil, fmt.Sprintf("%d times in full, the old sheet or the new", times), "offered where the old one was there")
	}},
}

// bench is a sheet in a folder, with a folder for what the program remembers, and what is seen of a fault.
type bench struct {
	t             *testing.T
	dir, state    string
	path          string
	before, after []byte   // the sheet as it was saved, and with what is done
	keys          []string // what is done
	said          []string
	file, work    string
}

func newBench(t *testing.T) *bench {
	w := &bench{t: t, dir: t.TempDir(), state: t.TempDir(), before: editing().begin, keys: []string{"Up", "2", "r"}}
	w.after, w.path = after(t, w.before, w.keys), filepath.Join(w.dir, killFile)
	w.settle()
	return w
}

// settle puts the sheet where it is to be.
func (w *bench) settle() {
	w.t.Helper()
	w.must(os.WriteFile(w.path, w.before, 0o600))
}

func (w *bench) must(err error) {
	w.t.Helper()
	if err != nil {
		w.t.Fatal(err)
	}
}

func (w *bench) unsaved() recovery.Folder {
	return recovery.Folder(filepath.Join(w.state, "underveil", "unsaved"))
}

// open opens the sheet, by its name where the program works in its folder.
func (w *bench) open() *ptytest.Session {
	w.t.Helper()
	if filepath.Dir(w.path) == w.dir {
		return w.openAs(killFile)
	}
	return w.openAs(w.path)
}

func (w *bench) openAs(name string) *ptytest.Session {
	w.t.Helper()
	s := ptytest.Start(w.t, ptytest.Options{Cols: killCols, Rows: killRows, Dir: w.dir, Env: []string{"XDG_STATE_HOME=" + w.state}}, theProgram(w.t), name)
	s.WaitFor(killTitle)
	return s
}

// edit opens the sheet and changes it, without saving.
func (w *bench) edit() *ptytest.Session {
	w.t.Helper()
	s := w.open()
	s.Press(w.keys...)
	s.WaitFor("9 bonds")
	return s
}

// sees waits for texts on the screen, which go into the table.
func (w *bench) sees(s *ptytest.Session, texts ...string) {
	w.t.Helper()
	for _, text := range texts {
		s.WaitNew(func(screen string) bool { return strings.Contains(flowing(screen), text) }, text)
		w.said = append(w.said, text)
	}
}

// answer answers a question that came up by itself, which takes no letters at first.
func (w *bench) answer(s *ptytest.Session, key string) {
	time.Sleep(2 * grace)
	s.Press(key)
}

// flowing is a screen with what is in frames on it as running text.
func flowing(screen string) string {
	var inside []string
	for line := range strings.Lines(screen) {
		if parts := strings.Split(line, "│"); len(parts) >= 3 {
			inside = append(inside, parts[1])
			continue
		}
		inside = append(inside, line)
	}
	return strings.Join(strings.Fields(strings.Join(inside, " ")), " ")
}

// ends leaves the program with nothing unsaved, and notes what became of file and work.
func (w *bench) ends(s *ptytest.Session, file, work string) {
	w.t.Helper()
	if s != nil {
		noOffence(w.t, s.Term)
		if code := s.Quit("q"); code != 0 {
			w.t.Errorf("left with %d", code)
		}
	}
	w.file, w.work = file, work
}

func (w *bench) wantFile(want []byte) {
	w.t.Helper()
	if got, err := os.ReadFile(w.path); err != nil || string(got) != string(want) {
		w.t.Fatalf("the file is (%v)\n%s\nwant\n%s", err, got, want)
	}
}

// wantNoLitter holds that no temporary file is left.
func (w *bench) wantNoLitter() {
	w.t.Helper()
	if left, _ := filepath.Glob(filepath.Join(filepath.Dir(w.path), ".underveil-*")); len(left) > 0 {
		w.t.Errorf("left lying about: %q", left)
	}
}

// replace puts another file in the place of the sheet, as most programs save.
func (w *bench) replace(data []byte) {
	w.t.Helper()
	w.must(sheetfile.WriteAtomic(w.path, data))
}

// killed ends the program with a signal, opens the sheet again, and takes up what is offered.
func (w *bench) killed(sig syscall.Signal, why string) {
	w.t.Helper()
	s := w.edit()
	s.Signal(sig)
	s.Wait()
	w.wantFile(w.before)
	s = w.open()
	w.sees(s, "with 1 unsaved change: "+why)
	s.Press("t")
	s.WaitFor("taken up where it was left")
	s.Press("Ctrl+S")
	s.WaitFor("saved to")
	w.wantFile(w.after)
	w.ends(s, "as saved before", "all of it offered when the sheet is opened")
}

// elsewhere saves the sheet in a folder where that is possible.
func (w *bench) elsewhere(s *ptytest.Session) {
	w.t.Helper()
	to := filepath.Join(w.t.TempDir(), "elsewhere.toml")
	s.Press("Esc", "S")
	s.WaitFor("a whole path")
	s.Type(to)
	s.Press("Enter")
	s.WaitFor("saved to")
	if got, err := os.ReadFile(to); err != nil || string(got) != string(w.after) {
		w.t.Fatalf("elsewhere it is (%v)\n%s", err, got)
	}
}

// ownDisk puts the sheet on a small disk of its own, and returns its folder. The program works in another folder.
func (w *bench) ownDisk() string {
	w.t.Helper()
	w.path = filepath.Join(w.newDisk(), killFile)
	w.settle()
	return filepath.Dir(w.path)
}

// newDisk is a small disk, which takes leave to mount one.
func (w *bench) newDisk() string {
	w.t.Helper()
	disk, err := os.MkdirTemp("", "disk") // a short name, for it is on the screen
	w.must(err)
	w.t.Cleanup(func() { _ = os.Remove(disk) })
	w.mount("-t", "tmpfs", "-o", "size=64k,mode=700", "none", disk)
	w.t.Cleanup(func() { _ = syscall.Unmount(disk, 2) })
	return disk
}

// errNoDisk says that this machine does not let the test mount a disk.
var errNoDisk = errors.New("no leave to mount a disk here")

func (w *bench) mount(args ...string) {
	w.t.Helper()
	if out, err := exec.Command("mount", args...).CombinedOutput(); err != nil {
		w.t.Skipf("%v: %s", errNoDisk, out)
	}
}

// fill leaves no room on a disk.
func (w *bench) fill(disk string) {
	w.t.Helper()
	f, err := os.Create(filepath.Join(disk, "filler"))
	w.must(err)
	for err == nil {
		_, err = f.Write(make([]byte, 512))
	}
	if !errors.Is(err, syscall.ENOSPC) {
		w.t.Fatal(err)
	}
	_ = f.Close()
}

// TestFaults tries each fault, and holds the table in DEVELOPERS.md against what was seen.
func TestFaults(t *testing.T) {
	if testing.Short() {
		t.Skip("each fault takes some programs on terminals")
	}
	var table strings.Builder
	table.WriteString("| what goes wrong | what the program says | the file | the work |\n|---|---|---|---|\n")
	for _, f := range faults {
		w := &bench{}
		tried := t.Run(f.name, func(t *testing.T) {
			w = newBench(t)
			f.try(w)
		})
		if !tried || w.file == "" { // failed, or there was no leave
			t.Logf("%s: not tried here, so that the table is not held against it", f.name)
			return
		}
		fmt.Fprintf(&table, "| %s | %s | %s | %s |\n", f.name, strings.Join(quoted(w.said), "; "), w.file, w.work)
	}
	notStale(t, "DEVELOPERS.md", map[string]string{"faults": table.String()})
}

func quoted(texts []string) []string {
	var all []string
	for _, text := range texts {
		all = append(all, "“"+text+"”")
	}
	return all
}
