package ptytest

import "testing"

func TestKeyBytes(t *testing.T) {
	for key, want := range map[string]string{
		"Up": "\x1b[A", "Down": "\x1b[B", "Right": "\x1b[C", "Left": "\x1b[D", "Home": "\x1b[H", "End": "\x1b[F",
		"PgUp": "\x1b[5~", "PgDn": "\x1b[6~", "Delete": "\x1b[3~", "Insert": "\x1b[2~",
		"Enter": "\r", "Esc": "\x1b", "Tab": "\t", "Space": " ", "Backspace": "\x7f",
		"F1": "\x1bOP", "F4": "\x1bOS", "F5": "\x1b[15~", "F12": "\x1b[24~",
		"Shift+Up": "\x1b[1;2A", "Alt+Left": "\x1b[1;3D", "Ctrl+Right": "\x1b[1;5C", "Ctrl+Shift+Home": "\x1b[1;6H",
		"Shift+Ctrl+End": "\x1b[1;6F", "Shift+PgDn": "\x1b[6;2~", "Ctrl+Delete": "\x1b[3;5~",
		"Shift+F1": "\x1b[1;2P", "Ctrl+F5": "\x1b[15;5~",
		"Shift+Tab": "\x1b[Z",
		"Ctrl+S":    "\x13", "Ctrl+s": "\x13", "Ctrl+Q": "\x11", "Ctrl+Space": "\x00", "Ctrl+_": "\x1f",
		"Alt+x": "\x1bx", "Alt+X": "\x1bX", "Alt+Enter": "\x1b\r", "Alt+ä": "\x1bä", "Ctrl+Alt+A": "\x1b\x01", "Alt++": "\x1b+",
	} {
		if got, named, err := keyBytes(key); got != want || !named || err != nil {
			t.Errorf("%s sends %q (%v, %v), want %q", key, got, named, err, want)
		}
	}
}

func TestTextIsNoKey(t *testing.T) {
	for _, text := range []string{"a", "hjkl", "up", "18 in", "+", "a+b", "Ctrl+", "山", " ", ""} {
		if sent, named, err := keyBytes(text); named || err != nil {
			t.Errorf("%q is taken for a key that sends %q (%v)", text, sent, err)
		}
	}
}

func TestKeysThatNoTerminalSends(t *testing.T) {
	for _, key := range []string{"Ctrl+Enter", "Ctrl+Home1", "Shift+a", "Ctrl+1", "Shift+Esc", "Ctrl+ä", "Alt+word", "Ctrl++"} {
		if sent, _, err := keyBytes(key); err == nil {
			t.Errorf("%s sends %q, want an error", key, sent)
		}
	}
}
