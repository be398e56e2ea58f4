package sheetfile

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"example.org/underveil/internal/settings"
	"example.org/underveil/internal/unit"
)

// someCommands are commands as an editor may have them.
var someCommands = []settings.Command{
	{ID: "left", Group: "Moving", Does: "one slot left or right", Keys: []string{"left"}},
	{ID: "right", Group: "Moving", Keys: []string{"right"}},
	{ID: "up", Group: "Moving", Does: "one line up or down", Keys: []string{"up"}},
	{ID: "down", Group: "Moving", Keys: []string{"down"}},
	{ID: "place", Group: "Placing", Does: "place a bond, or lift the one there", Keys: []string{"space"}},
	{ID: "row", Group: "Placing", Does: "paint the row", Keys: []string{"r"}},
	{ID: "split", Group: "In hand", Does: "split strands, or whole ones", Keys: []string{"h"}},
	{ID: "copy-row", Group: "Rows", Does: "copy the row", Keys: []string{"c"}},
	{ID: "clear", Group: "Rows", Does: "clear the row", Keys: []string{"delete", "backspace"}},
	{ID: "next-finding", Group: "Findings", Does: "go to the next finding", Keys: []string{"n"}},
	{ID: "undo", Group: "The sheet", Does: "take the last step back", Keys: []string{"u"}},
	{ID: "redo", Group: "The sheet", Does: "make the step again", Keys: []string{"U", "ctrl+r"}},
	{ID: "save", Group: "The sheet", Does: "save", Keys: []string{"ctrl+s"}},
	{ID: "save-as", Group: "The sheet", Does: "save under another name", Keys: []string{"S"}},
	{ID: "open", Group: "The sheet", Does: "open a sheet", Keys: []string{"ctrl+o"}},
	{ID: "leave", Group: "The sheet", Does: "leave", Keys: []string{"q", "ctrl+c"}, Stays: "ctrl+c"},
	{ID: "keys", Group: "The screen", Does: "this page", Keys: []string{"?"}, Stays: "?"},
}

// values are settings without their lines.
func values(s settings.Settings) settings.Settings {
	return settings.Settings{Colours: s.Colours, Marks: s.Marks, NoMouse: s.NoMouse, Units: s.Units, Paper: s.Paper, Keys: s.Keys}
}

func TestBadSettingsSamples(t *testing.T) {
	wantRefused(t, "bad-settings", func(name string, data []byte) ([]Notice, error) {
		got, err := DecodeSettings(name, data, someCommands)
		if err != nil && !reflect.DeepEqual(got, settings.Default()) {
			t.Errorf("beside the error there is %+v", got)
		}
		return nil, err
	})
}

// However settings are written, they are the same settings.
func TestHandEditedSettings(t *testing.T) {
	want := settings.Settings{Colours: settings.ContrastDark, Marks: settings.ASCII, NoMouse: true, Units: unit.Inch, Paper: "letter",
		Keys: map[string][]string{"place": {"f5"}, "row": {"з"}, "undo": {"u", "ctrl+z"}, "left": {"h", "left"}, "split": {},
			"leave": {"f10"}, "keys": {"f1", "?"}, "save-as": {"alt+s"}, "clear": {"delete"}}}
	for name, leave := range map[string][]string{"full.toml": {"f10"}, "full-otherwise.toml": {"f10", "ctrl+c"}} {
		for edit, data := range asSaved(readSample(t, filepath.Join(samples, "good-settings", name))) {
			got, err := DecodeSettings(name, data, someCommands)
			if err != nil {
				t.Errorf("%s%s: %v", name, edit, err)
				continue
			}
			want.Keys["leave"] = leave
			if !reflect.DeepEqual(values(got), want) {
				t.Errorf("%s%s:\n%+v\nwant\n%+v", name, edit, values(got), want)
			}
			if edit == "" {
				wantLines(t, got, string(data))
			}
		}
	}
}

// wantLines asserts that the line of each setting is the one on which its name stands.
func wantLines(t *testing.T, s settings.Settings, text string) {
	t.Helper()
	found := 0
	under := ""
	for i, line := range strings.Split(text, "\n") {
		if strings.HasPrefix(line, "[") {
			under = "keys."
		}
		key, _, ok := strings.Cut(line, " = ")
		if key = strings.Trim(key, `"`); !ok || strings.HasPrefix(line, " ") {
			continue
		}
		found++
		if got := s.Line(under + key); got != i+1 {
			t.Errorf("%s%s is said to stand on line %d, and stands on %d", under, key, got, i+1)
		}
	}
	if found < 10 || s.Line("keys.right") != 0 || s.Line("nothing") != 0 {
		t.Errorf("%d settings; lines of what is not there: %d, %d", found, s.Line("keys.right"), s.Line("nothing"))
	}
}

// A format is a settings file, and makes no setting.
func TestLeastSettings(t *testing.T) {
	got, err := DecodeSettings("least.toml", readSample(t, filepath.Join(samples, "good-settings", "least.toml")), someCommands)
	if err != nil || !reflect.DeepEqual(values(got), settings.Default()) {
		t.Errorf("%+v, error %v", got, err)
	}
}

// withoutMarks takes the # away before settings, and leaves remarks.
func withoutMarks(data []byte) []byte {
	return regexp.MustCompile(`(?m)^#(\S)`).ReplaceAll(data, []byte("$1"))
}

// The file to begin with makes no setting; and with every line of it in force everything is as without it, each command with the keys
// that it comes with.
func TestNewSettings(t *testing.T) {
	data := NewSettings(someCommands)
	got, err := DecodeSettings("new.toml", data, someCommands)
	if err != nil || !reflect.DeepEqual(values(got), settings.Default()) {
		t.Errorf("%+v, error %v", got, err)
	}
	data = withoutMarks(data)
	got, err = DecodeSettings("all.toml", data, someCommands)
	if err != nil {
		t.Fatal(err)
	}
	want := settings.Default()
	want.Keys = map[string][]string{}
	for _, c := range someCommands {
		want.Keys[c.ID] = c.Keys
	}
	if !reflect.DeepEqual(values(got), want) {
		t.Errorf("%+v\nwant\n%+v", values(got), want)
	}
	for _, key := range settingsFile.keysIn[""] {
		if !settingsFile.isTable(key) && got.Line(key) == 0 && key != "keys" {
			t.Errorf("the file has no %s", key)
		}
	}
	for _, c := range someCommands {
		if c.Does != "" && !bytes.Contains(data, []byte("# "+c.Does+"\n")) {
			t.Errorf("the file does not say what %s does", c.ID)
		}
	}
}

// Every word that a setting may have is read, and is among those that the file to begin with lists.
func TestEveryWordOfSettings(t *testing.T) {
	begun := string(NewSettings(someCommands))
	check := func(key, word string, is func(settings.Settings) bool) {
		t.Helper()
		got, err := DecodeSettings("word.toml", []byte(fmt.Sprintf("format = 1\n%s = %q\n", key, word)), someCommands)
		if err != nil || !is(got) {
			t.Errorf("%s = %q: %+v, error %v", key, word, got, err)
		}
		if !regexp.MustCompile(`(?m)^#` + key + ` = .*#.*\b` + word).MatchString(begun) {
			t.Errorf("the file to begin with does not list %s for %s", word, key)
		}
	}
	for _, c := range settings.AllColours {
		check("colours", string(c), func(s settings.Settings) bool { return s.Colours == c })
	}
	for _, m := range settings.AllMarks {
		check("marks", string(m), func(s settings.Settings) bool { return s.Marks == m })
	}
	for _, u := range settings.Units {
		check("units", u.Name, func(s settings.Settings) bool { return s.Units == u.Unit })
	}
	for _, p := range settings.Papers {
		check("paper", p, func(s settings.Settings) bool { return s.Paper == p })
	}
}

func TestLoadSettings(t *testing.T) {
	path := filepath.Join(t.TempDir(), "settings.toml")
	if _, err := LoadSettings(path, someCommands); err == nil || !strings.Contains(err.Error(), "no such file") {
		t.Errorf("error %v", err)
	}
	if err := os.WriteFile(path, []byte("format = 1\npaper = 'letter'\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	got, err := LoadSettings(path, someCommands)
	if err != nil || got.Paper != "letter" {
		t.Errorf("%+v, error %v", got, err)
	}
	if err := os.WriteFile(path, []byte("format = 1\n[keys]\nundo = 'z'\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, _, err := Load(path); err == nil || !strings.Contains(err.Error(), "this is a settings file") {
		t.Errorf("as a sheet: %v", err)
	}
}

// wantOneCommandAKey asserts that with some settings no key has two commands, and that those which stay are where they belong.
func wantOneCommandAKey(t *testing.T, s settings.Settings) {
	t.Helper()
	has := map[string]string{}
	for _, c := range someCommands {
		keys, given := s.Keys[c.ID]
		if !given {
			keys = c.Keys
		}
		if c.Stays != "" && !slices.Contains(keys, c.Stays) {
			keys = append(slices.Clip(keys), c.Stays)
		}
		for _, key := range keys {
			if other, taken := has[key]; taken {
				t.Errorf("%q has the commands %s and %s", key, other, c.ID)
			}
			has[key] = c.ID
			if again, problem, _ := settings.Key(key); problem != "" || again != key {
				t.Errorf("%q is read as %q: %s", key, again, problem)
			}
		}
	}
}

// Whatever the bytes: an error is safe to show and has its place, and with settings every key has one command.
func FuzzDecodeSettings(f *testing.F) {
	for _, data := range seeds(f, "settings", nil) {
		f.Add(data)
	}
	f.Add(NewSettings(someCommands))
	f.Add(withoutMarks(NewSettings(someCommands)))
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := DecodeSettings("any\x1b.toml", data, someCommands)
		if err != nil {
			wantSafeError(t, err)
			if isText(data) {
				wantPlaces(t, err)
				wantSources(t, data, err)
			}
			if !reflect.DeepEqual(s, settings.Default()) {
				t.Errorf("beside the error there is %+v", s)
			}
			return
		}
		wantOneCommandAKey(t, s)
		if !slices.Contains(settings.AllColours, s.Colours) || !slices.Contains(settings.AllMarks, s.Marks) || !slices.Contains(settings.Papers, s.Paper) ||
			settings.UnitName(s.Units) == "" {
			t.Errorf("%+v", s)
		}
	})
}
