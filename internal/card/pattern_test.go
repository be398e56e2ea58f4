package card

import (
	"strings"
	"testing"

	"example.org/underveil/internal/card/letter"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/tally"
)

func TestPattern(t *testing.T) {
	for text, want := range map[string]string{
		"x":                     "one hole",
		"xx":                    "every slot",
		"xxxxx":                 "every slot",
		"x.x.x":                 "every second",
		"x..x..x":               "every third",
		"x...x...x":             "every fourth",
		"x....x....x":           "every 5th",
		"x.x":                   "holes 1, 3",
		"x.......x":             "holes 1, 9",
		"x.x.x.x...x.x.x":       "every second, not hole 9",
		"xxxx.xxxxx.xx":         "every slot, not holes 5, 11",
		"x.x.x.......x":         "holes 1, 3, 5, 13",
		"x..x..xx..x..x":        "holes 1, 4, 7, 8, 11, 14",
		"xxxx..xx..x":           "holes 1-4, 7, 8, 11",
		"x.x.x.x.x.x.x...x.x.x": "every second, not hole 15",
	} {
		var bonds []tally.Placed
		for i, c := range text {
			if c == 'x' {
				bonds = append(bonds, tally.Placed{Slot: i - 7, Bond: sheet.Bond{Shade: 'a'}})
			}
		}
		if got := strings.ReplaceAll(patternOf(bonds), letter.NoBreak, " "); got != want {
			t.Errorf("%s is %q, want %q", text, got, want)
		}
	}
}

func TestKinds(t *testing.T) {
	for _, it := range []struct{ keys, text, want string }{
		{"a", "a.a.(a)", "all whole"},
		{"a", "A.A.(A)", "all split"},
		{"a", "a.A.(A')", "1 whole; 1 split; 1 split and trimmed"},
		{"ab", "a.b.(a)", "2 a, 1 b"},
		{"ab", "a'.b.(B)", "1 b; 1 b split; 1 a trimmed"},
		{"ba", "a.b.(b)", "2 b, 1 a"},
	} {
		r, err := sheet.ParseBonds(sheet.Place{At: 60}, it.text)
		if err != nil {
			t.Fatal(err)
		}
		var bonds []tally.Placed
		for slot, b := range r.All() {
			bonds = append(bonds, tally.Placed{Slot: slot, Bond: b})
		}
		if got := strings.ReplaceAll(kindsOf(bonds, []byte(it.keys)), letter.NoBreak, " "); got != it.want {
			t.Errorf("%s is %q, want %q", it.text, got, it.want)
		}
	}
}
