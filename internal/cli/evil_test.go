package cli

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"runtime/debug"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"
)

// evilFolder is the corpus of files of which nothing may come in.
const evilFolder = "../../testdata/evil"

// evilFiles are the files of the corpus, by the folder that they are in.
func evilFiles(t *testing.T) map[string][]string {
	t.Helper()
	files := map[string][]string{}
	paths, err := filepath.Glob(evilFolder + "/*/*")
	if err != nil {
		t.Fatal(err)
	}
	hidden, _ := filepath.Glob(evilFolder + "/*/.*")
	for _, path := range append(paths, hidden...) {
		full, err := filepath.Abs(path)
		if err != nil {
			t.Fatal(err)
		}
		if kind := filepath.Base(filepath.Dir(path)); !slices.Contains(files[kind], full) {
			files[kind] = append(files[kind], full)
		}
	}
	return files
}

// The list of the corpus names every file once, with what it attacks, and no file has more than 64 KB.
func TestEvilFilesAreListed(t *testing.T) {
	list, err := os.ReadFile(evilFolder + "/README.md")
	if err != nil {
		t.Fatal(err)
	}
	about := map[string]bool{}
	for line := range strings.Lines(string(list)) {
		rest, isFile := strings.CutPrefix(line, "- `")
		if !isFile {
			continue
		}
		name, text, _ := strings.Cut(rest, "`: ")
		if about[name] || strings.TrimSpace(text) == "" {
			t.Errorf("%s is listed twice, or without a word", name)
		}
		about[name] = true
	}
	n := 0
	for kind, files := range evilFiles(t) {
		for _, file := range files {
			n++
			name := kind + "/" + filepath.Base(file)
			if !about[name] {
				t.Errorf("%s is not in the list", name)
			}
			delete(about, name)
			if info, err := os.Stat(file); err != nil || info.Size() > 64<<10 {
				t.Errorf("%s is too long: %v", name, err)
			}
		}
	}
	for name := range about {
		t.Errorf("%s is listed and not there", name)
	}
	if n < 60 {
		t.Errorf("there are %d files", n)
	}
}

// evil runs the program on files that it must not trust, in a home of its own.
type evil struct {
	t     *testing.T
	ctx   context.Context
	home  string
	empty string // a folder with nothing in it
	runs  int
	mu    sync.Mutex
}

// evilHome is a place to run in: all that the program keeps lies in a folder that goes with the test.
func evilHome(t *testing.T) *evil {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), 10*time.Minute) // for what hangs; nothing here is about speed
	t.Cleanup(cancel)
	home := t.TempDir()
	for name, value := range map[string]string{"HOME": home, "USERPROFILE": home, "AppData": home, "XDG_STATE_HOME": home + "/state",
		"XDG_CONFIG_HOME": home + "/config", "LANG": "C.UTF-8", "LC_ALL": "", "LC_CTYPE": "", "TERM": "xterm-256color", "COLORFGBG": ""} {
		t.Setenv(name, value)
	}
	e := &evil{t: t, ctx: ctx, home: home, empty: filepath.Join(home, "empty")}
	if err := os.Mkdir(e.empty, 0o700); err != nil {
		t.Fatal(err)
	}
	return e
}

// ran is what came of a run.
type ran struct {
	name     string
	code     int
	out, err string
}

// run runs the program in this process, with an input, and fails where it panics, does not end, or writes what a terminal would obey.
func (e *evil) run(input string, args ...string) ran {
	e.t.Helper()
	r := ran{name: strings.Join(args, " ")}
	in, out, errs := e.file(input), e.file(""), e.file("")
	done := make(chan struct{})
	go func() {
		defer close(done)
		defer func() {
			if p := recover(); p != nil {
				e.t.Errorf("%q: panic: %v\n%s", r.name, p, debug.Stack())
			}
		}()
		r.code = Run(args, in, out, errs)
	}()
	select {
	case <-done:
	case <-e.ctx.Done():
		e.t.Fatalf("%q does not end", r.name)
	}
	r.out, r.err = e.text(out), e.text(errs)
	if r.code < 0 || r.code > exitInput {
		e.t.Errorf("%q ends with %d", r.name, r.code)
	}
	said := r.err
	if slices.Contains(args, "--plain") { // a dialogue says all in the one place where it is listened to
		said += r.out
	}
	if r.code == exitInput && strings.TrimSpace(said) == "" {
		e.t.Errorf("%q says nothing of what is wrong", r.name)
	}
	e.wantPlain(r.name, r.err)
	e.mu.Lock()
	e.runs++
	e.mu.Unlock()
	return r
}

// read runs a command whose output is text to be read.
func (e *evil) read(args ...string) ran {
	e.t.Helper()
	r := e.run("", args...)
	e.wantPlain(r.name, r.out)
	return r
}

// file is an open file with a text.
func (e *evil) file(text string) *os.File {
	e.t.Helper()
	f, err := os.CreateTemp(e.home, "stream")
	if err == nil {
		_, err = f.WriteString(text)
	}
	if err == nil {
		_, err = f.Seek(0, 0)
	}
	if err != nil {
		e.t.Fatal(err)
	}
	return f
}

// text is what was written to a file, which is closed and removed.
func (e *evil) text(f *os.File) string {
	e.t.Helper()
	data, err := os.ReadFile(f.Name())
	if err != nil {
		e.t.Fatal(err)
	}
	f.Close()
	os.Remove(f.Name())
	return string(data)
}

// temp is a path in the home that nothing is at.
func (e *evil) temp(ending string) string {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.runs++
	return filepath.Join(e.home, fmt.Sprintf("out-%d%s", e.runs, ending))
}

// all does something with many files, two at a time.
func (e *evil) all(files []string, do func(file string)) {
	var work sync.WaitGroup
	next := make(chan string)
	for range 2 {
		work.Go(func() {
			for file := range next {
				do(file)
			}
		})
	}
	for _, file := range files {
		next <- file
	}
	close(next)
	work.Wait()
}

// Whatever kind of file it is, each goes through every command that reads one. In the short round, every seventh.
func TestEvilFilesThroughEveryCommand(t *testing.T) {
	e := evilHome(t)
	var files []string
	for _, list := range evilFiles(t) {
		files = append(files, list...)
	}
	slices.Sort(files)
	files = append(files, e.madeFiles()...)
	if testing.Short() {
		files = everySeventh(files)
	}
	e.all(files, e.everyCommand)
	t.Logf("%d files, %d runs", len(files), e.runs)
}

func everySeventh(files []string) (some []string) {
	for i := 3; i < len(files); i += 7 {
		some = append(some, files[i])
	}
	return some
}

// everyCommand runs all that reads a file on one. A sheet that can be read is looked at in every way; of what cannot be, each command has
// to say so.
func (e *evil) everyCommand(file string) {
	checked := e.read("check", file)
	for _, args := range [][]string{{file}, {"earlier", file}, {"demonstrate", file}, {"exercise", "show", file}, {"exercise", "check", file},
		{"exercise", "faults", file, "--count", "1"}, {"practise", "first-row", file}, {"mark", file, e.empty}, {"studio", "--studio", file},
		{"check", evilFolder + "/logs/empty.log", "--limits", file}} {
		e.read(args...)
	}
	e.wantJSON(e.run("", "check", "--format", "json", file))
	if checked.code == exitInput {
		for _, command := range []string{"show", "why", "view", "match", "order", "card", "visit", "plan"} {
			e.wantRefused(e.read(command, file))
		}
		return
	}
	e.read("show", "--wide", "--ascii", file)
	e.read("why", file, "60/0")
	e.read("view", file, "--wear", "down")
	e.read("match", file)
	e.read("order", file)
	e.wantCSV(e.run("", "order", "--format", "csv", file))
	e.read("visit", "--steps", file, "--today", "2026-04-07")
	e.wantCard(file)
	e.read("exercise", "new", file, "--to", e.temp(".toml"))
}

// wantRefused fails unless a command has said that a file cannot be read.
func (e *evil) wantRefused(r ran) {
	e.t.Helper()
	if r.code != exitInput || r.out != "" {
		e.t.Errorf("%q ends with %d, though the sheet cannot be read, and writes %q", r.name, r.code, r.out)
	}
}

// What stands on the command line is said again safely, whatever it is.
func TestEvilArguments(t *testing.T) {
	e := evilHome(t)
	e.put("a.toml", evilFolder+"/folder/formula.toml")
	a := filepath.Join(e.home, "a.toml")
	t.Chdir(t.TempDir()) // where a card under such a name may lie
	for _, text := range []string{"\x1b[2J", "underveil: \x1b[2J.toml", "\u009b31m\u202e", "x\ny\rz", "\xff\xfe", "e" + strings.Repeat("\u0301", 99), "", " ", "-", "--", "--\x1b]0;x\a", "-\u202e", "%s%n",
		strings.Repeat("x", 5000), "underveil: \x1b[2J.pdf"} {
		for _, args := range [][]string{{text}, {text, text}, {"check", text}, {"check", "--format", text, a}, {"show", text}, {"show", a, text}, {"why", a, text}, {"view", a, "--from", text},
			{"view", a, "--wear", text}, {"view", a, "--width", text}, {"card", a, "--paper", text}, {"card", a, "--to", text}, {"card", a, "--to", filepath.Join(e.home, text)}, {"plan", a, "--to", a, text}, {"match", text},
			{"order", text}, {"visit", text}, {"due", text}, {"due", e.empty, "--format", text}, {"stock", e.empty, "--until", text}, {"mark", text, text}, {"mark", "first-row", text},
			{"exercise", text}, {"exercise", "show", text}, {"exercise", "new", a, "--to", a + "/" + text}, {"exercise", "start", text}, {"demonstrate", text}, {"practise", text},
			{"practise", "first-row", text}, {"practise", "--learner", text}, {"progress", text}, {"rules", text}, {"earlier", text}, {"earlier", a, "--number", text}, {"studio", "--studio", text},
			{"check", a, "--limits", text}, {"check", a, "--today", text}, {"check", a, "--background", text}, {"check", a, "--" + text}, {"settings", text}, {"system", text}, {"help", text},
			{"completion", text}, {"--plain", text}, {text, "--plain", text}} {
			e.read(args...)
		}
	}
}

// A folder of them is listed, added up and marked, with a studio, limits and settings that are no better.
func TestEvilFolders(t *testing.T) {
	e := evilHome(t)
	files := evilFiles(t)
	named := e.namedFolder()
	e.listFolder(named)
	if testing.Short() {
		files = map[string][]string{"studios": files["studios"][:1], "limits": files["limits"][:1]}
	} else {
		for _, folder := range []string{evilFolder, evilFolder + "/folder", evilFolder + "/hand-ins"} {
			e.listFolder(folder)
		}
	}
	for _, studio := range files["studios"] {
		e.listFolder(evilFolder+"/folder", "--studio", studio)
		e.wantCSV(e.run("", "order", "--format", "csv", evilFolder+"/folder/formula.toml", "--studio", studio))
		e.read("order", evilFolder+"/folder/formula.toml", "--studio", studio)
		e.wantCard(evilFolder+"/folder/formula.toml", "--studio", studio)
	}
	for _, limits := range files["limits"] {
		e.listFolder(evilFolder+"/hand-ins", "--limits", limits)
		e.read("check", evilFolder+"/folder/formula.toml", "--limits", limits)
	}
}

func (e *evil) listFolder(folder string, more ...string) {
	with := func(args ...string) []string { return append(append(args, "--today", "2026-04-07"), more...) }
	e.read(with("due", "--all", folder)...)
	e.wantCSV(e.run("", with("due", "--all", "--format", "csv", folder)...))
	e.read(with("stock", folder)...)
	e.wantCSV(e.run("", with("stock", "--format", "csv", folder)...))
	e.read(with("mark", "first-row", folder)...)
	e.wantCSV(e.run("", with("mark", "--format", "csv", "first-row", folder)...))
	e.wantJSON(e.run("", with("mark", "--format", "json", "first-row", folder)...))
}

// The files that the program finds by itself: its settings, its studio, the list of sheets that were open, what learners made, and the
// logs of what was not saved.
func TestEvilFilesInTheHome(t *testing.T) {
	e := evilHome(t)
	files := evilFiles(t)
	if testing.Short() {
		for kind := range files {
			files[kind] = everySeventh(files[kind])
		}
	}
	for _, name := range []string{"settings.toml", "studio.toml"} {
		for _, file := range append(files["settings"], files["studios"]...) {
			e.put("config/underveil/"+name, file)
			for _, args := range [][]string{{"settings"}, {"system"}, {"studio"}, {"keys"}, {"rules"}, {"show", evilFolder + "/folder/formula.toml"}} {
				e.read(args...)
			}
		}
		if err := os.Remove(filepath.Join(e.home, "config/underveil", name)); err != nil {
			t.Error(err)
		}
	}
	for _, log := range files["logs"] {
		e.put("state/underveil/unsaved/1-00000000-1.log", log)
		e.put("state/underveil/recent", log)
		e.read("system")
		e.dialogue(evilFolder+"/folder/formula.toml", "?")
		_ = recentSheets()
	}
	for _, made := range append(files["hand-ins"], files["sheets"]...) {
		e.put("state/underveil/learners/ml/first-row.toml", made)
		e.read("progress")
		e.read("progress", "ML")
	}
}

// put puts a copy of a file into the home.
func (e *evil) put(to, file string) {
	e.t.Helper()
	data, err := os.ReadFile(file)
	to = filepath.Join(e.home, to)
	if err == nil {
		err = os.MkdirAll(filepath.Dir(to), 0o700)
	}
	if err == nil {
		err = os.WriteFile(to, data, 0o600)
	}
	if err != nil {
		e.t.Fatal(err)
	}
}

// The editor as a dialogue reads what somebody else has typed: nothing of it comes back as more than text, and it ends with its input.
func TestEvilDialogues(t *testing.T) {
	e := evilHome(t)
	files := evilFiles(t)["sheets"]
	if testing.Short() {
		files = everySeventh(files)
	}
	for _, odd := range append(e.oddFiles(e.home), e.home, "") {
		e.dialogue(odd, "?", "leave")
	}
	e.all(files, func(file string) {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Error(err)
			return
		}
		e.dialogue("", string(data))
		e.dialogue(file, "?", "findings", "next", "why", "e", "y", "title \x1b[2J", "leave", "n")
	})
}

// dialogue has the editor read lines on a sheet.
func (e *evil) dialogue(sheet string, lines ...string) {
	args := []string{"--plain"}
	if sheet != "" {
		args = append(args, sheet)
	}
	r := e.run(strings.Join(lines, "\n")+"\n", args...)
	e.wantPlain(r.name, r.out)
}
