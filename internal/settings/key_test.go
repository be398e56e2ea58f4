package settings

import (
	"testing"

	"example.org/underveil/internal/printable"
)

// However a key is written, it has one name.
func TestKey(t *testing.T) {
	for _, c := range []struct{ written, want string }{
		{"u", "u"}, {"U", "U"}, {"é", "é"}, {"ж", "ж"}, {"漢", "漢"}, {"+", "+"}, {`"`, `"`}, {"ß", "ß"},
		{" ", "space"}, {"Space", "space"}, {"Enter", "enter"}, {"Return", "enter"}, {"Escape", "esc"}, {"Page Up", "pgup"}, {"PgDn", "pgdown"},
		{"F5", "f5"}, {"f12", "f12"}, {"Shift+Left", "shift+left"}, {"shift + ←", ""}, {"shift+ left", "shift+left"}, {"←", "left"},
		{"ctrl+z", "ctrl+z"}, {"Control+Z", "ctrl+z"}, {"alt+s", "alt+s"}, {"Alt+S", "alt+S"}, {"alt+ж", "alt+ж"}, {"alt+O", ""},
		{"ctrl+i", ""}, {"ctrl+m", ""}, {"ctrl+h", ""}, {"ctrl+[", ""}, {"ctrl+1", ""}, {"ctrl+shift+z", ""}, {"ctrl++", ""}, {"shift+1", ""},
		{"cmd+z", ""}, {"f13", ""}, {"uu", ""}, {"", ""}, {"\t", ""}, {"\x1b", ""}, {"\u00a0", ""}, {"\u0301", ""}, {"\u200d", ""}, {"\ufffd", ""},
	} {
		got, problem, remedy := Key(c.written)
		if got != c.want || (problem == "") != (c.want != "") || (problem == "") != (remedy == "") {
			t.Errorf("%q is read as %q, %q, %q; want %q", c.written, got, problem, remedy, c.want)
		}
	}
}

// A key that is read is read as itself, and can be shown.
func TestKeyIsOneName(t *testing.T) {
	all := NamedKeys()
	for r := rune(0); r < 0x3000; r++ {
		all = append(all, string(r))
	}
	for c := 'a'; c <= 'z'; c++ {
		all = append(all, "ctrl+"+string(c), "alt+"+string(c), "alt+"+string(c-'a'+'A'))
	}
	read := 0
	for _, written := range all {
		key, problem, _ := Key(written)
		if problem != "" {
			continue
		}
		read++
		if again, problem, _ := Key(key); again != key || problem != "" || !printable.Clean(key) || printable.Width(key) == 0 {
			t.Errorf("%q is read as %q, and that as %q: %s", written, key, again, problem)
		}
	}
	if least := len(NamedKeys()) + 2000; read < least {
		t.Errorf("%d keys are read, want %d at least", read, least)
	}
}

// Nobody's settings change by what is done with a copy of them.
func TestSettingsStay(t *testing.T) {
	a := Default().WithKeys("undo", []string{"u"}).WithLine("keys.undo", 3)
	b := a.WithKeys("redo", []string{"U"}).WithLine("keys.redo", 4)
	if len(a.Keys) != 1 || a.Line("keys.redo") != 0 || len(b.Keys) != 2 || b.Line("keys.undo") != 3 {
		t.Errorf("%+v and %+v", a, b)
	}
	if Default().Keys != nil {
		t.Error("by default keys are given")
	}
}
