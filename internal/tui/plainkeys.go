package tui

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/printable"
)

// spokenKeys are the keys that are no letters, by the names they may be given in a line.
var spokenKeys = map[string]tea.KeyType{
	"up": tea.KeyUp, "down": tea.KeyDown, "left": tea.KeyLeft, "right": tea.KeyRight,
	"shift+up": tea.KeyShiftUp, "shift+down": tea.KeyShiftDown, "shift+left": tea.KeyShiftLeft, "shift+right": tea.KeyShiftRight,
	"shift+home": tea.KeyShiftHome, "shift+end": tea.KeyShiftEnd,
	"home": tea.KeyHome, "end": tea.KeyEnd, "pgup": tea.KeyPgUp, "pgdn": tea.KeyPgDown, "pgdown": tea.KeyPgDown,
	"enter": tea.KeyEnter, "esc": tea.KeyEsc, "escape": tea.KeyEsc, "tab": tea.KeyTab, "shift+tab": tea.KeyShiftTab,
	"delete": tea.KeyDelete, "del": tea.KeyDelete, "backspace": tea.KeyBackspace,
}

// keyNamed is a key by its name: "Tab", "ctrl+s", "space", "r". ok is false where there is no such key.
func keyNamed(name string) (msg tea.KeyMsg, ok bool) {
	small := strings.ToLower(name)
	if k, ok := spokenKeys[small]; ok {
		return tea.KeyMsg{Type: k}, true
	}
	if small == "space" || name == " " {
		return tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}}, true
	}
	if c, ok := strings.CutPrefix(small, "ctrl+"); ok && len(c) == 1 && c[0] >= 'a' && c[0] <= 'z' {
		return tea.KeyMsg{Type: tea.KeyCtrlA + tea.KeyType(c[0]-'a')}, true
	}
	if r := []rune(name); len(r) == 1 {
		return tea.KeyMsg{Type: tea.KeyRunes, Runes: r}, true
	}
	return tea.KeyMsg{}, false
}

// press presses keys by name. What is none is said, and nothing after it is pressed.
func (p *plain) press(names ...string) {
	for _, name := range names {
		msg, ok := keyNamed(name)
		if !ok {
			p.refuse("no key is called " + printable.Quote(name))
			return
		}
		p.act(msg)
	}
}
