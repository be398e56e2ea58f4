package tui

import (
	"bytes"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.org/underveil/assets"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/ptytest"
	"example.org/underveil/internal/recovery"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
)

// listener is a dialogue in a test: a line at a time, and what was said to it.
type listener struct {
	t   testing.TB
	p   *plain
	out bytes.Buffer
}

// listenTo is a dialogue with a model that is there already.
func listenTo(t testing.TB, m *Model) *listener {
	l := &listener{t: t}
	l.p = newPlain(&l.out, Options{Glyphs: m.opts.Glyphs})
	l.p.m = m
	return l
}

// hears says a line and returns the answer.
func (l *listener) hears(line string) string {
	l.t.Helper()
	from := l.out.Len()
	l.p.line(line)
	said := l.out.String()[from:]
	onlyText(l.t, said)
	return said
}

// onlyText fails where there is anything that a terminal would obey.
func onlyText(t testing.TB, said string) {
	t.Helper()
	for i, r := range said {
		if r != '\n' && (r < ' ' || r >= 0x7f && r < 0xa0) || r == '\u202e' || r == '\u2066' || r == '\ufeff' {
			t.Fatalf("%q holds %q at byte %d", said, r, i)
		}
	}
}

// spokenFor is the line that stands for a key: on the map the word of its command.
func (l *listener) spokenFor(key string) string {
	m := l.p.m
	msg, err := keyMsg(key)
	if err != nil {
		l.t.Fatal(err)
	}
	if m.doc != nil && m.front() == nil && m.doc.moving == nil {
		if c, ok := m.keymap.commandFor(msg); ok {
			return wordOf(c.id)
		}
	}
	return "key " + key
}

// Every fixture of the screen leads to the same sheet, the same telling and the same dialog when its keys are said as words; and what is told is
// said.
func TestFixturesByEar(t *testing.T) {
	paths, err := filepath.Glob(fixtures + "/*.txt")
	if err != nil || len(paths) == 0 {
		t.Fatal(err)
	}
	for _, path := range paths {
		_, cases := readFixtures(t, path)
		for i := range cases {
			c := &cases[i]
			if testing.Short() && i%3 > 0 {
				continue
			}
			t.Run(strings.TrimSuffix(filepath.Base(path), ".txt")+"/"+c.name, func(t *testing.T) {
				if at := strings.Index(strings.Join(c.given, "\n"), "size "); at >= 0 {
					t.Skip("of the size of a screen")
				}
				c.by = func(e *editor, keys []string) {
					l := listenTo(t, e.m)
					for _, k := range keys {
						if e.quit {
							return
						}
						line := l.spokenFor(k)
						before, front := l.p.m.told, l.p.m.front() // a dialog leaves what was told standing
						answer := l.hears(line)
						if told := l.p.m.told; (told != before || front == nil) && !strings.Contains(answer, strings.TrimSpace(wordsForMarks.Replace(l.p.asSpoken(told)))) {
							t.Errorf("after %q the answer does not tell %q:\n%s", line, told, answer)
						}
						if strings.TrimSpace(answer) == "" && !l.p.quit {
							t.Errorf("nothing is said to %q", line)
						}
						e.quit = l.p.quit
					}
				}
				if got, want := withoutScreen(c.play(t, nil)), withoutScreen(c.want); got != want {
					t.Errorf("lines lead to\n%s\nwant\n%s", indent(got), indent(want))
				}
			})
		}
	}
}

// withoutScreen is a state without what was asked of the terminal, which nobody has here.
func withoutScreen(state string) string {
	var lines []string
	for l := range strings.Lines(state) {
		if !strings.HasPrefix(l, "asked ") {
			lines = append(lines, strings.TrimRight(l, "\n"))
		}
	}
	return strings.TrimSpace(strings.Join(lines, "\n"))
}

// listensTo are the options of the program, with a disk in memory.
func listensTo(t testing.TB, d *disk) Options {
	t.Helper()
	files, err := assets.Sheets.ReadDir("sheets")
	if err != nil {
		t.Fatal(err)
	}
	opts := Options{Glyphs: figure.Unicode, Files: d.files(), Today: func() time.Time { return today }, Studio: stock(), From: "studio.toml",
		Unsaved: Unsaved{Folder: recovery.Folder(t.TempDir()), Encode: sheetfile.Encode, Now: func() time.Time { return today }}}
	for _, f := range files {
		data, err := assets.Sheets.ReadFile("sheets/" + f.Name())
		if err != nil {
			t.Fatal(err)
		}
		opts.Demos = append(opts.Demos, Demo{Name: strings.TrimSuffix(f.Name(), ".toml"), Data: data})
	}
	exercises, err := assets.Exercises.ReadDir("exercises")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range exercises {
		data, err := assets.Exercises.ReadFile("exercises/" + f.Name())
		if err != nil {
			t.Fatal(err)
		}
		x, _, err := sheetfile.DecodeExercise(f.Name(), data)
		if err != nil {
			t.Fatal(err)
		}
		d.exercises = append(d.exercises, Demo{Name: x.ID, About: x.Title, Data: data})
	}
	opts.Lessons = d.lessons(t.TempDir())
	shown, err := assets.Demonstrations.ReadDir("demonstrations")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range shown {
		data, err := assets.Demonstrations.ReadFile("demonstrations/" + f.Name())
		if err != nil {
			t.Fatal(err)
		}
		opts.Demonstrations = append(opts.Demonstrations, Demo{Name: strings.TrimSuffix(f.Name(), ".toml"), Data: data})
	}
	return opts
}

// The sessions in testdata/plain are as they were written down: what was typed stands after "> ".
func TestTranscripts(t *testing.T) {
	const folder = "../../testdata/plain"
	paths, err := filepath.Glob(folder + "/*.txt")
	if err != nil || len(paths) == 0 {
		t.Fatalf("no sessions in %s: %v", folder, err)
	}
	for _, path := range paths {
		t.Run(filepath.Base(path), func(t *testing.T) {
			session, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			var out bytes.Buffer
			err = Plain(ptytest.Typed(ptytest.LinesTyped(string(session)), &out), &out, listensTo(t, newDisk()), nil)
			if err != nil && !errors.Is(err, ErrNotSaved) && !errors.Is(err, ErrRefused) {
				t.Fatal(err)
			}
			onlyText(t, out.String())
			if *update {
				if err := os.WriteFile(path, out.Bytes(), 0o644); err != nil {
					t.Fatal(err)
				}
			} else if got := out.String(); got != string(session) {
				t.Errorf("%s\nit is now\n%s", firstDifference(got, string(session)), got)
			}
		})
	}
}

// A dialogue that ends unsaved keeps what was made, says so, and offers it again; taken up and taken back the sheet has its first bytes.
func TestEndOfInputLosesNothing(t *testing.T) {
	d := newDisk()
	d.held["spring.toml"] = sheetfile.Encode(plainSheet(t))
	opts := listensTo(t, d)
	var out bytes.Buffer
	err := Plain(strings.NewReader("open spring.toml\ngo 60\npaint every second\nclient\ntitle halfway"), &out, opts, nil)
	if !errors.Is(err, ErrNotSaved) || !strings.HasSuffix(out.String(), "the input ended; not saved. A copy is kept and offered when spring.toml is opened again\n") {
		t.Fatalf("%v\n%s", err, out.String())
	}
	if got := string(d.held["spring.toml"]); got != string(sheetfile.Encode(plainSheet(t))) {
		t.Error("the file was written to")
	}
	out.Reset()
	if err := Plain(strings.NewReader("open spring.toml\ntake it up\nrow\nsave\nleave\n"), &out, opts, nil); err != nil {
		t.Fatalf("%v\n%s", err, out.String())
	}
	s, _, err := sheetfile.Decode("spring.toml", d.held["spring.toml"])
	if err != nil {
		t.Fatal(err)
	}
	if r, _ := s.Row(height(60)); r.Count() != 11 { // every second of the 23 free slots, as TestFixtures has it
		t.Errorf("%d bonds:\n%s", r.Count(), out.String())
	}
}

// What is saved or only looked at ends without a word of it.
func TestEndOfInputSaved(t *testing.T) {
	for _, lines := range []string{"", "clean\nwhere\n", "clean\nplace\nsave-as clean.toml\n", "clean\nplace\nundo"} {
		var out bytes.Buffer
		d := newDisk()
		opts := listensTo(t, d)
		if err := Plain(strings.NewReader(lines), &out, opts, nil); err != nil {
			t.Errorf("%q: %v\n%s", lines, err, out.String())
		}
		if left := opts.Unsaved.Folder.All(); len(left) > 0 {
			t.Errorf("%q leaves %d sheets", lines, len(left))
		}
	}
}

// brokenPipe takes nothing any more after some bytes.
type brokenPipe struct{ left int }

func (b *brokenPipe) Write(p []byte) (int, error) {
	if b.left -= len(p); b.left < 0 {
		return 0, io.ErrClosedPipe
	}
	return len(p), nil
}

// A listener that is gone ends the dialogue, and what was made is kept.
func TestNobodyListens(t *testing.T) {
	d := newDisk()
	opts := listensTo(t, d)
	err := Plain(strings.NewReader("clean\nplace\n"+strings.Repeat("where\n", 5000)), &brokenPipe{left: 3000}, opts, nil)
	if !errors.Is(err, io.ErrClosedPipe) {
		t.Errorf("%v", err)
	}
	if left := opts.Unsaved.Folder.All(); len(left) != 1 {
		t.Errorf("%d sheets are kept", len(left))
	}
}

// A sheet and files full of what a terminal would obey are read out as text.
func TestHostileSheetByEar(t *testing.T) {
	for _, ascii := range []bool{false, true} {
		e := edit(t, evilSheet(t), setup{})
		l := listenTo(t, e.m)
		l.p.ascii = ascii
		for _, line := range []string{"where", "go 20 left 4", "where", "row", "rows", "map", "findings", "finding 1", "explain", "back", "accept " + evil, "totals",
			"client", "title " + evil, "list", evil, "", "done", "cancel", "shades", "list", "cancel", "keep-off", "list", "cancel", "save-as " + evil, "open " + evil, "back",
			evil, "help " + evil, "select " + evil, "go " + evil, "paint " + evil, "key " + evil, "visits", "order", "limits", "back", "consultation", "list", "cancel",
			"match", "list", evil, "cancel", "card", "list", "cancel", "why", "all", "back", "plan", "leave", "next", "undo"} {
			answer := l.hears(line)
			if ascii && strings.Contains(answer, "²") {
				t.Errorf("%q: %s", line, answer)
			}
		}
	}
}

// A place is read in all the ways that it is said.
func TestPlacesSaid(t *testing.T) {
	e := edit(t, plainSheet(t), setup{})
	e.at(height(60), 2)
	for said, want := range map[string]sheet.Spot{
		"60 left 8": {At: height(60), Slot: -8}, "60 8 left": {At: height(60), Slot: -8}, "60 -8": {At: height(60), Slot: -8}, "height 60 slot 8 left": {At: height(60), Slot: -8},
		"60, slot 8 right": {At: height(60), Slot: 8}, "left 8": {At: height(60), Slot: -8}, "8 right": {At: height(60), Slot: 8}, "80": {At: height(80), Slot: 2},
		"height 80": {At: height(80), Slot: 2}, "80 centre": {At: height(80)}, "centre": {At: height(60)}, "slot 3": {At: height(60), Slot: 3}, "6 cm right 1": {At: height(60), Slot: 1},
		"along 24 slot 3": {At: along(24), Slot: 3}, "along 24 left 3 front": {At: along(-24), Slot: 3}, "along 24 left slot 3 back": {At: along(-24), Slot: -3},
		"along -24": {At: along(-24)}, "along left 24": {At: along(-24)}, "along middle": {At: along(0)}, "front to back, 16 left, over the ears": {At: along(-16)},
		"along 16 right 2 back": {At: along(16), Slot: -2},
	} {
		if got, err := parseSpot(e.m.doc, said); err != nil || got != want {
			t.Errorf("%q is %v, %v; want %v", said, got, err, want)
		}
	}
	for _, said := range []string{"", "here", "62", "60 left 400", "60 left right 3", "left", "60 8 9", "-8 left", "along 24 left 3 left", "900", "nan", "60 inf", "1e99", "60 left 1.5"} {
		if got, err := parseSpot(e.m.doc, said); err == nil {
			t.Errorf("%q is %v", said, got)
		}
	}
}

// A word typed wrongly is answered with the one that was meant.
func TestNearestWord(t *testing.T) {
	e := edit(t, plainSheet(t), setup{})
	l := listenTo(t, e.m)
	for typed, meant := range map[string]string{"plce": "place", "udno": "undo", "findigns": "findings", "wher": "where", "pait": "paint", "exlpain": "explain"} {
		if answer := l.hears(typed); !strings.Contains(answer, "did you mean "+meant+"?") {
			t.Errorf("%s: %s", typed, answer)
		}
	}
	if answer := l.hears("constantinople"); strings.Contains(answer, "did you mean") {
		t.Error(answer)
	}
}
