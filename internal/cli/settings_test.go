package cli

import (
	"reflect"
	"regexp"
	"testing"

	"example.org/underveil/internal/settings"
	"example.org/underveil/internal/sheetfile"
	"example.org/underveil/internal/tui"
)

// The settings file to begin with makes no setting; with every line in force each command has the keys that it comes with.
func TestSettingsToBeginWith(t *testing.T) {
	data := sheetfile.NewSettings(tui.Commands())
	if set, err := sheetfile.DecodeSettings("new.toml", data, tui.Commands()); err != nil || !reflect.DeepEqual(set.Keys, settings.Default().Keys) {
		t.Errorf("%+v, error %v", set, err)
	}
	set, err := sheetfile.DecodeSettings("all.toml", regexp.MustCompile(`(?m)^#(\S)`).ReplaceAll(data, []byte("$1")), tui.Commands())
	if err != nil {
		t.Fatal(err)
	}
	want := map[string][]string{}
	for _, c := range tui.Commands() {
		want[c.ID] = c.Keys
	}
	if !reflect.DeepEqual(set.Keys, want) || set.Colours != settings.FoundColours || set.Marks != settings.FoundMarks || set.NoMouse {
		t.Errorf("%+v", set)
	}
	for i, line := range regexp.MustCompile(`\n`).Split(string(data), -1) {
		if len([]rune(line)) > 140 {
			t.Errorf("line %d has %d characters", i+1, len([]rune(line)))
		}
	}
}
