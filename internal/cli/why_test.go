package cli

import (
	"io/fs"
	"path/filepath"
	"testing"

	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// A slot can be asked about just as a finding writes it: every finding of the rules' sheets leads back to its slot.
func TestParseSlotReadsFindings(t *testing.T) {
	read := 0
	err := filepath.WalkDir("../../testdata/rules", func(path string, d fs.DirEntry, err error) error {
		if err != nil || filepath.Ext(path) != ".toml" {
			return err
		}
		s, _, err := load(path)
		if err != nil {
			return err
		}
		table, err := slots.Outline(s) // places alone, without distances
		if err != nil {
			return err
		}
		for _, r := range s.Rows {
			if _, err := table.Line(r.Place); err != nil {
				continue
			}
			for slot := range r.All() {
				c := sheet.Concern{Row: r.Place, On: sheet.OnSlot, Slot: slot}
				at, got, err := parseSlot(rule.Where(c))
				if err != nil || at != r.Place || got != slot {
					t.Errorf("%q is read as %v, slot %d, %v", rule.Where(c), at, got, err)
				}
				read++
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if read < 500 {
		t.Errorf("only %d slots", read)
	}
}

func TestParseSlotShort(t *testing.T) {
	for text, want := range map[string]struct {
		at   sheet.Place
		slot int
	}{
		"60/7L": {sheet.Place{At: 60}, -7}, "60/7r": {sheet.Place{At: 60}, 7}, "60:7 left": {sheet.Place{At: 60}, -7}, " 60 -7 ": {sheet.Place{At: 60}, -7},
		"7.3/0": {sheet.Place{At: 7.3}, 0}, "Height 60, Slot 7 Left": {sheet.Place{At: 60}, -7},
		"along-16/3B": {sheet.Place{Along: true, At: -16}, -3}, "along 16 left / 3 front": {sheet.Place{Along: true, At: -16}, 3},
		"front to back, middle, slot 0, over the ears": {sheet.Place{Along: true}, 0},
	} {
		at, slot, err := parseSlot(text)
		if err != nil || at != want.at || slot != want.slot {
			t.Errorf("%q: %v, slot %d, %v; want %v, slot %d", text, at, slot, err, want.at, want.slot)
		}
	}
	for _, text := range []string{"", "60", "height 60", "60/7/3", "60/x", "left/3", "60/1.5", "60/7Q", "sixty/7", "60/--7", "along"} {
		if at, slot, err := parseSlot(text); err == nil {
			t.Errorf("%q is read as %v, slot %d", text, at, slot)
		}
	}
}
