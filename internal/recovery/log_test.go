package recovery

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"
)

func record(text string) Record { return Record{At: noon, Place: "here", Sheet: []byte(text)} }

// absolute is a path as a sheet's origin has it; on Windows the drive is a part of it.
func absolute(path string) string {
	full, err := filepath.Abs(path)
	if err != nil {
		panic(err)
	}
	return full
}

// keep keeps some texts, one after the other.
func keep(t testing.TB, l *Log, o Origin, texts ...string) {
	t.Helper()
	for _, text := range texts {
		if err := l.Keep(o, record(text)); err != nil {
			t.Fatal(err)
		}
	}
}

// wantLeft holds what is left over to be just these sheets, in this order.
func wantLeft(t testing.TB, left []*Left, want ...string) {
	t.Helper()
	var got []string
	for _, l := range left {
		got = append(got, string(l.Sheet))
	}
	if strings.Join(got, "|") != strings.Join(want, "|") {
		t.Fatalf("left over: %.200q, want %.200q", got, want)
	}
}

func TestWhatIsKeptIsLeftOver(t *testing.T) {
	f := Folder(filepath.Join(t.TempDir(), "state", "unsaved"))
	o := Origin{Path: absolute("/sheets/one.toml"), Stamp: "\xff\x00stamp"}
	l := f.Log()
	wantLeft(t, f.All())
	if _, err := os.Stat(string(f)); err == nil {
		t.Error("there is a folder before anything was kept")
	}
	keep(t, l, o, "one", "two", "three")
	wantLeft(t, f.All()) // its writer is alive
	if err := l.Close(); err != nil {
		t.Fatal(err)
	}
	wantLeft(t, f.All(), "three")
	wantLeft(t, f.Of("/sheets/one.toml"), "three")
	wantLeft(t, f.Of("/sheets/two.toml"))
	wantLeft(t, f.Of(""))
	left := f.All()[0]
	if left.Origin != o || left.Changes != 3 || left.Place != "here" || !left.At.Equal(noon) {
		t.Errorf("left over is %+v", left)
	}
	if err := left.Drop(); err != nil {
		t.Fatal(err)
	}
	wantEmpty(t, f)
}

// wantEmpty holds that nothing about anybody is left behind.
func wantEmpty(t testing.TB, f Folder) {
	t.Helper()
	if list, err := os.ReadDir(string(f)); err != nil || len(list) > 0 {
		t.Fatalf("left in the folder: %v, %v", list, err)
	}
}

func TestOnlyItsOwnerCanReadIt(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("the rights come from the folder there")
	}
	f := Folder(filepath.Join(t.TempDir(), "state", "unsaved"))
	l := f.Log()
	keep(t, l, Origin{Path: "/sheets/zoe-winter.toml"}, "one")
	path := oneFile(t, f)
	if strings.Contains(path, "zoe") {
		t.Errorf("the name %s tells of whom it is", path)
	}
	for name, want := range map[string]fs.FileMode{path: 0o600, string(f): 0o700 | fs.ModeDir, filepath.Dir(string(f)): 0o700 | fs.ModeDir} {
		info, err := os.Stat(name)
		if err != nil {
			t.Fatal(err)
		}
		if info.Mode() != want {
			t.Errorf("%s has mode %v, want %v", name, info.Mode(), want)
		}
	}
}

func TestDropLeavesNothing(t *testing.T) {
	f := Folder(t.TempDir())
	l := f.Log()
	if err := l.Drop(); err != nil {
		t.Error(err)
	}
	keep(t, l, Origin{}, "one", "two")
	if err := l.Drop(); err != nil {
		t.Fatal(err)
	}
	wantEmpty(t, f)
	keep(t, l, Origin{}, "three")
	if err := l.Close(); err != nil {
		t.Fatal(err)
	}
	wantLeft(t, f.Of(""), "three")
	if n := f.All()[0].Changes; n != 1 {
		t.Errorf("after nothing was left unsaved, the first change is number %d", n)
	}
}

func TestChangesCountOn(t *testing.T) {
	f := Folder(t.TempDir())
	l := f.Log()
	l.Resume(12)
	keep(t, l, Origin{}, "one")
	_ = l.Close()
	if n := f.All()[0].Changes; n != 13 {
		t.Errorf("after 12 changes taken up the next is number %d", n)
	}
}

// A long log is begun anew with its last record, and stays one file.
func TestLongLogsAreBegunAnew(t *testing.T) {
	f := Folder(t.TempDir())
	l := f.Log()
	big := strings.Repeat("a strand ", 5000)
	most := int64(0)
	for i := range 100 {
		keep(t, l, Origin{}, big+string(rune('A'+i)))
		most = max(most, l.size)
		l.removing.Wait()
		if info, err := os.Stat(oneFile(t, f)); err != nil || info.Size() != l.size {
			t.Fatalf("after %d changes the file has %v bytes, the log %d (%v)", i, info, l.size, err)
		}
	}
	if l.begun < 2 || most > longest+100_000 {
		t.Errorf("begun %d times, with %d bytes at most", l.begun, most)
	}
	_ = l.Close()
	wantLeft(t, f.All(), big+string(rune('A'+99)))
	if n := f.All()[0].Changes; n != 100 {
		t.Errorf("%d changes", n)
	}
}

// A writer that is killed while it begins its log anew leaves two files. The one that has got further counts, even if that
// is the old one, because the new one has no whole record.
func TestKilledWhileBeginningAnew(t *testing.T) {
	for name, c := range map[string]struct {
		cut  int64
		want string
	}{"the new one whole": {0, "two"}, "the new one torn": {3, "one"}} {
		f := Folder(t.TempDir())
		l := f.Log()
		keep(t, l, Origin{}, "one")
		old := oneFile(t, f)
		was, err := os.ReadFile(old)
		if err != nil {
			t.Fatal(err)
		}
		l.size = longest
		keep(t, l, Origin{}, "two")
		l.removing.Wait()
		now := oneFile(t, f)
		if now == old {
			t.Fatal("the log was not begun anew")
		}
		if err := os.WriteFile(old, was, 0o600); err != nil {
			t.Fatal(err)
		}
		if wantLeft(t, f.All()); len(f.All()) > 0 {
			t.Errorf("%s: the old file is offered while the writer is alive", name)
		}
		if err := os.Truncate(now, l.size-c.cut); err != nil {
			t.Fatal(err)
		}
		_ = l.Close()
		wantLeft(t, f.All(), c.want)
		wantLeft(t, f.All(), c.want)
		for _, left := range f.All() {
			if err := left.Drop(); err != nil {
				t.Fatal(err)
			}
		}
		wantLeft(t, f.All())
	}
}

// When a sheet has got another name, its log is about that one.
func TestAnotherOrigin(t *testing.T) {
	f := Folder(t.TempDir())
	l := f.Log()
	keep(t, l, Origin{}, "one")
	keep(t, l, Origin{Path: absolute("/sheets/now.toml"), Stamp: "s"}, "two")
	l.removing.Wait()
	oneFile(t, f)
	_ = l.Close()
	wantLeft(t, f.Of(""))
	wantLeft(t, f.Of("/sheets/now.toml"), "two")
}

// However somebody gets to a file, what was left of it is found.
func TestTheSameFileByAnotherWay(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "sheet.toml")
	if err := os.WriteFile(path, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	f := Folder(filepath.Join(dir, "unsaved"))
	l := f.Log()
	keep(t, l, Origin{Path: path}, "one")
	_ = l.Close()
	ways := []string{path, filepath.Join(dir, ".", "unsaved", "..", "sheet.toml")}
	if err := os.Symlink(path, filepath.Join(dir, "link")); err == nil {
		ways = append(ways, filepath.Join(dir, "link"))
	}
	for _, way := range ways {
		wantLeft(t, f.Of(way), "one")
	}
	t.Chdir(dir)
	wantLeft(t, f.Of("sheet.toml"), "one")
}

func TestTheOneLeftLastComesFirst(t *testing.T) {
	f := Folder(t.TempDir())
	for i, text := range []string{"second", "last", "first"} {
		l := f.Log()
		r := record(text)
		r.At = noon.Add(time.Duration([]int{1, 2, 0}[i]) * time.Hour)
		if err := l.Keep(Origin{}, r); err != nil {
			t.Fatal(err)
		}
		_ = l.Close()
	}
	wantLeft(t, f.All(), "last", "second", "first")
}

// What was left over is taken up by one only.
func TestClaims(t *testing.T) {
	f := Folder(t.TempDir())
	l := f.Log()
	keep(t, l, Origin{}, "one")
	_ = l.Close()
	a, b := f.All()[0], f.All()[0]
	if err := a.Claim(); err != nil {
		t.Fatal(err)
	}
	if err := a.Claim(); err != nil {
		t.Error("claimed again by the same:", err)
	}
	if err := b.Claim(); !errors.Is(err, ErrTaken) {
		t.Errorf("claimed by another: %v", err)
	}
	if err := b.Drop(); !errors.Is(err, ErrTaken) {
		t.Errorf("dropped by another: %v", err)
	}
	wantLeft(t, f.All()) // somebody is at it
	a.Release()
	wantLeft(t, f.All(), "one")
	if err := b.Drop(); err != nil {
		t.Fatal(err)
	}
	if err := a.Claim(); !errors.Is(err, ErrGone) {
		t.Errorf("claimed when it was gone: %v", err)
	}
	if err := a.Drop(); err != nil {
		t.Errorf("dropped when it was gone: %v", err)
	}
	wantEmpty(t, f)
}

// However many look at once, one of them gets it.
func TestManyClaimAtOnce(t *testing.T) {
	for range rounds(50, 5) {
		f := Folder(t.TempDir())
		l := f.Log()
		keep(t, l, Origin{}, "one")
		_ = l.Close()
		var got sync.Map
		var all sync.WaitGroup
		for i := range 8 {
			all.Go(func() {
				for _, left := range f.All() {
					if left.Claim() == nil {
						got.Store(i, left)
					}
				}
			})
		}
		all.Wait()
		n := 0
		got.Range(func(_, l any) bool { n++; l.(*Left).Release(); return true })
		if n != 1 {
			t.Fatalf("%d have claimed it", n)
		}
		wantLeft(t, f.All(), "one")
	}
}

// A log can be begun while others look for what is left over.
func TestBeginningWhileOthersLook(t *testing.T) {
	f := Folder(t.TempDir())
	done := make(chan struct{})
	var looking sync.WaitGroup
	for range 3 {
		looking.Go(func() {
			for {
				select {
				case <-done:
					return
				default:
					for _, left := range f.All() {
						t.Errorf("offered while its writer is alive: %q", left.Sheet)
					}
				}
			}
		})
	}
	for range rounds(300, 30) {
		l := f.Log()
		keep(t, l, Origin{}, "one", "two")
		if err := l.Drop(); err != nil {
			t.Error(err)
		}
	}
	close(done)
	looking.Wait()
}

// What can't be written is said, loses nothing that was kept, and goes on when it can.
func TestKeepingGoesOnAfterTrouble(t *testing.T) {
	dir := t.TempDir()
	f := Folder(filepath.Join(dir, "unsaved"))
	if err := os.WriteFile(string(f), nil, 0o600); err != nil { // a file where the folder would be
		t.Fatal(err)
	}
	l := f.Log()
	if err := l.Keep(Origin{}, record("one")); err == nil {
		t.Fatal("kept where there is no folder")
	}
	if err := os.Remove(string(f)); err != nil {
		t.Fatal(err)
	}
	keep(t, l, Origin{}, "two")
	_ = l.file.Close() // as when the disk is gone: what is written next can't be
	keep(t, l, Origin{}, "three")
	l.removing.Wait()
	oneFile(t, f)
	if err := os.Remove(l.path); err != nil { // somebody tidies up
		t.Fatal(err)
	}
	keep(t, l, Origin{}, "four")
	_ = l.Close()
	wantLeft(t, f.All(), "four")
}

// A write that breaks off halfway leaves the record before, and the next is not hidden behind it.
func TestHalfARecord(t *testing.T) {
	f := Folder(t.TempDir())
	l := f.Log()
	keep(t, l, Origin{}, "one")
	half, err := record(strings.Repeat("two", 100)).framed()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := l.file.Write(half[:len(half)/2]); err != nil {
		t.Fatal(err)
	}
	l.torn = true // as append has it after such a write
	keep(t, l, Origin{}, "three")
	_ = l.Close()
	wantLeft(t, f.All(), "three")
}

func TestTooMuchIsNotKept(t *testing.T) {
	f := Folder(t.TempDir())
	l := f.Log()
	keep(t, l, Origin{}, "one")
	err := l.Keep(Origin{}, Record{Sheet: make([]byte, maxFrame+1)})
	if err == nil || !strings.Contains(err.Error(), "bytes") {
		t.Errorf("%v", err)
	}
	_ = l.Close()
	wantLeft(t, f.All(), "one")
}

// A log in which nothing can be found goes after a day, one that can be read never does.
func TestOldLogs(t *testing.T) {
	f := Folder(t.TempDir())
	l := f.Log()
	keep(t, l, Origin{}, "one")
	_ = l.Close()
	good := oneFile(t, f)
	bad, young := filepath.Join(string(f), "1-2-3.log"), filepath.Join(string(f), "note.log")
	notOurs := filepath.Join(string(f), "note.txt")
	for _, path := range []string{bad, young, notOurs} {
		if err := os.WriteFile(path, []byte(magic[:5]), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	old := time.Now().Add(-unreadableFor - time.Hour)
	for _, path := range []string{good, bad, notOurs} {
		if err := os.Chtimes(path, old, old); err != nil {
			t.Fatal(err)
		}
	}
	wantLeft(t, f.All(), "one")
	for path, want := range map[string]bool{good: true, bad: false, young: true, notOurs: true} {
		if _, err := os.Stat(path); (err == nil) != want {
			t.Errorf("%s is there: %v, want %v", path, err == nil, want)
		}
	}
}

// What was kept is brought to the disk from beside, also while more is kept and the log removed. The race detector looks on.
func TestSyncingBesideTheRest(t *testing.T) {
	f := Folder(t.TempDir())
	l := f.Log()
	var syncing sync.WaitGroup
	for range 4 {
		syncing.Go(func() {
			for range 30 {
				l.sync()
			}
		})
	}
	for i := range 200 {
		keep(t, l, Origin{}, string(bytes.Repeat([]byte{'x'}, i)))
		if i%40 == 39 {
			if err := l.Drop(); err != nil {
				t.Error(err)
			}
		}
	}
	syncing.Wait()
	l.sync()
	l.sharing.Lock()
	defer l.sharing.Unlock()
	if !l.unsynced.IsZero() {
		t.Error("after the last sync something is not on the disk")
	}
	wantEmpty(t, f)
}

// What was kept comes to the disk by itself, in a pause.
func TestSyncedInAPause(t *testing.T) {
	l := Folder(t.TempDir()).Log()
	defer l.Close() // Windows keeps the folder for as long as it is open
	keep(t, l, Origin{}, "one")
	for end := time.Now().Add(20 * pause); time.Now().Before(end); time.Sleep(pause / 50) {
		l.sharing.Lock()
		synced := l.unsynced.IsZero()
		l.sharing.Unlock()
		if synced {
			return
		}
	}
	t.Error("nothing was brought to the disk")
}

func TestAnEmptyFolderHasNothing(t *testing.T) {
	wantLeft(t, Folder("").All())
	wantLeft(t, Folder(filepath.Join(t.TempDir(), "none")).All())
}

func BenchmarkKeep(b *testing.B) {
	for name, size := range map[string]int{"5KB": 5 << 10, "20KB": 20 << 10} {
		b.Run(name, func(b *testing.B) {
			l := Folder(b.TempDir()).Log()
			r := Record{At: noon, Place: `{"at":60,"slot":3}`, Sheet: bytes.Repeat([]byte("a"), size)}
			slowest := time.Duration(0)
			for b.Loop() {
				start := time.Now()
				if err := l.Keep(Origin{Path: "/x"}, r); err != nil {
					b.Fatal(err)
				}
				slowest = max(slowest, time.Since(start))
			}
			b.ReportMetric(float64(slowest.Microseconds()), "slowest-µs")
			_ = l.Drop()
		})
	}
}

// Why the program ended goes with what it kept, which stays as it was; and where it goes on after all the reason is of no account.
func TestWhyItEnded(t *testing.T) {
	f := Folder(t.TempDir())
	l := f.Log()
	l.End("nothing was kept yet")
	wantLeft(t, f.All())
	keep(t, l, Origin{}, "one", "two")
	l.End("the window was closed")
	if err := l.Close(); err != nil {
		t.Fatal(err)
	}
	left := f.All()
	wantLeft(t, left, "two")
	if got := left[0]; got.Ended != "the window was closed" || got.Changes != 2 || got.Place != "here" {
		t.Errorf("left over is %+v", got.Record)
	}
	if err := left[0].Drop(); err != nil {
		t.Fatal(err)
	}
	l = f.Log()
	keep(t, l, Origin{}, "one")
	l.End("it was not so")
	keep(t, l, Origin{}, "two")
	if err := l.Close(); err != nil {
		t.Fatal(err)
	}
	left = f.All()
	wantLeft(t, left, "two")
	if got := left[0]; got.Ended != "" {
		t.Errorf("it is said to have ended because %q", got.Ended)
	}
}

// What a newer program has kept is not for this one to throw away, however old it is.
func TestANewerFormatStays(t *testing.T) {
	f := Folder(t.TempDir())
	old := time.Now().Add(-2 * unreadableFor)
	for name, data := range map[string]string{"1-2-3.log": "underveil unsaved 2\nsomething", "1-3-3.log": magic + "torn", "1-4-3.log": ""} {
		path := filepath.Join(string(f), name)
		if err := os.WriteFile(path, []byte(data), 0o600); err != nil {
			t.Fatal(err)
		}
		if err := os.Chtimes(path, old, old); err != nil {
			t.Fatal(err)
		}
	}
	f.All()
	if left, _ := os.ReadDir(string(f)); len(left) != 1 || left[0].Name() != "1-2-3.log" {
		t.Errorf("left: %v", left)
	}
}
