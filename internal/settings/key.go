package settings

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"example.org/underveil/internal/printable"
)

// named are the keys with a name, as a terminal tells them apart.
var named = []string{
	"space", "enter", "esc", "tab", "shift+tab", "backspace", "delete", "insert", "home", "end", "pgup", "pgdown",
	"up", "down", "left", "right", "shift+up", "shift+down", "shift+left", "shift+right", "shift+home", "shift+end",
	"ctrl+up", "ctrl+down", "ctrl+left", "ctrl+right", "ctrl+home", "ctrl+end", "ctrl+pgup", "ctrl+pgdown",
	"f1", "f2", "f3", "f4", "f5", "f6", "f7", "f8", "f9", "f10", "f11", "f12",
}

// calledElse are other names of keys.
var calledElse = map[string]string{
	"escape": "esc", "return": "enter", "del": "delete", "ins": "insert", "blank": "space", " ": "space", "spacebar": "space",
	"pageup": "pgup", "page up": "pgup", "pagedown": "pgdown", "page down": "pgdown", "pgdn": "pgdown", "back": "backspace",
	"arrow up": "up", "arrow down": "down", "arrow left": "left", "arrow right": "right",
	"↑": "up", "↓": "down", "←": "left", "→": "right",
}

// sameAs are keys that a terminal can't tell from another.
var sameAs = map[string]string{"ctrl+i": "tab", "ctrl+m": "enter", "ctrl+[": "esc", "ctrl+h": "backspace", "ctrl+?": "backspace"}

// NamedKeys are the keys with a name.
func NamedKeys() []string { return slices.Clone(named) }

// Key is the one name of a key, however it is written: a character that is typed, like "u", "U" or "é"; a name, like "space",
// "PgUp" or "F5"; or one of these with "ctrl+", "shift+" or "alt+" before it, as far as terminals send it. The problem goes on
// from the name of the key, and is empty where it is one.
func Key(written string) (key, problem, remedy string) {
	if utf8.RuneCountInString(written) == 1 && written != " " && calledElse[written] == "" {
		return character(written)
	}
	name := strings.ToLower(strings.TrimSpace(strings.ReplaceAll(written, "+ ", "+")))
	if written == " " {
		name = written
	}
	prefix, last := "", name
	if i := strings.LastIndex(strings.TrimSuffix(name, "+"), "+"); i >= 0 {
		prefix, last = name[:i+1], name[i+1:]
	}
	if other := calledElse[last]; other != "" {
		last = other
	}
	prefix = strings.NewReplacer("control+", "ctrl+", "strg+", "ctrl+", "option+", "alt+").Replace(prefix)
	name = prefix + last
	single := utf8.RuneCountInString(last) == 1
	switch {
	case slices.Contains(named, name):
		return name, "", ""
	case sameAs[name] != "":
		return "", fmt.Sprintf("can't be told from %s in a terminal", sameAs[name]), "take another key"
	case prefix == "ctrl+" && single && last >= "a" && last <= "z":
		return name, "", ""
	case prefix == "ctrl+" && single:
		return "", "is sent by no terminal", "with ctrl go the letters a to z, like ctrl+z"
	case prefix == "shift+" && single:
		return "", "is sent as the character that it types", shifted(last)
	case prefix == "alt+" && single:
		return alt(written)
	case prefix != "" && (single || slices.Contains(named, last)):
		return "", "is sent by no terminal, or not by all", "take another key; with shift go the arrows, Home, End and Tab, with ctrl the letters a to z and the arrows"
	}
	return "", "is no key that is known", "write the character that it types, or a name like space, enter, PgUp, F5, shift+left or ctrl+z"
}

// character is the key that types one.
func character(written string) (key, problem, remedy string) {
	r, _ := utf8.DecodeRuneInString(written)
	if !printable.Clean(written) || printable.RuneWidth(r) == 0 || unicode.IsSpace(r) || unicode.IsMark(r) || r == utf8.RuneError {
		return "", "can't be seen", "write a character that can be, or a name like space or tab"
	}
	return written, "", ""
}

// shifted is how to write a character that shift makes.
func shifted(last string) string {
	if r, _ := utf8.DecodeRuneInString(last); unicode.IsLetter(r) {
		return fmt.Sprintf("write the capital letter, %q", string(unicode.ToUpper(r)))
	}
	return "write that character"
}

// alt is a letter or digit with alt, which a terminal sends as Esc and the character: with a bracket or the like it would be the
// beginning of something else.
func alt(written string) (key, problem, remedy string) {
	r, _ := utf8.DecodeLastRuneInString(written) // as it was written: alt and a capital letter is another key
	if !unicode.IsLetter(r) && !unicode.IsDigit(r) || r == 'O' {
		return "", "is sent by no terminal, or is the beginning of another key", "with alt go letters and digits, like alt+z"
	}
	return "alt+" + string(r), "", ""
}
