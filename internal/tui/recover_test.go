package tui

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/recovery"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
	"example.org/underveil/internal/visit"
)

// keeping makes an editor keep what is not saved in a folder.
func (e *editor) keeping(folder string) *editor {
	e.m.opts.Unsaved = Unsaved{Folder: recovery.Folder(folder), Encode: sheetfile.Encode, Now: func() time.Time { return today }}
	return e
}

// begun is an editor on its start page that keeps what is not saved in a folder.
func begun(t testing.TB, s setup, folder string) *editor {
	t.Helper()
	e := start(t, s).keeping(folder)
	e.run(e.m.Init())
	e.send(nil)
	return e
}

// opened is an editor that has opened the first sheet of a disk, as from the command line.
func opened(t testing.TB, d *disk, path, folder string) *editor {
	t.Helper()
	e := begun(t, setup{disk: d}, folder)
	e.send(e.m.Open(path)())
	return e
}

// crash ends an editor as a kill would: nothing is done any more, and its locks are gone.
func (e *editor) crash() {
	e.t.Helper()
	k := e.m.doc.kept
	if k.log != nil {
		if err := k.log.Close(); err != nil {
			e.t.Fatal(err)
		}
	}
	if k.taken != nil {
		k.taken.Release()
	}
}

// left is what a crash at this moment would leave: the folder is copied, so that no lock is in the way.
func left(t testing.TB, folder string) []*recovery.Left {
	t.Helper()
	logs, err := filepath.Glob(filepath.Join(folder, "*"))
	if err != nil {
		t.Fatal(err)
	}
	to := t.TempDir()
	for _, path := range logs {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(to, filepath.Base(path)), data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	all := recovery.Folder(to).All()
	if len(all) != len(logs) {
		t.Fatalf("%d logs, of which %d can be read", len(logs), len(all))
	}
	return all
}

// wantLogs holds that there are so many logs.
func wantLogs(t testing.TB, folder string, n int) {
	t.Helper()
	if got := left(t, folder); len(got) != n {
		t.Fatalf("%d logs, want %d", len(got), n)
	}
}

func TestKilledAndTakenUpAgain(t *testing.T) {
	folder, d := t.TempDir(), folder(t, "one.toml")
	e := opened(t, d, "one.toml", folder)
	e.press("Up", "2", "r", "Right", "Right", "space")
	want, at := e.encoded(), e.m.doc.cursor
	e.press("Left") // only a change is kept with its place
	e.crash()

	e = opened(t, d, "one.toml", folder)
	e.says("left unfinished")
	e.says("today at")
	e.says("2 unsaved changes")
	file := e.encoded()
	e.press("space") // no answer
	if e.encoded() != file {
		t.Fatal("a key has gone past the question")
	}
	e.press("t")
	e.says("taken up where it was left")
	if e.encoded() != want || e.m.doc.cursor != at || !e.m.doc.changed() {
		t.Fatalf("taken up: %s", e.state(plainSheet(t)))
	}
	wantLogs(t, folder, 1)
	if n := left(t, folder)[0].Changes; n != 3 {
		t.Errorf("%d changes, want the 2 before and the taking up", n)
	}
	if got := e.steps(); len(got) != 1 {
		t.Errorf("steps: %q", got)
	}
	e.press("ctrl+s")
	e.says("saved to one.toml")
	if string(d.held["one.toml"]) != want {
		t.Errorf("saved\n%s\nwant\n%s", d.held["one.toml"], want)
	}
	wantLogs(t, folder, 0)
}

// Where nothing was changed nothing is kept, and what is saved or left unsaved on purpose is not kept any longer.
func TestWhatIsKeptAndHowLong(t *testing.T) {
	for _, c := range []struct {
		keys  string
		logs  int
		quits bool
	}{
		{"Up Right n e Esc ctrl+s", 0, false},
		{"space", 1, false},
		{"space u", 0, false},
		{"space u U", 1, false},
		{"space ctrl+s", 0, false},
		{"space ctrl+s u", 1, false},
		{"space ctrl+s u U", 0, false},
		{"space q", 1, false},
		{"space q Esc", 1, false},
		{"space q l", 1, true}, // for later
		{"space q d", 0, true},
		{"space ctrl+o l Esc q d", 0, true},
		{"space q s", 0, true},
		{"space ctrl+o l", 1, false}, // it may be stayed with yet
		{"space ctrl+o l Esc space", 1, false},
		{"space ctrl+o l Esc Up space", 1, false},
		{"space ctrl+o l t w o Enter", 1, false},
		{"space ctrl+o d t w o Enter", 0, false},
		{"space ctrl+o s t w o Enter", 0, false},
		{"ctrl+n Enter", 1, false}, // the measures are not saved
		{"ctrl+n Enter ctrl+s Enter", 0, false},
		{"ctrl+n Enter q l", 1, true},
		{"ctrl+n Enter q d", 0, true},
		{"space S Backspace Backspace Backspace Backspace Backspace x Enter", 0, false},
	} {
		folder, d := t.TempDir(), folder(t, "one.toml", "two.toml")
		e := opened(t, d, "one.toml", folder)
		e.press(strings.Fields(c.keys)...)
		e.last = c.keys
		if got := left(t, folder); len(got) != c.logs || e.quit != c.quits {
			t.Errorf("after %s: %d logs, left %v", c.keys, len(got), e.quit)
		}
	}
}

// Whatever is pressed, after every key the log holds what the sheet is, for exactly as long as leaving would ask.
func TestTheLogFollowsRandomKeys(t *testing.T) {
	keys := 250
	if testing.Short() {
		keys = 40
	}
	all := bound()
	for seed := range *seeds {
		r := rand.New(rand.NewPCG(seed, 11))
		folder := t.TempDir()
		e := edit(t, randomSheet(t, r), setup{disk: folder2(t)}).keeping(folder)
		for range keys {
			e.press(randomKey(r, len(e.m.dialogs) > 0, all))
			if e.quit {
				break
			}
			got := left(t, folder)
			switch d := e.m.doc; {
			case d.changed() && len(got) != 1, !d.changed() && len(got) != 0:
				t.Fatalf("seed %d, after %s: changed %v, %d logs", seed, e.last, d.changed(), len(got))
			case d.changed() && string(got[0].Sheet) != e.encoded():
				t.Fatalf("seed %d, after %s the log has\n%s\nand the sheet is\n%s", seed, e.last, got[0].Sheet, e.encoded())
			}
		}
	}
}

func folder2(t testing.TB) *disk { return folder(t, "one.toml", "two.toml") }

// A program that is told to end leaves the log: nobody has said that the changes are not wanted.
func TestToldToEnd(t *testing.T) {
	folder, d := t.TempDir(), folder(t, "one.toml")
	e := opened(t, d, "one.toml", folder)
	e.press("space")
	e.m.failed = os.ErrClosed // as when the terminal is gone
	e.m.End("its window was closed")
	e.crash()
	wantLogs(t, folder, 1)
	e = opened(t, d, "one.toml", folder)
	e.says("1 unsaved change: its")
	e.press("t", "space", "u")
	e.crash() // of which nobody could say why
	opened(t, d, "one.toml", folder).says("program was killed")
}

// As long as its writer is alive nothing is offered.
func TestTwoWindows(t *testing.T) {
	folder, d := t.TempDir(), folder(t, "one.toml")
	one := opened(t, d, "one.toml", folder)
	one.press("space")
	two := opened(t, d, "one.toml", folder)
	if len(two.m.dialogs) > 0 {
		t.Fatalf("offered while it is open elsewhere:\n%s", two.m.Screen())
	}
	two.press("Up", "space")
	wantLogs(t, folder, 2)
	one.crash()
	three := opened(t, d, "one.toml", folder)
	three.says("left unfinished")
	four := opened(t, d, "one.toml", folder)
	four.says("left unfinished")
	three.press("t")
	four.press("t")
	four.says("it was taken up or dropped in another window")
	four.press("Esc")
	if four.m.doc.changed() {
		t.Error("taken up twice")
	}
	four.press("Up", "Up", "space")
	wantLogs(t, folder, 3)
}

// When the file has been changed since, that is said, and one step leads from what was left to what is there.
func TestTheFileHasChangedSince(t *testing.T) {
	folder, d := t.TempDir(), folder(t, "one.toml")
	e := opened(t, d, "one.toml", folder)
	e.press("space")
	want := e.encoded()
	e.crash()
	d.held["one.toml"] = []byte(strings.Replace(string(d.held["one.toml"]), "sheet one.toml", "written elsewhere", 1))
	e = opened(t, d, "one.toml", folder)
	e.says("The file has been")
	e.press("t")
	if e.encoded() != want {
		t.Errorf("taken up:\n%s", e.encoded())
	}
	e.press("u")
	e.says("written elsewhere")
}

// What was taken up and taken back stays left over: nobody has said that it is not wanted.
func TestTakenUpAndTakenBack(t *testing.T) {
	folder, d := t.TempDir(), folder(t, "one.toml")
	e := opened(t, d, "one.toml", folder)
	e.press("space")
	want := e.encoded()
	e.crash()
	e = opened(t, d, "one.toml", folder)
	e.press("t", "u", "q")
	if !e.quit {
		t.Fatal("the sheet is as on disk, and leaving asks")
	}
	e = opened(t, d, "one.toml", folder)
	e.press("t")
	if e.encoded() != want {
		t.Error("it can't be taken up again")
	}
	e.press("q", "l")
	wantLogs(t, folder, 1)
	e = opened(t, d, "one.toml", folder)
	e.says("was left for later")
	e.press("t")
	if e.encoded() != want {
		t.Error("what was left for later is not there")
	}
	e.press("q", "d")
	wantLogs(t, folder, 0)
	if e = opened(t, d, "one.toml", folder); len(e.m.dialogs) > 0 {
		t.Error("dropped on purpose, and offered again")
	}
}

// A program killed between saving and removing the log has nothing to offer.
func TestSavedAfterAll(t *testing.T) {
	folder, d := t.TempDir(), folder(t, "one.toml")
	e := opened(t, d, "one.toml", folder)
	e.press("space")
	d.held["one.toml"] = []byte(e.encoded())
	e.crash()
	if e = opened(t, d, "one.toml", folder); len(e.m.dialogs) > 0 {
		t.Errorf("offered:\n%s", e.m.Screen())
	}
	wantLogs(t, folder, 0)
}

func TestLeftForLaterAndDropped(t *testing.T) {
	folder, d := t.TempDir(), folder(t, "one.toml")
	for _, key := range []string{"Right", "Left"} {
		e := begun(t, setup{disk: d}, t.TempDir())
		e.send(e.m.Open("one.toml")())
		e.keeping(folder).press(key, "space")
		e.crash()
	}
	for _, keys := range []string{"l", "Esc"} {
		e := opened(t, d, "one.toml", folder)
		e.press(keys)
		if len(e.m.dialogs) > 0 || e.m.doc.changed() {
			t.Fatalf("after %s:\n%s", keys, e.m.Screen())
		}
		wantLogs(t, folder, 2)
	}
	e := opened(t, d, "one.toml", folder)
	e.press("d")
	wantLogs(t, folder, 1)
	e.says("left unfinished") // the other one
	e.press("d")
	wantLogs(t, folder, 0)
	if len(e.m.dialogs) > 0 || e.m.doc.changed() {
		t.Errorf("after both were dropped:\n%s", e.m.Screen())
	}
}

// A sheet that was never saved is on the start page.
func TestANewSheetIsOnTheStartPage(t *testing.T) {
	folder, d := t.TempDir(), folder(t, "one.toml")
	e := begun(t, setup{disk: d}, folder)
	e.press("n", "Enter", "Up", "2", "r")
	want := e.encoded()
	e.crash()
	e = begun(t, setup{disk: d}, folder)
	e.says("left unfinished")
	e.says("never saved")
	e.press("Enter")
	e.says("A sheet that was never saved")
	e.press("Esc", "Enter", "t")
	if e.encoded() != want {
		t.Fatalf("taken up:\n%s\nwant\n%s", e.encoded(), want)
	}
	e.press("ctrl+s", "Enter")
	e.says("saved to")
	wantLogs(t, folder, 0)
	if e = begun(t, setup{disk: d}, folder); strings.Contains(e.m.Screen().String(), "unfinished") {
		t.Error("it is still on the start page")
	}
}

func TestDroppedOnTheStartPage(t *testing.T) {
	folder, d := t.TempDir(), folder(t, "one.toml")
	e := begun(t, setup{disk: d}, folder)
	e.press("n", "Enter")
	e.crash()
	e = begun(t, setup{disk: d}, folder)
	e.press("Enter", "d")
	wantLogs(t, folder, 0)
	if strings.Contains(e.m.Screen().String(), "never saved") || e.m.doc != nil {
		t.Errorf("dropped, and still there:\n%s", e.m.Screen())
	}
	e.press("Enter")
	e.says("sheet one.toml")
}

// From the start page a sheet with a file opens from there, and then what was left of it is offered.
func TestASheetWithAFileOnTheStartPage(t *testing.T) {
	folder, d := t.TempDir(), folder(t, "/one.toml")
	e := opened(t, d, "/one.toml", folder)
	e.press("space")
	want := e.encoded()
	e.crash()
	e = begun(t, setup{disk: d}, folder)
	e.says("left unfinished")
	e.press("Enter")
	e.says("1 unsaved change")
	e.press("t")
	if e.encoded() != want || e.m.doc.path != "/one.toml" {
		t.Errorf("taken up: %s", e.state(plainSheet(t)))
	}
}

// When the file is gone or broken, what was left can be had all the same, and its name is offered for saving.
func TestWithoutItsFile(t *testing.T) {
	for name, spoil := range map[string]func(*disk){
		"gone":   func(d *disk) { delete(d.held, "/one.toml") },
		"broken": func(d *disk) { d.held["/one.toml"] = []byte("title = ") },
	} {
		folder, d := t.TempDir(), folder(t, "/one.toml")
		d.recent = nil
		e := opened(t, d, "/one.toml", folder)
		e.press("space")
		want := e.encoded()
		e.crash()
		spoil(d)
		e = begun(t, setup{disk: d}, folder)
		e.press("Enter")
		if name == "broken" {
			e.says("this can't be opened")
			e.press("Esc")
		}
		e.says("/one.toml can't be opened")
		e.press("t")
		if e.encoded() != want || e.m.doc.path != "" || !e.m.doc.changed() {
			t.Fatalf("%s: taken up: %s", name, e.state(plainSheet(t)))
		}
		e.press("ctrl+s")
		e.says("/one.toml")
		e.press("Enter")
		if name == "broken" {
			e.says("that file is there already")
			e.press("r")
		}
		if string(d.held["/one.toml"]) != want {
			t.Errorf("%s: saved\n%s", name, d.held["/one.toml"])
		}
		wantLogs(t, folder, 0)
	}
}

// What can't be read is said, and stays.
func TestLeftOverThatCantBeRead(t *testing.T) {
	folder, d := t.TempDir(), folder(t, "one.toml")
	for _, path := range []string{"", "one.toml"} {
		l := recovery.Folder(folder).Log()
		if err := l.Keep(originOf(path, ""), recovery.Record{At: today, Sheet: []byte("title = ")}); err != nil {
			t.Fatal(err)
		}
		_ = l.Close()
	}
	e := opened(t, d, "one.toml", folder)
	e.press("t")
	e.says("this can't be taken up")
	e.press("Esc")
	e = begun(t, setup{disk: folder2(t)}, folder)
	e.says("which can't be read")
	wantLogs(t, folder, 2)
}

// A disk that takes nothing is told of once, and never stops the work; when it takes something again, all is kept.
func TestNothingCanBeKept(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	e := opened(t, folder(t, "one.toml"), "one.toml", file)
	e.press("space")
	e.says("save often: a crash would lose changes (not a directory")
	e.press("Up", "r")
	if strings.Contains(e.m.Screen().String(), "save often") || e.m.doc.totals.Strands < 3 {
		t.Errorf("told again, or nothing placed:\n%s", e.m.Screen())
	}
	if err := os.Remove(file); err != nil {
		t.Fatal(err)
	}
	e.press("Up", "r")
	if got := left(t, file); len(got) != 1 || string(got[0].Sheet) != e.encoded() {
		t.Errorf("left: %d", len(got))
	}
	none := opened(t, folder(t, "one.toml"), "one.toml", "")
	none.press("space")
	none.says("save often: a crash would lose changes (there is no folder")
}

// An edit made while the sheet is being written is kept, for the name that it is written to.
func TestKeptWhileSaving(t *testing.T) {
	folder, d := t.TempDir(), folder(t, "/one.toml")
	e := opened(t, d, "/one.toml", folder)
	e.press("space", "S")
	for range "/one.toml" {
		e.press("Backspace")
	}
	e.write("/new")
	writing := e.deliver(mustKey(t, "Enter"))
	e.m.dialogs = nil
	e.press("Right", "space")
	e.run(writing)
	got := left(t, folder)
	if len(got) != 1 || got[0].Path != "/new.toml" || got[0].Stamp != string(d.held["/new.toml"]) || string(got[0].Sheet) != e.encoded() {
		t.Fatalf("left: %+v", got)
	}
	e.press("ctrl+s")
	wantLogs(t, folder, 0)
}

// At the chair the panel is open again, at the bond where work goes on.
func TestTheChairIsOpenAgain(t *testing.T) {
	s := plainSheet(t).WithBonds(height(60), map[int]sheet.Bond{-2: {Shade: 'a'}, 0: {Shade: 'a'}, 2: {Shade: 'a'}})
	s, err := visit.Begin(s, sheet.Fitting, "2026-04-07", "")
	if err != nil {
		t.Fatal(err)
	}
	folder, d := t.TempDir(), newDisk()
	d.held["one.toml"] = sheetfile.Encode(s)
	e := opened(t, d, "one.toml", folder)
	e.run(e.m.openChair())
	e.press("space")
	want, chair := e.encoded(), e.m.chairOpen()
	if !e.m.doc.changed() || chair == nil {
		t.Fatalf("nothing was ticked:\n%s", e.m.Screen())
	}
	e.crash()
	e = opened(t, d, "one.toml", folder)
	e.press("t")
	again := e.m.chairOpen()
	if e.encoded() != want || again == nil || again.where() != chair.where() {
		t.Errorf("taken up:\n%s", e.m.Screen())
	}
}

func TestPlaces(t *testing.T) {
	e := edit(t, plainSheet(t), setup{}).keeping(t.TempDir())
	r := rand.New(rand.NewPCG(1, 12))
	for range 200 {
		for range 1 + r.IntN(5) {
			e.press(pick(r, append(moves, "d")...))
		}
		here := e.m.doc.cursor
		where := e.m.placeNow()
		e.press("PgDn", "PgDn", "Home")
		e.m.goBackTo(where)
		if e.m.doc.cursor != here {
			t.Fatalf("%s leads to %+v, not to %+v", where, e.m.doc.cursor, here)
		}
	}
	// A log may come from another version, or from anywhere.
	e.at(height(60), 2)
	here := e.m.doc.cursor
	for _, where := range []string{"", "x", "{", "[]", `{"at":"x"}`, `{"at":1e300,"slot":1}`, `{"at":-5}`, `{"along":true,"at":3000}`} {
		e.m.goBackTo(where)
		if e.m.doc.cursor != here {
			t.Errorf("%q leads to %+v", where, e.m.doc.cursor)
		}
	}
	for _, slot := range []int{1 << 40, -1 << 40} {
		e.m.goBackTo(fmt.Sprintf(`{"at":60,"slot":%d,"panel":"unheard of"}`, slot))
		if at := e.m.doc.cursor; at.At != height(60) || e.m.doc.slot() == nil {
			t.Errorf("slot %d leads to %+v", slot, at)
		}
	}
}

func TestWhenItWasLeft(t *testing.T) {
	e := start(t, setup{glyphs: &figure.ASCII}).keeping("")
	for want, at := range map[string]time.Time{
		"today at 12:00":      today,
		"on 6 April at 12:00": today.AddDate(0, 0, -1),
		"on 7 April 2025":     today.AddDate(-1, 0, 0),
	} {
		at = time.Date(at.Year(), at.Month(), at.Day(), 12, 0, 0, 0, time.Local)
		if got := e.m.when(at); got != want {
			t.Errorf("%v is %q, want %q", at, got, want)
		}
	}
}

// What keeping costs: an edit of 58 and of 300 bonds, placed and lifted, with a log and without.
func BenchmarkEditKept(b *testing.B) {
	for _, n := range []int{58, 300} {
		for _, kept := range []bool{false, true} {
			b.Run(fmt.Sprintf("bonds=%d/kept=%v", n, kept), func(b *testing.B) {
				e := edit(b, bonded(b, n, false), setup{})
				e.unseen = true
				if kept {
					e.keeping(b.TempDir())
				}
				key := mustKey(b, "space")
				e.press("2")
				for b.Loop() {
					e.m.Update(key)
					e.m.Update(key)
				}
				b.ReportMetric(float64(len(e.encoded())), "bytes")
			})
		}
	}
}
