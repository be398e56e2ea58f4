package tui

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/recovery"
	"example.org/underveil/internal/sheetfile"
)

// The files of testdata/evil in the editor: it opens each that can be opened, every command runs on it and every dialog is drawn, and the
// terminal, which knows the sequences that we may send and no others, gets nothing else. The driver looks after every key.

// evilOf are the files of a kind in the corpus; in the short round every fifth.
func evilOf(t testing.TB, kind string) []string {
	t.Helper()
	files, err := filepath.Glob("../../testdata/evil/" + kind + "/*")
	if err != nil || len(files) == 0 {
		t.Fatalf("there are no evil %s: %v", kind, err)
	}
	if !testing.Short() {
		return files
	}
	var some []string
	for i := 0; i < len(files); i += 5 {
		some = append(some, files[i])
	}
	return some
}

func evilData(t testing.TB, file string) []byte {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// leavingKeys are keys that leave the editor or go to another sheet.
var leavingKeys = []string{"q", "ctrl+c", "ctrl+o", "ctrl+n", "ctrl+z"}

// walkAll presses every key of the table, goes through what each opens, and leaves that.
func (e *editor) walkAll() {
	e.t.Helper()
	for _, key := range bound() {
		if slices.Contains(leavingKeys, key) {
			continue
		}
		e.press(key)
		for range 3 {
			if e.m.doc == nil || len(e.m.dialogs) == 0 {
				break
			}
			e.press("Tab", "Down", "Right")
		}
		for n := 0; len(e.m.dialogs) > 0 && n < 9; n++ {
			e.press("Esc")
		}
		if e.m.doc != nil && e.m.doc.moving != nil {
			e.press("Esc")
		}
		e.m.dialogs = nil
	}
}

// looksSeldom has the driver look at the whole screen with every so many messages, and only at what the terminal was sent with the others.
func (e *editor) looksSeldom() *editor {
	e.seldom = 12
	return e
}

func TestEvilSheetsInTheEditor(t *testing.T) {
	opened := 0
	for n, file := range evilOf(t, "sheets") {
		t.Run(filepath.Base(file), func(t *testing.T) {
			d := newDisk()
			d.held[file] = evilData(t, file)
			d.recent, d.here = []string{file}, []string{file}
			size := sizes[n%2]
			e := start(t, setup{disk: d, w: size[0], h: size[1], glyphs: glyphSets[n%len(glyphSets)].glyphs}).looksSeldom()
			e.run(e.m.Open(file))
			if e.m.doc == nil {
				if len(e.m.dialogs) == 0 && e.m.told == "" {
					t.Error("it does not open, and nothing says why")
				}
				e.press("Enter", "Esc", "q")
				return
			}
			opened++
			e.walkAll()
			e.press("ctrl+s", "Enter", "Enter", "q")
			for range 4 {
				e.press("l", "Esc")
			}
		})
	}
	if opened < 8 {
		t.Errorf("%d sheets were opened", opened)
	}
}

// Exercises and demonstrations are offered with their titles, opened, and gone through.
func TestEvilLessonsInTheEditor(t *testing.T) {
	for _, file := range evilOf(t, "exercises") {
		t.Run(filepath.Base(file), func(t *testing.T) {
			d := newDisk()
			data := evilData(t, file)
			d.exercises = []Demo{{Name: "evil" + evil, About: string(data[:min(200, len(data))]), Data: data}}
			e := start(t, setup{disk: d}).looksSeldom()
			e.press("e", "Enter")
			e.write("ML")
			e.press("Enter", "Enter")
			if e.m.doc != nil {
				e.walkAll()
			}
			e.m.dialogs = nil
			e.send(nil)
		})
	}
	for _, file := range evilOf(t, "demonstrations") {
		t.Run(filepath.Base(file), func(t *testing.T) {
			e := start(t, setup{}).looksSeldom()
			e.run(e.m.openDemonstration(Demo{Name: "evil" + evil, About: evil, Data: evilData(t, file)}))
			e.send(nil)
			for range 6 {
				e.press("Right", "?", "Esc", "Down", "L", "e", "Esc")
			}
			e.press("Esc", "Esc", "q")
		})
	}
	for _, file := range evilOf(t, "hand-ins") {
		t.Run(filepath.Base(file), func(t *testing.T) {
			a, _, err := sheetfile.DecodeAttempt(file, evilData(t, file))
			if err != nil {
				return
			}
			e := start(t, setup{}).looksSeldom()
			e.m.lookAtHandIn(exerciseOf(t, "place"), a, file+evil)
			e.send(nil)
			e.walkAll()
		})
	}
}

// What a crash has left is listed with its path, opened and dropped, whatever the log says.
func TestEvilLogsInTheEditor(t *testing.T) {
	listed := 0
	for _, file := range evilOf(t, "logs") {
		t.Run(filepath.Base(file), func(t *testing.T) {
			folder := t.TempDir()
			if err := os.WriteFile(filepath.Join(folder, "1-00000001-1.log"), evilData(t, file), 0o600); err != nil {
				t.Fatal(err)
			}
			e := begun(t, setup{}, folder)
			listed += len(e.m.start.left)
			e.press("Down", "Up", "Home")
			e.m.start.at = min(len(e.m.start.items)-1, 4)
			e.press("Enter", "?", "Esc", "Right", "Enter", "Esc")
			if e.m.doc != nil {
				e.press("i", "Esc", "u", "U", "x", "space")
			}
			e.m.dialogs = nil
			e.send(nil)
			if e.m.doc != nil {
				e.crash()
			}
		})
	}
	if listed == 0 {
		t.Error("no log was listed")
	}
}

// Names of files as other systems and other people make them, on the start page, in the picker, and as the file that is open.
func TestEvilNamesInTheEditor(t *testing.T) {
	names := []string{"new\nline", "esc\x1b[2J", "osc\x1b]0;x\a", "c1\u009b31m", "\u202egnp", "flood" + strings.Repeat("\u0301", 900), "\u0301", "bytes\xff\xfe\x9b",
		strings.Repeat("n", 255), strings.Repeat("\u5c71", 85), "-rf", "", " ", "\u3164", "a\r\b\b", strings.Repeat("../", 80), "\U0001f1e9" + strings.Repeat("\U0001f1ea", 40)}
	d := folder(t, "one.toml")
	for _, name := range names {
		d.held[name+".toml"] = d.held["one.toml"]
		d.here = append(d.here, name+".toml")
	}
	d.recent = d.here
	for _, size := range sizes {
		for _, g := range glyphSets {
			e := start(t, setup{disk: d, w: size[0], h: size[1], glyphs: g.glyphs})
			for range len(d.here) {
				e.press("Down")
			}
			e.press("ctrl+o")
			for range 2 * len(d.here) {
				e.press("Down")
			}
			e.press("Esc")
			for _, name := range d.here {
				e.run(e.m.Open(name))
				e.press("space", "ctrl+s", "S", "Esc", "Esc", "q", "Esc")
				e.m.dialogs = nil
			}
		}
	}
}

// Whatever is pasted, into every dialog that there is: a megabyte, floods of marks, escapes, line ends. A field takes what it has room for.
func TestEvilPastes(t *testing.T) {
	long := 1 << 20
	if testing.Short() {
		long = 1 << 16
	}
	pastes := [][]rune{[]rune(evil), []rune(strings.Repeat("x", long)), []rune("e" + strings.Repeat("\u0301", long/4)), []rune(strings.Repeat("\u5c71\u200d", long/8)),
		[]rune(strings.Repeat("\r\n\t", long/8)), []rune("\x1b[201~\x1b[200~"), {0xD800, 0x110000, -1, 0xFFFE}, {}}
	e := edit(t, plainSheet(t), setup{}).looksSeldom()
	paste := func(runes []rune) {
		e.last = fmt.Sprintf("a paste of %.20q", string(runes[:min(len(runes), 20)]))
		e.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: runes, Paste: true})
	}
	before := e.encoded()
	for _, runes := range pastes {
		paste(runes)
	}
	if e.encoded() != before || e.quit {
		t.Error("a paste onto the map ran a command")
	}
	for _, key := range bound() {
		if slices.Contains(leavingKeys, key) {
			continue
		}
		e.press(key)
		if len(e.m.dialogs) > 0 {
			for _, runes := range pastes {
				paste(runes)
				e.press("Tab")
			}
			e.press("Enter", "Esc", "Esc", "Esc")
		}
		e.m.dialogs = nil
		if e.m.doc.moving != nil {
			e.press("Esc")
		}
	}
	for _, r := range []string{e.m.doc.sheet().Title, e.m.doc.sheet().Client} {
		if n := len([]rune(r)); n > 4000 {
			t.Errorf("a text of %d characters came of it", n)
		}
	}
	e.reopens()
}

// The folder of logs is looked into no further than there is room for, and a pipe in it keeps nobody waiting.
func TestManyLogs(t *testing.T) {
	folder := t.TempDir()
	data := evilData(t, "../../testdata/evil/logs/good.log")
	for i := range 40 {
		if err := os.WriteFile(filepath.Join(folder, fmt.Sprintf("%d-00000001-1.log", i)), data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if got := len(recovery.Folder(folder).All()); got != 40 {
		t.Errorf("%d logs are found", got)
	}
	e := begun(t, setup{w: 80, h: 24}, folder)
	for range 60 {
		e.press("Down")
	}
}

// Random bytes from a terminal, as the library reads them, do no harm and run nothing but keys.
func TestEvilKeys(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 91))
	e := edit(t, plainSheet(t), setup{}).looksSeldom()
	kinds := []tea.KeyType{tea.KeyRunes, tea.KeySpace, tea.KeyEnter, tea.KeyEsc, tea.KeyTab, tea.KeyBackspace, tea.KeyUp, tea.KeyF20, tea.KeyType(-999), tea.KeyType(999), tea.KeyNull}
	for range fewerKeys(2000) {
		msg := tea.KeyMsg{Type: pick(r, kinds...), Alt: r.IntN(5) == 0, Paste: r.IntN(9) == 0}
		for range r.IntN(4) {
			msg.Runes = append(msg.Runes, pick(r, 'a', 'x', ' ', 0, 0x1b, 0x9b, 0x202e, 0x301, 0x5c71, 0xfffd, -1, 0x110000, rune(r.IntN(0x3000))))
		}
		e.last = fmt.Sprintf("%#v", msg)
		e.send(msg)
		e.quit = false
		if e.m.doc == nil || len(e.m.dialogs) > 3 {
			e = edit(t, plainSheet(t), setup{}).looksSeldom()
		}
	}
}

func fewerKeys(n int) int {
	if testing.Short() {
		return n / 10
	}
	return n
}
