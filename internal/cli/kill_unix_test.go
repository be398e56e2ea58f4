//go:build unix

package cli

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/assets"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/ptytest"
	"example.org/underveil/internal/recovery"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
	"example.org/underveil/internal/tui"
	"example.org/underveil/internal/visit"
)

var (
	kills    = flag.Int("kills", 100, "how often to kill the program on a terminal")
	killSeed = flag.Uint64("killseed", 1, "the seed of what is typed before")
)

const (
	killFile  = "client.toml"
	killTitle = "the one that is killed"
	killCols  = 120
	killRows  = 40
)

// typist types in the program until it is killed.
type typist struct {
	begin []byte                      // the sheet to begin with
	first []string                    // what is typed whenever the program has started
	key   func(*rand.Rand) string     // the next key, by its name for ptytest
	same  func(got, want []byte) bool // whether two sheets are the same, as far as they must be
}

// outOf draws keys as often as they are in a hat: "Up*8 Down*6 r".
func outOf(hat string) func(*rand.Rand) string {
	var keys []string
	for _, name := range strings.Fields(hat) {
		name, times, many := strings.Cut(name, "*")
		n := 1
		if many {
			n, _ = strconv.Atoi(times)
		}
		for range n {
			keys = append(keys, name)
		}
	}
	return func(r *rand.Rand) string { return keys[r.IntN(len(keys))] }
}

// editing types what changes a sheet in many ways, and sometimes saves it.
func editing() typist {
	s := sheet.New(someTapes).With(func(c *sheet.Sheet) { c.Title = killTitle })
	return typist{
		begin: sheetfile.Encode(s),
		key: outOf("Up*8 Down*6 Left*8 Right*8 Space*20 r*5 u*9 U*4 1 2*3 3 h*2 t*2 s o [*2 ]*2 c*2 v*3 Delete*2 l*2 y*2 " +
			"PgUp*2 PgDn Shift+Right*2 g 0 Ctrl+S*2"),
		same: func(got, want []byte) bool { return string(got) == string(want) },
	}
}

// fitting ticks off bonds at the chair. The time that took is not the same twice.
func fitting(t *testing.T) typist {
	t.Helper()
	s := sheet.New(someTapes).With(func(c *sheet.Sheet) { c.Title = killTitle })
	for _, at := range []scalp.MM{50, 60, 80} {
		bonds := map[int]sheet.Bond{}
		for slot := -12; slot <= 12; slot += 2 {
			bonds[slot] = sheet.Bond{Shade: 'a'}
		}
		s = s.WithBonds(sheet.Place{At: at}, bonds)
	}
	s, err := visit.Begin(s, sheet.Fitting, "2026-04-07", "")
	if err != nil {
		t.Fatal(err)
	}
	return typist{
		begin: sheetfile.Encode(s),
		first: []string{"F"},
		key:   outOf("Space*30 r*2 Left*2 Right*2 Up Down Delete*3 x*2 u*4 U*2 0 Ctrl+S"),
		same: func(got, want []byte) bool {
			return string(withoutTime.ReplaceAll(got, nil)) == string(withoutTime.ReplaceAll(want, nil))
		},
	}
}

var (
	withoutTime = regexp.MustCompile(`(?m)^seconds = .*\n`)
	clock       = regexp.MustCompile(`\d+:\d\d`) // on the screen
)

// TestKilledAtAnyMoment kills the program on a terminal, at any moment and in the midst of typing, opens the sheet again, takes
// up what is offered and saves it. It holds what comes out against the same keys given to an editor in this process: all
// that was on the screen is there, so at most the key in flight is lost.
func TestKilledAtAnyMoment(t *testing.T) {
	for name, c := range map[string]struct {
		who  typist
		many int
	}{"editing": {editing(), *kills * 3 / 4}, "fitting": {fitting(t), *kills / 4}} {
		t.Run(name, func(t *testing.T) { killAtRandom(t, c.who, c.many) })
	}
}

// killAtRandom kills the program n times, on one sheet that goes from hand to hand.
func killAtRandom(t *testing.T, who typist, n int) {
	t.Helper()
	if testing.Short() {
		n = min(n, 8)
	}
	const side = 4 // so many at once, for they mostly wait
	for w := range side {
		t.Run(fmt.Sprint(w), func(t *testing.T) {
			t.Parallel()
			v := newVictim(t, who, rand.New(rand.NewPCG(*killSeed, uint64(w))))
			for range n / side {
				v.round()
			}
			t.Logf("killed %d times in %d keys: all was there %d times, all but what was in flight %d times; %d times there was nothing to take up",
				n/side, v.typed, v.all, v.flight, v.nothing)
		})
	}
}

// victim is the program that is killed, and the sheet that it works on.
type victim struct {
	t    *testing.T
	who  typist
	r    *rand.Rand
	dir  string
	path string // of the program
	file []byte // the sheet as it was saved last

	typed, all, flight, nothing int
}

func newVictim(t *testing.T, who typist, r *rand.Rand) *victim {
	t.Helper()
	v := &victim{t: t, who: who, r: r, dir: t.TempDir(), path: theProgram(t), file: who.begin}
	if err := os.WriteFile(filepath.Join(v.dir, killFile), v.file, 0o600); err != nil {
		t.Fatal(err)
	}
	return v
}

// run starts the program on the sheet. Its number is in a file, written before it begins.
func (v *victim) run() (s *ptytest.Session, pid int) {
	v.t.Helper()
	number := filepath.Join(v.dir, "pid")
	s = ptytest.Start(v.t, ptytest.Options{Cols: killCols, Rows: killRows, Dir: v.dir, Env: []string{"XDG_STATE_HOME=" + filepath.Join(v.dir, "state")}},
		"/bin/sh", "-c", `echo $$ >"$0"; exec "$@"`, number, v.path, killFile)
	s.WaitFor(killTitle)
	text, err := os.ReadFile(number)
	if err != nil {
		v.t.Fatal(err)
	}
	if pid, err = strconv.Atoi(strings.TrimSpace(string(text))); err != nil {
		v.t.Fatal(err)
	}
	return s, pid
}

// round types, kills, opens again, and looks.
func (v *victim) round() {
	v.t.Helper()
	s, pid := v.run()
	keys := slices.Clone(v.who.first)
	for range 1 + v.r.IntN(20) {
		keys = append(keys, v.who.key(v.r))
	}
	blind := v.r.IntN(4) // how many keys at the end are typed without waiting for what they do
	if v.r.IntN(3) > 0 {
		blind = min(blind, 1)
	}
	seen := max(len(v.who.first), len(keys)-blind)
	mirror := newMirror(v.t, v.file)
	for i, k := range keys[:seen] {
		if k == "Ctrl+S" && strings.Contains(mirror.screen(), "saved to") { // it would be on its way, with nothing to tell when it is done
			k = "Up"
			keys[i] = k
		}
		mirror.press(k)
		s.Press(k)
		want := clock.ReplaceAllString(mirror.screen(), "")
		s.WaitScreen(func(term *ptytest.Terminal) bool { return clock.ReplaceAllString(term.Text(), "") == want }, fmt.Sprintf("what it does in this process, after %q:\n%s", keys[:seen], want))
	}
	v.kill(s, pid, keys[seen:])
	v.typed += len(keys)
	got, offered := v.openAgain()
	for n := len(keys); n >= seen; n-- {
		if want := after(v.t, v.file, keys[:n]); v.who.same(got, want) {
			v.count(n == len(keys), offered)
			v.file = got
			return
		}
	}
	v.t.Fatalf("after %q, of which the last %d were not waited for, the sheet is (offered: %v)\n%s\nwant\n%s", keys, len(keys)-seen, offered, got, after(v.t, v.file, keys))
}

func (v *victim) count(all, offered bool) {
	switch {
	case !offered:
		v.nothing++
	case all:
		v.all++
	default:
		v.flight++
	}
}

// kill types the last keys and kills: when the last was read, or at a moment of its own while they are typed.
func (v *victim) kill(s *ptytest.Session, pid int, keys []string) {
	v.t.Helper()
	if v.r.IntN(2) == 0 {
		s.Press(keys...)
		v.end(pid)
	} else {
		wait, done := time.Duration(v.r.IntN(2000))*time.Microsecond, make(chan struct{})
		go func() {
			defer close(done)
			time.Sleep(wait)
			v.end(pid)
		}()
		s.Press(keys...)
		<-done
	}
	if code := s.Wait(); code != -1 {
		v.t.Fatalf("it was not killed but left with %d", code)
	}
}

func (v *victim) end(pid int) {
	if err := syscall.Kill(pid, syscall.SIGKILL); err != nil {
		v.t.Errorf("cannot kill %d: %v", pid, err)
	}
}

// openAgain opens the sheet, takes up what is offered, saves it, and returns the file.
func (v *victim) openAgain() (file []byte, offered bool) {
	v.t.Helper()
	s, _ := v.run()
	if offered = strings.Contains(s.Term.Text(), "left unfinished"); offered {
		s.Press("t")
		s.WaitFor("taken up where it was left")
		s.Press("Ctrl+S")
		s.WaitFor("saved to")
	}
	if code := s.Quit("Esc", "q"); code != 0 { // a panel is open again where one was
		v.t.Errorf("left with exit code %d", code)
	}
	noOffence(v.t, s.Term)
	if more := recovery.Folder(filepath.Join(v.dir, "state", "underveil", "unsaved")).All(); len(more) > 0 {
		v.t.Errorf("all is saved, and there is more left over: %q", more[0].Sheet)
	}
	file, err := os.ReadFile(filepath.Join(v.dir, killFile))
	if err != nil {
		v.t.Fatal(err)
	}
	return file, offered
}

// mirror is an editor in this process that is given the same keys. It keeps no log.
type mirror struct {
	t    *testing.T
	m    *tui.Model
	disk map[string][]byte
}

func newMirror(t *testing.T, file []byte) *mirror {
	t.Helper()
	r := &mirror{t: t, disk: map[string][]byte{killFile: file}}
	st, _, err := sheetfile.DecodeStudio("studio.toml", assets.Studio)
	if err != nil {
		t.Fatal(err)
	}
	opts, err := (&program{background: "dark", out: os.Stdout, has: st, from: builtIn}).editorOptions()
	if err != nil {
		t.Fatal(err)
	}
	opts.Glyphs, opts.Unsaved, opts.ClockEvery = figure.Unicode, tui.Unsaved{}, 0
	opts.Files = tui.Files{
		Load: func(path string) (*sheet.Sheet, []string, error) {
			s, _, err := sheetfile.Decode(path, r.disk[path])
			return s, nil, err
		},
		Save: func(path string, s *sheet.Sheet) (string, string, error) {
			r.disk[path] = sheetfile.Encode(s)
			return "", string(r.disk[path]), nil
		},
		Parse:  func(string, []byte) (*sheet.Sheet, error) { return nil, errors.New("there is nothing to parse") },
		Exists: func(path string) bool { return r.disk[path] != nil },
		Stamp:  func(path string) string { return string(r.disk[path]) },
		Recent: func() []string { return nil },
		List:   func() []string { return nil },
		Opened: func(string) {},
	}
	r.m = tui.New(io.Discard, opts)
	r.send(tea.WindowSizeMsg{Width: killCols, Height: killRows})
	r.run(r.m.Open(killFile))
	return r
}

// after is the sheet that some keys make of a file, as it would be saved.
func after(t *testing.T, file []byte, keys []string) []byte {
	t.Helper()
	r := newMirror(t, file)
	for _, k := range keys {
		r.press(k)
	}
	r.press("Ctrl+S")
	return r.disk[killFile]
}

func (r *mirror) screen() string { return strings.TrimSuffix(r.m.Screen().String(), "\n") }

func (r *mirror) press(key string) {
	r.t.Helper()
	msg, err := keyMessage(key)
	if err != nil {
		r.t.Fatal(err)
	}
	r.send(msg)
}

func (r *mirror) send(msg tea.Msg) {
	_, cmd := r.m.Update(msg)
	r.run(cmd)
}

// run does what the editor asks for, until nothing is left to do.
func (r *mirror) run(cmd tea.Cmd) {
	if cmd == nil {
		return
	}
	switch msg := cmd().(type) {
	case nil:
	case tea.BatchMsg:
		for _, c := range msg {
			r.run(c)
		}
	default:
		r.send(msg)
	}
}

// keyMessage is a key by its name for ptytest, as Bubble Tea tells of it.
func keyMessage(name string) (tea.KeyMsg, error) {
	named := map[string]tea.KeyType{"Up": tea.KeyUp, "Down": tea.KeyDown, "Left": tea.KeyLeft, "Right": tea.KeyRight, "Home": tea.KeyHome, "End": tea.KeyEnd,
		"PgUp": tea.KeyPgUp, "PgDn": tea.KeyPgDown, "Delete": tea.KeyDelete, "Enter": tea.KeyEnter, "Esc": tea.KeyEsc, "Tab": tea.KeyTab,
		"Backspace": tea.KeyBackspace, "Ctrl+S": tea.KeyCtrlS, "Shift+Right": tea.KeyShiftRight, "Shift+Left": tea.KeyShiftLeft,
		"Shift+Up": tea.KeyShiftUp, "Shift+Down": tea.KeyShiftDown}
	if k, ok := named[name]; ok {
		return tea.KeyMsg{Type: k}, nil
	}
	if name == "Space" {
		return tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}}, nil
	}
	if r := []rune(name); len(r) == 1 {
		return tea.KeyMsg{Type: tea.KeyRunes, Runes: r}, nil
	}
	return tea.KeyMsg{}, fmt.Errorf("there is no key %q", name)
}

// A program that is told to end, or whose window goes away, leaves what is not saved to be taken up.
func TestToldToEndLeavesTheLog(t *testing.T) {
	for _, sig := range []syscall.Signal{syscall.SIGTERM, syscall.SIGHUP, syscall.SIGINT, syscall.SIGQUIT, syscall.SIGABRT} {
		t.Run(sig.String(), func(t *testing.T) {
			v := newVictim(t, editing(), nil)
			s, pid := v.run()
			s.Press("Up", "2", "r")
			s.WaitFor("9 bonds")
			if err := syscall.Kill(pid, sig); err != nil {
				t.Fatal(err)
			}
			s.Wait()
			got, offered := v.openAgain()
			if want := after(t, v.file, []string{"Up", "2", "r"}); !offered || string(got) != string(want) {
				t.Errorf("offered: %v; the sheet is\n%s\nwant\n%s", offered, got, want)
			}
		})
	}
}

// While it is open in one window, what is not saved there is not offered in another; after that window was killed it is. A
// sheet that was never saved is on the start page.
func TestTwoWindowsOneKilled(t *testing.T) {
	v := newVictim(t, editing(), nil)
	one, pid := v.run()
	one.Press("Up", "2", "r")
	one.WaitFor("9 bonds")
	two, _ := v.run()
	two.WaitFor("open in another window")
	two.Press("l")
	two.WaitGone("open in another window")
	if text := two.Term.Text(); !strings.Contains(text, "nothing placed yet") {
		t.Fatalf("it is not as it was saved:\n%s", text)
	} else if strings.Contains(text, "unfinished") {
		t.Fatalf("offered while it is open elsewhere:\n%s", text)
	}
	two.Quit("q")
	v.end(pid)
	one.Wait()
	if got := recovery.Folder(filepath.Join(v.dir, "state", "underveil", "unsaved")).Of(filepath.Join(v.dir, killFile)); len(got) != 1 || got[0].Changes != 1 {
		t.Fatalf("left over: %+v", got)
	}
	two, _ = v.run()
	two.WaitFor("left unfinished")
	two.Press("d")
	two.WaitFor("is dropped")
	two.Quit("q")

	opts := ptytest.Options{Cols: killCols, Rows: killRows, Dir: v.dir, Env: []string{"XDG_STATE_HOME=" + filepath.Join(v.dir, "state")}}
	s := ptytest.Start(t, opts, v.path)
	s.WaitFor("a new sheet")
	if strings.Contains(s.Term.Text(), "unfinished") {
		t.Errorf("dropped, and still there:\n%s", s.Term.Text())
	}
	s.Press("n")
	s.WaitFor("circumference")
	s.Press("Enter")
	s.WaitFor("nothing placed yet")
	s.Press("Up", "2", "r")
	s.WaitFor(" bonds")
	s.Signal(syscall.SIGKILL)
	s.Wait()
	s = ptytest.Start(t, opts, v.path)
	s.WaitFor("never saved")
	s.Press("Enter")
	s.WaitFor("take it up where it was left")
	s.Press("t")
	s.WaitFor(" bonds")
	s.Press("Ctrl+S", "Enter")
	s.WaitFor("saved to")
	s.Quit("q")
	noOffence(t, s.Term)
	if saved, _, err := sheetfile.Load(filepath.Join(v.dir, "new-sheet.toml")); err != nil || saved.Bonds() < 5 {
		t.Errorf("saved: %v", err)
	}
}
