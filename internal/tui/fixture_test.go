package tui

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
)

const (
	fixtures  = "../../testdata/editor"
	plainFile = fixtures + "/plain.toml"
)

// fixture is one case of a file in testdata/editor: a sheet, keys, and the state that they lead to. README.md there
// tells how it is written.
type fixture struct {
	name  string
	given []string // lines up to "want"
	want  string
	by    func(*editor, []string) // what presses the keys, where that is not the editor itself
}

// unused are the bound keys that no fixture presses, and why.
var unused = map[string]string{}

func TestFixtures(t *testing.T) {
	paths, err := filepath.Glob(fixtures + "/*.txt")
	if err != nil || len(paths) == 0 {
		t.Fatalf("no fixtures in %s: %v", fixtures, err)
	}
	used := map[string]bool{}
	for _, path := range paths {
		head, cases := readFixtures(t, path)
		played := true
		for i := range cases {
			c := &cases[i]
			played = t.Run(strings.TrimSuffix(filepath.Base(path), ".txt")+"/"+c.name, func(t *testing.T) {
				got := c.play(t, func(key string) { used[key] = true })
				if *update {
					c.want = got
				}
				if got != c.want {
					t.Errorf("keys lead to\n%s\nwant\n%s", indent(got), indent(c.want))
				}
			}) && played
		}
		if *update && played {
			writeFixtures(t, path, head, cases)
		}
	}
	if strings.Contains(flag.Lookup("test.run").Value.String(), "/") {
		return // only some were asked for
	}
	for _, c := range commands {
		for _, key := range c.bind.Keys() {
			if why, excused := unused[key]; excused == used[key] {
				t.Errorf("the key %q (%s): pressed by a fixture %v, excused %v %s", key, c.bind.Help().Desc, used[key], excused, why)
			}
		}
	}
}

func indent(text string) string { return "    " + strings.ReplaceAll(text, "\n", "\n    ") }

// play plays a case and returns the state at its end. Then it takes every step back and makes it again, which has to
// lead to the very same bytes.
func (c *fixture) play(t *testing.T, used func(string)) string {
	s := plainSheet(t)
	su := setup{w: 120, h: 40, disk: newDisk()}
	var keys [][]string
	var at *string
	fresh, exercise := false, ""
	for _, line := range c.given {
		word, rest, _ := strings.Cut(line, " ")
		rest = strings.TrimSpace(rest)
		switch word {
		case "#", "":
		case "row":
			s = s.WithRow(parseRow(t, rest))
		case "at":
			at = &rest
		case "size":
			if _, err := fmt.Sscanf(rest, "%dx%d", &su.w, &su.h); err != nil {
				t.Fatalf("size %q: %v", rest, err)
			}
		case "set":
			s = setField(t, s, rest)
		case "disk":
			su.disk.held[rest] = sheetfile.Encode(plainSheet(t).With(func(c *sheet.Sheet) { c.Title = "another" }))
			su.disk.here = append(su.disk.here, rest)
		case "trouble":
			su.disk.trouble = errors.New(rest)
		case "new":
			fresh = true
		case "exercise":
			exercise = rest
		case "keys":
			keys = append(keys, splitKeys(t, rest))
		default:
			t.Fatalf("no line begins with %q", word)
		}
	}
	e := edit(t, s, su)
	if fresh {
		e.send(loadedMsg{sheet: s})
	}
	if exercise != "" {
		e.practises(exercise)
		s = e.m.doc.sheet()
	}
	if at != nil {
		place, slot := parseAt(t, *at)
		e.at(place, slot)
	}
	e.used = used
	before := e.encoded()
	for _, k := range keys {
		c.press(e, k)
	}
	state := strings.TrimSpace(e.state(s))
	e.reopens()
	if e.m.doc != nil && len(e.steps()) > 0 && e.m.doc.history.CanRedo() == "" {
		e.thereAndBack(before)
	}
	return state
}

// press presses keys.
func (c *fixture) press(e *editor, keys []string) {
	if c.by != nil {
		c.by(e, keys)
		return
	}
	e.press(keys...)
}

// thereAndBack takes every step back and makes it again.
func (e *editor) thereAndBack(before string) {
	e.t.Helper()
	e.used = nil
	e.m.dialogs, e.m.doc.moving = nil, nil
	n, after := len(e.steps()), e.encoded()
	for range n {
		e.press("u")
	}
	if got := e.encoded(); got != before {
		e.t.Errorf("with all steps taken back the sheet is\n%s\nwant\n%s", got, before)
	}
	for range n {
		e.press("U")
	}
	if got := e.encoded(); got != after {
		e.t.Errorf("with all steps made again the sheet is\n%s\nwant\n%s", got, after)
	}
}

// reopens fails unless the sheet can be read again from what saving it would write.
func (e *editor) reopens() {
	e.t.Helper()
	if e.m.doc == nil {
		return
	}
	text := e.encoded()
	s, notices, err := sheetfile.Decode("saved.toml", []byte(text))
	if err != nil || len(notices) > 0 {
		e.t.Fatalf("after %s the sheet can't be opened again: %v %v\n%s", e.last, err, notices, text)
	}
	if again := string(sheetfile.Encode(s)); again != text {
		e.t.Fatalf("after %s saved and opened again the sheet is\n%s\nwant\n%s", e.last, again, text)
	}
}

func plainSheet(t testing.TB) *sheet.Sheet {
	t.Helper()
	return readSheet(t, plainFile)
}

func readSheet(t testing.TB, path string) *sheet.Sheet {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	s, _, err := sheetfile.Decode(path, data)
	if err != nil {
		t.Fatal(err)
	}
	return s
}
